"""The pressure-temperature table of a refrigerant."""

from __future__ import annotations

from service.results.declare import sent
from service.results.provenance import Provenance
from service.results.record import Record, field


class SaturationTableRow(Record):
    """Saturation pressures at one temperature."""

    temperature: float = field(metadata=sent("number", "In the unit asked for."))
    bubble_pressure: float = field(metadata=sent("number", "Pressure at which the first vapor appears."))
    dew_pressure: float = field(metadata=sent("number", "Pressure at which the last liquid disappears."))


class SaturationTableUnits(Record):
    """Units of the table."""

    temperature: str = field(metadata=sent("text", "As asked for."))
    pressure: str = field(metadata=sent("text", "As asked for."))


class SaturationTable(Record):
    """Saturation pressures by temperature; gauge pressures at standard sea-level pressure."""

    refrigerant: str = field(metadata=sent("text", "ASHRAE 34 designation."))
    rows: tuple[SaturationTableRow, ...] = field(
        metadata=sent("parts", "By rising temperature.", part=SaturationTableRow)
    )
    units: SaturationTableUnits = field(metadata=sent("object", "Units of the rows.", part=SaturationTableUnits))
    provenance: Provenance = field(metadata=sent("object", "What gave the table.", part=Provenance))
