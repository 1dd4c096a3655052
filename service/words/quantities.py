"""Quantities in words: rounded as a technician reads them, with their unit."""

from service.results.finding import Value
from service.results.quantity import Quantity
from service.results.units import Units, from_si

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


def spoken(value: Value, units: Units, site_pressure: float) -> str:
    """A value as the text shows it; texts and whole numbers stay as they are."""
    if isinstance(value, Quantity):
        return spoken_quantity(value, units, site_pressure)
    return f"{value:g}" if isinstance(value, float) else str(value)


def spoken_quantity(quantity: Quantity, units: Units, site_pressure: float) -> str:
    """A quantity with its unit symbol in the caller's units; long times in hours."""
    code = units.code(quantity.kind)
    value = from_si(quantity.value, quantity.kind, units, site_pressure)
    if code == "min" and value >= LONG_MINUTES:
        return _in_hours(value)
    number = spoken_number(value, code)
    symbol = DIFFERENCE_SYMBOLS.get(code, "") if quantity.kind == "pressure_difference" else ""
    return f"{number} {symbol or SYMBOLS.get(code, code)}".strip()


def _in_hours(minutes: float) -> str:
    hours, rest = divmod(round(minutes), 60)
    return f"{hours:,} h {rest} min" if rest else f"{hours:,} h"


def spoken_number(value: float, code: str) -> str:
    """A number rounded for its unit; large numbers with thousands separators."""
    if code in DECIMALS:
        return f"{value + 0.0:,.{DECIMALS[code]}f}"
    if abs(value) >= 1000:
        return f"{value:,.0f}"
    return f"{float(f'{value:.3g}') if abs(value) > NOTHING else 0.0:g}"
