"""What nameplate and history say of the causes before anything is read, from data/circumstances."""

from functools import cache

from service.knowledge.rows import by_code, check_basis


@cache
def circumstance_rows() -> dict[str, dict[str, float]]:
    """Natural-log likelihood ratios by cause, by circumstance."""
    found = by_code("circumstances", speaks=True, basis=True, since=True)
    for row in found.values():
        check_basis(row)
    return {code: {cause: float(weight) for cause, weight in row["speaks"].items()} for code, row in found.items()}
