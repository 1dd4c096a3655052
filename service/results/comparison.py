"""Before and after a repair: what became of each finding, and whether the repair is proven."""

from dataclasses import dataclass

from service.results.declare import choice, member, parts

STATES = ("pass", "fail", "review", "undecided", "not_applicable")


@dataclass(frozen=True, slots=True)
class FindingChange:
    """One finding before and after; a state is absent where the finding was not made."""

    code: str | None = member("text", "Code of the finding.")
    before: str | None = choice("Its state before the repair.", *STATES)
    after: str | None = choice("Its state after the repair.", *STATES)
    change: str | None = choice("What became of it.", "gone", "still", "new", "not_reread")


@dataclass(frozen=True, slots=True)
class ComparisonComputed:
    """What the readings after the repair say."""

    changes: tuple[FindingChange, ...] = parts(FindingChange, "Each fault before or after, in order.", 500)
    repair: str | None = choice("Whether the repair is proven.", "proven", "not_proven", "undecided")
