"""It hums and does not turn: supply, capacitor and windings come before the compressor."""

from collections.abc import Sequence

from service.checks.electrical.motor_kind import SINGLE_PHASE, motor_kind
from service.results.finding import Finding, Missing, State
from service.results.visit import Visit
from service.verdicts.report import Checked, report

LOCKED = "currents.locked-rotor"
CAPACITORS = ("capacitors.compressor", "capacitors.not-named")
BLAMED = ("windings.", "insulation.winding-grounded", "start.", "supply.", "contactor.contact-drop")
OWED = {
    "supply.voltage-normal": ("/electrical/supply/idle_volts", "locked-rotor.supply"),
    "supply.start-sag": ("/electrical/supply/starting_volts", "locked-rotor.sag"),
    "windings": ("/electrical/windings", "locked-rotor.windings"),
    "capacitor": ("/electrical/run_capacitors", "locked-rotor.capacitor"),
}


def check_locked_rotor(visit: Visit, findings: Sequence[Finding]) -> Checked:
    """Suspect the mechanics only when everything electrical was read and found good (W17-W19).

    findings: of the other electrical checks of this visit. Source: common practice.
    """
    locked = [item for item in findings if item.code == LOCKED and item.state is State.FAIL]
    if not locked or any(_explains(item) for item in findings):
        return Checked()
    owed = [pointer for name, pointer in OWED.items() if not _is_cleared(visit, name, findings)]
    state = State.UNDECIDED if owed else State.REVIEW
    missing = tuple(Missing(pointer, code) for pointer, code in owed)
    return Checked((report("currents.seized", state, locked[0].evidence),), missing)


def _explains(finding: Finding) -> bool:
    """A failed or contradicting reading of supply, capacitor, start parts or windings goes first."""
    if finding.code in CAPACITORS:
        return finding.state in (State.FAIL, State.REVIEW)
    doubtful = (State.FAIL, State.UNDECIDED)
    return finding.code.startswith(BLAMED) and finding.state in doubtful and finding.code != LOCKED


def _is_cleared(visit: Visit, name: str, findings: Sequence[Finding]) -> bool:
    passed = {item.code for item in findings if item.state is State.PASS}
    if name == "windings":
        return bool(passed & {"windings.sum-rule", "windings.phases-equal"})
    if name == "capacitor":
        return motor_kind(visit) not in (None, SINGLE_PHASE) or bool(passed & set(CAPACITORS))
    return name in passed
