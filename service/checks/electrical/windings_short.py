"""Pairs of terminals that read next to nothing."""

from service.checks.electrical.meters import ohm_error, ohms
from service.checks.electrical.winding_pairs import ClosedPair
from service.knowledge.limits import limit
from service.results.finding import Confidence, Finding, State
from service.results.visit import Visit
from service.verdicts.judge import below, confidence
from service.verdicts.report import report


def dead_shorts(visit: Visit, numbers: tuple[ClosedPair, ...]) -> tuple[Finding, ...]:
    """A pair near 0.0 ohm (W11); leads that were not nulled only add, so they cannot make a short.

    Source: Heating and Cooling Essentials (Goodheart-Willcox), section 25.8.
    """
    line = limit("windings.dead-short").value
    return tuple(_short(visit, pair) for pair in numbers if below(pair.ohms, line))


def _short(visit: Visit, pair: ClosedPair) -> Finding:
    line = limit("windings.dead-short")
    sure = confidence(pair.ohms, ohm_error(visit, pair.ohms), low=line.value)
    state = State.FAIL if sure is Confidence.FIRM else State.REVIEW
    if visit.inspection.wires_off_terminals is False:
        state = State.UNDECIDED
    return report(
        "windings.dead-short",
        state,
        (pair.pointer,),
        measured=ohms(visit, pair.ohms),
        limit=line.as_low(),
        confidence=sure,
        values={"pair": "-".join(pair.ends)},
    )
