"""Electrical readings: supply, control, contactor, windings and insulation."""

from service.results.declare import choice, flag, member, moment, part, parts
from service.results.record import Record
from service.results.resistance import Resistance
from service.results.visit.electrical_parts import (
    Currents,
    Drive,
    IndoorBlowerReadings,
    OutdoorFanReadings,
    Protection,
    RunCapacitor,
    StartComponents,
)
from service.results.visit.ranges import (
    READ_AT,
    megohms,
    minutes,
    plain_resistance,
    resistance,
    temperature,
    volts,
)


class Supply(Record):
    """Line voltage at the unit."""

    idle_volts: float | None = volts("Line voltage at rest.")
    starting_volts: float | None = volts("Lowest line voltage while starting.")
    running_volts: float | None = volts("Line voltage running.")
    volts_ab: float | None = volts("Line A to line B.")
    volts_bc: float | None = volts("Line B to line C.")
    volts_ca: float | None = volts("Line C to line A.")
    line1_to_ground_volts: float | None = volts("Line 1 to ground at the unit, power on.")
    line2_to_ground_volts: float | None = volts("Line 2 to ground at the unit, power on.")
    disconnect_line_volts: float | None = volts("Line to line on the line side of the disconnect.")


class Control(Record):
    """The 24 V control circuit, from the call to the coil."""

    secondary_volts: float | None = volts("Control transformer secondary.")
    primary_volts: float | None = volts("Control transformer primary.")
    coil_volts: float | None = volts("Across the contactor coil.")
    y_volts: float | None = volts("Y to common at the outdoor unit.")
    coil_resistance: Resistance | None = resistance("Contactor coil, wires off.")
    thermostat_calling: bool | None = flag("The thermostat is calling for cooling, or for heating in that mode.")
    high_pressure_switch: str | None = choice("High-pressure switch.", "closed", "open")
    low_pressure_switch: str | None = choice("Low-pressure switch.", "closed", "open")
    float_switch: str | None = choice("Condensate float switch.", "closed", "open")
    leak_sensor: str | None = choice("Refrigerant leak sensor contact.", "closed", "open")
    discharge_temperature_switch: str | None = choice("Discharge temperature switch.", "closed", "open")
    delay_running: bool | None = flag("The anti-short-cycle delay is running.")
    fuse_open: bool | None = flag("The control fuse is blown.")
    crankcase_heater_resistance: Resistance | None = resistance("Crankcase heater, wires off.")
    motor_protection_module: str | None = choice("Motor protection module contact.", "closed", "open")
    defrost_works: bool | None = flag("A forced defrost starts, clears the outdoor coil and ends.")
    reversing_valve_volts: float | None = volts("Across the reversing valve's coil, with the call present.")
    reversing_valve_coil_resistance: Resistance | None = resistance("Reversing valve's coil, wires off.")


class Contactor(Record):
    """The contactor: pulled in or not, and the drop across each closed pole under load."""

    poles: int | None = choice("Number of poles; a one-pole contactor always feeds one leg.", 1, 2, 3)
    pulled_in: bool | None = flag("The armature is pulled in.")
    drop_volts_pole1: float | None = volts("Drop across closed pole 1 under load.")
    drop_volts_pole2: float | None = volts("Drop across closed pole 2 under load.")
    drop_volts_pole3: float | None = volts("Drop across closed pole 3 under load.")
    load_volts: float | None = volts("Across the load terminals, never to ground.")


class Windings(Record):
    """Compressor windings pair by pair, power verified off."""

    common_run: Resistance | None = resistance("Common to run.")
    common_start: Resistance | None = resistance("Common to start.")
    run_start: Resistance | None = resistance("Run to start.")
    one_two: Resistance | None = resistance("Terminal 1 to terminal 2 (unnamed, or three phases).")
    two_three: Resistance | None = resistance("Terminal 2 to terminal 3.")
    one_three: Resistance | None = resistance("Terminal 1 to terminal 3.")
    lead_ohms: Resistance | None = plain_resistance("Resistance of the meter leads shorted together.")
    winding_temperature: float | None = temperature("Temperature of the windings (shell, after a long stop).")
    minutes_off: float | None = minutes("Minutes since the compressor last ran.")
    read_at: str | None = choice("Where the probes were.", "terminals", "lead_ends")


class InsulationReading(Record):
    """One terminal to the shell: exactly one of ohms, megohms and over the limit.

    megohms: [ohm] inside.
    """

    ohms: float | None = member("ohms", "In ohms.", low=0.0, high=1e12)
    megohms: float | None = megohms("In megohms.")
    over_limit: bool | None = flag("The meter showed over-limit (OL).")

    @property
    def resistance(self) -> Resistance:
        """The reading as one resistance."""
        return Resistance(self.ohms if self.ohms is not None else self.megohms)


class Insulation(Record):
    """Windings to the shell."""

    instrument: str | None = choice("What it was read with.", "ohmmeter", "insulation_tester")
    common_to_shell: InsulationReading | None = member("insulation", "Common to shell.", part=InsulationReading)
    run_to_shell: InsulationReading | None = member("insulation", "Run to shell.", part=InsulationReading)
    start_to_shell: InsulationReading | None = member("insulation", "Start to shell.", part=InsulationReading)
    one_to_shell: InsulationReading | None = member("insulation", "Terminal 1 to shell.", part=InsulationReading)
    two_to_shell: InsulationReading | None = member("insulation", "Terminal 2 to shell.", part=InsulationReading)
    three_to_shell: InsulationReading | None = member("insulation", "Terminal 3 to shell.", part=InsulationReading)
    test_volts: float | None = member("volts", "Test voltage of the insulation tester.", low=0.0, high=5000.0)
    winding_temperature: float | None = temperature("Temperature of the windings during the test.")
    megohms_at_10_s: float | None = megohms("Reading after 10 s.")
    megohms_at_60_s: float | None = megohms("Reading after 60 s.")
    last_megohms: float | None = megohms("Reading of the last like test.")
    minimum_megohms: float | None = megohms("The manufacturer's minimum.")
    read_at: str | None = choice("Where the probes were.", "terminals", "lead_ends")
    under_vacuum: bool | None = flag("The test was made with the system under vacuum.")
    drive_unplugged: bool | None = flag("The drive was unplugged from the compressor.")


class Electrical(Record):
    """All electrical readings of the visit."""

    supply: Supply = part(Supply, "Line voltage at the unit.")
    control: Control = part(Control, "The 24 V control circuit.")
    contactor: Contactor = part(Contactor, "The contactor.")
    windings: Windings = part(Windings, "Compressor windings, pair by pair.")
    insulation: Insulation = part(Insulation, "Compressor windings to the shell.")
    run_capacitors: tuple[RunCapacitor, ...] = parts(RunCapacitor, "Run capacitors, one item a section.", 6)
    start_components: StartComponents = part(StartComponents, "Start relay and start capacitor.")
    currents: Currents = part(Currents, "Currents and power.")
    outdoor_fan: OutdoorFanReadings = part(OutdoorFanReadings, "Outdoor fan motor.")
    indoor_blower: IndoorBlowerReadings = part(IndoorBlowerReadings, "Indoor blower motor.")
    drive: Drive = part(Drive, "Inverter drive.")
    protection: Protection = part(Protection, "Breaker and conductor.")
    read_at: str | None = moment(READ_AT)
