"""Readings beside what was expected of them: the limits of findings, and the ranges of a sound unit."""

from collections.abc import Iterator, Sequence

from service.results.declare import declared_members
from service.results.expected import ExpectedReadings, RangeOf
from service.results.finding import Finding
from service.results.quantity import Quantity
from service.results.record import Record, replace
from service.results.visit import Visit
from service.words.say import Speaker

MOST = 8
INSIDE, ABOVE, BELOW = "inside", "above", "below"


class Compared(Record):
    """One reading or computed value with its bounds, in SI of `kind`; at least one bound is there.

    target: what it should be, where that is known.
    """

    title: str
    value: float
    low: float | None
    high: float | None
    kind: str
    target: float | None = None

    @property
    def one_sided(self) -> bool:
        """True where only one bound is there."""
        return self.low is None or self.high is None

    @property
    def verdict(self) -> str:
        """inside, above or below the bounds."""
        if self.high is not None and self.value > self.high:
            return ABOVE
        return BELOW if self.low is not None and self.value < self.low else INSIDE


def compared(
    visit: Visit, findings: Sequence[Finding], expected: ExpectedReadings, speaker: Speaker
) -> tuple[Compared, ...]:
    """What can be compared: what lies outside first, then readings with an expected range, then the rest.

    A value that several checks look at stands once: as outside, else with both its bounds, else as first named.
    Two checks that hold one value from both sides are one row. What lies inside its only bound is named among
    what passed, and has no row.
    """
    judged = list(_of_findings(findings, speaker))
    rows = [*(row for row in judged if row.verdict != INSIDE), *_of_expected(visit, expected, speaker), *judged]
    best: dict[tuple[float, str], Compared] = {}
    for row in rows:
        found = best.setdefault((row.value, row.kind), row)
        if found.one_sided and found.title == row.title:
            best[row.value, row.kind] = _joined(found, row)
        elif found.verdict == INSIDE and found.one_sided and not row.one_sided:
            best[row.value, row.kind] = row
    return tuple(row for row in best.values() if row.verdict != INSIDE or not row.one_sided)[:MOST]


def _joined(first: Compared, second: Compared) -> Compared:
    """One row of two that look at one value; the first one's bounds stay."""
    return replace(
        first,
        low=second.low if first.low is None else first.low,
        high=second.high if first.high is None else first.high,
        target=second.target if first.target is None else first.target,
    )


def _of_findings(findings: Sequence[Finding], speaker: Speaker) -> Iterator[Compared]:
    for finding in findings:
        limit, measured = finding.limit, finding.measured
        if limit is None or measured is None or limit.kind != measured.kind:
            continue
        if limit.low is not None or limit.high is not None:
            title = speaker.value_title(finding.code)
            yield Compared(title, measured.value, limit.low, limit.high, limit.kind, _target(finding, limit.kind))


def _target(finding: Finding, kind: str) -> float | None:
    """What a finding was to measure, where its text names that."""
    target = finding.values.get("target")
    return target.value if isinstance(target, Quantity) and target.kind == kind else None


def _of_expected(visit: Visit, expected: ExpectedReadings, speaker: Speaker) -> Iterator[Compared]:
    for part in ("running", "air"):
        ranges, readings = getattr(expected, part), getattr(visit, part)
        for name, _ in declared_members(type(ranges)):
            found: RangeOf | None = getattr(ranges, name)
            value = getattr(readings, name, None)
            if found is not None and value is not None:
                title = speaker.text("report", f"reading.{name}")
                yield Compared(title[0].upper() + title[1:], value, found.low, found.high, found.kind)
