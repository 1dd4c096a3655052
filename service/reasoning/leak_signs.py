"""Signs of a leak that a nose, an eye, a sensor or a standing gauge finds."""

from service.knowledge.catalogues import findings as finding_rows
from service.reasoning.case import Case


def leak_signs(case: Case) -> tuple[str, ...]:
    """Pointers of the readings that speak of a leak."""
    signs = [item for item in case.findings if str(item.state) in finding_rows()[item.code].leak_sign]
    return tuple(dict.fromkeys(pointer for item in signs for pointer in item.evidence))
