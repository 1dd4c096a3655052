"""One posterior over all causes: prior by complaint, findings and the cycle model as likelihoods.

score(cause) = ln prior + complaint + sum of what the findings say + ln likelihood of the cycle readings under
the class the cause looks like on the gauges. Probabilities are the normalised exponentials of the scores. Where
the cycle model has weighed the running readings, a finding that rests on those readings alone adds nothing to
the causes that the model knows.
"""

import math
from collections.abc import Mapping, Sequence
from functools import cache

from service.knowledge.catalogues import CauseRow
from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.reasoning.cycle_weighing import CYCLE_ARGUMENT, SOUND, CycleWeighing, class_of
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
    counted = [finding for finding in findings if not is_weighed(finding, weighing)]
    arguments = _arguments(findings, weighing)
    scores = {code: _base(row, complaint, weighing) + _sum(arguments[code]) for code, row in cause_rows().items()}
    for code, weight in (circumstances or {}).items():
        scores[code] += weight
    scores[NONE_FOUND] += against_sound(counted)
    if called:
        scores[NONE_FOUND] += math.log(CALLED_SOUND / cause_rows()[NONE_FOUND].prior)
    elif weighing is None and not speaks_for_fault(counted):
        others = max(score for code, score in scores.items() if code != NONE_FOUND)
        scores[NONE_FOUND] = max(scores[NONE_FOUND], others + LEAD)
    return _posterior(scores, arguments)


def is_weighed(finding: Finding, weighing: CycleWeighing | None) -> bool:
    """True for a finding whose readings the cycle model has all weighed already; a critical one always counts."""
    if weighing is None or not finding.evidence or finding.severity is Severity.CRITICAL:
        return False
    return weighing.pointers.issuperset(finding.evidence)


def _is_modelled(cause: str, weighing: CycleWeighing) -> bool:
    """True for a cause that shows on the gauges, so that the model has weighed its readings already.

    A cause that looks like a sound unit there is told by other checks alone, whatever readings they share.
    """
    looks_like = class_of(cause_rows()[cause].cycle_class)
    return class_of(cause) in weighing.shares or (looks_like in weighing.relative and looks_like != SOUND)


def _base(row: CauseRow, complaint: Complaint, weighing: CycleWeighing | None) -> float:
    """Prior and complaint; with a weighing, its posterior or its likelihood for the cause."""
    prior = _log_prior(row.code) + sum([row.symptoms.get(symptom, 0.0) for symptom in complaint.symptoms])
    if weighing is None:
        return prior
    return weighing.log_posterior(row, prior - _log_prior(NONE_FOUND))


@cache
def _log_prior(cause: str) -> float:
    return math.log(cause_rows()[cause].prior)


def _sum(arguments: Sequence[Argument]) -> float:
    return sum(item.weight for item in arguments if item.code != CYCLE_ARGUMENT)


def _arguments(findings: Sequence[Finding], weighing: CycleWeighing | None) -> dict[str, list[Argument]]:
    """What speaks for and against each cause; without what the cycle model has weighed in it."""
    said = weighing.arguments if weighing is not None else {}
    found = {cause: list(said.get(cause, ())) for cause in cause_rows()}
    for finding in findings:
        weighed = weighing if is_weighed(finding, weighing) else None
        for cause, weight in finding_rows()[finding.code].speaks.get(finding.state, {}).items():
            if weight and not (weighed is not None and _is_modelled(cause, weighed)):
                code = "argument.for" if weight > 0 else "argument.against"
                found[cause].append(Argument(code, weight, {"finding": finding.code}))
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
    return any(
        weight > 0 and cause != NONE_FOUND
        for finding in findings
        for cause, weight in finding_rows()[finding.code].speaks.get(finding.state, {}).items()
    )


def _posterior(scores: dict[str, float], arguments: dict[str, list[Argument]]) -> tuple[Cause, ...]:
    top = max(scores.values())
    weights = {code: math.exp(score - top) for code, score in scores.items()}
    total = sum(weights.values())
    ranked = sorted(weights, key=lambda code: (-weights[code], code))
    kept = [code for code in ranked if weights[code] / total >= SHOWN] or ranked[:1]
    shown = _rounded([weights[code] for code in kept])
    return tuple(_cause(code, share, arguments[code]) for code, share in zip(kept, shown, strict=True))


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
