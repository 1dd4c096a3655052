"""Request and computed members of the weighed charge."""

from service.results.computed import quantity
from service.results.declare import choice, flag, member, part, parts
from service.results.procedures.request import ProcedureRequest
from service.results.procedures.rests_on import RestsOn
from service.results.quantity import Quantity
from service.results.record import Record
from service.results.visit.ranges import mass, temperature


class ChargeExtras(Record):
    """What the factory charge did not reckon with."""

    drier_volume: float | None = member(
        "volume", "Inside volume of an added liquid-line drier.", low=0.0, high=0.1
    )
    coil_change: float | None = member(
        "mass", "Charge difference of another indoor coil (+ more, - less).", low=-50.0, high=50.0
    )


class WeighedChargeRequest(ProcedureRequest):
    """How much refrigerant goes in?"""

    tube_type: str | None = choice(
        "ASTM B280 temper, which sets the wall; annealed_coil when absent.", "annealed_coil", "drawn"
    )
    liquid_line_wall: float | None = member("diameter", "Wall thickness of the liquid line.", low=2e-4, high=0.01)
    suction_line_wall: float | None = member(
        "diameter", "Wall thickness of the suction line.", low=2e-4, high=0.01
    )
    liquid_temperature: float | None = temperature("Liquid line temperature in use; 100 F when absent.")
    suction_saturation_temperature: float | None = temperature(
        "Saturation temperature in the suction line in use; 45 F when absent."
    )
    published_adjustment_per_length: float | None = member(
        "mass_per_length", "The manufacturer's charge adjustment per length of line set.", low=0.0, high=10.0
    )
    extras: ChargeExtras = part(ChargeExtras, "What the factory charge did not reckon with.")
    service_valves: bool | None = flag("The unit has service valves; false for a sealed, critically charged one.")
    mounting: str | None = choice(
        "How the indoor part is mounted, which sets the height a leak starts from (IEC 60335-2-40 clause GG.2).",
        "floor",
        "window",
        "wall",
        "ceiling",
        "ducted",
    )
    release_height: float | None = member(
        "length",
        "Height above the floor of the lowest place refrigerant can leave the unit; goes before the mounting and "
        "counts as 0.6 m at the least and 2.2 m at the most.",
        low=0.0,
        high=30.0,
    )
    room_height: float | None = member(
        "length", "Height of the room served; no leak starts above it.", low=1.0, high=30.0
    )
    leak_mitigation: str | None = choice(
        "What the unit does about a leak: nothing, a detector that starts the fan, air that always circulates, or "
        "ventilation of the room.",
        "none",
        "leak_detection",
        "continuous_circulation",
        "ventilation",
    )
    published_room_charge: float | None = mass(
        "Most charge that the manufacturer's table allows in this room with the unit's own leak mitigation."
    )


class WeighedChargeComputed(Record):
    """What goes in."""

    total_charge: Quantity | None = quantity("mass", "Charge to be weighed in.")
    line_adjustment: Quantity | None = quantity("mass", "Part of it for the line set beyond the included length.")
    adjustment_per_length: Quantity | None = quantity("mass_per_length", "Refrigerant per length of line set.")
    charging_phase: str | None = choice("How it leaves the cylinder.", "liquid", "either")
    room_charge_limit: Quantity | None = quantity(
        "mass", "Most flammable charge for this room and height of release (IEC 60335-2-40 clause GG.2)."
    )
    rests_on: tuple[RestsOn, ...] = parts(RestsOn, "What the charge rests on; empty where it is not known.", 40)
