"""The readings that the cycle model knows, in the order of every vector of them."""

# The order of a vector of readings, in the shipped tables and online.
READINGS = (
    "suction_saturation_temperature",
    "liquid_saturation_temperature",
    "suction_line_temperature",
    "liquid_line_temperature",
    "discharge_line_temperature",
    "supply_dry_bulb",
    "supply_wet_bulb",
    "condenser_leaving_dry_bulb",
    "airflow_ratio",
    "compressor_amps_ratio",
    "drier_temperature_drop",
    "standing_saturation_excess",
    "target_subcooling",
    "target_superheat",
)
# The leading ones may also come from a visit to the same unit when it was sound.
BASELINE_COUNT = 10

NOMINAL_CAPACITY = 3516.85
"""One nominal ton [W]."""
NOMINAL_AIRFLOW = 400.0 * 4.719474e-4
"""400 cfm per ton, the usual design airflow, for one nominal ton [m3/s]."""
