"""What every procedure is asked with."""

from service.results.declare import member, part
from service.results.record import Record, field
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.results.visit.equipment import Equipment
from service.results.visit.site import Site


class ProcedureRequest(Record):
    """Units, date, place and nameplates of the work.

    site_pressure: [Pa], from the barometer, else from the elevation, else the standard atmosphere.
    """

    units: Units = field(default_factory=Units)
    site_pressure: float = STANDARD_ATMOSPHERE
    reference: str | None = member("text", "Opaque text of the caller's, echoed.", length=64)
    visit_date: str | None = member("date", "Date of the visit, ISO 8601.")
    site: Site = part(Site, "Where the unit stands.")
    equipment: Equipment = part(Equipment, "What the nameplates say.")
