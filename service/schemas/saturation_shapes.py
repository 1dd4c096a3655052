"""The shape of saturation points; `checks/refrigerant/saturation_points.py` writes them from arrays."""

from typing import Any

from service.results.declare import member
from service.results.provenance import Provenance
from service.results.record import Record
from service.schemas.answer_shape import UnitsAnswer
from service.schemas.item_shapes import always


class SaturationPointAnswer(Record):
    """A point as posted with what follows: temperatures for a pressure, pressures for a temperature."""

    pressure: float | None = member("number", "As posted.")
    temperature: float | None = member("number", "As posted.")
    bubble_temperature: float | None = member("number", "Bubble (saturated liquid) temperature at the pressure.")
    dew_temperature: float | None = member("number", "Dew (saturated vapor) temperature at the pressure.")
    bubble_pressure: float | None = member("number", "Bubble (saturated liquid) pressure at the temperature.")
    dew_pressure: float | None = member("number", "Dew (saturated vapor) pressure at the temperature.")


class SaturationAnswer(Record):
    """Saturation points in the order posted, plain numbers in the units of the request."""

    refrigerant: str = always("text", "ASHRAE 34 designation.")
    points: tuple[Any, ...] = always("parts", "In the order posted.", part=SaturationPointAnswer)
    units: Any = always("object", "The units of the answer.", part=UnitsAnswer)
    provenance: Any = always("object", "What gave the answer.", part=Provenance)
