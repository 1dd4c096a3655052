"""The command that writes the shipped tables: `python -m service tables [DESIGNATION ... | population]`."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

import CoolProp

from service.knowledge.refrigerant_rows import RefrigerantRow, refrigerant_data
from service.knowledge.refrigerant_tables import identity, saturation_curve
from service.workshop.build import population
from service.workshop.build.equilibrium import Model
from service.workshop.build.property_tables import property_table
from service.workshop.build.saturation_tables import as_bytes, saturation_table

SHIPPED = Path(__file__).parents[2] / "knowledge" / "tables"


def main(argv: Sequence[str]) -> int:
    """Build the tables of all refrigerants, or of those named, and say where each range ends.

    `population` in the first place rebuilds the simulated population instead.
    """
    if list(argv[:1]) == ["population"]:
        return population.main(argv[1:])
    parser = argparse.ArgumentParser(prog="python -m service tables", description=main.__doc__)
    parser.add_argument("designations", nargs="*", metavar="DESIGNATION", help="e.g. R-410A; all if none")
    parser.add_argument("--directory", type=Path, default=SHIPPED, help="where to write")
    arguments = parser.parse_args(argv)
    if refrigerant_data().property_library != f"CoolProp {CoolProp.__version__}":
        parser.error(f"the data file asks for {refrigerant_data().property_library}")
    rows = {row.designation: row for row in refrigerant_data().refrigerants}
    for designation in arguments.designations:
        if designation not in rows:
            parser.error(f"{designation} is not in the data file")
    for designation in arguments.designations or rows:
        write_tables(rows[designation], arguments.directory)
    return 0


def model_of(row: RefrigerantRow) -> Model:
    """Return what the property library is to compute for a row of the data file."""
    components = refrigerant_data().components
    if row.pseudo_pure:
        return Model((row.pseudo_pure,))
    fluids = tuple(components[share.designation].fluid for share in row.composition)
    if len(fluids) == 1:
        return Model(fluids)
    return Model(fluids, tuple(share.mass_percent / 100.0 for share in row.composition))


def write_tables(row: RefrigerantRow, directory: Path) -> None:
    """Build and write the tables of one refrigerant."""
    model = model_of(row)
    table = saturation_table(model, identity(row))
    curve = saturation_curve(table)
    properties = property_table(model, curve, table["critical_point"]["pressure"], identity(row))
    for kind, content in (("saturation", table), ("properties", properties)):
        target = directory / kind / f"{row.designation}.json"
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(as_bytes(content))
    low, high = (kelvin - 273.15 for kelvin in table["temperature_range"])
    print(f"{row.designation}: {low:.1f} C to {high:.1f} C")
