"""Where the readings of the cycle model come from in the visit document, and which of the document it weighs."""

from service.results.cycle import CycleInputs

# Where each reading of the model comes from in the visit document; the first pointer is the reading itself.
POINTERS = {
    "suction_saturation_temperature": ("/running/suction_pressure",),
    "liquid_saturation_temperature": ("/running/liquid_pressure",),
    "suction_line_temperature": ("/running/suction_line_temperature",),
    "liquid_line_temperature": ("/running/liquid_line_temperature",),
    "discharge_line_temperature": ("/running/discharge_line_temperature",),
    "supply_dry_bulb": ("/air/supply_dry_bulb",),
    "supply_wet_bulb": ("/air/supply_wet_bulb",),
    "condenser_leaving_dry_bulb": ("/air/condenser_leaving_dry_bulb",),
    "airflow_per_capacity": ("/air/airflow", "/equipment/rated_capacity"),
    "compressor_amps_ratio": ("/electrical/currents/compressor_amps", "/equipment/compressor/rated_load_amps"),
    "drier_temperature_drop": ("/running/drier_inlet_temperature", "/running/drier_outlet_temperature"),
    "standing_saturation_excess": ("/standing/pressure", "/standing/ambient_temperature"),
    "pump_down_pulls": ("/running/pump_down_suction_pressure",),
    "pump_down_holds": ("/running/pump_down_holds",),
}
# The model's names of readings where they differ from those of the question.
_PUBLIC = {"airflow_ratio": "airflow_per_capacity"}
CONTEXT = (
    "/equipment/refrigerant",
    "/equipment/metering_device",
    "/equipment/efficiency_class",
    "/equipment/seer",
    "/equipment/kind",
    "/equipment/target_subcooling",
    "/equipment/target_superheat",
    "/air/outdoor_dry_bulb",
    "/air/return_dry_bulb",
    "/air/return_wet_bulb",
    "/air/return_relative_humidity",
    "/standing/indoor_temperature",
)


def pointers_of(name: str) -> tuple[str, ...]:
    """Where a reading of the model, by its own name, comes from; the first pointer is the reading itself."""
    return POINTERS[_PUBLIC.get(name, name)]


def weighed_pointers(inputs: CycleInputs) -> frozenset[str]:
    """Pointers of the readings that the model weighs; a finding that rests on them alone adds nothing to it."""
    taken = [name for name in POINTERS if getattr(inputs.readings, name) is not None]
    return frozenset(CONTEXT) | {pointer for name in taken for pointer in POINTERS[name]}
