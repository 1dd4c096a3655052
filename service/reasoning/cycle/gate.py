"""When the steady-state model must not speak: starting up, outside its weather, an unknown refrigerant."""

from service.knowledge.cycle_groups import METERING_GROUPS, refrigerant_groups
from service.physics.moist_air import from_wet_bulb
from service.results.cycle import CycleBaseline, CycleConditions, CycleInputs
from service.results.out_of_range import OutOfRange

# Common practice: readings settle within a quarter of an hour.
SETTLED_MINUTES = 15.0
# What was simulated (65-115 degF outdoors, 68-86 degF indoors), and a little beyond.
OUTDOOR = (289.5, 321.5)
RETURN = (291.5, 305.0)
PRESSURE = (78e3, 106e3)
# Relative humidity indoors: 12-75 % was simulated, and a wet bulb that reads 0.7 K wrong looks like this.
HUMIDITY = (0.07, 0.88)
FAMILIAR = ("fixed_orifice", "thermostatic_expansion_valve")


def refusal(inputs: CycleInputs) -> str | None:
    """State that keeps the model silent, or None."""
    if inputs.refrigerant not in refrigerant_groups():
        return "not_modelled"
    if inputs.metering is not None and inputs.metering not in METERING_GROUPS:
        return "not_modelled"
    if inputs.minutes_running is not None and inputs.minutes_running < SETTLED_MINUTES:
        return "transient"
    return None if within_weather(inputs.conditions) else "out_of_conditions"


def tells_of_the_unit(baseline: CycleBaseline) -> bool:
    """Whether a baseline can be used: steady, in simulated weather, with the humidity of the air known."""
    minutes = baseline.minutes_running
    steady = minutes is None or minutes >= SETTLED_MINUTES
    return steady and baseline.conditions.return_wet_bulb is not None and within_weather(baseline.conditions)


def within_weather(conditions: CycleConditions) -> bool:
    """Whether the weather is one that was simulated."""
    inside = (
        OUTDOOR[0] <= conditions.outdoor_dry_bulb <= OUTDOOR[1]
        and RETURN[0] <= conditions.return_dry_bulb <= RETURN[1]
        and PRESSURE[0] <= conditions.barometric_pressure <= PRESSURE[1]
    )
    return inside and _within_humidity(conditions)


def _within_humidity(conditions: CycleConditions) -> bool:
    dry, wet = conditions.return_dry_bulb, conditions.return_wet_bulb
    if wet is None:
        return True
    try:
        humidity = from_wet_bulb(dry, min(wet, dry), conditions.barometric_pressure).relative_humidity
    except OutOfRange:
        return False
    return HUMIDITY[0] <= humidity <= HUMIDITY[1]


def assumptions(inputs: CycleInputs, known: bool) -> tuple[str, ...]:
    """Codes of what was assumed because it was not stated or not simulated; known: whether a baseline was used."""
    codes = ["figures_simulated"]
    if refrigerant_groups()[inputs.refrigerant] != inputs.refrigerant:
        codes.append("neighboring_refrigerant")
    if inputs.metering is None:
        codes.append("metering_unknown")
    elif inputs.metering not in FAMILIAR:
        codes.append("metering_taken_alike")
    if inputs.efficiency_class is None:
        codes.append("efficiency_class_unknown")
    if inputs.conditions.return_wet_bulb is None:
        codes.append("humidity_unknown")
    if inputs.minutes_running is None:
        codes.append("steady_operation_assumed")
    if inputs.readings.compressor_amps_ratio is not None and inputs.readings.voltage_ratio is None:
        codes.append("voltage_unknown")
    if inputs.baseline is not None and not known:
        codes.append(f"{inputs.baseline.kind}_not_used")
    if not inputs.accuracies:
        codes.append("ordinary_instruments")
    return tuple(codes)
