"""Names of the computed members of an answer, declared once, part by part."""

from typing import Any

from service.results.declare import choice, member, part, parts
from service.results.expected import LossComputed
from service.results.quantity import Quantity
from service.results.record import Record


def quantity(kind: str, description: str) -> Any:
    """A computed value with unit and uncertainty."""
    return member("quantity", description, choices=(kind,))


def temperature(description: str) -> Any:
    """A computed temperature."""
    return quantity("temperature", description)


def difference(description: str) -> Any:
    """A computed temperature difference."""
    return quantity("temperature_difference", description)


class RunningComputed(Record):
    """What follows from the running readings."""

    suction_saturation_temperature: Quantity | None = temperature("Dew temperature at the suction pressure.")
    liquid_saturation_temperature: Quantity | None = temperature("Bubble temperature at the liquid pressure.")
    superheat: Quantity | None = difference("Suction line less dew temperature.")
    subcooling: Quantity | None = difference("Bubble temperature less liquid line.")
    total_superheat: Quantity | None = difference("Superheat of the gas entering the compressor.")
    target_superheat: Quantity | None = difference("Target superheat of a fixed orifice at these conditions.")
    target_subcooling: Quantity | None = difference("Target subcooling of the nameplate.")
    condensing_over_outdoor: Quantity | None = difference("Condensing (bubble) temperature over outdoor air.")
    compression_ratio: Quantity | None = quantity("ratio", "Absolute discharge over absolute suction pressure.")
    discharge_superheat: Quantity | None = difference("Discharge line less dew temperature at discharge pressure.")
    drier_temperature_drop: Quantity | None = difference("Liquid line before less after the drier.")
    charge_deviation_percent: Quantity | None = quantity("percent", "Estimated charge deviation.")
    evaporator_superheat: Quantity | None = difference("Superheat at the evaporator outlet.")


class ChargeComputed(Record):
    """Charge status by the published tolerances."""

    status: str | None = choice("Charge status.", "undercharged", "correct", "overcharged", "undecided")
    direction: str | None = choice("Direction a correction would take.", "add", "remove", "none")
    correction: Quantity | None = quantity("mass", "Mass to add (+) or remove (-), only when it can be justified.")
    size_class: str | None = choice("Size of the correction.", "slight", "moderate", "large")


class StandingComputed(Record):
    """What the standing pressure says."""

    ambient_saturation_pressure: Quantity | None = quantity("pressure", "Saturation pressure at the ambient.")
    pressure_difference: Quantity | None = quantity("pressure_difference", "Standing less saturation pressure.")


class StartUpComputed(Record):
    """Change of the gauges at the start."""

    suction_change: Quantity | None = quantity("pressure_difference", "Suction after less before.")
    liquid_change: Quantity | None = quantity("pressure_difference", "Liquid after less before.")


class AirComputed(Record):
    """Air side."""

    return_enthalpy: Quantity | None = quantity("air_enthalpy", "Return air, per mass of dry air.")
    supply_enthalpy: Quantity | None = quantity("air_enthalpy", "Supply air, per mass of dry air.")
    return_humidity_ratio: Quantity | None = quantity("humidity_ratio", "Return air.")
    supply_humidity_ratio: Quantity | None = quantity("humidity_ratio", "Supply air.")
    return_wet_bulb: Quantity | None = temperature("Return wet bulb, from relative humidity where not read.")
    temperature_split: Quantity | None = difference("Return less supply dry bulb.")
    target_temperature_split: Quantity | None = difference("Published target split at these conditions.")
    airflow: Quantity | None = quantity("airflow", "Airflow, measured or by heat balance.")
    airflow_per_ton: Quantity | None = quantity("airflow", "Airflow per 12,000 Btu/h of rated capacity.")
    total_capacity: Quantity | None = quantity("capacity", "Total cooling delivered.")
    sensible_capacity: Quantity | None = quantity("capacity", "Sensible cooling delivered.")
    latent_capacity: Quantity | None = quantity("capacity", "Latent cooling delivered.")
    sensible_heat_ratio: Quantity | None = quantity("ratio", "Sensible over total.")
    total_static: Quantity | None = quantity("static_pressure", "Total external static pressure.")


class WindingsComputed(Record):
    """Terminals and sums."""

    common: str | None = member("text", "Terminal that is common.")
    run: str | None = member("text", "Terminal that is run.")
    start: str | None = member("text", "Terminal that is start.")
    sum_ohms: Quantity | None = quantity("ohms", "Sum of the two smaller pairs.")
    sum_difference_ohms: Quantity | None = quantity("ohms", "That sum less the largest pair.")
    unbalance_percent: Quantity | None = quantity("percent", "Greatest deviation from the mean over the mean.")
    winding_temperature: Quantity | None = temperature("From resistance against the published value (copper).")
    resistance_at_25_c: Quantity | None = quantity("ohms", "Lowest pair brought to 25 C (copper, 234.5).")


class CapacitorComputed(Record):
    """One run capacitor."""

    measured_microfarads: Quantity | None = quantity("microfarads", "Measured, on the bench or under load.")
    low_limit: Quantity | None = quantity("microfarads", "Label less tolerance.")
    high_limit: Quantity | None = quantity("microfarads", "Label plus tolerance.")
    deviation_percent: Quantity | None = quantity("percent", "Deviation from the label.")
    stored_energy_joules: Quantity | None = quantity("joules", "Energy at the peak of the working voltage.")
    bleed_seconds: Quantity | None = quantity("seconds", "Time to 50 V through a 20 kohm resistor.")


class SupplyComputed(Record):
    """Supply voltage."""

    sag_percent: Quantity | None = quantity("percent", "Drop from rest to starting.")
    deviation_percent: Quantity | None = quantity("percent", "Deviation from the nearer nameplate voltage.")
    voltage_unbalance_percent: Quantity | None = quantity("percent", "Greatest deviation from the mean.")
    current_unbalance_percent: Quantity | None = quantity("percent", "Greatest deviation from the mean.")
    derating_factor: Quantity | None = quantity("ratio", "Motor derating at the voltage unbalance.")
    source_ohms: Quantity | None = quantity("ohms", "Source impedance from the sag (in-phase estimate).")


class ContactorComputed(Record):
    """Heat and drop per pole."""

    drop_percent_pole1: Quantity | None = quantity("percent", "Drop over line voltage.")
    drop_percent_pole2: Quantity | None = quantity("percent", "Drop over line voltage.")
    drop_percent_pole3: Quantity | None = quantity("percent", "Drop over line voltage.")
    heat_watts_pole1: Quantity | None = quantity("watts", "Drop times current.")
    heat_watts_pole2: Quantity | None = quantity("watts", "Drop times current.")
    heat_watts_pole3: Quantity | None = quantity("watts", "Drop times current.")


class InsulationComputed(Record):
    """Insulation."""

    resistance_at_40_c: Quantity | None = quantity("megohms", "Lowest terminal brought to 40 C.")
    ratio_60_10: Quantity | None = quantity("ratio", "60 s over 10 s reading.")


class CurrentsComputed(Record):
    """Currents against the nameplate."""

    compressor_load_percent: Quantity | None = quantity("percent", "Running amps over RLA.")
    locked_rotor_percent: Quantity | None = quantity("percent", "Starting amps over LRA.")
    power_factor: Quantity | None = quantity("ratio", "Watts over volts times amps.")


class ProtectionComputed(Record):
    """Branch circuit."""

    minimum_circuit_ampacity: Quantity | None = quantity("amps", "1.25 x largest motor + others (NEC 440.33).")
    maximum_overcurrent_protection: Quantity | None = quantity("amps", "NEC 440.22, standard size.")
    conductor_drop_volts: Quantity | None = quantity("volts", "Drop along the conductor at running amps.")


class ElectricalComputed(Record):
    """Electrical values."""

    windings: WindingsComputed = part(WindingsComputed, "Compressor windings.")
    run_capacitors: tuple[CapacitorComputed, ...] = parts(CapacitorComputed, "As posted, in order.", 6)
    start_capacitor: CapacitorComputed = part(CapacitorComputed, "Start capacitor.")
    supply: SupplyComputed = part(SupplyComputed, "Supply.")
    contactor: ContactorComputed = part(ContactorComputed, "Contactor.")
    insulation: InsulationComputed = part(InsulationComputed, "Insulation.")
    currents: CurrentsComputed = part(CurrentsComputed, "Currents.")
    protection: ProtectionComputed = part(ProtectionComputed, "Branch circuit.")


class CompressorComputed(Record):
    """Compressor performance."""

    rated_power: Quantity | None = quantity("watts", "Input power by the rating coefficients.")
    rated_mass_flow: Quantity | None = quantity("mass_flow", "Mass flow by the rating, suction density corrected.")
    power_ratio: Quantity | None = quantity("ratio", "Measured over rated power.")
    isentropic_efficiency: Quantity | None = quantity("ratio", "Overall isentropic efficiency.")
    volumetric_efficiency: Quantity | None = quantity("ratio", "Volumetric efficiency.")
    mass_flow_ratio: Quantity | None = quantity("ratio", "Mass flow by the air side over rated mass flow.")


class Computed(Record):
    """Everything computed in an answer about a visit."""

    running: RunningComputed = part(RunningComputed, "From the running readings.")
    charge: ChargeComputed = part(ChargeComputed, "Charge.")
    standing: StandingComputed = part(StandingComputed, "Unit off.")
    start_up: StartUpComputed = part(StartUpComputed, "Start.")
    air: AirComputed = part(AirComputed, "Air side.")
    electrical: ElectricalComputed = part(ElectricalComputed, "Electrical.")
    compressor: CompressorComputed = part(CompressorComputed, "Compressor.")
    loss: LossComputed = part(LossComputed, "What the leading refrigerant-side fault costs; simulated.")
