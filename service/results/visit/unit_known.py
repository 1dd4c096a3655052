"""What is known of this very unit: how it read when it was sound, and what its own chart prints as normal."""

from service.results.declare import member, part
from service.results.record import Record, field
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.results.visit.cooling import Air, Running, Standing, StartUp
from service.results.visit.electrical import Electrical
from service.results.visit.ranges import difference, pressure, temperature
from service.results.visit.site import Instruments, Site


class Baseline(Record):
    """The same unit when it was sound; units and site default to the outer document's."""

    units: Units = field(default_factory=Units)
    site_pressure: float = STANDARD_ATMOSPHERE
    visit_date: str | None = member("date", "Date of that visit, ISO 8601.")
    site: Site = part(Site, "Where it was read.")
    standing: Standing = part(Standing, "Unit off, pressures equalized.")
    start_up: StartUp = part(StartUp, "The gauges as the unit starts.")
    running: Running = part(Running, "Running readings.")
    air: Air = part(Air, "Air-side readings.")
    electrical: Electrical = part(Electrical, "Electrical readings.")
    instruments: Instruments = part(Instruments, "Accuracy of the instruments of that visit.")


class PrintedNormals(Record):
    """What the chart on this unit's panel or in its instructions prints as normal.

    Superheat counts with the suction pressure, subcooling with the liquid pressure of the same row. A figure that
    the nameplate prints alone belongs into `target_superheat` or `target_subcooling` of the equipment.
    """

    suction_pressure: float | None = pressure("Normal suction pressure.")
    liquid_pressure: float | None = pressure("Normal liquid (high side) pressure.")
    superheat: float | None = difference("Normal superheat at the suction service valve.")
    subcooling: float | None = difference("Normal subcooling at the liquid service valve.")
    approach: float | None = difference("Normal liquid line temperature above the outdoor air.")
    pressure_tolerance: float | None = member(
        "pressure_difference", "Printed tolerance of the pressures, plus and minus.", low=0.0, high=700e3
    )
    temperature_tolerance: float | None = difference(
        "Printed tolerance of superheat, subcooling and approach, plus and minus."
    )
    outdoor_dry_bulb: float | None = temperature("Outdoor air of the row that was read; today's when absent.")
    return_dry_bulb: float | None = temperature("Return air of the row; today's when absent.")
    return_wet_bulb: float | None = temperature("Return air wet bulb of the row; today's when absent.")
