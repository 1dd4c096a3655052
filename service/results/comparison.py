"""Before and after a repair: what became of each finding, and whether the repair is proven."""

from service.results.declare import choice, member, parts
from service.results.quantity import Quantity
from service.results.record import Record, field
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.results.visit import Visit

STATES = ("pass", "fail", "review", "undecided", "not_applicable")


class FindingChange(Record):
    """One finding before and after; a state is absent where the finding was not made."""

    code: str | None = member("text", "Code of the finding.", required=True)
    before: str | None = choice("Its state before the repair.", *STATES)
    after: str | None = choice("Its state after the repair.", *STATES)
    change: str | None = member(
        "choice", "What became of it.", choices=("gone", "still", "new", "not_reread"), required=True
    )
    remark: bool | None = member(
        "boolean", "It rests on no reading of the unit, and is no part of the verdict.", required=True
    )


class AgainstExpected(Record):
    """One reading of both visits, as its distance from that of a unit without a fault in the same weather."""

    pointer: str | None = member("text", "The reading in either visit document.", required=True)
    before: Quantity | None = member("quantity", "Distance before the repair.", choices=("any",), required=True)
    after: Quantity | None = member("quantity", "Distance after the repair.", choices=("any",), required=True)


class ComparisonRequest(Record):
    """Two visits to the same unit, before and after a repair; units hold where a visit names none of its own."""

    units: Units = field(default_factory=Units)
    site_pressure: float = STANDARD_ATMOSPHERE

    before: Visit = member("document", "The visit before the repair.", part=Visit, required=True)
    after: Visit = member("document", "The visit after the repair.", part=Visit, required=True)


class ComparisonComputed(Record):
    """What the readings after the repair say."""

    changes: tuple[FindingChange, ...] = parts(FindingChange, "Each fault before or after, in order.", 500)
    readings: tuple[AgainstExpected, ...] = parts(
        AgainstExpected, "Readings normalized for the weather by the simulated cycle.", 20
    )
    repair: str | None = member(
        "choice", "Whether the repair is proven.", choices=("proven", "not_proven", "undecided"), required=True
    )
    old_faults: str | None = member(
        "choice",
        "The faults found before alone, whatever is new beside them. `proven`: all gone. `not_proven`: one still "
        "fails. `undecided`: one is doubtful or was not rechecked.",
        choices=("proven", "not_proven", "undecided"),
        required=True,
    )
