"""Which members of its request a passed test rests on."""

from collections.abc import Sequence
from typing import Any

from service.knowledge.procedure_conditions import conditions
from service.results.procedures.rests_on import RestsOn


def rests_on(request: Any, procedure: str, readings: Sequence[str]) -> tuple[RestsOn, ...]:
    """The readings judged, then the conditions of the procedure's rows: told, or taken for granted."""
    told = [RestsOn(pointer, "told") for pointer in readings]
    return (*told, *(RestsOn(pointer, _basis(request, pointer)) for pointer in conditions(procedure)))


def _basis(request: Any, pointer: str) -> str:
    found = request
    for name in pointer.split("/")[1:]:
        found = getattr(found, name)
    return "assumed" if found is None else "told"
