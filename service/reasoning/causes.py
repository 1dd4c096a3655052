"""One posterior over all causes: prior by complaint, findings and the cycle model as likelihoods.

score(cause) = ln prior + complaint + sum of what the findings say + ln likelihood of the cycle readings under
the class the cause looks like on the gauges. Probabilities are the normalised exponentials of the scores. Where
the cycle model has weighed the running readings, a finding that rests on those readings alone adds nothing to
the causes that the model knows.
"""

import math
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache

from service.knowledge.catalogues import CauseRow
from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.reasoning.cycle_weighing import SOUND, CycleWeighing, class_of
from service.results.answer import Argument, Cause
from service.results.finding import Finding, Severity, State
from service.results.visit.observations import Complaint

NONE_FOUND = "cause.none-found"
# A failed check speaks against a sound unit even where it points at no single cause; project choice.
AGAINST_SOUND = {Severity.CRITICAL: -6.0, Severity.WARNING: -3.0, Severity.INFO: 0.0}
REVIEW_AGAINST_SOUND = -0.5
# Share of calls with a named complaint in which nothing is found; common practice, no source.
CALLED_SOUND = 0.05
SHOWN = 0.005  # causes below this share are folded away; project choice
LEAD = math.log(1.2)  # how far none-found leads when nothing read speaks for a fault; project choice


def rank_causes(
    findings: Sequence[Finding],
    complaint: Complaint,
    weighing: CycleWeighing | None = None,
    *,
    circumstances: Mapping[str, float] | None = None,
    called: bool = False,
) -> tuple[Cause, ...]:
    """Causes by falling probability; they sum to 1 and the list is never empty.

    weighing: what the cycle model makes of the running readings, None where it does not judge.
    circumstances: natural-log likelihood ratio by cause of what nameplate and history say.
    called: before anybody is there, the complaint itself is what speaks for a fault.
    """
    weighed = [is_weighed(finding, weighing) for finding in findings]
    counted = [finding for finding, is_in in zip(findings, weighed, strict=True) if not is_in]
    heard = _heard(findings, weighed, weighing)
    scores = _scores(complaint, heard, weighing)
    for code, weight in (circumstances or {}).items():
        scores[code] += weight
    scores[NONE_FOUND] += against_sound(counted)
    if called:
        scores[NONE_FOUND] += math.log(CALLED_SOUND / cause_rows()[NONE_FOUND].prior)
    elif weighing is None and not speaks_for_fault(counted):
        others = max(score for code, score in scores.items() if code != NONE_FOUND)
        scores[NONE_FOUND] = max(scores[NONE_FOUND], others + LEAD)
    shown = _posterior(scores)
    return tuple([_cause(code, share, _arguments(code, findings, heard, weighing)) for code, share in shown])


def is_weighed(finding: Finding, weighing: CycleWeighing | None) -> bool:
    """True for a finding whose readings the cycle model has all weighed already; a critical one always counts."""
    if weighing is None or not finding.evidence or finding.severity is Severity.CRITICAL:
        return False
    return weighing.pointers.issuperset(finding.evidence)


@cache
def _says(code: str, state: State) -> dict[str, float]:
    """What a finding in a state says: natural-log likelihood ratios by cause, without those that say nothing."""
    said = finding_rows()[code].speaks.get(state, {})
    return {cause: weight for cause, weight in said.items() if weight}


@lru_cache(maxsize=256)
def _says_beside_model(
    code: str, state: State, shares: frozenset[str], relative: frozenset[str]
) -> dict[str, float]:
    """What a finding says of the causes that do not show on the gauges; of the others the model has weighed it.

    shares, relative: the classes that the model knows by share and by likelihood. A cause that looks like a sound
    unit there is told by other checks alone, whatever readings they share.
    """

    def is_modelled(cause: str) -> bool:
        looks_like = class_of(cause_rows()[cause].cycle_class)
        return class_of(cause) in shares or (looks_like in relative and looks_like != SOUND)

    return {cause: weight for cause, weight in _says(code, state).items() if not is_modelled(cause)}


def _heard(
    findings: Sequence[Finding], weighed: Sequence[bool], weighing: CycleWeighing | None
) -> list[Mapping[str, float]]:
    """What each finding adds to the causes' scores; without what the cycle model has weighed in it."""
    if weighing is None:
        return [_says(finding.code, finding.state) for finding in findings]
    shares, relative = frozenset(weighing.shares), frozenset(weighing.relative)
    return [
        _says_beside_model(finding.code, finding.state, shares, relative)
        if is_in
        else _says(finding.code, finding.state)
        for finding, is_in in zip(findings, weighed, strict=True)
    ]


def _scores(
    complaint: Complaint, heard: Sequence[Mapping[str, float]], weighing: CycleWeighing | None
) -> dict[str, float]:
    """Prior, complaint and findings; with a weighing, its posterior or its likelihood instead of the prior."""
    said = _sums(heard)
    complained = _sums([_symptom_says(symptom) for symptom in complaint.symptoms])
    scores = {}
    for row, log_prior in _priors():
        base = log_prior + complained.get(row.code, 0.0)
        if weighing is not None:
            base = weighing.log_posterior(row, base - _log_prior_of_sound())
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
    return math.log(cause_rows()[NONE_FOUND].prior)


@cache
def _symptom_says(symptom: str) -> dict[str, float]:
    return {code: row.symptoms[symptom] for code, row in cause_rows().items() if symptom in row.symptoms}


def _arguments(
    cause: str,
    findings: Sequence[Finding],
    heard: Sequence[Mapping[str, float]],
    weighing: CycleWeighing | None,
) -> list[Argument]:
    """What speaks for and against a cause: what the cycle model names, then the findings in their order."""
    found = list(weighing.arguments.get(cause, ())) if weighing is not None else []
    for finding, said in zip(findings, heard, strict=True):
        weight = said.get(cause)
        if weight is not None:
            code = "argument.for" if weight > 0 else "argument.against"
            found.append(Argument(code, weight, {"finding": finding.code}))
    return found


def against_sound(findings: Sequence[Finding]) -> float:
    """What failed and doubtful checks say against a sound unit."""
    total = 0.0
    for finding in findings:
        if finding.state is State.FAIL:
            total += AGAINST_SOUND[finding.severity]
        elif finding.state is State.REVIEW:
            total += REVIEW_AGAINST_SOUND
    return total


def speaks_for_fault(findings: Sequence[Finding]) -> bool:
    """True when any reading speaks for a fault."""
    return any(_accuses(finding.code, finding.state) for finding in findings)


@cache
def _accuses(code: str, state: State) -> bool:
    return any(weight > 0 and cause != NONE_FOUND for cause, weight in _says(code, state).items())


def _posterior(scores: dict[str, float]) -> list[tuple[str, float]]:
    """Causes worth showing with their shares, likeliest first."""
    top = max(scores.values())
    weights = {code: math.exp(score - top) for code, score in scores.items()}
    total = sum(weights.values())
    kept = [code for code, weight in weights.items() if weight / total >= SHOWN]
    ranked = sorted(kept or weights, key=lambda code: (-weights[code], code))[: len(kept) or 1]
    return list(zip(ranked, _rounded([weights[code] for code in ranked]), strict=True))


def _rounded(weights: list[float]) -> list[float]:
    """Shares of the causes shown, to four decimals, summing to exactly 1 with the rest on the first."""
    total = sum(weights)
    rest = [round(weight / total, 4) for weight in weights[1:]]
    return [round(1.0 - sum(rest), 4), *rest]


def _cause(code: str, share: float, arguments: list[Argument]) -> Cause:
    ordered = sorted(arguments, key=lambda item: -abs(item.weight))
    return Cause(
        code,
        share,
        tuple(item for item in ordered if item.weight > 0),
        tuple(item for item in ordered if item.weight < 0),
        cause_rows()[code].confirm_by,
    )
