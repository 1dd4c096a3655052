"""Questions to ask in tests: a sound visit by the shipped reference, with shifts of single readings."""

import numpy as np

from service.knowledge.cycle_model import load_tables
from service.physics.cycle.readings import READINGS
from service.physics.cycle.reference import design_matrix
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY
from service.results.cycle import CycleConditions, CycleInputs, CycleReadings
from service.results.record import replace

WEATHER = CycleConditions(308.15, 299.8167, 292.5944)
CORE = (
    "suction_saturation_temperature",
    "liquid_saturation_temperature",
    "suction_line_temperature",
    "liquid_line_temperature",
    "supply_dry_bulb",
)
FULL = READINGS[:12]


def sound_values(metering: str = "expansion_valve", conditions: CycleConditions = WEATHER) -> dict[str, float]:
    """What the reference of a standard R-410A unit expects, by the model's names."""
    row = [
        conditions.outdoor_dry_bulb,
        conditions.return_dry_bulb,
        conditions.return_wet_bulb or 0.0,
        conditions.barometric_pressure,
    ]
    values = design_matrix(np.array([row])) @ load_tables("R-410A", metering).reference[0].T
    return dict(zip(READINGS, map(float, values[0]), strict=True))


def ask(
    names: tuple[str, ...] = CORE,
    metering: str = "thermostatic_expansion_valve",
    conditions: CycleConditions = WEATHER,
    **shifts: float,
) -> CycleInputs:
    """A question with the readings of a typical sound unit, single ones shifted [K or 1]."""
    group = "expansion_valve" if "valve" in metering else "fixed_orifice"
    values = sound_values(group, replace(conditions, return_wet_bulb=conditions.return_wet_bulb or 292.5944))
    shown = {name: values[name] + shifts.get(name, 0.0) for name in names}
    if "airflow_ratio" in shown:
        shown["airflow_per_capacity"] = shown.pop("airflow_ratio") * AIRFLOW_PER_CAPACITY
    if "compressor_amps_ratio" in shown:
        shown["voltage_ratio"] = 1.0
    return CycleInputs("R-410A", metering, CycleReadings(**shown), conditions, "standard", minutes_running=30.0)
