"""Units of the wire and their SI values.

Everything inside is SI; a value is converted once on the way in and once on the way out. Factors are exact by
definition (NIST SP 811, 2008, Appendix B.8 and B.9) unless a line says otherwise.
"""

import math
from collections.abc import Callable
from functools import cached_property

from service.results.record import Record

POUND = 0.45359237  # kg, exact
FOOT = 0.3048  # m, exact
INCH = 0.0254  # m, exact
BTU = 1055.05585262  # J, International Table
PSI = 6894.757293168361  # Pa
INCH_OF_WATER = 249.08891  # Pa, conventional (4 C)
MICRON_OF_MERCURY = 0.1333223874150  # Pa, conventional (0 C)
ZERO_CELSIUS = 273.15  # K
# Btu/lb; the handbook's tables in IP units count dry air from 0 F, those in SI units from 0 C (ASHRAE Fundamentals
# 2017, chapter 1, equation 30: 0.240 Btu/(lb F) x 32 F).
AIR_DATUM = 7.68
STANDARD_ATMOSPHERE = 101325.0  # Pa


class Unit(Record):
    """One unit: SI = value * scale + offset; `decimals` is how far an answer is written out."""

    scale: float
    decimals: int
    offset: float = 0.0
    gauge: bool = False


# kind -> code -> unit. The first code of a kind is the default of the contract.
ABSOLUTE_CODES = {"psig": "psia", "kPag": "kPa", "barg": "bar", "MPag": "MPa"}
"""What an absolute pressure is called where gauge pressures are spoken."""
TABLE: dict[str, dict[str, Unit]] = {
    "temperature": {
        "degF": Unit(5.0 / 9.0, 3, ZERO_CELSIUS - 32.0 * 5.0 / 9.0),
        "degC": Unit(1.0, 3, ZERO_CELSIUS),
    },
    "pressure": {
        "psig": Unit(PSI, 2, gauge=True),
        "kPag": Unit(1e3, 2, gauge=True),
        "barg": Unit(1e5, 4, gauge=True),
        "MPag": Unit(1e6, 5, gauge=True),
        "psia": Unit(PSI, 2),
        "kPa": Unit(1e3, 2),
        "bar": Unit(1e5, 4),
    },
    "static_pressure": {"inH2O": Unit(INCH_OF_WATER, 3), "Pa": Unit(1.0, 1)},
    "airflow": {
        "cfm": Unit(FOOT**3 / 60.0, 1),
        "L/s": Unit(1e-3, 2),
        "m3/h": Unit(1.0 / 3600.0, 1),
    },
    "capacity": {"Btu/h": Unit(BTU / 3600.0, 0), "kW": Unit(1e3, 3), "tonR": Unit(12000.0 * BTU / 3600.0, 3)},
    "mass": {"oz": Unit(POUND / 16.0, 2), "lb": Unit(POUND, 3), "g": Unit(1e-3, 1), "kg": Unit(1.0, 4)},
    "length": {"ft": Unit(FOOT, 2), "m": Unit(1.0, 3)},
    "diameter": {"in": Unit(INCH, 4), "mm": Unit(1e-3, 2)},
    "vacuum": {"micron": Unit(MICRON_OF_MERCURY, 1), "Pa": Unit(1.0, 2), "mbar": Unit(100.0, 4)},
    "enthalpy": {"Btu/lb": Unit(BTU / POUND, 3), "kJ/kg": Unit(1e3, 3)},
    "humidity_ratio": {"gr/lb": Unit(1.0 / 7000.0, 2), "g/kg": Unit(1e-3, 3)},
    "mass_flow": {"lb/h": Unit(POUND / 3600.0, 2), "kg/h": Unit(1.0 / 3600.0, 3)},
    "volume": {"ft3": Unit(FOOT**3, 4), "L": Unit(1e-3, 3)},
}

# Kinds whose unit never changes: code of the unit and decimals; the inside value is value * scale.
FIXED: dict[str, tuple[str, Unit]] = {
    "volts": ("V", Unit(1.0, 3)),
    "amps": ("A", Unit(1.0, 3)),
    "ohms": ("ohm", Unit(1.0, 4)),
    "megohms": ("Mohm", Unit(1e6, 4)),
    "microfarads": ("uF", Unit(1.0, 3)),
    "watts": ("W", Unit(1.0, 1)),
    "hertz": ("Hz", Unit(1.0, 2)),
    "joules": ("J", Unit(1.0, 3)),
    "percent": ("%", Unit(1.0, 2)),
    "humidity": ("%", Unit(0.01, 2)),
    "minutes": ("min", Unit(1.0, 2)),
    "seconds": ("s", Unit(1.0, 2)),
    "days": ("d", Unit(1.0, 1)),
    "ratio": ("1", Unit(1.0, 4)),
    "count": ("1", Unit(1.0, 0)),
    "bits": ("bit", Unit(1.0, 3)),
    "revolutions_per_minute": ("rpm", Unit(1.0, 1)),
    "gas_flow": ("Pa m3/s", Unit(1.0, 9)),
}

# Kinds that borrow the code another kind was given; a difference has no offset and knows no gauge zero.
BORROWED = {
    "air_enthalpy": "enthalpy",
    "temperature_difference": "temperature",
    "pressure_difference": "pressure",
    "absolute_pressure": "pressure",
    "area": "length",
}
INSIDE = {
    "temperature": "K",
    "pressure": "Pa",
    "static_pressure": "Pa",
    "airflow": "m3/s",
    "capacity": "W",
    "mass": "kg",
    "length": "m",
    "diameter": "m",
    "vacuum": "Pa",
    "enthalpy": "J/kg",
    "humidity_ratio": "kg/kg",
    "mass_flow": "kg/s",
    "volume": "m3",
}
# Kinds that are one kind over another: numerator, denominator kind or a time, and its code and SI size.
HOUR, MINUTE = 3600.0, 60.0  # s
PER_TIME = {
    "pressure_rate": ("pressure_difference", "h", HOUR),
    "vacuum_rate": ("vacuum", "min", MINUTE),
}
PER_LENGTH = {"mass_per_length": "mass"}
TENS = tuple(10.0**decimals for decimals in range(12))
NO_FRACTION = 1.5 * 2.0**52  # a double of this size counts in whole numbers
CERTAIN, NEAR_TIE = (
    1e9,
    0.499999,
)  # below the first, the product's own rounding stays well below what is left of 0.5
KINDS = frozenset(TABLE) | frozenset(FIXED) | frozenset(BORROWED) | frozenset(PER_TIME) | frozenset(PER_LENGTH)


class Units(Record, dict=True):
    """The unit codes a request chose; the defaults are the contract's."""

    temperature: str = "degF"
    pressure: str = "psig"
    static_pressure: str = "inH2O"
    airflow: str = "cfm"
    capacity: str = "Btu/h"
    mass: str = "oz"
    length: str = "ft"
    diameter: str = "in"
    vacuum: str = "micron"
    enthalpy: str = "Btu/lb"
    humidity_ratio: str = "gr/lb"
    mass_flow: str = "lb/h"
    volume: str = "ft3"

    @cached_property
    def _known(self) -> dict[str, Unit]:
        return {}

    @cached_property
    def _codes(self) -> dict[str, str]:
        return {}

    def code(self, kind: str) -> str:
        """The unit code in which `kind` is written."""
        found = self._codes.get(kind)
        if found is None:
            found = self._codes[kind] = self._code(kind)
        return found

    def _code(self, kind: str) -> str:
        if kind in FIXED:
            return FIXED[kind][0]
        if kind in PER_TIME:
            return f"{self.code(PER_TIME[kind][0])}/{PER_TIME[kind][1]}"
        if kind in PER_LENGTH:
            return f"{self.code(PER_LENGTH[kind])}/{self.length}"
        code: str = getattr(self, BORROWED.get(kind, kind))
        if kind == "absolute_pressure":
            return ABSOLUTE_CODES.get(code, code)
        return f"{code}2" if kind == "area" else code

    def unit(self, kind: str) -> Unit:
        """The conversion of `kind` in these units; kept, because an answer asks for the same few many times."""
        found = self._known.get(kind)
        if found is None:
            found = self._known[kind] = self._unit(kind)
        return found

    def _unit(self, kind: str) -> Unit:
        if kind in FIXED:
            return FIXED[kind][1]
        if kind in PER_TIME or kind in PER_LENGTH:
            return self._ratio(kind)
        base = BORROWED.get(kind, kind)
        unit = TABLE[base][getattr(self, base)]
        if kind in ("temperature_difference", "pressure_difference", "absolute_pressure"):
            return Unit(unit.scale, unit.decimals)
        if kind == "area":
            return Unit(unit.scale**2, 2)
        if kind == "air_enthalpy" and self.enthalpy == "Btu/lb":
            return Unit(unit.scale, unit.decimals, -AIR_DATUM * unit.scale)
        return unit

    def _ratio(self, kind: str) -> Unit:
        if kind in PER_TIME:
            over, _, size = PER_TIME[kind]
            return Unit(self.unit(over).scale / size, self.unit(over).decimals + 1)
        mass, length = self.unit(PER_LENGTH[kind]), self.unit("length")
        return Unit(mass.scale / length.scale, mass.decimals + 2)


def rounded(value: float, decimals: int) -> float:
    """The same as round(value, decimals) without a negative zero, three times as fast; decimals: 0 to 11.

    The nearest whole number of decimals is found by adding and taking away a number so large that the sum keeps no
    fraction; over a power of ten it is the double nearest to the decimal, as `round` gives it. Near a tie, and
    where the sum could not hold the number, `round` itself decides.
    """
    tens = TENS[decimals]
    shifted = value * tens
    whole = shifted + NO_FRACTION - NO_FRACTION
    if -CERTAIN < shifted < CERTAIN and -NEAR_TIE < shifted - whole < NEAR_TIE:
        return whole / tens + 0.0
    return round(value, decimals) + 0.0


def inside_code(kind: str) -> str:
    """The code of the unit that values of a kind have inside: SI, or the one unit that the kind has."""
    if kind in FIXED:
        code, unit = FIXED[kind]
        return code if unit.scale == 1.0 else {"megohms": "ohm", "humidity": "1"}[kind]
    if kind in PER_TIME:
        return f"{inside_code(PER_TIME[kind][0])}/s"
    if kind in PER_LENGTH:
        return f"{inside_code(PER_LENGTH[kind])}/m"
    return "m2" if kind == "area" else INSIDE[BORROWED.get(kind, kind)]


def to_si(value: float, kind: str, units: Units, site_pressure: float) -> float:
    """Value of the wire -> SI.

    value: in the unit that `units` gives for `kind`; site_pressure: [Pa], added to gauge pressures.
    Returns: K, Pa absolute, m, kg, m3/s, W ...; electrical kinds unchanged.
    """
    unit = units.unit(kind)
    return value * unit.scale + unit.offset + (site_pressure if unit.gauge else 0.0)


def from_si(value: float, kind: str, units: Units, site_pressure: float) -> float:
    """SI -> value of the wire, the inverse of `to_si`, not rounded."""
    unit = units.unit(kind)
    return (value - unit.offset - (site_pressure if unit.gauge else 0.0)) / unit.scale


def written(value: float, kind: str, units: Units, site_pressure: float) -> float:
    """SI -> value of the wire, rounded as an answer writes it."""
    unit = units.unit(kind)
    zero = site_pressure if unit.gauge else 0.0
    return rounded((value - unit.offset - zero) / unit.scale, unit.decimals)


def writer(kind: str, units: Units, site_pressure: float) -> Callable[[float], float]:
    """As `written`, for many values of one kind; same arithmetic in the same order."""
    unit = units.unit(kind)
    scale, offset, decimals = unit.scale, unit.offset, unit.decimals
    zero = site_pressure if unit.gauge else 0.0
    return lambda value: rounded((value - offset - zero) / scale, decimals)


def written_width(value: float, kind: str, units: Units) -> float:
    """A half-width in SI -> the wire, rounded; offsets and gauge zero do not apply to a width."""
    unit = units.unit(kind)
    return rounded(value / unit.scale, unit.decimals)


def shown(value: float, kind: str, units: Units, site_pressure: float) -> str:
    """SI -> text with its unit code, as a message to the caller shows it."""
    return f"{from_si(value, kind, units, site_pressure):.6g} {units.code(kind)}"


def shown_limit(value: float, kind: str, units: Units, site_pressure: float, *, lowest: bool) -> str:
    """A limit as `shown`, rounded to four digits and inward, so that what is shown is accepted.

    lowest: whether it is the lower end of a range.
    """
    exact = from_si(value, kind, units, site_pressure)
    return f"{_inward(exact, lowest):.6g} {units.code(kind)}"


def _inward(exact: float, lowest: bool) -> float:
    if abs(exact) < NEXT_TO_NOTHING:
        return 0.0
    step = 10.0 ** (math.floor(math.log10(abs(exact))) - 3)
    nearest = round(exact / step) * step
    if math.isclose(nearest, exact, rel_tol=1e-9):
        return nearest
    return (math.ceil if lowest else math.floor)(exact / step) * step


NEXT_TO_NOTHING = 1e-9
"""What a conversion leaves of a zero."""
