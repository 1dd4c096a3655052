"""Costs measured in turns, so that what disturbs one disturbs all, and their ratios with spread."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from statistics import median, quantiles

from service.results.record import Record
from service.workshop.benchmarking.load import Question, ask
from service.workshop.benchmarking.processes import Process

WARM_UP = 20
LARGE = 50


@dataclass
class Case:
    """One server asked one question; `costs` are seconds of server CPU for one item, one for each round."""

    name: str
    server: Process
    question: Question
    costs: list[float] = field(default_factory=list)
    count: int = 0

    def measure(self, seconds: float) -> None:
        """One more round, as many requests as take about so many seconds (settled at the first)."""
        if not self.count:
            self._ask(WARM_UP)
            started = time.perf_counter()
            asked = self._ask(WARM_UP)
            self.count = max(1, int(seconds * asked / (time.perf_counter() - started)))
        before = self.server.cpu_seconds()
        asked = self._ask(self.count)
        self.costs.append((self.server.cpu_seconds() - before) / asked / self.question.items)

    def _ask(self, count: int) -> int:
        """Large questions one after the other, few of them while warming up."""
        if self.question.items < LARGE:
            return ask(self.server.port, self.question, count)
        return ask(self.server.port, self.question, min(count, self.count or 2), 1)

    def microseconds(self) -> float:
        """Median cost of one item [us]."""
        return round(median(self.costs) * 1e6, 2)


def take_turns(cases: list[Case], rounds: int, seconds: float) -> None:
    """Measure every case once a round, in turning order."""
    for number in range(rounds):
        start = number % len(cases)
        for case in cases[start:] + cases[:start]:
            case.measure(seconds)


class Ratio(Record):
    """How many times as much one thing is as another: the median of the rounds, and the middle half of them."""

    value: float
    low: float
    high: float

    def __str__(self) -> str:
        return f"{self.value:.3g} ({self.low:.3g} to {self.high:.3g})"


def ratio(of: Case, to: Case) -> Ratio:
    """Cost of `to` over cost of `of`, round by round: above 1 where `of` is the cheaper one."""
    return spread([theirs / ours for ours, theirs in zip(of.costs, to.costs, strict=True)])


def spread(found: list[float]) -> Ratio:
    """Median and middle half of what the rounds gave."""
    low, middle, high = quantiles(found, n=4, method="inclusive") if len(found) > 1 else found * 3
    return Ratio(round(middle, 3), round(low, 3), round(high, 3))


class Fit(Record):
    """A straight line through costs: seconds at size 0, seconds an item, share of the variation explained."""

    base: float
    each: float
    explained: float

    def __str__(self) -> str:
        return f"{self.base * 1e6:.0f} us + {self.each * 1e6:.2f} us an item, R2 {self.explained:.4f}"


def fit(cases: list[Case]) -> Fit:
    """Least squares of the median cost of a request on its number of items."""
    sizes = [float(case.question.items) for case in cases]
    costs = [median(case.costs) * case.question.items for case in cases]
    mean_size, mean_cost = sum(sizes) / len(sizes), sum(costs) / len(costs)
    spread = sum((size - mean_size) ** 2 for size in sizes)
    each = sum((s - mean_size) * (c - mean_cost) for s, c in zip(sizes, costs, strict=True)) / spread
    base = mean_cost - each * mean_size
    left = sum((c - base - each * s) ** 2 for s, c in zip(sizes, costs, strict=True))
    whole = sum((c - mean_cost) ** 2 for c in costs) or 1.0
    return Fit(base, each, 1.0 - left / whole)
