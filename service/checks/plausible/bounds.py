"""Physical bounds that catch a bad reading before it becomes a fault.

Beyond the instruments and a margin for heat that goes astray, steady and in cooling, a bound is worth a second
look: its readings are taken again, and nothing is judged on them meanwhile. It never clears floodback or a
restriction: entrained liquid, injection, shell loss and a wet coil are real. Source: first and second law of
thermodynamics.
"""

from collections.abc import Iterator

from service.checks.refrigerant.running_state import RunningState
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain
from service.results.finding import Finding, State
from service.results.out_of_range import OutOfRange
from service.results.visit import Visit
from service.verdicts.judge import below
from service.verdicts.measured import measured
from service.verdicts.report import report

SUCTION, DISCHARGE = "/running/suction_line_temperature", "/running/discharge_line_temperature"
AIRS = ("/air/return_dry_bulb", "/air/outdoor_dry_bulb")


def check_bounds(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Readings that no steady unit in cooling can have."""
    if not _is_steady(visit):
        return
    yield from _suction_line(visit)
    yield from _discharge_line(visit, state)


def _is_steady(visit: Visit) -> bool:
    minutes = visit.running.minutes_running
    return minutes is None or not below(minutes, limit("charge.least-run-time").value)


def _suction_line(visit: Visit) -> Iterator[Finding]:
    """Suction gas is warmed by the air around it, so it is no warmer than both airs that it passes."""
    suction = measured(visit, SUCTION)
    airs = [measured(visit, pointer) for pointer in AIRS]
    known = [air for air in airs if air is not None]
    if suction is None or len(known) < len(AIRS):
        return
    excess = suction - max(known, key=lambda air: air.value)
    if excess.value > excess.half_width + limit("bounds.suction-margin").value:
        yield report(
            "readings.suction-line-too-warm",
            State.REVIEW,
            (SUCTION,),
            measured=excess.quantity("temperature_difference"),
        )


def _discharge_line(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Gas leaves a compressor no colder than isentropic compression from its suction state makes it."""
    suction, discharge = measured(visit, SUCTION), measured(visit, DISCHARGE)
    if suction is None or discharge is None or state.superheat is None:
        return
    if state.superheat.value <= state.superheat.half_width:
        return  # liquid comes back with the gas: the discharge may be as cold as it likes
    margin = limit("bounds.discharge-margin").value + (discharge - suction).half_width
    if _is_colder_than_isentropic(visit, state, suction, discharge.value + margin):
        yield report("readings.discharge-line-too-cold", State.REVIEW, (SUCTION, DISCHARGE))


def _is_colder_than_isentropic(visit: Visit, state: RunningState, suction: Uncertain, discharge: float) -> bool:
    """discharge: the gas [K] with what it may have lost; False where the properties do not reach."""
    low = visit.running.suction_pressure
    high = visit.running.discharge_pressure or visit.running.liquid_pressure
    if state.refrigerant is None or low is None or high is None or high <= low:
        return False
    vapour = state.refrigerant.properties.superheated
    try:
        entropy = vapour.entropy(low, suction.value)
        return vapour.enthalpy(high, discharge) < vapour.isentropic_enthalpy(high, entropy)
    except OutOfRange:
        return False
