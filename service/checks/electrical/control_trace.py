"""The call walked from the thermostat through the switches and the delay to the coil."""

from service.checks.electrical.control_levels import is_fed, is_unfed
from service.checks.electrical.control_switches import SWITCHES, check_switches, open_switches
from service.checks.electrical.meters import electrical
from service.checks.plausible.exclusions import held
from service.knowledge.limits import limit
from service.results.finding import Finding, Missing, State
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import below
from service.verdicts.report import Checked, report

BASE = "/electrical/control"


def check_trace(visit: Visit) -> Checked:
    """Name the open element of the control circuit from what is fed and what is not (E17, E19, E20)."""
    control = visit.electrical.control
    switches = check_switches(visit)
    if is_unfed(control.secondary_volts) or (control.fuse_open and not is_fed(control.y_volts)):
        return Checked(switches)  # nothing is fed behind a dead transformer or a blown fuse
    call = _call(visit)
    behind = _delay(visit) or _behind_the_call(visit)
    return Checked(call + switches + behind, _missing(visit, behind))


def _call(visit: Visit) -> tuple[Finding, ...]:
    """Does the call leave the thermostat, and does it arrive at the unit, with no more than 24 V?"""
    control = visit.electrical.control
    evidence = given(control, BASE, ("secondary_volts", "thermostat_calling", "y_volts"))
    if control.y_volts is not None and not below(control.y_volts, limit("isolation.hazardous-volts").value):
        volts = electrical(visit, control.y_volts, "volts")
        return (report("control.line-voltage", State.FAIL, (f"{BASE}/y_volts",), measured=volts),)
    if control.thermostat_calling is False and (is_fed(control.y_volts) or is_fed(control.coil_volts)):
        by = given(control, BASE, ("thermostat_calling", "y_volts", "coil_volts"))
        return (report("control.call", State.FAIL, by, variant="uncalled"),)
    if is_fed(control.y_volts):
        return (report("control.call", State.PASS, evidence),)
    if control.thermostat_calling is False and not _runs_uncalled(visit):
        return (report("control.call", State.REVIEW, evidence, variant="not-calling"),)
    if is_unfed(control.y_volts) and control.thermostat_calling and not _indoor_switch_open(visit):
        return (report("control.call", State.FAIL, evidence, variant="not-arriving"),)
    return ()


def _runs_uncalled(visit: Visit) -> bool:
    """A unit that runs without a call, as reported or by its compressor's amps, does not wait for the thermostat;
    amps read before a switch opened tell of no such run."""
    draws = held(visit, "state.compressor-draws") is not None and not open_switches(visit)
    return "will_not_shut_off" in visit.complaint.symptoms or draws


def _indoor_switch_open(visit: Visit) -> bool:
    """Float switch and leak sensor often stand between thermostat and Y: an open one explains it."""
    control = visit.electrical.control
    return "open" in (control.float_switch, control.leak_sensor)


def _delay(visit: Visit) -> tuple[Finding, ...]:
    """The anti-short-cycle delay holds the unit off for some minutes, whatever else was or was not read."""
    if not visit.electrical.control.delay_running or open_switches(visit):
        return ()
    evidence = given(visit.electrical.control, BASE, ("delay_running", "y_volts", "coil_volts"))
    return (report("control.delay", State.REVIEW, evidence),)


def _behind_the_call(visit: Visit) -> tuple[Finding, ...]:
    """Y is fed and the coil is not: the open element lies between."""
    control = visit.electrical.control
    if not is_fed(control.y_volts) or not is_unfed(control.coil_volts):
        return ()
    evidence = given(control, BASE, ("y_volts", "coil_volts", "delay_running", *SWITCHES))
    if open_switches(visit):
        return ()
    unread = [name for name in SWITCHES if getattr(control, name) is None]
    if unread or control.delay_running is None:
        return (report("control.path-to-coil", State.UNDECIDED, evidence),)
    return (report("control.path-to-coil", State.FAIL, evidence),)


def _missing(visit: Visit, behind: tuple[Finding, ...]) -> tuple[Missing, ...]:
    """What would name the open element."""
    control, found = visit.electrical.control, []
    if control.thermostat_calling and control.y_volts is None:
        found.append(Missing(f"{BASE}/y_volts", "control.y"))
    if any(finding.state is State.UNDECIDED for finding in behind):
        names = [*SWITCHES, "delay_running"]
        found += [Missing(f"{BASE}/{name}", "control.element") for name in names if getattr(control, name) is None]
    return tuple(found)
