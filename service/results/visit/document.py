"""The visit document as a whole."""

from functools import cached_property
from typing import Any

from service.results.declare import choice, member, moment, part
from service.results.record import Record, field, replace
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.results.visit.cooling import Air, Running, Standing, StartUp
from service.results.visit.electrical import Electrical
from service.results.visit.equipment import Equipment
from service.results.visit.observations import Complaint, Inspection, Isolation
from service.results.visit.priors import Priors
from service.results.visit.site import Instruments, Site
from service.results.visit.unit_known import Baseline, PrintedNormals


class Visit(Record, dict=True):
    """One service visit: everything read so far.

    Numbers are in SI inside.
    site_pressure: [Pa], from the barometer, else from the elevation, else the standard atmosphere.
    """

    units: Units = field(default_factory=Units)
    site_pressure: float = STANDARD_ATMOSPHERE
    reference: str | None = member("text", "Opaque text of the caller's, echoed.", length=64)
    visit_date: str | None = member("date", "Date of the visit, ISO 8601; ages, expiries and dated rules use it.")
    visit_kind: str | None = choice(
        "Why the visit is made; after a sound commissioning or maintenance visit the answer hands out a baseline.",
        "call",
        "maintenance",
        "commissioning",
    )
    repaired_at: str | None = moment(
        "When the last repair was finished; readings taken before it no longer tell of the unit."
    )
    site: Site = part(Site, "Where the unit stands.")
    equipment: Equipment = part(Equipment, "What the nameplates say.")
    complaint: Complaint = part(Complaint, "What the customer reports.")
    isolation: Isolation = part(Isolation, "Proof that the power is off.")
    inspection: Inspection = part(Inspection, "What can be seen and felt.")
    electrical: Electrical = part(Electrical, "Electrical readings.")
    standing: Standing = part(Standing, "Unit off, pressures equalized.")
    start_up: StartUp = part(StartUp, "The gauges as the unit starts.")
    running: Running = part(Running, "Readings after steady running.")
    air: Air = part(Air, "Air-side readings.")
    instruments: Instruments = part(Instruments, "Accuracy of the instruments.")
    baseline: Baseline | None = member(
        "baseline",
        "The same unit when it was sound; none from before a compressor, coil, metering device or refrigerant was "
        "changed.",
        part=Baseline,
    )
    printed_normals: PrintedNormals = part(PrintedNormals, "What this unit's own chart prints as normal.")
    priors: Priors = part(
        Priors, "Shares of causes learnt from a fleet's own records, mixed into the shipped ones."
    )

    @cached_property
    def kept(self) -> dict[Any, Any]:
        """What was worked out from this very visit already (see `kept.py`); no part of the document."""
        return {}


def visit_of_baseline(visit: Visit, base: Baseline) -> Visit:
    """The earlier visit to the same unit, at which its baseline was read."""
    return replace(
        visit,
        units=base.units,
        site_pressure=base.site_pressure,
        standing=base.standing,
        start_up=base.start_up,
        running=base.running,
        air=base.air,
        electrical=base.electrical,
        instruments=base.instruments,
        baseline=None,
        printed_normals=PrintedNormals(),
    )
