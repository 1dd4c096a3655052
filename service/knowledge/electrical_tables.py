"""Tables of the electrical trade, gathered from the rows of data/limits that share a code prefix."""

from functools import cache

from service.knowledge.limits import all_limits

DERATING = "supply.derating-at-"
AMPACITY = {60: "conductors.ampacity-60c-awg-", 75: "conductors.ampacity-75c-awg-"}
RESISTANCE = "conductors.ohms-per-kilofoot-awg-"
DEVICE = "conductors.standard-device-"


def _rows(prefix: str) -> dict[str, float]:
    return {
        code.removeprefix(prefix): limit.value for code, limit in all_limits().items() if code.startswith(prefix)
    }


@cache
def derating_table() -> tuple[tuple[float, float], ...]:
    """(voltage unbalance [%], share of rated power [1]) in rising order. Source: NEMA MG 1 Fig. 14-1."""
    return tuple(sorted((float(key), value) for key, value in _rows(DERATING).items()))


@cache
def standard_device_sizes() -> tuple[float, ...]:
    """Standard overcurrent devices [A], rising. Source: NEC 240.6(A), from memory."""
    return tuple(sorted(_rows(DEVICE).values()))


def copper_ampacity(gauge: str, column: int) -> float | None:
    """Ampacity [A] of a copper conductor by AWG; column: 60 or 75 degC. None when the table has no such row.

    Source: NEC Table 310.16 (2023).
    """
    return _rows(AMPACITY[column]).get(gauge)


def copper_ohms_per_kilofoot(gauge: str) -> float | None:
    """Direct-current resistance [ohm/1000 ft] at 75 degC, stranded copper. Source: NEC Chapter 9 Table 8."""
    return _rows(RESISTANCE).get(gauge)
