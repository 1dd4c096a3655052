"""A computed value against a limit, as a finding; and which reading would settle a borderline one."""

from collections.abc import Iterable

from service.physics.uncertainty import Uncertain
from service.results.finding import Bounds, Confidence, Finding, Missing, State, Value
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import report


def judged(
    code: str,
    value: Uncertain,
    bounds: Bounds,
    *,
    target: Uncertain | None = None,
    worst: State = State.FAIL,
    decided: bool = True,
    also: tuple[str, ...] = (),
    values: dict[str, Value] | None = None,
    variant: str = "",
) -> Finding:
    """The finding of a value against its bounds: `worst` outside them, pass inside or exactly on them.

    The nominal value decides; its uncertainty only says how firmly. target: what the bounds are laid round, where
    that is uncertain itself. decided: False where the conditions for a verdict are not met. The evidence is the
    readings behind the value, what counts most first, then `also`. variant: of the text, in every state.
    """
    state = _state(value.value, bounds, worst) if decided else State.UNDECIDED
    compared = value if target is None else value - target
    sure = confidence(value.value, compared.half_width, bounds.low, bounds.high)
    return report(
        code,
        state,
        evidence(compared) + also,
        measured=value.quantity(bounds.kind),
        limit=bounds,
        confidence=sure if decided else Confidence.FIRM,
        values=values,
        variant=variant,
    )


def _state(value: float, bounds: Bounds, worst: State) -> State:
    too_high = bounds.high is not None and above(value, bounds.high)
    too_low = bounds.low is not None and below(value, bounds.low)
    return worst if too_high or too_low else State.PASS


def evidence(*values: Uncertain | None) -> tuple[str, ...]:
    """Pointers of the readings behind the values, each once, what counts most first."""
    if len(values) == 1 and values[0] is not None:
        return tuple([source for source in values[0].sources if source.startswith("/")])
    sources = [source for value in values if value is not None for source in value.sources]
    return tuple(dict.fromkeys([source for source in sources if source.startswith("/")]))


def settling(findings: Iterable[Finding]) -> tuple[Missing, ...]:
    """For each borderline finding the reading whose accuracy would settle it."""
    pointers = [
        finding.evidence[0]
        for finding in findings
        if finding.confidence is Confidence.BORDERLINE and finding.evidence
    ]
    return tuple(Missing(pointer, "uncertainty.more-accurate-reading") for pointer in dict.fromkeys(pointers))


def fixed_bounds(kind: str, *, low: float | None = None, high: float | None = None) -> Bounds:
    """Bounds that come from the request itself (a nameplate value)."""
    return Bounds(kind, "request", "nameplate", low, high)
