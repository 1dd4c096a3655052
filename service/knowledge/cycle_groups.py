"""Which shipped tables judge a refrigerant and a metering device, from data/cycle_groups."""

from functools import cache

from service.knowledge.rows import by_code, check_basis

# A capillary tube feeds like a fixed orifice, an electronic valve controls superheat like a thermostatic one.
METERING_GROUPS = {
    "fixed_orifice": "fixed_orifice",
    "capillary_tube": "fixed_orifice",
    "thermostatic_expansion_valve": "expansion_valve",
    "electronic_expansion_valve": "expansion_valve",
}

# What does not carry over from one refrigerant to another: the heat of compression differs.
NEIGHBOUR_LEAVES_OUT = ("discharge_line_temperature",)


@cache
def refrigerant_groups() -> dict[str, str]:
    """Designation of the shipped tables by designation of the refrigerant. Raises: KnowledgeError: a bad row."""
    found = by_code("cycle_groups", group=True, basis=True, note=False, source=False)
    for row in found.values():
        check_basis(row)
    return {code: str(row["group"]) for code, row in found.items()}
