"""The units and the site pressure that the readings of one document are converted with."""

from marshmallow.experimental.context import Context

from service.results.record import Record
from service.results.units import STANDARD_ATMOSPHERE, Units, shown, shown_limit, to_si


class Scale(Record):
    """units of the document and site_pressure [Pa]."""

    units: Units
    site_pressure: float

    def inside(self, value: float, kind: str) -> float:
        """Value of the wire -> SI."""
        return to_si(value, kind, self.units, self.site_pressure)

    def shown(self, value: float, kind: str) -> str:
        """SI -> text with its unit, for a message to the caller."""
        return shown(value, kind, self.units, self.site_pressure)

    def limit(self, value: float, kind: str, *, lowest: bool) -> str:
        """An end of a range as text with its unit."""
        return shown_limit(value, kind, self.units, self.site_pressure, lowest=lowest)


DEFAULT_SCALE = Scale(Units(), STANDARD_ATMOSPHERE)
CurrentScale = Context[Scale]


def current_scale() -> Scale:
    """The scale of the document being loaded."""
    return CurrentScale.get(DEFAULT_SCALE)
