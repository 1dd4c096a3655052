"""Windings of a fan or blower motor: open, or grounded to the frame."""

from collections.abc import Mapping

from service.checks.electrical.insulation_readings import rated_volts
from service.knowledge.limits import limit
from service.results.finding import Finding, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.results.visit.electrical_parts import IndoorBlowerReadings, OutdoorFanReadings
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import below
from service.verdicts.report import report

FanReadings = OutdoorFanReadings | IndoorBlowerReadings
PAIRS = ("common_run", "common_start", "run_start")


def check_fan_windings(
    visit: Visit, part: FanReadings, base: str, codes: Mapping[str, str]
) -> tuple[Finding, ...]:
    """Judge open windings (F03, F04) and a ground (F05). codes: `open` and `grounded` of this motor.

    Source: circuit logic; 1000 ohm per volt to the frame: common practice.
    """
    return _open(visit, part, base, codes["open"]) + _grounded(visit, part, base, codes["grounded"])


def _open(visit: Visit, part: FanReadings, base: str, code: str) -> tuple[Finding, ...]:
    pointers = given(part, base, PAIRS)
    if not pointers:
        return ()
    read = [reading for name in PAIRS if (reading := getattr(part, name)) is not None]
    if not any(reading.over_limit for reading in read):
        return (report(code, State.PASS, pointers),)
    pointers += given(part, base, ("motor_touch",))
    if part.motor_touch == "hot":
        return (report(code, State.UNDECIDED, pointers, variant="hot"),)
    if part.motor_touch != "cool" and not _off_long_enough(visit):
        return (report(code, State.UNDECIDED, pointers, variant="not-known"),)
    return (report(code, State.FAIL, pointers),)


def _off_long_enough(visit: Visit) -> bool:
    off = visit.electrical.windings.minutes_off
    return off is not None and not below(off, limit("windings.overload-reset-shortest").value)


def _grounded(visit: Visit, part: FanReadings, base: str, code: str) -> tuple[Finding, ...]:
    reading, pointers = part.to_frame, given(part, base, ("to_frame",))
    if reading is None:
        return ()
    if reading.ohms is None:
        return (report(code, State.PASS, pointers),)
    line = limit("insulation.ohms-per-volt")
    lowest = line.value * rated_volts(visit)
    state = State.FAIL if below(reading.ohms, lowest) else State.REVIEW
    return (
        report(
            code,
            state,
            pointers,
            measured=Quantity(reading.ohms, "megohms"),
            limit=line.bounds(low=lowest, kind="megohms"),
        ),
    )
