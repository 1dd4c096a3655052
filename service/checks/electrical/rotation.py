"""A three-phase scroll that turns backwards: it runs, it is loud, and it does not pump."""

from service.checks.electrical.currents import load_percent
from service.checks.electrical.motor_kind import THREE_PHASE, motor_kind
from service.knowledge.limits import limit
from service.results.finding import State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import below
from service.verdicts.report import Checked, report

NOISES = ("rattle", "buzz")


def check_rotation(visit: Visit) -> Checked:
    """Judge the rotation by the gauges after the start, the amps and the noise (T11).

    Source: common practice; pressures that part prove the right rotation.
    """
    start, equipment = visit.start_up, visit.equipment.compressor
    suction, liquid = start.suction_pressure_after, start.liquid_pressure_after
    if motor_kind(visit) != THREE_PHASE or suction is None or liquid is None:
        return Checked()
    if equipment.type not in (None, "scroll"):
        return Checked()
    line, difference = limit("rotation.pressure-difference"), liquid - suction
    evidence = given(start, "/start_up", ("suction_pressure_after", "liquid_pressure_after", "sound"))
    apart = not below(difference, line.value)
    if not apart and not _other_signs(visit):
        return Checked()
    return Checked(
        (
            report(
                "rotation.direction",
                State.PASS if apart else State.REVIEW,
                evidence,
                measured=Quantity(difference, "pressure_difference"),
                limit=line.as_low(),
            ),
        )
    )


def _other_signs(visit: Visit) -> bool:
    """Loud, or running at low amps: equal pressures alone may also be a stopped compressor."""
    percent = load_percent(visit)
    low = percent is not None and percent > 0.0 and below(percent, limit("currents.low-percent").value)
    return low or visit.start_up.sound in NOISES
