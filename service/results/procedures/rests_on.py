"""What a passed test rests on: members of the request that were told, and those taken for granted."""

from dataclasses import dataclass

from service.results.declare import choice, member


@dataclass(frozen=True, slots=True)
class RestsOn:
    """One condition of a pass."""

    pointer: str | None = member("text", "JSON Pointer of the member in the request.", length=200)
    basis: str | None = choice("Told by the request, or taken for granted because it was not.", "told", "assumed")
