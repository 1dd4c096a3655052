"""Members of the visit document by kind, with the range a field instrument or nameplate can show.

The ranges are wide on purpose: they refuse what no instrument of the trade can display (a slip of the decimal
point or of the unit), never what is merely a bad reading. Common practice, no source.
"""

from typing import Any

from service.results.declare import member
from service.results.units import ZERO_CELSIUS


def temperature(description: str) -> Any:
    """A temperature, -60 to 250 C."""
    return member("temperature", description, low=ZERO_CELSIUS - 60.0, high=ZERO_CELSIUS + 250.0)


def difference(description: str) -> Any:
    """A temperature difference, 0 to 60 K."""
    return member("temperature_difference", description, low=0.0, high=60.0)


def pressure(description: str) -> Any:
    """A refrigerant pressure; above absolute zero (checked apart, in the closed list) and up to 20 MPa."""
    return member("pressure", description, high=20e6)


def air_pressure(description: str) -> Any:
    """A duct pressure, -2500 to 2500 Pa."""
    return member("static_pressure", description, low=-2500.0, high=2500.0)


def volts(description: str) -> Any:
    """A voltage, 0 to 1000 V."""
    return member("volts", description, low=0.0, high=1000.0)


def amps(description: str) -> Any:
    """A current, 0 to 2000 A."""
    return member("amps", description, low=0.0, high=2000.0)


def resistance(description: str) -> Any:
    """A resistance reading: {"ohms": n} or {"over_limit": true}."""
    return member("resistance", description, low=0.0, high=1e12)


def plain_resistance(description: str) -> Any:
    """A resistance given as a plain number of ohms or as a resistance object."""
    return member("resistance_or_number", description, low=0.0, high=1e12)


def megohms(description: str) -> Any:
    """An insulation resistance in megohms (ohm inside), 0 to 1e6 Mohm."""
    return member("megohms", description, low=0.0, high=1e12)


def microfarads(description: str) -> Any:
    """A capacitance, 0 to 2000 microfarad."""
    return member("microfarads", description, low=0.0, high=2000.0)


def minutes(description: str) -> Any:
    """A duration, 0 minutes to one year."""
    return member("minutes", description, low=0.0, high=525600.0)


def length(description: str) -> Any:
    """A length, 0 to 150 m."""
    return member("length", description, low=0.0, high=150.0)


def diameter(description: str) -> Any:
    """A tube diameter, 1 to 150 mm."""
    return member("diameter", description, low=0.001, high=0.150)


def mass(description: str) -> Any:
    """A mass, 0 to 2000 kg."""
    return member("mass", description, low=0.0, high=2000.0)


def percent(description: str, high: float = 100.0) -> Any:
    """A percentage, 0 to `high`."""
    return member("percent", description, low=0.0, high=high)


def humidity(description: str) -> Any:
    """A relative humidity, 0 to 100 %."""
    return member("humidity", description, low=0.0, high=1.0)


def airflow(description: str) -> Any:
    """An airflow, 0 to 50 m3/s."""
    return member("airflow", description, low=0.0, high=50.0)


READ_AT = "When these readings were taken; with `repaired_at` it tells which of them the repair has overtaken."
HIGHEST_ELEVATION = 5000.0  # m
LOWEST_ELEVATION = -500.0  # m
