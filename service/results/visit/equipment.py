"""What the nameplates say."""

from service.results.declare import choice, member, part
from service.results.record import Record
from service.results.resistance import Resistance
from service.results.visit.kinds import KINDS
from service.results.visit.ranges import (
    amps,
    diameter,
    difference,
    length,
    mass,
    plain_resistance,
    temperature,
)

# As `cycle.highest-seer-standard` and `cycle.lowest-seer-high` have it.
EFFICIENCY = (
    "Efficiency class of the design: standard up to about SEER 14, high from about SEER 16. Leave it out between "
    "them and where nobody knows."
)


class PublishedWindings(Record):
    """Winding resistances the maker publishes."""

    common_run: Resistance | None = plain_resistance("Published resistance, common to run.")
    common_start: Resistance | None = plain_resistance("Published resistance, common to start.")
    run_start: Resistance | None = plain_resistance("Published resistance, run to start.")


class RatingCoefficients(Record):
    """Ten coefficients of the AHRI 540 polynomial for power and mass flow."""

    power: tuple[float, ...] = member("numbers", "Ten coefficients for input power.", length=10)
    mass_flow: tuple[float, ...] = member("numbers", "Ten coefficients for refrigerant mass flow.", length=10)
    unit_system: str | None = choice(
        "ip: degF, lb/h, W; si: degC, kg/h, W. Given with the coefficients; ip when absent.", "ip", "si"
    )


class Compressor(Record):
    """The compressor's nameplate."""

    type: str | None = choice("How it compresses.", "reciprocating", "rotary", "scroll")
    drive: str | None = choice("How its motor is fed.", "single_phase", "three_phase", "inverter")
    rated_load_amps: float | None = amps("Rated-load amps (RLA) of the nameplate.")
    locked_rotor_amps: float | None = amps("Locked-rotor amps (LRA) of the nameplate.")
    maximum_continuous_current: float | None = amps("Maximum continuous current (MCC) where it is published.")
    winding_ohms: PublishedWindings = part(PublishedWindings, "Winding resistances the maker publishes.")
    winding_ohms_temperature: float | None = temperature(
        "Temperature the published resistances hold at; 25 C when absent."
    )
    rating_coefficients: RatingCoefficients = part(RatingCoefficients, "Compressor rating (AHRI 540 form).")
    rating_superheat: float | None = difference("Superheat of the compressor rating; 20 F (11.1 K) when absent.")
    displacement: float | None = member(
        "volume", "Displacement a revolution, where it is published.", low=1e-6, high=0.02
    )
    motor_speed: float | None = member("revolutions_per_minute", "Speed at full load.", low=100.0, high=12000.0)


class OutdoorFan(Record):
    """The outdoor fan motor's nameplate."""

    full_load_amps: float | None = amps("Full-load amps (FLA) of the nameplate.")
    leads: int | None = member("integer", "Number of leads, 2 to 6.", low=2, high=6)
    rated_speed: float | None = member(
        "revolutions_per_minute", "Full-load speed of the nameplate.", low=100.0, high=10000.0
    )


class IndoorBlower(Record):
    """The indoor blower motor's nameplate."""

    type: str | None = choice(
        "psc: permanent split capacitor; the other two are electronically commutated.",
        "psc",
        "constant_torque",
        "constant_airflow",
    )
    full_load_amps: float | None = amps("Full-load amps (FLA) of the nameplate.")


class Equipment(Record):
    """The unit: kind, refrigerant, metering device, ratings, compressor and fans."""

    kind: str | None = choice("Kind of unit.", *KINDS)
    model: str | None = member("text", "Model, opaque text; printed on the job note and nowhere else.", length=64)
    serial: str | None = member(
        "text", "Serial number, opaque text; printed on the job note and nowhere else.", length=64
    )
    mode: str | None = choice(
        "What it is asked to run as; cooling when absent. In heating, not_cooling means it does not heat.",
        "cooling",
        "heating",
    )
    reversing_valve_energized_in: str | None = choice(
        "Mode in which the reversing valve's coil is energized (O: cooling, B: heating).", "cooling", "heating"
    )
    refrigerant: str | None = member(
        "text", "ASHRAE 34 designation of what is in the unit now, e.g. R-410A.", length=24
    )
    nameplate_refrigerant: str | None = member(
        "text", "ASHRAE 34 designation on the nameplate, where a retrofit differs.", length=24
    )
    oil: str | None = choice("Compressor oil.", "mineral", "poe", "pve", "alkylbenzene")
    metering_device: str | None = choice(
        "What meters the refrigerant into the evaporator.",
        "fixed_orifice",
        "capillary_tube",
        "thermostatic_expansion_valve",
        "electronic_expansion_valve",
    )
    metering_location: str | None = choice(
        "Where the metering device sits; outdoors the small line is two-phase: no subcooling, weigh only.",
        "indoor",
        "outdoor",
    )
    head_pressure_control: str | None = choice(
        "Low-ambient control that holds the head pressure up.",
        "none",
        "fan_cycling",
        "fan_speed",
        "flooding_valve",
    )
    stages: int | None = member("integer", "Number of compressor stages, 1 to 4.", low=1, high=4)
    circuit: str | int | None = member("label", "Which refrigerant circuit this document is about.", length=16)
    efficiency_class: str | None = choice(EFFICIENCY, "standard", "high")
    seer: float | None = member(
        "ratio", "Seasonal energy efficiency ratio of the nameplate, Btu/Wh.", low=5.0, high=40.0
    )
    room_area: float | None = member(
        "area", "Floor area of the room served (length unit squared).", low=0.5, high=20000.0
    )
    rated_capacity: float | None = member("capacity", "Rated cooling capacity.", low=500.0, high=2e6)
    year_made: int | None = member("integer", "Year of manufacture.", low=1950, high=2100)
    target_subcooling: float | None = difference("Nameplate target subcooling.")
    target_superheat: float | None = difference("Nameplate target superheat.")
    factory_charge: float | None = mass("Factory charge of the nameplate.")
    included_line_length: float | None = length("Line length the factory charge is made for.")
    line_length: float | None = length("Length of the installed line set, one way.")
    liquid_line_diameter: float | None = diameter("Outside diameter of the liquid line.")
    suction_line_diameter: float | None = diameter("Outside diameter of the suction line.")
    nominal_voltage: str | None = choice(
        "Nameplate voltage.", "115", "208", "230", "208_230", "220_240", "265", "380_415", "400", "460", "575"
    )
    phases: int | None = choice("Supply phases.", 1, 3)
    frequency: int | None = choice("Supply frequency in Hz; 60 when absent.", 50, 60)
    minimum_circuit_ampacity: float | None = amps("Minimum circuit ampacity (MCA) of the nameplate.")
    maximum_overcurrent_protection: float | None = amps("Maximum overcurrent protection (MOCP) of the nameplate.")
    low_side_design_pressure: float | None = member(
        "pressure", "Low-side design (test) pressure of the nameplate.", high=20e6
    )
    high_side_design_pressure: float | None = member(
        "pressure", "High-side design (test) pressure of the nameplate.", high=20e6
    )
    compressor: Compressor = part(Compressor, "The compressor.")
    outdoor_fan: OutdoorFan = part(OutdoorFan, "The outdoor fan motor.")
    indoor_blower: IndoorBlower = part(IndoorBlower, "The indoor blower motor.")
    recovered_charge: float | None = mass("Mass of refrigerant that was recovered from the unit and weighed.")

    @property
    def refrigerant_named(self) -> str | None:
        """Name of the refrigerant that is in it, else of the nameplate's; None where neither is stated."""
        return self.refrigerant or self.nameplate_refrigerant
