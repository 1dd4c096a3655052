"""What a cause's probability rests on, and the most that simulated units alone may make of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import floor

from service.knowledge.catalogues import sound
from service.knowledge.limits import limit
from service.reasoning.at_unit import rests_on_readings
from service.reasoning.cycle_weighing import CycleWeighing, class_of
from service.results.finding import Finding, State

Shares = list[tuple[str, float]]
DECIMALS = 4  # of a share as it is written
SMALLEST = 10.0**-DECIMALS
HISTORY, SIMULATED, TESTS, BOTH = "history", "simulated_units", "tests", "simulated_units_and_tests"
FOUND = (State.FAIL, State.REVIEW)


def tested(
    findings: Sequence[Finding], heard: Iterable[Mapping[str, float]], weighing: CycleWeighing | None
) -> frozenset[str]:
    """Causes that a check of something read at the unit speaks for, beyond what the cycle model has weighed.

    heard: what each finding adds to the causes. Checks that passed speak for a sound unit where no model does:
    what passed beside the model tells nothing of the refrigerant side.
    """
    named = {
        cause
        for finding, said in zip(findings, heard, strict=True)
        if finding.state in FOUND and rests_on_readings(finding)
        for cause, weight in said.items()
        if weight > 0.0
    }
    passed = any(finding.state is State.PASS and rests_on_readings(finding) for finding in findings)
    return frozenset(named) | ({sound().code} if passed and weighing is None else frozenset())


def basis_of(cause: str, tests: frozenset[str], weighing: CycleWeighing | None) -> str:
    """What the probability of a cause rests on."""
    if weighing is None or class_of(cause) not in weighing.shares:
        return TESTS if cause in tests else HISTORY
    return BOTH if cause in tests else SIMULATED


def simulated_share(cause: str, weighing: CycleWeighing | None) -> float | None:
    """What simulated units alone make of a cause, at most what such answers were right at; None where unknown."""
    if weighing is None:
        return None
    share = weighing.shares.get(class_of(cause))
    return None if share is None else min(share, limit("simulated.most-share").value)


def capped(shown: Shares, basis: str) -> Shares:
    """Shares of which the leading one, where it rests on simulated units alone, is no more than they may say."""
    most = limit("simulated.most-share").value
    if basis != SIMULATED or shown[0][1] <= most:
        return shown
    return widened(shown, most)


def widened(shown: Shares, leading: float) -> Shares:
    """Shares of which the leading one is `leading`; the others keep what they are to each other."""
    (lead, share), *others = shown
    wider = (1.0 - leading) / (1.0 - share)
    shares = as_written([each * wider for _, each in others])
    return list(zip([lead, *(code for code, _ in others)], shares, strict=True))


def as_written(others: Sequence[float]) -> list[float]:
    """Shares to four decimals, summing to exactly 1: what the others leave to the leading cause, and theirs.

    Where two lead alike, all but the first are cut instead of rounded, or the first might be written as less.
    """
    written = [max(SMALLEST, round(each, DECIMALS)) for each in others]
    lead = round(1.0 - sum(written), DECIMALS)
    if written and lead < written[0]:
        written = [max(SMALLEST, floor(each / SMALLEST) * SMALLEST) for each in others]
        written = [round(each, DECIMALS) for each in written]
        lead = round(1.0 - sum(written), DECIMALS)
    return [lead, *written]
