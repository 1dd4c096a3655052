"""One posterior over all causes: prior by complaint, findings and the cycle model as likelihoods.

score(cause) = ln prior + complaint + sum of what the findings say + ln likelihood of the cycle readings under
the class the cause looks like on the gauges. Probabilities are the normalised exponentials of the scores. Where
the cycle model has weighed the running readings, a finding that rests on those readings alone adds nothing to
the causes that the model knows.
"""

import math
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache

from service.knowledge.catalogues import CauseRow, sound
from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import steps as step_rows
from service.knowledge.limits import limit
from service.knowledge.row_types import matching
from service.reasoning.at_unit import is_seen
from service.reasoning.case import Case
from service.reasoning.cause_basis import as_written, basis_of, capped, simulated_share, tested
from service.reasoning.circumstances import weights_of_circumstances
from service.reasoning.cycle_weighing import SOUND, CycleWeighing, class_of
from service.reasoning.motors import reported_standing
from service.reasoning.priors import reweighed
from service.reasoning.set_aside import is_void, rests_on_doubtful
from service.reasoning.unit import fits_step
from service.results.answer import Argument, Cause
from service.results.finding import CONTRADICTED, Confidence, Finding, Severity, State
from service.results.record import replace
from service.results.visit.observations import Complaint

LEAST_SHOWN = 2


def rank_causes(case: Case) -> Case:
    """The case with its causes by falling probability; they sum to 1 and the list is never empty."""
    weighing = case.cycle.weighing
    findings = [item for item in case.findings if not (rests_on_doubtful(case, item) or is_void(case, item))]
    weighed = [is_weighed(finding, weighing) for finding in findings]
    counted = [finding for finding, is_in in zip(findings, weighed, strict=True) if not is_in]
    heard = _explaining(findings, _heard(findings, weighed, weighing))
    scores = _scores(case.visit.complaint, heard, weighing, _facts(findings))
    for code, weight in weights_of_circumstances(case).items():
        scores[code] += weight
    none_found = sound().code
    scores[none_found] += against_sound(counted)
    if case.visit.priors.labels is not None:
        scores = reweighed(scores, case.visit.complaint.symptoms, case.visit.priors)
    if reported_standing(case) or (case.profile.prepares and case.visit.complaint.symptoms):
        # Before anybody is there, and until a motor reported standing was read turning, the complaint itself is
        # what speaks for a fault.
        scores[none_found] += math.log(limit("reasoning.called-sound").value / sound().prior)
    elif weighing is None and not case.profile.prepares and not speaks_for_fault(counted):
        others = max(score for code, score in scores.items() if code != none_found)
        scores[none_found] = max(scores[none_found], others + math.log(limit("reasoning.sound-lead").value))
    tests = tested(findings, heard, weighing)
    shown = _posterior(scores)
    shown = capped(shown, basis_of(shown[0][0], tests, weighing))
    said = _arguments([code for code, _ in shown], findings, heard, weighing)
    causes = tuple([_cause(case, code, share, said[code], tests, weighing) for code, share in shown])
    return replace(case, causes=causes)


def is_weighed(finding: Finding, weighing: CycleWeighing | None) -> bool:
    """True for a finding whose readings the cycle model has all weighed already; a critical one always counts."""
    if weighing is None or not finding.evidence or finding.severity is Severity.CRITICAL:
        return False
    return weighing.pointers.issuperset(finding.evidence)


def speaks(finding: Finding) -> Mapping[str, float]:
    """What a finding says of the causes: nothing where it only says that readings contradict one another."""
    row = finding_rows()[finding.code]
    if finding.variant == CONTRADICTED or (str(finding.state) in row.contradicts and not row.stands):
        return {}
    return _says(finding.code, finding.state, finding.variant)


@cache
def _says(code: str, state: State, variant: str) -> dict[str, float]:
    """What a finding in a state says: natural-log likelihood ratios by cause, without those that say nothing."""
    by_state = finding_rows()[code].speaks
    said = by_state.get(f"{state}/{variant}", by_state.get(state, {}))
    return {cause: weight for cause, weight in said.items() if weight}


@lru_cache(maxsize=256)
def _says_beside_model(
    code: str, state: State, variant: str, shares: frozenset[str], relative: frozenset[str]
) -> dict[str, float]:
    """What a finding says of the causes that do not show on the gauges; of the others the model has weighed it.

    shares, relative: the classes that the model knows by share and by likelihood. A cause that looks like a sound
    unit there is told by other checks alone, whatever readings they share.
    """

    def is_modelled(cause: str) -> bool:
        looks_like = class_of(cause_rows()[cause].cycle_class)
        return class_of(cause) in shares or (looks_like in relative and looks_like != SOUND)

    return {cause: weight for cause, weight in _says(code, state, variant).items() if not is_modelled(cause)}


def _heard(
    findings: Sequence[Finding], weighed: Sequence[bool], weighing: CycleWeighing | None
) -> list[Mapping[str, float]]:
    """What each finding adds to the causes' scores; without what the cycle model has weighed in it."""
    if weighing is None:
        return [speaks(finding) for finding in findings]
    shares, relative = frozenset(weighing.shares), frozenset(weighing.relative)
    return [
        _says_beside_model(finding.code, finding.state, finding.variant, shares, relative)
        if is_in
        else speaks(finding)
        for finding, is_in in zip(findings, weighed, strict=True)
    ]


def _explaining(findings: Sequence[Finding], heard: Sequence[Mapping[str, float]]) -> list[Mapping[str, float]]:
    """What the findings say without what was seen of a cause that cannot explain an established reading.

    A dirty filter stands in many houses: beside a superheat that low airflow would lower, it is a second defect.
    """
    unable = {
        row.code for row in _bound() if any(_is_firm(item) for item in matching(row.cannot_explain, findings))
    }
    if not unable:
        return list(heard)

    def without(finding: Finding, said: Mapping[str, float]) -> Mapping[str, float]:
        if not is_seen(finding):
            return said
        return {cause: weight for cause, weight in said.items() if weight < 0.0 or cause not in unable}

    return [without(finding, said) for finding, said in zip(findings, heard, strict=True)]


@cache
def _bound() -> tuple[CauseRow, ...]:
    """Causes that some finding is of the wrong sign for."""
    return tuple(row for row in cause_rows().values() if row.cannot_explain)


def _is_firm(finding: Finding) -> bool:
    return finding.confidence is Confidence.FIRM and finding.variant != CONTRADICTED


def _facts(findings: Sequence[Finding]) -> frozenset[str]:
    """Causes that a critical failed check names: a fact that readings taken while it still ran do not speak
    against."""
    named = (item for item in findings if item.state is State.FAIL and item.severity is Severity.CRITICAL)
    return frozenset(cause for item in named for cause, weight in speaks(item).items() if weight > 0)


def _scores(
    complaint: Complaint,
    heard: Sequence[Mapping[str, float]],
    weighing: CycleWeighing | None,
    facts: frozenset[str],
) -> dict[str, float]:
    """Prior, complaint and findings; with a weighing, its posterior or its likelihood instead of the prior."""
    said = _sums(heard)
    complained = _sums([_symptom_says(symptom) for symptom in complaint.symptoms])
    scores = {}
    for row, log_prior in _priors():
        base = log_prior + complained.get(row.code, 0.0)
        if weighing is not None:
            beside_sound = base - _log_prior_of_sound()
            base = weighing.log_posterior(row, beside_sound)
            if row.code in facts:
                base = max(base, weighing.log_sound_prior + beside_sound)
        scores[row.code] = base + said.get(row.code, 0.0)
    return scores


def _sums(weights: Sequence[Mapping[str, float]]) -> dict[str, float]:
    total: dict[str, float] = {}
    for said in weights:
        for cause, weight in said.items():
            total[cause] = total.get(cause, 0.0) + weight
    return total


@cache
def _priors() -> tuple[tuple[CauseRow, float], ...]:
    return tuple((row, math.log(row.prior)) for row in cause_rows().values())


@cache
def _log_prior_of_sound() -> float:
    return math.log(sound().prior)


@cache
def _symptom_says(symptom: str) -> dict[str, float]:
    return {code: row.symptoms[symptom] for code, row in cause_rows().items() if symptom in row.symptoms}


def _arguments(
    causes: Sequence[str],
    findings: Sequence[Finding],
    heard: Sequence[Mapping[str, float]],
    weighing: CycleWeighing | None,
) -> dict[str, list[Argument]]:
    """What speaks for and against each cause: what the cycle model names, then the findings in their order."""
    modelled = weighing.arguments if weighing is not None else {}
    found = {cause: list(modelled.get(cause, ())) for cause in causes}
    for finding, said in zip(findings, heard, strict=True):
        for cause, weight in said.items():
            if cause in found:
                code = "argument.for" if weight > 0 else "argument.against"
                found[cause].append(Argument(code, weight, {"finding": f"{finding.code}/{finding.state}"}))
    return found


def against_sound(findings: Sequence[Finding]) -> float:
    """What failed and doubtful checks say against a sound unit; one that names no cause is a defect beside it."""
    return -sum(_against(finding) for finding in findings if accuses(finding))


def _against(finding: Finding) -> float:
    """Natural-log weight against a sound unit, beyond what the finding says of single causes."""
    if finding.state is State.REVIEW:
        return limit("reasoning.review-against-sound").value
    if finding.state is not State.FAIL or finding.severity is Severity.INFO:
        return 0.0
    critical = finding.severity is Severity.CRITICAL
    return limit("reasoning.critical-against-sound" if critical else "reasoning.warning-against-sound").value


def speaks_for_fault(findings: Sequence[Finding]) -> bool:
    """True when any reading speaks for a fault."""
    return any(accuses(finding) for finding in findings)


def accuses(finding: Finding) -> bool:
    """True when a finding names a cause, so that it may explain the complaint."""
    return any(weight > 0 and not cause_rows()[cause].sound for cause, weight in speaks(finding).items())


def _posterior(scores: dict[str, float]) -> list[tuple[str, float]]:
    """Causes worth showing with their shares, likeliest first; at least two, for no share is 1."""
    top = max(scores.values())
    weights = {code: math.exp(score - top) for code, score in scores.items()}
    least = limit("reasoning.shown").value * sum(weights.values())
    ranked = sorted(weights, key=lambda code: (-weights[code], code))
    shown = max(LEAST_SHOWN, sum(weight >= least for weight in weights.values()))
    total = sum(weights[code] for code in ranked[:shown])
    return list(zip(ranked[:shown], as_written([weights[code] / total for code in ranked[1:shown]]), strict=True))


def _cause(
    case: Case,
    code: str,
    share: float,
    arguments: list[Argument],
    tests: frozenset[str],
    weighing: CycleWeighing | None,
) -> Cause:
    ordered = sorted(arguments, key=lambda item: -abs(item.weight))
    return Cause(
        code,
        share,
        tuple(item for item in ordered if item.weight > 0),
        tuple(item for item in ordered if item.weight < 0),
        tuple([step for step in cause_rows()[code].confirm_by if fits_step(case.visit, step_rows()[step])]),
        basis_of(code, tests, weighing),
        simulated_share(code, weighing),
    )
