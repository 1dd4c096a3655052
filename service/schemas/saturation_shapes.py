"""The shapes of saturation tables and saturation points."""

from dataclasses import dataclass
from typing import Any

from service.results.declare import member
from service.results.provenance import Provenance
from service.schemas.answer_shape import UnitsAnswer
from service.schemas.item_shapes import always


@dataclass(frozen=True)
class TableRowShape:
    """Saturation pressures at one temperature."""

    temperature: float = always("number", "In the unit asked for.")
    bubble_pressure: float = always("number", "Pressure at which the first vapour appears.")
    dew_pressure: float = always("number", "Pressure at which the last liquid disappears.")


@dataclass(frozen=True)
class TableUnitsShape:
    """Units of the table."""

    temperature: str = always("text", "As asked for.")
    pressure: str = always("text", "As asked for.")


@dataclass(frozen=True)
class SaturationTableShape:
    """Saturation pressures by temperature; gauge pressures at standard sea-level pressure."""

    refrigerant: str = always("text", "ASHRAE 34 designation.")
    rows: tuple[Any, ...] = always("parts", "By rising temperature.", part=TableRowShape)
    units: Any = always("object", "Units of the rows.", part=TableUnitsShape)
    provenance: Any = always("object", "What gave the table.", part=Provenance)


@dataclass(frozen=True)
class SaturationPointAnswer:
    """A point as posted with what follows: temperatures for a pressure, pressures for a temperature."""

    pressure: float | None = member("number", "As posted.")
    temperature: float | None = member("number", "As posted.")
    bubble_temperature: float | None = member("number", "Bubble (saturated liquid) temperature at the pressure.")
    dew_temperature: float | None = member("number", "Dew (saturated vapour) temperature at the pressure.")
    bubble_pressure: float | None = member("number", "Bubble (saturated liquid) pressure at the temperature.")
    dew_pressure: float | None = member("number", "Dew (saturated vapour) pressure at the temperature.")


@dataclass(frozen=True)
class SaturationAnswer:
    """Saturation points in the order posted, plain numbers in the units of the request."""

    refrigerant: str = always("text", "ASHRAE 34 designation.")
    points: tuple[Any, ...] = always("parts", "In the order posted.", part=SaturationPointAnswer)
    units: Any = always("object", "The units of the answer.", part=UnitsAnswer)
    provenance: Any = always("object", "What gave the answer.", part=Provenance)
