"""Readings that mean something on a dead circuit only: ohms, insulation, capacitance on the bench."""

from collections.abc import Iterable

from service.checks.electrical.insulation_readings import TERMINALS, TIMED
from service.results.finding import Finding, Severity, State
from service.results.record import replace
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.evidence_pointers import given

COILS = ("coil_resistance", "crankcase_heater_resistance", "reversing_valve_coil_resistance")
WINDINGS = ("common_run", "common_start", "run_start", "one_two", "two_three", "one_three")
INSULATION = (*TERMINALS, *TIMED)
BENCH = ("measured_microfarads", "over_limit", "terminal_ohms", "case_ohms")
RELAY = ("solid_state_ohms", "relay_contact_resistance", "relay_coil_resistance")
MOTOR = ("common_run", "common_start", "run_start", "to_frame")
# Findings that keep their hazard without proof of dead: a ground may be there, whoever read it.
GROUNDS = frozenset({"insulation.winding-grounded", "fans.outdoor-motor-grounded", "fans.blower-motor-grounded"})


@kept
def dead_readings(visit: Visit) -> tuple[str, ...]:
    """Pointers of all readings of the visit that need a proof of dead."""
    electrical = visit.electrical
    return (
        given(electrical.windings, "/electrical/windings", WINDINGS)
        + given(electrical.insulation, "/electrical/insulation", INSULATION)
        + bench_readings(visit)
        + given(electrical.control, "/electrical/control", COILS)
        + given(electrical.start_components, "/electrical/start_components", RELAY)
        + given(electrical.outdoor_fan, "/electrical/outdoor_fan", MOTOR)
        + given(electrical.indoor_blower, "/electrical/indoor_blower", (*MOTOR, "speed_tap_open"))
    )


@kept
def bench_readings(visit: Visit) -> tuple[str, ...]:
    """Pointers of the capacitor readings taken on the bench."""
    start = visit.electrical.start_components.start_capacitor
    found = given(start, "/electrical/start_components/start_capacitor", BENCH)
    for index, capacitor in enumerate(visit.electrical.run_capacitors):
        found += given(capacitor, f"/electrical/run_capacitors/{index}", BENCH)
    return found


def as_proven(findings: Iterable[Finding], proven: bool) -> tuple[Finding, ...]:
    """Findings on dead readings as they may stand: without proof no verdict, but every hazard stays.

    Undecided findings stand as they are; a ground that was read becomes undecided and keeps its hold; any
    other verdict is left out (isolation.dead-proven says so once for all of them).
    """
    if proven:
        return tuple(findings)
    kept = []
    for finding in findings:
        if finding.state is State.UNDECIDED:
            kept.append(finding)
        elif finding.state is State.FAIL and finding.code in GROUNDS:
            kept.append(replace(finding, state=State.UNDECIDED, severity=Severity.WARNING, variant="not-proven"))
    return tuple(kept)
