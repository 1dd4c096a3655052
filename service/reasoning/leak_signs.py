"""Signs of a leak that a nose, an eye, a sensor or a standing gauge finds."""

from service.knowledge.told import in_states
from service.reasoning.case import Case
from service.results.visit.kept import kept


@kept
def leak_signs(case: Case) -> tuple[str, ...]:
    """Pointers of the readings that speak of a leak."""
    signs = in_states(case.findings, "leak_sign")
    return tuple(dict.fromkeys(pointer for item in signs for pointer in item.evidence))
