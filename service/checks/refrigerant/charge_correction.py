"""How much to correct: a size class, and a mass only where the charge was recovered and weighed."""

from service.checks.refrigerant.running_state import FIXED
from service.knowledge.kinds import kind_row
from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.judge import above

GRAVE: dict[str, dict[str, LimitCode]] = {
    "superheat": {"large": "charge.large-superheat", "moderate": "charge.moderate-superheat"},
    "subcooling": {"large": "charge.large-subcooling", "moderate": "charge.moderate-subcooling"},
}


def size_class(visit: Visit, deviation: Uncertain) -> str:
    """slight, moderate or large, by the distance from the target."""
    reading = "superheat" if visit.equipment.metering_device in FIXED else "subcooling"
    far = abs(deviation.value)
    return next((size for size, least in GRAVE[reading].items() if above(far, limit(least).value)), "slight")


def weighed_correction(visit: Visit) -> Quantity | None:
    """Mass to add (+) or remove (-): what belongs in less what came out on the scale.

    Only where the line set needs no addition of its own; else the weighed-charge procedure says what belongs in.

    Returns
    -------
    [kg]; None where a mass or a length is not given, or the line set differs from the included one

    References
    ----------
    Balance of masses.
    """
    equipment = visit.equipment
    factory, recovered = equipment.factory_charge, equipment.recovered_charge
    length, included = equipment.line_length, equipment.included_line_length
    as_built = kind_row(equipment.kind).one_cabinet or (length is not None and length == included)
    if factory is None or recovered is None or not as_built:
        return None
    return Quantity(factory - recovered, "mass")
