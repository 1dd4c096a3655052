"""The reversing valve: the signal at its coil, the coil, and what is left: the valve itself.

Source: circuit logic: the coil is energized in one of the two modes (O: cooling, B: heating) and at rest in the
other.
"""

from collections.abc import Iterator

from service.checks.electrical.control_levels import is_fed, is_unfed
from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.isolation import dead_is_proven
from service.checks.electrical.meters import electrical, ohm_error
from service.knowledge.limits import limit
from service.results.finding import Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.judge import below, confidence
from service.verdicts.mode import FAN_ON, direction, may_defrost
from service.verdicts.report import Checked, report

VOLTS = "/electrical/control/reversing_valve_volts"
OHMS = "/electrical/control/reversing_valve_coil_resistance"
AS_IN_A_DEFROST = ("missing", "held")  # what the coil gets while the unit cools
ENERGIZED_IN, MODE = "/equipment/reversing_valve_energized_in", "/equipment/mode"


def check_reversing_valve(visit: Visit) -> Checked:
    """Judge the signal at the valve's coil, the coil, and the valve by what is left."""
    signal = tuple(_signal(visit))
    coil = as_proven(_coil(visit), dead_is_proven(visit))
    return Checked((*signal, *coil, *_stuck(visit, signal, coil)), tuple(_missing(visit)))


def _signal(visit: Visit) -> Iterator[Finding]:
    """24 V at the coil in the mode that energizes it, nothing in the other one; a defrost turns that round."""
    volts, energized_in = (
        visit.electrical.control.reversing_valve_volts,
        visit.equipment.reversing_valve_energized_in,
    )
    if volts is None or visit.electrical.control.thermostat_calling is False:
        return
    state, variant = State.UNDECIDED, "which"
    if energized_in is not None:
        state, variant = _of_signal(volts, wanted=energized_in == (visit.equipment.mode or "cooling"))
    if variant in AS_IN_A_DEFROST and may_defrost(visit):
        state, variant = State.UNDECIDED, "defrost"
    told = (ENERGIZED_IN,) if energized_in is not None else ()
    asked = (MODE,) if visit.equipment.mode is not None else ()
    measured = electrical(visit, volts, "volts")
    yield report("reversing-valve.signal", state, (VOLTS, *told, *asked), measured=measured, variant=variant)


def _of_signal(volts: float, *, wanted: bool) -> tuple[State, str]:
    """wanted: whether the mode that is asked for energizes the coil."""
    if wanted:
        if is_fed(volts):
            return State.PASS, "energized"
        return State.FAIL, "missing" if is_unfed(volts) else "low"
    return (State.PASS, "at-rest") if is_unfed(volts) else (State.FAIL, "held")


def _coil(visit: Visit) -> tuple[Finding, ...]:
    reading = visit.electrical.control.reversing_valve_coil_resistance
    if reading is None:
        return ()
    if reading.ohms is None:
        return (report("reversing-valve.coil", State.FAIL, (OHMS,), variant="open"),)
    line, error = limit("reversing-valve.coil-shorted"), ohm_error(visit, reading.ohms)
    shorted = below(reading.ohms, line.value)
    return (
        report(
            "reversing-valve.coil",
            State.FAIL if shorted else State.PASS,
            (OHMS,),
            measured=Quantity(reading.ohms, "ohms", error),
            limit=line.as_low(),
            confidence=confidence(reading.ohms, error, low=line.value),
            variant="shorted" if shorted else "",
        ),
    )


def _stuck(visit: Visit, signal: tuple[Finding, ...], coil: tuple[Finding, ...]) -> Iterator[Finding]:
    """The signal is right, the coil is good or at rest, and the valve stands the other way all the same."""
    shown = direction(visit)
    if not shown.is_reversed or not signal or signal[0].state is not State.PASS:
        return
    pointers = (*shown.evidence, *signal[0].evidence, *(pointer for item in coil for pointer in item.evidence))
    good = bool(coil) and coil[0].state is State.PASS
    if signal[0].variant == "at-rest" or good:
        sure = shown.state is State.FAIL
        yield report("reversing-valve.stuck", State.FAIL if sure else State.REVIEW, pointers)
    elif not coil:
        yield report("reversing-valve.stuck", State.UNDECIDED, pointers)


def _missing(visit: Visit) -> Iterator[Missing]:
    if visit.electrical.control.reversing_valve_volts is not None:
        if visit.equipment.reversing_valve_energized_in is None:
            yield Missing(ENERGIZED_IN, "reversing-valve.which")
        elif any(item.variant == "defrost" for item in _signal(visit)):
            yield Missing(FAN_ON, "reversing-valve.defrost")
    elif direction(visit).is_reversed:
        yield Missing(VOLTS, "reversing-valve.signal")
