"""Request of POST /v1/saturation: points on the saturation lines of one refrigerant."""

from service.results.declare import member, part
from service.results.record import Record, field
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.results.visit.ranges import pressure, temperature
from service.results.visit.site import Site

MOST_POINTS = 1000


class SaturationPoint(Record):
    """One point: exactly one of pressure and temperature."""

    pressure: float | None = pressure("Pressure to find the saturation temperatures at.")
    temperature: float | None = temperature("Temperature to find the saturation pressures at.")


class SaturationRequest(Record):
    """Points of one refrigerant.

    site_pressure: [Pa], as in a visit.
    """

    units: Units = field(default_factory=Units)
    site_pressure: float = STANDARD_ATMOSPHERE
    site: Site = part(Site, "Where the gauges are; sets the zero of gauge pressures.")
    refrigerant: str = member("text", "ASHRAE 34 designation, e.g. R-410A.", length=24, required=True)
    points: tuple[SaturationPoint, ...] = member(
        "parts",
        "Points, each with a pressure or a temperature.",
        part=SaturationPoint,
        length=MOST_POINTS,
        required=True,
    )
