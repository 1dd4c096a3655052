"""The indoor blower: turns, bearing, windings or motor half, module, amps against static pressure."""

from service.checks.electrical.blower_amps import check_blower_amps
from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.fan_windings import PAIRS, check_fan_windings
from service.checks.electrical.isolation import dead_is_proven
from service.checks.electrical.meters import combined, ohm_error
from service.knowledge.limits import limit
from service.results.finding import Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.asked import asked_of
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below
from service.verdicts.report import Checked, report

BASE = "/electrical/indoor_blower"
CODES = {"open": "fans.blower-winding-open", "grounded": "fans.blower-motor-grounded"}
ELECTRONIC = ("constant_torque", "constant_airflow")


def check_blower(visit: Visit) -> Checked:
    """Judge the indoor blower (F08-F11 and the common faults of every motor).

    Source: equipment service manuals (common practice).
    """
    if visit.equipment.indoor_blower.type in ELECTRONIC:
        windings = _motor_half(visit) + _grounded(visit)
    else:
        windings = check_fan_windings(visit, visit.electrical.indoor_blower, BASE, CODES) + _tap(visit)
    dead = as_proven(windings, dead_is_proven(visit))
    module = _module(visit, dead)
    findings = _turning(visit) + dead + module + check_blower_amps(visit)
    return Checked(findings, _missing(visit, module))


def _turning(visit: Visit) -> tuple[Finding, ...]:
    """Does it turn, is it fed and called, is the wheel free?"""
    blower, asked, found = visit.electrical.indoor_blower, asked_of(visit), []
    if blower.turns is not None:
        evidence = given(blower, BASE, ("turns", "line_volts", "call_present"))
        if blower.turns:
            found.append(report("fans.blower-runs", State.PASS, evidence))
        elif not asked.blower_may_stand:
            variant = "not-fed" if _is_dead(blower.line_volts) else ""
            found.append(report("fans.blower-runs", State.FAIL, evidence, variant=variant))
        else:
            by = tuple(dict.fromkeys((*evidence, *asked.blower_by)))
            found.append(report("fans.blower-runs", State.UNDECIDED, by, variant="not-asked"))
    if blower.spins_free is not None:
        state = State.PASS if blower.spins_free else State.FAIL
        found.append(report("fans.blower-seized", state, (f"{BASE}/spins_free",)))
    if _is_dead(blower.line_volts):
        found.append(report("fans.blower-not-fed", State.FAIL, (f"{BASE}/line_volts",)))
    if blower.call_present is False and visit.electrical.control.thermostat_calling is not False:
        found.append(report("fans.blower-not-called", State.FAIL, (f"{BASE}/call_present",)))
    return tuple(found)


def _is_dead(volts: float | None) -> bool:
    """Whether line volts were read and there are none."""
    return volts is not None and below(volts, limit("supply.no-volts").value)


def _tap(visit: Visit) -> tuple[Finding, ...]:
    """One speed tap open (F10)."""
    tap = visit.electrical.indoor_blower.speed_tap_open
    if tap is None:
        return ()
    return (report("fans.blower-speed-tap", State.FAIL if tap else State.PASS, (f"{BASE}/speed_tap_open",)),)


def _motor_half(visit: Visit) -> tuple[Finding, ...]:
    """Three readings of an electronically commutated motor, module off: alike within 10 % and below 20 ohm."""
    blower = visit.electrical.indoor_blower
    read = [reading for name in PAIRS if (reading := getattr(blower, name)) is not None]
    if len(read) < 3:
        return ()
    values = [reading.ohms for reading in read if reading.ohms is not None]
    if len(values) < 3:
        return (report(CODES["open"], State.FAIL, given(blower, BASE, PAIRS), variant="motor-half"),)
    mean = sum(values) / 3.0
    spread = max(abs(value - mean) for value in values)
    alike = max(limit("fans.motor-half-percent").value / 100.0 * mean, limit("instruments.ohm-resolution").value)
    bad = above(spread, alike) or not below(mean, limit("fans.motor-half-highest").value)
    error = combined(*(ohm_error(visit, value) for value in values)) / 3.0**0.5
    return (
        report(
            CODES["open"],
            State.FAIL if bad else State.PASS,
            given(blower, BASE, PAIRS),
            measured=Quantity(spread, "ohms", error),
            limit=limit("fans.motor-half-percent").bounds(high=alike, kind="ohms"),
            variant="motor-half",
        ),
    )


def _grounded(visit: Visit) -> tuple[Finding, ...]:
    """Motor half to its frame: over 0.1 Mohm."""
    reading = visit.electrical.indoor_blower.to_frame
    if reading is None:
        return ()
    line = limit("fans.motor-half-to-frame")
    bad = reading.ohms is not None and not above(reading.ohms, line.value)
    return (
        report(
            CODES["grounded"],
            State.FAIL if bad else State.PASS,
            (f"{BASE}/to_frame",),
            measured=Quantity(reading.ohms, "megohms") if reading.ohms is not None else None,
            limit=line.as_low() if bad else None,
        ),
    )


def _module(visit: Visit, windings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Fed and called, and it does not turn: the module, once the motor half is cleared (F08, F09)."""
    blower = visit.electrical.indoor_blower
    electronic = visit.equipment.indoor_blower.type in ELECTRONIC
    fed = blower.line_volts is not None and blower.line_volts >= limit("fans.module-line-volts").value
    if not electronic or blower.turns is not False or not fed or not blower.call_present:
        return ()
    evidence = given(blower, BASE, ("turns", "line_volts", "call_present", *PAIRS, "to_frame"))
    states = {finding.code: finding.state for finding in windings}
    cleared = [states.get(code) for code in CODES.values()]
    if State.FAIL in cleared or State.UNDECIDED in cleared or blower.spins_free is False:
        return ()
    state = State.FAIL if cleared == [State.PASS, State.PASS] else State.UNDECIDED
    return (report("fans.blower-module", state, evidence),)


def _missing(visit: Visit, module: tuple[Finding, ...]) -> tuple[Missing, ...]:
    if not any(finding.state is State.UNDECIDED for finding in module):
        return ()
    names = (*PAIRS, "to_frame")
    absent = [name for name in names if getattr(visit.electrical.indoor_blower, name) is None]
    return tuple(Missing(f"{BASE}/{name}", "fans.motor-half") for name in absent)
