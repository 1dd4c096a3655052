"""What the customer says, how dead was proven, and what can be seen."""

from service.results.declare import choice, flag, member, moment
from service.results.record import Record
from service.results.visit.ranges import READ_AT, temperature, volts

SYMPTOMS = (
    "not_cooling",
    "poor_cooling",
    "no_start",
    "hums_no_start",
    "breaker_trips",
    "short_cycling",
    "runs_constantly",
    "ice_on_line",
    "water_leak",
    "noise_outdoor",
    "noise_indoor",
    "burnt_smell",
    "warm_air",
    "outdoor_fan_stopped",
    "indoor_fan_stopped",
    "high_bill",
    "refrigerant_smell_or_hiss",
    "thermostat_blank",
    "weak_airflow",
    "fault_code_shown",
    "will_not_shut_off",
    "fuel_gas_smell",
)
PEOPLE = ("none", "infants", "children", "elderly", "ill", "alone", "pets")


class Complaint(Record):
    """The customer's complaint and the unit's recent history."""

    symptoms: tuple[str, ...] = member(
        "choices",
        "What the customer reports.",
        choices=SYMPTOMS,
        length=len(SYMPTOMS),
    )
    recent_work: bool | None = flag("Work was done on the unit recently.")
    charge_added_recently: bool | None = flag("Refrigerant was added recently.")
    days_since_ok: float | None = member("days", "Days since the unit last worked well.", low=0.0, high=36500.0)
    people_at_risk: tuple[str, ...] = member(
        "choices", "Who is in the building and at risk from heat.", choices=PEOPLE, length=len(PEOPLE)
    )
    trip_timing: str | None = choice("When the breaker trips.", "at_once", "after_minutes")
    noise: str | None = choice(
        "What the noise is like.", "grinding", "rattling", "squealing", "banging", "buzzing"
    )
    water_at: str | None = choice("Where the water is.", "indoor_unit", "ceiling", "outdoor_unit", "line")
    fault_code: str | None = member("text", "The code or blinks shown, as read out.", length=60)
    other_appliances: bool | None = flag("Lights dim, or other large appliances have stopped as well.")


class Isolation(Record):
    """Proof that the power is off, measured at the contactor's line side, panel off and hands out."""

    disconnect_locked: bool | None = flag("The disconnect is open and locked.")
    meter_proved_before: bool | None = flag("The meter was proved on a live source before the voltage test.")
    meter_proved_after: bool | None = flag("The meter was proved on a live source after the voltage test.")
    line_to_line_volts: float | None = volts("Line 1 to line 2.")
    line1_to_ground_volts: float | None = volts("Line 1 to ground.")
    line2_to_ground_volts: float | None = volts("Line 2 to ground.")
    line2_to_line3_volts: float | None = volts("Line 2 to line 3 (three phases).")
    line1_to_line3_volts: float | None = volts("Line 1 to line 3 (three phases).")
    line3_to_ground_volts: float | None = volts("Line 3 to ground (three phases).")
    control_volts: float | None = volts("Control volts still present; 24 V comes from the indoor unit.")
    indoor_disconnect_locked: bool | None = flag("The indoor unit's disconnect is open and locked.")
    capacitor_residual_volts: float | None = volts("Volts left across the run capacitor.")
    drive_bus_volts: float | None = volts("Volts left on the drive's direct-current bus.")
    read_at: str | None = moment(READ_AT)


class Inspection(Record):
    """What the eye, the hand and simple tests find."""

    terminals: str | None = choice("Compressor terminals.", "sound", "loose", "burnt", "oily")
    contactor_contacts: str | None = choice("Contactor contacts.", "clean", "pitted", "burnt", "welded", "insects")
    capacitor_case: str | None = choice("Capacitor can.", "sound", "bulged", "leaking", "burnt")
    shell_touch: str | None = choice(
        "Compressor shell by hand (back of the hand, near it first).", "cool", "warm", "hot"
    )
    shell_temperature: float | None = temperature("Compressor shell temperature.")
    oil_stains: bool | None = flag("Oil stains at joints or coils.")
    ice_on_suction_line: bool | None = flag("Ice on the suction line.")
    ice_on_coil: bool | None = flag("Ice on the indoor coil.")
    outdoor_coil_ice: str | None = choice(
        "Outdoor coil: clear, thin frost, or closed with ice.", "clear", "frost", "iced"
    )
    filter_dirty: bool | None = flag("The air filter is dirty.")
    outdoor_coil_dirty: bool | None = flag("The outdoor coil is dirty or blocked.")
    indoor_coil_dirty: bool | None = flag("The indoor coil is dirty.")
    fan_blade_damaged: bool | None = flag("The fan blade is damaged.")
    wires_off_terminals: bool | None = flag("The wires were taken off the terminals before these readings.")
    oil_colour: str | None = choice("Compressor oil.", "clear", "dark", "black")
    acid_test: str | None = choice("Acid test of the oil.", "pass", "fail")
    valve_bulb: str | None = choice("Sensing bulb of the expansion valve.", "tight", "loose", "uninsulated")
    condensate: str | None = choice("Condensate drain.", "draining", "overflowing")
    sight_glass: str | None = choice("Sight glass in the liquid line.", "clear", "bubbles")
    acid_test_kit: str | None = choice("Which oil the acid test kit is made for.", "mineral", "poe")
    read_at: str | None = moment(READ_AT)
