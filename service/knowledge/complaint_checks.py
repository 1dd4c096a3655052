"""Which checks a complaint calls for before a unit may be called sound."""

from collections.abc import Sequence
from functools import cache

from service.knowledge.rows import by_code

Group = tuple[str, ...]


@cache
def _rows() -> dict[str, tuple[Group, ...]]:
    found = by_code("complaint_checks", passed=True, since=True)
    return {code: tuple(tuple(group) for group in row["passed"]) for code, row in found.items()}


def checks_called_for(symptoms: Sequence[str]) -> tuple[Group, ...]:
    """Groups of finding codes; of each group one must have passed."""
    wanted = [*_rows()["always"]]
    for symptom in symptoms:
        wanted.extend(group for group in _rows().get(symptom, ()) if group not in wanted)
    return tuple(wanted)


def clearing_checks(symptom: str) -> tuple[Group, ...]:
    """Groups of finding codes that clear one reported symptom; of each group one must have passed."""
    return _rows()[symptom]
