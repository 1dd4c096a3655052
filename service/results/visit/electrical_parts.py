"""Electrical readings: capacitors, start gear, currents, fans, drive and protection."""

from service.results.declare import choice, flag, member, part
from service.results.record import Record
from service.results.resistance import Resistance
from service.results.visit.ranges import (
    amps,
    length,
    microfarads,
    percent,
    plain_resistance,
    resistance,
    volts,
)


class Capacitor(Record):
    """A capacitor's label and readings: on the bench in microfarads, or under load by volts and amps."""

    rated_microfarads: float | None = member("microfarads", "Label capacitance.", low=0.5, high=2000.0)
    tolerance_percent: float | None = percent("Label tolerance, plus and minus; 6 when absent.", 50.0)
    rated_volts: float | None = volts("Label voltage.")
    measured_microfarads: float | None = microfarads("Measured on the bench, discharged, wires off.")
    measured_amps: float | None = amps("Current in the capacitor lead, running.")
    measured_volts: float | None = volts("Volts across the capacitor terminals, running.")
    over_limit: bool | None = flag("The capacitance range showed over-limit (OL).")
    terminal_ohms: Resistance | None = plain_resistance("Terminal to terminal, discharged, after settling.")
    case_ohms: Resistance | None = plain_resistance("Terminal to metal can.")


class RunCapacitor(Capacitor):
    """A run capacitor, or one section of a dual one."""

    serves: str | None = choice("Which motor it serves.", "compressor", "outdoor_fan", "indoor_blower")
    shares_can: bool | None = flag("One section of a dual capacitor.")


class StartComponents(Record):
    """Start relay and start capacitor."""

    kind: str | None = choice("Kind of start relay.", "potential_relay", "solid_state")
    solid_state_ohms: Resistance | None = plain_resistance("Solid-state start device, cold.")
    start_capacitor: Capacitor = part(Capacitor, "The start capacitor.")
    relay_contact_resistance: Resistance | None = resistance("Potential relay contact (terminals 1-2).")
    relay_coil_resistance: Resistance | None = resistance("Potential relay coil (terminals 2-5).")
    relay_contact_volts_running: float | None = volts("Across the relay contact (1-2) while running.")


class Currents(Record):
    """Currents and power, running and starting."""

    compressor_amps: float | None = amps("Compressor running amps, in the common lead.")
    compressor_starting_amps: float | None = amps("Compressor amps while it tries to start.")
    seconds_at_starting_amps: float | None = member("seconds", "How long it stayed there.", low=0.0, high=120.0)
    outdoor_fan_amps: float | None = amps("Outdoor fan motor running amps.")
    indoor_blower_amps: float | None = amps("Indoor blower motor running amps.")
    amps_a: float | None = amps("Line A.")
    amps_b: float | None = amps("Line B.")
    amps_c: float | None = amps("Line C.")
    compressor_watts: float | None = member("watts", "Compressor input power.", low=0.0, high=500e3)
    power_factor: float | None = member("ratio", "Power factor.", low=0.0, high=1.0)


class OutdoorFanReadings(Record):
    """The outdoor fan motor; never started by hand."""

    spins_free: bool | None = flag("The blade turns freely by hand, power locked off.")
    turns: bool | None = flag("It turns when called.")
    turns_backwards: bool | None = flag("It turns the wrong way.")
    starts_when_pushed: bool | None = flag("It started when pushed (accepted, never asked for).")
    common_run: Resistance | None = resistance("Common to run.")
    common_start: Resistance | None = resistance("Common to start.")
    run_start: Resistance | None = resistance("Run to start.")
    to_frame: Resistance | None = resistance("Any lead to the frame.")
    motor_touch: str | None = choice("Motor shell by hand, blade at rest.", "cool", "warm", "hot")
    speed: float | None = member("revolutions_per_minute", "Running speed.", low=0.0, high=10000.0)


class IndoorBlowerReadings(Record):
    """The indoor blower motor."""

    turns: bool | None = flag("It turns when called.")
    spins_free: bool | None = flag("The wheel turns freely by hand, power locked off.")
    line_volts: float | None = volts("Line volts at the motor.")
    call_present: bool | None = flag("The speed call is present at the motor or module.")
    common_run: Resistance | None = resistance("Common to run.")
    common_start: Resistance | None = resistance("Common to start.")
    run_start: Resistance | None = resistance("Run to start.")
    to_frame: Resistance | None = resistance("Any lead to the frame.")
    speed_tap_open: bool | None = flag("One speed tap reads open.")
    motor_touch: str | None = choice("Motor shell by hand, wheel at rest.", "cool", "warm", "hot")


class Drive(Record):
    """The inverter drive."""

    bus_volts: float | None = volts("Direct-current bus, powered.")
    fault_code: str | None = member("text", "Fault code shown, as the label words it.", length=64)
    output_volts_uv: float | None = volts("Output U to V.")
    output_volts_vw: float | None = volts("Output V to W.")
    output_volts_uw: float | None = volts("Output U to W.")


GAUGES: tuple[str | int, ...] = (18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, "1/0")


class Protection(Record):
    """Breaker, conductor and how the breaker trips."""

    breaker_amps: float | None = amps("Rating of the breaker or fuse.")
    conductor_gauge: str | int | None = member(
        "label", "Copper conductor size, AWG: 18 to 1 or 1/0.", choices=GAUGES, length=4
    )
    trips: str | None = choice("How the breaker trips.", "none", "at_once", "after_minutes")
    conductor_length: float | None = length("Length of the branch circuit, one way.")
