"""What may be asked for next: readings that this unit can have.

Which kinds are sealed without service ports, have no ducts, or no contactor: common practice, no source.
"""

from tests.golden_visits import readings
from tests.laws.answers import Body, Document

OF_A_HEAT_PUMP = (
    "/running/reversing_valve",
    "/running/vapor_line",
    "/electrical/control/reversing_valve",
    "/electrical/control/defrost",
    "/inspection/outdoor_coil_ice",
)
FIXED = ("fixed_orifice", "capillary_tube")
ROOM = ("room_air_conditioner", "room_air_conditioner_reverse_cycle")
SEALED = ("packaged_terminal_air_conditioner", "packaged_terminal_heat_pump", *ROOM)
NO_DUCTS = ("ductless_split", *SEALED)


def nothing_is_asked_that_the_unit_cannot_have(document: Document, body: Body) -> list[str]:
    """A next reading is one of this unit: no target subcooling of a fixed orifice, no valve that it has not."""
    equipment = document.get("equipment", {})
    kind = equipment.get("kind")
    lacking = {
        "/equipment/target_subcooling": equipment.get("metering_device") in FIXED,
        **dict.fromkeys(OF_A_HEAT_PUMP, str(kind).endswith("air_conditioner")),
        "/running/suction_pressure": kind in SEALED,
        "/running/liquid_pressure": kind in SEALED,
        "/standing/pressure": kind in SEALED,
        "/start_up/suction_pressure": kind in SEALED,
        "/air/static": kind in NO_DUCTS,
        "/electrical/contactor": kind in ROOM,
        "/electrical/control/secondary_volts": kind in ROOM,
        "/electrical/run_capacitors": equipment.get("phases") == 3,
    }
    return [
        f"asks for {pointer}, which the unit cannot have"
        for pointer in readings(body)
        if any(lacks and pointer.startswith(beginning) for beginning, lacks in lacking.items())
    ]
