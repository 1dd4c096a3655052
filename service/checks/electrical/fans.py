"""The outdoor fan motor: turns, spins free, windings, speed."""

from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.fan_windings import check_fan_windings
from service.checks.electrical.isolation import dead_is_proven
from service.checks.electrical.meters import electrical_uncertainty
from service.knowledge.limits import limit
from service.physics.motors import poles_nearest, slip_percent, synchronous_speed
from service.results.finding import Bounds, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.asked import asked_of
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, confidence
from service.verdicts.report import Checked, report
from service.verdicts.resting_fan import fan_rests

BASE = "/electrical/outdoor_fan"
CODES = {"open": "fans.outdoor-winding-open", "grounded": "fans.outdoor-motor-grounded"}


def check_fans(visit: Visit) -> Checked:
    """Judge the outdoor fan (F01-F07).

    Source: common practice; slip by DOE-HDBK-1011/4.
    """
    windings = check_fan_windings(visit, visit.electrical.outdoor_fan, BASE, CODES)
    findings = _turning(visit) + _bearing(visit) + _speed(visit) + as_proven(windings, dead_is_proven(visit))
    return Checked(findings, _missing(visit))


def _turning(visit: Visit) -> tuple[Finding, ...]:
    """Does it turn when called, and the right way (F07)?"""
    fan, found = visit.electrical.outdoor_fan, []
    if fan.turns is not None:
        evidence = given(fan, BASE, ("turns", "spins_free"))
        asked, (stopped_by, said_by) = asked_of(visit), fan_rests(visit)
        if fan.turns:
            found.append(report("fans.outdoor-runs", State.PASS, evidence))
        elif asked.outdoor_may_stand:
            by = (*evidence, *asked.outdoor_by)
            found.append(report("fans.outdoor-runs", State.UNDECIDED, by, variant="not-asked"))
        elif stopped_by:
            by = (*evidence, *said_by)
            found.append(report("fans.outdoor-runs", State.UNDECIDED, by, variant=stopped_by))
        else:
            found.append(report("fans.outdoor-runs", State.FAIL, evidence))
    elif visit.running.outdoor_fan_on:
        found.append(report("fans.outdoor-runs", State.PASS, ("/running/outdoor_fan_on",)))
    if fan.turns_backwards is not None:
        state = State.FAIL if fan.turns_backwards else State.PASS
        found.append(report("fans.outdoor-backwards", state, (f"{BASE}/turns_backwards",)))
    return tuple(found)


def _bearing(visit: Visit) -> tuple[Finding, ...]:
    """Stiff shaft (F01), or a free one that only starts with a push (F02)."""
    fan = visit.electrical.outdoor_fan
    if fan.spins_free is False:
        return (report("fans.outdoor-seized", State.FAIL, (f"{BASE}/spins_free",)),)
    found = [report("fans.outdoor-seized", State.PASS, (f"{BASE}/spins_free",))] if fan.spins_free else []
    if fan.starts_when_pushed and fan.turns is not True:
        evidence = given(fan, BASE, ("starts_when_pushed", "spins_free", "turns"))
        found.append(report("fans.outdoor-needs-push", State.REVIEW, evidence))
    return tuple(found)


def _speed(visit: Visit) -> tuple[Finding, ...]:
    """Slip more than twice the rated slip: weak capacitor, voltage or bearing (F06)."""
    speed, rated = visit.electrical.outdoor_fan.speed, visit.equipment.outdoor_fan.rated_speed
    if speed is None or rated is None:
        return ()
    frequency = float(visit.equipment.frequency or 60)
    synchronous = synchronous_speed(frequency, poles_nearest(rated, frequency))
    slip, line = slip_percent(speed, synchronous), limit("fans.slip-ratio")
    highest = line.value * slip_percent(rated, synchronous)
    width = electrical_uncertainty(visit, 100.0)
    return (
        report(
            "fans.outdoor-slow",
            State.REVIEW if above(slip, highest) else State.PASS,
            (f"{BASE}/speed", "/equipment/outdoor_fan/rated_speed"),
            measured=Quantity(slip, "percent", width),
            limit=Bounds("percent", "request", line.cited, high=highest),
            confidence=confidence(slip, width, high=highest),
        ),
    )


def _missing(visit: Visit) -> tuple[Missing, ...]:
    fan = visit.electrical.outdoor_fan
    if fan.turns is False and fan.spins_free is None:
        return (Missing(f"{BASE}/spins_free", "fans.spins-free"),)
    return ()
