"""Quantities in words: rounded as a technician reads them, with their unit."""

from functools import lru_cache

from service.results.quantity import Quantity
from service.results.record import Record
from service.results.units import Units, rounded

SYMBOLS = {
    "degF": "°F",
    "degC": "°C",
    "ohm": "Ω",
    "Mohm": "Ω",
    "uF": "µF",
    "inH2O": "in. w.c.",
    "1": "",
    "m3/h": "m³/h",
    "ft2": "ft²",
    "m2": "m²",
    "ft3": "ft³",
}
DIFFERENCE_SYMBOLS = {"psig": "psi", "psia": "psi", "kPag": "kPa", "barg": "bar", "MPag": "MPa"}
# Decimals as a field instrument shows them; other units: three significant figures.
DECIMALS = {
    "degF": 0,
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
    "W": 0,
    "min": 0,
    "s": 0,
    "micron": 0,
    "oz": 1,
    "lb": 2,
    "g": 0,
    "kg": 3,
}
DIFFERENCES = {"temperature_difference", "pressure_difference"}
FINE_BELOW = 10.0  # a difference below ten of its unit keeps one decimal; common practice, no source
RESISTANCES = {"ohms", "megohms"}
PREFIXES = ((1e9, "GΩ"), (1e6, "MΩ"), (1e3, "kΩ"))
SPACED_PERCENT = {"es"}  # languages that set a space before the percent sign
LONG_MINUTES = 90.0  # from here on nobody thinks in minutes; common practice, no source
HALF_HOUR = 30  # min
NOTHING = 1e-9  # what is left of a difference of equal numbers


class Measure(Record):
    """How quantities of one kind are written and said in a caller's units; made once, because a text has many.

    code: of the unit; written number = (SI - zero) / scale to `decimals`; places: decimals of the number as it is
    said, None for three significant figures; difference: below ten it keeps one decimal; tail: the unit symbol
    after it; prefixed: said with the prefix that fits its size.
    """

    code: str
    scale: float
    zero: float
    decimals: int
    places: int | None
    difference: bool
    tail: str
    prefixed: bool = False

    def written(self, value: float) -> float:
        """SI -> the number of the wire, as `units.written` has it."""
        return rounded((value - self.zero) / self.scale, self.decimals)

    def width(self, value: float) -> float:
        """A half-width in SI -> the number of the wire."""
        return rounded(value / self.scale, self.decimals)

    def shown(self, value: float) -> float:
        """SI -> SI, rounded as it is said: differences are taken between these."""
        if self.places is None:
            return value
        return round((value - self.zero) / self.scale, self.places) * self.scale + self.zero

    def said(self, value: float, finer: int = 0) -> str:
        """SI -> the number with its unit symbol, rounded as the meter shows it; long times in hours.

        finer: decimals more than usual, where two numbers that differ would look alike.
        """
        number = (value - self.zero) / self.scale
        if self.prefixed:
            return resistance(value)
        if self.code == "min" and number >= LONG_MINUTES:
            return _in_hours(number)
        if self.places is None:
            return significant(number, 3 + finer) + self.tail
        return f"{self._plain(number, finer)}{self.tail}"

    def _plain(self, number: float, finer: int) -> str:
        fine = self.difference and abs(number) < FINE_BELOW
        places = max(self.places or 0, int(fine)) + finer
        said = format(round(number, places) + 0.0, f",.{places}f")
        return said.removesuffix(".0") if self.places == 0 else said


class Measures(dict[str, Measure]):
    """The measures of one caller's units and language at one site, by kind; made when a kind is first asked for.

    Only that of gauge pressures differs from site to site.
    """

    def __init__(self, units: Units, site_pressure: float, language: str = "en") -> None:
        self._units = units
        self._site_pressure = site_pressure
        self._language = language
        self._shared = _measures_of(units, language)
        super().__init__(self._shared)

    def __missing__(self, kind: str) -> Measure:
        found = self[kind] = measure(kind, self._units, self._site_pressure, self._language)
        if not self._units.unit(kind).gauge:
            self._shared[kind] = found
        return found


@lru_cache(maxsize=256)
def _measures_of(_units: Units, _language: str) -> dict[str, Measure]:
    """What requests in these units and this language have asked for so far."""
    return {}


def measure(kind: str, units: Units, site_pressure: float, language: str = "en") -> Measure:
    """The measure of a kind in a caller's units; site_pressure [Pa] is the zero of gauge pressures."""
    unit, code = units.unit(kind), units.code(kind)
    symbol = DIFFERENCE_SYMBOLS.get(code, "") if kind == "pressure_difference" else ""
    symbol = symbol or SYMBOLS.get(code, code)
    close = symbol == "%" and language not in SPACED_PERCENT
    return Measure(
        code,
        unit.scale,
        unit.offset + site_pressure if unit.gauge else unit.offset,
        unit.decimals,
        DECIMALS.get(code),
        kind in DIFFERENCES,
        ("" if close else " ") + symbol if symbol else "",
        kind in RESISTANCES,
    )


def resistance(ohms: float) -> str:
    """Ohms with the prefix that fits: 0.4 Ω, 1.1 kΩ, 20 MΩ."""
    size, symbol = next(((size, symbol) for size, symbol in PREFIXES if ohms >= size), (1.0, "Ω"))
    return f"{significant(ohms / size)} {symbol}"


def _in_hours(minutes: float) -> str:
    hours, rest = divmod(round(minutes), 60)
    if rest == HALF_HOUR:
        return f"{hours:,}½ h"
    return f"{hours:,} h {rest} min" if rest else f"{hours:,} h"


def significant(value: float, figures: int = 3) -> str:
    """A number to so many significant figures; large numbers whole, with thousands separators."""
    if abs(value) >= 10.0**figures:
        return f"{value:,.0f}"
    return f"{float(f'{value:.{figures}g}') if abs(value) > NOTHING else 0.0:g}"


def spoken_quantity(quantity: Quantity, units: Units, site_pressure: float, language: str = "en") -> str:
    """A quantity with its unit symbol in the caller's units."""
    return measure(quantity.kind, units, site_pressure, language).said(quantity.value)
