"""What goes into and comes out of the judgement by the simulated cycle. SI throughout; None: not read."""

from collections.abc import Mapping

from service.results.record import Record, field


class CycleReadings(Record):
    """Readings of a running unit, saturation temperatures already computed for its own refrigerant.

    suction_saturation_temperature (dew), liquid_saturation_temperature (bubble), line and air temperatures [K];
    airflow_per_capacity: indoor airflow over nominal capacity [m3/(s W)], 400 cfm per ton is 5.37e-5;
    compressor_amps_ratio: amps over rated-load amps [1]; voltage_ratio: volts over nominal volts [1];
    drier_temperature_drop: inlet less outlet of the liquid line's drier [K]; standing_saturation_excess: bubble
    temperature at the standing pressure less the ambient temperature [K]; pump_down_pulls, pump_down_holds:
    whether the suction pressure came down with the liquid line shut, and stayed down after stopping.
    """

    suction_saturation_temperature: float | None = None
    liquid_saturation_temperature: float | None = None
    suction_line_temperature: float | None = None
    liquid_line_temperature: float | None = None
    discharge_line_temperature: float | None = None
    supply_dry_bulb: float | None = None
    supply_wet_bulb: float | None = None
    condenser_leaving_dry_bulb: float | None = None
    airflow_per_capacity: float | None = None
    compressor_amps_ratio: float | None = None
    voltage_ratio: float | None = None
    drier_temperature_drop: float | None = None
    standing_saturation_excess: float | None = None
    pump_down_pulls: bool | None = None
    pump_down_holds: bool | None = None


class CycleConditions(Record):
    """Air entering the coils [K] and barometric pressure [Pa]; return_wet_bulb None: humidity not read."""

    outdoor_dry_bulb: float
    return_dry_bulb: float
    return_wet_bulb: float | None = None
    barometric_pressure: float = 101_325.0


class CycleBaseline(Record):
    """The same unit when sound: what was read then, or what its own chart prints (kind printed_normals)."""

    readings: CycleReadings
    conditions: CycleConditions
    accuracies: Mapping[str, float] = field(default_factory=dict)
    minutes_running: float | None = None
    kind: str = "baseline"


class CycleHistory(Record):
    """What was said and seen before reading: codes of complaint and observations, days since it ran well."""

    symptoms: tuple[str, ...] = ()
    observations: tuple[str, ...] = ()
    recent_work: bool = False
    charge_added_recently: bool = False
    days_since_ok: float | None = None


class CycleInputs(Record):
    """One question to the cycle model.

    refrigerant: designation; metering: fixed_orifice | capillary_tube | thermostatic_expansion_valve |
    electronic_expansion_valve, None: unknown; efficiency_class: standard | high | None; target_subcooling,
    target_superheat: nameplate [K]; accuracies: 95 % half-widths by name of reading or condition, in its unit
    (defaults from data/cycle_readings where a name is missing); minutes_running; history; kind of unit by
    data/cycle_kinds (None: a split unit, or not said).
    """

    refrigerant: str
    metering: str | None
    readings: CycleReadings
    conditions: CycleConditions
    efficiency_class: str | None = None
    target_subcooling: float | None = None
    target_superheat: float | None = None
    accuracies: Mapping[str, float] = field(default_factory=dict)
    baseline: CycleBaseline | None = None
    history: CycleHistory = CycleHistory()
    minutes_running: float | None = None
    kind: str | None = None


class Range(Record):
    """A quantity with its 90 % range."""

    low: float
    likely: float
    high: float


class CycleEvidence(Record):
    """What one reading says: expected of a sound unit, measured [its unit], and natural-log weights.

    weight_against_next: for the leading cause against the runner-up; weight_against_sound: for the leading cause
    (or the runner-up, where a sound unit leads) against a sound unit. Positive speaks for the former. Half of what
    the reading says alone and half of what would be lost without it.
    """

    reading: str
    expected: Range
    measured: float
    difference: float
    weight_against_next: float
    weight_against_sound: float


class CycleLoss(Record):
    """Ratios to the same unit when sound, in the same weather: capacity, power drawn, efficiency [1]."""

    capacity: Range
    power: Range
    efficiency: Range


class CycleSeverity(Record):
    """Size of the leading fault: grade slight | moderate | severe, level in the fault's own measure."""

    grade: str
    level: Range
    measure: str


class CycleNext(Record):
    """A reading or test not yet taken: expected information [bit], minutes, and the causes it tells apart most;
    worth: what it is expected to add to the worth of the decision [0..1]; changes: chance that the decision
    changes.
    """

    reading: str
    bits: float
    minutes: float
    bits_per_minute: float
    tells_apart: tuple[str, ...]
    worth: float = 0.0
    changes: float = 0.0


class CycleVerdict(Record):
    """The judgement. Everything in it rests on simulated systems.

    state: steady | slight | out_of_population | transient | not_modelled | no_readings | out_of_conditions.
    probabilities: causes with their probabilities, descending, sum 1, empty unless judged; pairs: two faults at
    once (also counted in probabilities, most to the one more surely there); log_likelihoods by class; expected:
    sound readings here and now; after_repair: the same for this unit by today's readings; assumptions: codes;
    model: tables used;
    left_out: readings that fit nothing together with the others, by the model's names; the rest was judged.
    known_by: kind of the baseline that told how this unit reads when sound; empty where none did.
    """

    state: str
    probabilities: tuple[tuple[str, float], ...] = ()
    pairs: tuple[tuple[str, str, float], ...] = ()
    log_likelihoods: Mapping[str, float] = field(default_factory=dict)
    evidence: tuple[CycleEvidence, ...] = ()
    expected: Mapping[str, Range] = field(default_factory=dict)
    after_repair: Mapping[str, Range] = field(default_factory=dict)
    severity: CycleSeverity | None = None
    loss: CycleLoss | None = None
    next_readings: tuple[CycleNext, ...] = ()
    assumptions: tuple[str, ...] = ()
    model: tuple[str, ...] = ()
    prior_version: str = ""
    left_out: tuple[str, ...] = ()
    known_by: str = ""

    @property
    def judged(self) -> bool:
        """Whether the running readings were judged together; what they say alone is then in it."""
        return self.state in ("steady", "slight", "out_of_population")

    @property
    def sound(self) -> float:
        """Probability of a sound unit; 0 unless judged."""
        return dict(self.probabilities).get("none_found", 0.0) if self.judged else 0.0
