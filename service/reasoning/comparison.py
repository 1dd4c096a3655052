"""Is the repair proven? Each fault before the repair against the readings taken after it.

Nothing counts as repaired that was not read again: a fault is gone only when its check passed afterwards, or when
every reading it rested on was taken again and the fault was not found. What rests on the nameplate or on what was
reported alone is a remark that no repair takes away, no part of the verdict. Under a hold nothing is proven, nor
where the two documents name different units.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence

from service.reasoning.at_unit import rests_on_readings
from service.results.answer import Hold
from service.results.comparison import ComparisonComputed, FindingChange
from service.results.finding import Finding, Missing, State, Value
from service.results.pointers import present_pointers
from service.results.visit import Visit
from service.verdicts.report import Checked, report

FAULTS = (State.FAIL, State.REVIEW)
# Where one code was found more than once (two capacitors, say), the worst speaks for all.
WORST_FIRST = (State.FAIL, State.REVIEW, State.UNDECIDED, State.PASS, State.NOT_APPLICABLE)
REPAIR = {"proven": State.PASS, "not_proven": State.FAIL, "undecided": State.UNDECIDED}


def compare(
    before: Sequence[Finding],
    after: Sequence[Finding],
    read_after: Visit,
    holds: Sequence[Hold] = (),
    unlike: Sequence[str] = (),
) -> Checked:
    """Compare the findings of two visits.

    before, after: findings of each; read_after: the visit after the repair, for what was read in it; holds: that
    stand after it; unlike: pointers of what the two say otherwise of the unit itself. Returns: the verdict as a
    finding, the readings still owed, and the changes.
    """
    read = present_pointers(read_after)
    first, last = _worst(before), _worst(after)
    remarks = {item.code for item in (*before, *after)} - {
        item.code for item in (*before, *after) if rests_on_readings(item)
    }
    changes = tuple(_changes(before, first, last, read, remarks))
    faults = tuple(change for change in changes if not change.remark)
    old = verdict(tuple(change for change in faults if change.change != "new"))
    found = verdict(faults)
    repair = "undecided" if unlike or (holds and found == "proven") else found
    owed = _owed(before, faults, read)
    finding = _finding(repair, old, faults, len(owed), holds)
    if unlike:
        finding = report("comparison.repair", State.UNDECIDED, tuple(unlike), variant="another-unit")
    missing = tuple(Missing(f"/after{pointer}", "missing.comparison-reread") for pointer in owed)
    return Checked((finding,), missing, (), ComparisonComputed(changes, repair=repair, old_faults=old))


def _finding(repair: str, old: str, faults: Sequence[FindingChange], owed: int, holds: Sequence[Hold]) -> Finding:
    """The verdict as a finding; its text says only what there is."""
    still = sum(change.change == "still" for change in faults)
    new = sum(change.change == "new" for change in faults)
    values: dict[str, Value] = {"still": still, "new": new, "owed": owed}
    if holds:
        values["hold"] = holds[0].code
    return report("comparison.repair", REPAIR[repair], (), values=values, variant=_variant(repair, old, values))


def _variant(repair: str, old: str, values: Mapping[str, Value]) -> str:
    """Which of the texts of a verdict: what stands in the way, gravest first."""
    if repair == "proven":
        return ""
    if repair == "not_proven":
        return "new" if old == "proven" else "still" if values["still"] else "unsettled"
    reasons = (
        ("hold", "hold" in values and old == "proven"),
        ("owed", bool(values["owed"])),
        ("still", bool(values["still"])),
        ("new", bool(values["new"])),
    )
    return next((variant for variant, applies in reasons if applies), "nothing")


def verdict(changes: Sequence[FindingChange]) -> str:
    """proven: every fault is gone and none is new; not_proven: one still fails or is new; else undecided."""
    for change in changes:
        if change.change in ("still", "new") and change.after == State.FAIL:
            return "not_proven"
    gone = bool(changes) and all(change.change == "gone" for change in changes)
    return "proven" if gone else "undecided"


def _worst(findings: Sequence[Finding]) -> dict[str, State]:
    worst: dict[str, State] = {}
    for finding in findings:
        known = worst.get(finding.code, finding.state)
        worst[finding.code] = min(known, finding.state, key=WORST_FIRST.index)
    return worst


def _changes(
    before: Sequence[Finding],
    first: Mapping[str, State],
    last: Mapping[str, State],
    read: Collection[str],
    remarks: Collection[str],
) -> Iterator[FindingChange]:
    """Faults before in their order, then the new ones; what rests on no reading of the unit is a remark."""
    for code, state in first.items():
        if state in FAULTS:
            change = _change(code, last.get(code), before, read)
            yield FindingChange(code, state, last.get(code), change, code in remarks)
    for code, state in last.items():
        if state in FAULTS and first.get(code) not in FAULTS:
            yield FindingChange(code, first.get(code), state, "new", code in remarks)


def _change(code: str, after: State | None, before: Sequence[Finding], read: Collection[str]) -> str:
    if after in FAULTS:
        return "still"
    if after is State.PASS or (after is None and not _unread(code, before, read)):
        return "gone"
    return "not_reread"


def _unread(code: str, before: Sequence[Finding], read: Collection[str]) -> tuple[str, ...]:
    """Readings a fault rested on that were not taken again; a fault that rests on none cannot be re-read."""
    evidence = dict.fromkeys(
        pointer
        for finding in before
        if finding.code == code and finding.state in FAULTS
        for pointer in finding.evidence
    )
    return tuple(pointer for pointer in evidence if pointer not in read) if evidence else ("",)


def _owed(before: Sequence[Finding], changes: Sequence[FindingChange], read: Collection[str]) -> tuple[str, ...]:
    """Readings to take again, each once."""
    owed = dict.fromkeys(
        pointer
        for change in changes
        if change.change == "not_reread"
        for pointer in _unread(str(change.code), before, read)
        if pointer
    )
    return tuple(owed)
