"""What may be asked for next: readings that this unit can have."""

from tests.golden_visits import readings
from tests.laws.answers import Body, Document

FIXED = ("fixed_orifice", "capillary_tube")


def nothing_is_asked_that_the_unit_cannot_have(document: Document, body: Body) -> list[str]:
    """A next reading is one of this unit: no target subcooling of a fixed orifice, no valve that it has not."""
    equipment = document.get("equipment", {})
    lacking = {
        "/equipment/target_subcooling": equipment.get("metering_device") in FIXED,
        "/running/reversing_valve": str(equipment.get("kind", "")).endswith("air_conditioner"),
        "/electrical/run_capacitors": equipment.get("phases") == 3,
    }
    return [
        f"asks for {pointer}, which the unit cannot have"
        for pointer in readings(body)
        if any(lacks and pointer.startswith(beginning) for beginning, lacks in lacking.items())
    ]
