"""Tables of the electrical trade, by key; their rows and sources stand in the topics."""

from functools import cache
from typing import Literal

from service.knowledge.limits import limit_table


@cache
def derating_table() -> tuple[tuple[float, float], ...]:
    """(voltage unbalance [%], share of rated power [1]) in rising order. Source: NEMA MG 1 Fig. 14-1."""
    return tuple(sorted((float(key), row.value) for key, row in limit_table("supply.derating-at").items()))


@cache
def standard_device_sizes() -> tuple[float, ...]:
    """Standard overcurrent devices [A], rising. Source: NEC 240.6(A), from memory."""
    return tuple(sorted(row.value for row in limit_table("conductors.standard-device").values()))


def copper_ampacity(gauge: str, column: Literal[60, 75]) -> float | None:
    """Ampacity [A] of a copper conductor by AWG; column: 60 or 75 degC. None when the table has no such row.

    Source: NEC Table 310.16 (2023).
    """
    cool, warm = limit_table("conductors.ampacity-60c-awg"), limit_table("conductors.ampacity-75c-awg")
    row = (cool if column == 60 else warm).get(gauge)
    return None if row is None else row.value


def copper_ohms_per_kilofoot(gauge: str) -> float | None:
    """Direct-current resistance [ohm/1000 ft] at 75 degC, stranded copper. Source: NEC Chapter 9 Table 8."""
    row = limit_table("conductors.ohms-per-kilofoot-awg").get(gauge)
    return None if row is None else row.value
