"""Compressor windings: which rules apply, what was assumed, what is missing."""

from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.isolation import dead_is_proven
from service.checks.electrical.motor_kind import SINGLE_PHASE, motor_kind, nameplate_pointers
from service.checks.electrical.winding_pairs import (
    BASE,
    NAMED,
    NUMBERED,
    Pair,
    closed,
    is_named,
    opened,
    pointers,
    read_pairs,
)
from service.checks.electrical.windings_closed import check_closed, is_single_phase_set
from service.checks.electrical.windings_open import check_open
from service.checks.electrical.windings_published import check_published
from service.checks.electrical.windings_three_phase import check_three_phase
from service.results.computed import WindingsComputed
from service.results.finding import Assumption, Missing, State
from service.results.visit import Visit
from service.verdicts.report import Checked, report


def check_windings(visit: Visit) -> Checked:
    """Judge the compressor's windings by the rules of its kind; without proof of dead only hazards stand."""
    pairs = read_pairs(visit)
    if not pairs:
        return Checked(computed=WindingsComputed())
    judged = _contradictions(visit, pairs) or _by_kind(visit, pairs)
    findings = as_proven(judged.findings, dead_is_proven(visit))
    assumptions = judged.assumptions + _assumptions(visit, pairs)
    return Checked(findings, judged.missing + _missing(visit, pairs), assumptions, judged.computed)


def _by_kind(visit: Visit, pairs: tuple[Pair, ...]) -> Checked:
    kind = motor_kind(visit)
    if kind is None and not is_named(pairs):
        return _by_readings(visit, pairs)
    if kind in (None, SINGLE_PHASE):
        return _single_phase(visit, pairs)
    return check_three_phase(visit, pairs)


def _by_readings(visit: Visit, pairs: tuple[Pair, ...]) -> Checked:
    """The nameplate does not say: three numbers can fit one kind only, anything else is asked."""
    asked = (Missing("/equipment/compressor/drive", "windings.kind-of-motor"),)
    numbers = closed(pairs)
    if len(numbers) < 3:
        judged = _single_phase(visit, pairs)
        return Checked(judged.findings, judged.missing + asked, judged.assumptions, judged.computed)
    single = is_single_phase_set(numbers)
    judged = _single_phase(visit, pairs) if single else check_three_phase(visit, pairs)
    code = "windings.single-phase-by-readings" if single else "windings.three-equal-by-readings"
    assumed = (Assumption(code, "/equipment/compressor/drive"),)
    return Checked(judged.findings, judged.missing + asked, assumed, judged.computed)


def _single_phase(visit: Visit, pairs: tuple[Pair, ...]) -> Checked:
    if opened(pairs):
        return Checked(*check_open(visit, pairs), computed=WindingsComputed())
    found = check_closed(visit, pairs)
    if any(finding.code == "windings.readings-inconsistent" for finding in found.findings):
        return found
    published = check_published(visit, pairs, found.computed)
    return Checked(
        found.findings + published.findings,
        found.missing + published.missing,
        published.assumptions,
        published.computed,
    )


def _contradictions(visit: Visit, pairs: tuple[Pair, ...]) -> Checked | None:
    """Readings that cannot be judged: broken meter leads, or single-phase names on another kind of motor."""
    leads, variant = visit.electrical.windings.lead_ohms, ""
    evidence = pointers(pairs)
    if leads is not None and leads.over_limit:
        variant, evidence = "leads-open", (*evidence, f"{BASE}/lead_ohms")
    elif is_named(pairs) and motor_kind(visit) not in (None, SINGLE_PHASE):
        variant, evidence = "names", evidence + nameplate_pointers(visit)
    if not variant:
        return None
    finding = report("windings.readings-inconsistent", State.UNDECIDED, evidence, variant=variant)
    return Checked((finding,), computed=WindingsComputed())


def _assumptions(visit: Visit, pairs: tuple[Pair, ...]) -> tuple[Assumption, ...]:
    windings = visit.electrical.windings
    found = []
    if windings.lead_ohms is None and closed(pairs):
        found.append(Assumption("windings.leads-not-nulled", f"{BASE}/lead_ohms"))
    if visit.inspection.wires_off_terminals is None:
        found.append(Assumption("windings.wires-off", "/inspection/wires_off_terminals"))
    if windings.read_at is None:
        found.append(Assumption("windings.read-at-terminals", f"{BASE}/read_at"))
    return tuple(found)


def _missing(visit: Visit, pairs: tuple[Pair, ...]) -> tuple[Missing, ...]:
    names = NAMED if is_named(pairs) else NUMBERED
    return tuple(
        Missing(f"{BASE}/{name}", "windings.third-pair")
        for name in names
        if getattr(visit.electrical.windings, name) is None
    )
