"""Quantities in words: rounded as a technician reads them, with their unit."""

from dataclasses import dataclass
from functools import lru_cache

from service.results.quantity import Quantity
from service.results.units import Units, rounded

SYMBOLS = {
    "degF": "°F",
    "degC": "°C",
    "ohm": "ohm",
    "Mohm": "Mohm",
    "uF": "µF",
    "inH2O": "in. w.c.",
    "1": "",
    "m3/h": "m³/h",
    "ft3": "ft³",
}
DIFFERENCE_SYMBOLS = {"psig": "psi", "psia": "psi", "kPag": "kPa", "barg": "bar", "MPag": "MPa"}
# Decimals as a field instrument shows them; other units: three significant figures.
DECIMALS = {
    "degF": 1,
    "degC": 1,
    "psig": 0,
    "psia": 0,
    "kPag": 0,
    "kPa": 0,
    "barg": 2,
    "bar": 2,
    "MPag": 3,
    "inH2O": 2,
    "cfm": 0,
    "L/s": 0,
    "m3/h": 0,
    "Btu/h": 0,
    "V": 1,
    "%": 1,
    "W": 0,
    "min": 0,
    "s": 0,
    "micron": 0,
    "oz": 1,
    "lb": 2,
    "g": 0,
    "kg": 3,
}


LONG_MINUTES = 180.0  # from here on nobody thinks in minutes; common practice, no source
NOTHING = 1e-9  # what is left of a difference of equal numbers


@dataclass(frozen=True, slots=True)
class Measure:
    """How quantities of one kind are written and said in a caller's units; made once, because a text has many.

    code: of the unit; written number = (SI - zero) / scale to `decimals`; shape: format of the number as it is
    said, empty for three significant figures; tail: the unit symbol after it.
    """

    code: str
    scale: float
    zero: float
    decimals: int
    shape: str
    tail: str

    def written(self, value: float) -> float:
        """SI -> the number of the wire, as `units.written` has it."""
        return rounded((value - self.zero) / self.scale, self.decimals)

    def width(self, value: float) -> float:
        """A half-width in SI -> the number of the wire."""
        return rounded(value / self.scale, self.decimals)

    def said(self, value: float) -> str:
        """SI -> the number with its unit symbol, rounded as a technician reads it; long times in hours."""
        number = (value - self.zero) / self.scale
        if self.code == "min" and number >= LONG_MINUTES:
            return _in_hours(number)
        return (format(number + 0.0, self.shape) if self.shape else significant(number)) + self.tail


class Measures:
    """The measures of one caller's units at one site, by kind."""

    def __init__(self, units: Units, site_pressure: float) -> None:
        self._units = units
        self._site_pressure = site_pressure
        self._shared = _measures_of(units)
        self._known = dict(self._shared)

    def of(self, kind: str) -> Measure:
        """The measure of a kind; only that of gauge pressures differs from site to site."""
        found = self._known.get(kind)
        if found is None:
            found = self._known[kind] = measure(kind, self._units, self._site_pressure)
            if not self._units.unit(kind).gauge:
                self._shared[kind] = found
        return found


@lru_cache(maxsize=256)
def _measures_of(_units: Units) -> dict[str, Measure]:
    """What requests in these units have asked for so far."""
    return {}


def measure(kind: str, units: Units, site_pressure: float) -> Measure:
    """The measure of a kind in a caller's units; site_pressure [Pa] is the zero of gauge pressures."""
    unit, code = units.unit(kind), units.code(kind)
    symbol = DIFFERENCE_SYMBOLS.get(code, "") if kind == "pressure_difference" else ""
    symbol = symbol or SYMBOLS.get(code, code)
    if kind == "area":
        symbol += "²"
    return Measure(
        code,
        unit.scale,
        unit.offset + site_pressure if unit.gauge else unit.offset,
        unit.decimals,
        f",.{DECIMALS[code]}f" if code in DECIMALS else "",
        f" {symbol}" if symbol else "",
    )


def _in_hours(minutes: float) -> str:
    hours, rest = divmod(round(minutes), 60)
    return f"{hours:,} h {rest} min" if rest else f"{hours:,} h"


def significant(value: float) -> str:
    """A number to three significant figures; large numbers whole, with thousands separators."""
    if abs(value) >= 1000:
        return f"{value:,.0f}"
    return f"{float(f'{value:.3g}') if abs(value) > NOTHING else 0.0:g}"


def spoken_quantity(quantity: Quantity, units: Units, site_pressure: float) -> str:
    """A quantity with its unit symbol in the caller's units."""
    return measure(quantity.kind, units, site_pressure).said(quantity.value)
