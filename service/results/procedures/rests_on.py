"""What a passed test rests on: members of the request that were told, and those taken for granted."""

from service.results.declare import member
from service.results.record import Record


class RestsOn(Record):
    """One condition of a pass."""

    pointer: str | None = member("text", "JSON Pointer of the member in the request.", length=200, required=True)
    basis: str | None = member(
        "choice",
        "Where the condition comes from. `told`: the request says it. `assumed`: taken for granted, not said.",
        choices=("told", "assumed"),
        required=True,
    )
