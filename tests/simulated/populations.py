"""Simulated systems that were never used for fitting: nominal, structurally perturbed and high-efficiency ones."""

import numpy as np

from service.knowledge.cycle_model import FAULTS, METERING, SOUND
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY
from service.results.cycle import CycleBaseline, CycleConditions, CycleInputs, CycleReadings
from service.results.record import Record, fields, replace
from service.workshop.build.population_draw import Population, simulate
from service.workshop.build.population_fluids import fit_refrigerant
from service.workshop.build.population_sampling import COMPONENTS, FAHRENHEIT_ZERO, F, Ranges
from service.workshop.cycle.fluid import RefrigerantFit
from tests.reasoning.cycle.questions import CORE

# Sound units four times over: false alarms are counted on them alone.
SINGLE = (SOUND,) * 4 + FAULTS
# The design study's own ranges, drawn evenly.
_NOMINAL_COMPONENTS = {
    "volumetric_intercept": (0.93, 0.99),
    "volumetric_slope": (0.01, 0.04),
    "efficiency_peak": (0.63, 0.75),
    "efficiency_peak_ratio": (2.4, 3.2),
    "efficiency_curvature": (0.012, 0.03),
    "shell_loss": (0.03, 0.12),
    "air_side_share": (0.5, 0.75),
    "airflow_exponent": (0.4, 0.65),
    "condenser_effectiveness": (0.60, 0.82),
    "desuperheat_conductance": (0.35, 0.6),
    "subcool_conductance": (0.35, 0.65),
    "superheat_conductance": (0.12, 0.35),
    "resistance_ratio": (0.15, 0.45),
    "condenser_volume": (1.3e-3, 2.4e-3),
    "evaporator_volume": (0.7e-3, 1.3e-3),
    "line_length": (3.0, 18.3),
    "throat_ratio": (0.30, 0.62),
    "valve_reserve": (1.25, 2.0),
    "valve_gain": (0.8, 1.6),
    "slip_exponent": (0.6666, 0.6667),
    "remix_share": (0.6, 0.6001),
    "published_tube": (0.0, 0.0001),
}
NOMINAL = Ranges(
    (FAHRENHEIT_ZERO + 45.0 * F, 1.8 * F, FAHRENHEIT_ZERO + 39.0 * F, FAHRENHEIT_ZERO + 51.0 * F),
    (21.0 * F, 4.0 * F, 9.0 * F, 33.0 * F),
    (10.0 * F, 2.2 * F, 3.5 * F, 17.0 * F),
    (1.0, 0.055, 0.875, 1.125),
    COMPONENTS | _NOMINAL_COMPONENTS,
    (0.62, 0.85),
    outdoor=(72.0, 110.0),
)
# Other structure, all at once: flow without slip and leaked heat kept or lost altogether (neither is in the
# fitting population), and throats, zone conductances, valves, coil volumes and compressors beyond the nominal
# ranges, each unit of a variant on one side and the two variants on opposite sides.
_NO_SLIP = {"slip_exponent": (0.999, 1.0), "valve_reserve": (1.12, 1.3), "valve_gain": (0.5, 0.8)}
_VARIANTS = (
    {
        "throat_ratio": (0.83, 0.93),
        "desuperheat_conductance": (0.25, 0.35),
        "subcool_conductance": (0.65, 0.80),
        "superheat_conductance": (0.08, 0.12),
        "condenser_volume": (2.4e-3, 2.8e-3),
        "evaporator_volume": (0.55e-3, 0.7e-3),
        "volumetric_slope": (0.04, 0.06),
        "shell_loss": (0.0, 0.03),
        "efficiency_curvature": (0.03, 0.04),
        "remix_share": (0.99, 1.0),
    },
    {
        "throat_ratio": (0.2, 0.30),
        "desuperheat_conductance": (0.60, 0.75),
        "subcool_conductance": (0.25, 0.35),
        "superheat_conductance": (0.35, 0.45),
        "condenser_volume": (1.0e-3, 1.3e-3),
        "evaporator_volume": (1.3e-3, 1.6e-3),
        "volumetric_slope": (0.0, 0.01),
        "shell_loss": (0.12, 0.17),
        "efficiency_curvature": (0.006, 0.012),
        "remix_share": (0.0, 0.01),
    },
)
PERTURBED = tuple(replace(NOMINAL, components=NOMINAL.components | _NO_SLIP | variant) for variant in _VARIANTS)
HIGH_EFFICIENCY = replace(
    NOMINAL,
    evaporating=(FAHRENHEIT_ZERO + 48.0 * F, 1.8 * F, FAHRENHEIT_ZERO + 43.0 * F, FAHRENHEIT_ZERO + 53.0 * F),
    condensing_over_outdoor=(13.0 * F, 2.5 * F, 7.0 * F, 20.0 * F),
)
POPULATIONS = {
    "nominal": ((NOMINAL,), "standard"),
    "perturbed": (PERTURBED, "standard"),
    "high_efficiency": ((HIGH_EFFICIENCY,), "high"),
}
_ZONES = ("desuperheat_conductance", "subcool_conductance", "superheat_conductance")
_VOLUMES = ("condenser_volume", "evaporator_volume")
_MACHINE = ("volumetric_slope", "shell_loss", "efficiency_curvature")


def _one(names: tuple[str, ...]) -> tuple[Ranges, ...]:
    """Nominal units but for the ranges named, which are those of the perturbed set, one variant on each side."""
    return tuple(
        replace(NOMINAL, components=NOMINAL.components | {name: variant.components[name] for name in names})
        for variant in PERTURBED
    )


def _only(**ranges: tuple[float, float]) -> tuple[Ranges, ...]:
    return (replace(NOMINAL, components=NOMINAL.components | ranges),)


# One change of structure at a time, at the perturbed set's own extremes, on the kinds of metering it touches.
ORIFICE, VALVE = ("fixed_orifice",), ("expansion_valve",)
STRUCTURES = {
    "no slip of the phases": (_only(slip_exponent=_NO_SLIP["slip_exponent"]), METERING),
    "throat pressure high": (_only(throat_ratio=_VARIANTS[0]["throat_ratio"]), ORIFICE),
    "throat pressure low": (_only(throat_ratio=_VARIANTS[1]["throat_ratio"]), ORIFICE),
    "published short tube": (_only(published_tube=(0.999, 1.0)), ORIFICE),
    "zone conductances": (_one(_ZONES), METERING),
    "slow valve, no reserve": (
        _only(valve_reserve=_NO_SLIP["valve_reserve"], valve_gain=_NO_SLIP["valve_gain"]),
        VALVE,
    ),
    "coil volumes": (_one(_VOLUMES), METERING),
    "compressor curves": (_one(_MACHINE), METERING),
    "leaked heat kept": (_only(remix_share=_VARIANTS[0]["remix_share"]), METERING),
    "leaked heat lost": (_only(remix_share=_VARIANTS[1]["remix_share"]), METERING),
}
ALL = (
    *CORE,
    "discharge_line_temperature",
    "supply_wet_bulb",
    "condenser_leaving_dry_bulb",
    "airflow_ratio",
    "compressor_amps_ratio",
    "target_subcooling",
)
TIE_BREAKERS = ("drier_temperature_drop", "standing_saturation_excess")
# One standard deviation of the design study's ordinary instruments [K, or share of the reading].
INSTRUMENTS = {
    "suction_line_temperature": 1.0 * F,
    "liquid_line_temperature": 1.0 * F,
    "discharge_line_temperature": 2.5 * F,
    "supply_dry_bulb": 1.0 * F,
    "supply_wet_bulb": 1.2 * F,
    "condenser_leaving_dry_bulb": 1.0 * F,
    "outdoor_dry_bulb": 1.0 * F,
    "return_dry_bulb": 0.7 * F,
    "return_wet_bulb": 1.2 * F,
    # Two clamps against each other.
    "drier_temperature_drop": 2.0**0.5 * F,
    "airflow_ratio": 0.09,
    "compressor_amps_ratio": 0.039,
    "target_subcooling": 0.0,
    "target_superheat": 0.0,
}
RELATIVE = ("airflow_ratio", "compressor_amps_ratio")
PSI = 6894.757
CONDITIONS = ("outdoor_dry_bulb", "return_dry_bulb", "return_wet_bulb")


# Widths of a chart's figures as 95 % half-widths [K]: 10 psi of both pressures (R-410A near 7 and 45 degC), 5 degF
# of superheat and subcooling, and 3 degF between units of a model.
_OF_MODEL, _OF_LINE = 3.0 * F, 5.0 * F
_OF_SUCTION, _OF_LIQUID = 10.0 * 0.33, 10.0 * 0.13
CHART = {
    "suction_saturation_temperature": float(np.hypot(_OF_MODEL, _OF_SUCTION)),
    "liquid_saturation_temperature": float(np.hypot(_OF_MODEL, _OF_LIQUID)),
    "suction_line_temperature": float(np.sqrt(_OF_MODEL**2 + _OF_SUCTION**2 + _OF_LINE**2)),
    "liquid_line_temperature": float(np.sqrt(_OF_MODEL**2 + _OF_LIQUID**2 + _OF_LINE**2)),
}


class HeldOut(Record):
    """Visits as read by instruments, a row each, with the truth: label into CLASSES, share of the range of
    size."""

    refrigerant: str
    metering: str
    efficiency: str
    label: np.ndarray
    share: np.ndarray
    losses: np.ndarray
    values: np.ndarray
    conditions: np.ndarray
    sound_values: np.ndarray
    sound_conditions: np.ndarray
    deviations: np.ndarray
    noise: float


def held_out(
    refrigerant: str,
    metering: str,
    name: str,
    per_class: int,
    seed: int,
    noise: float = 1.0,
    classes: tuple[str, ...] = SINGLE,
) -> HeldOut:
    """Simulate visits to systems of a test population and read them.

    Parameters: see ``visits_to``.
    """
    variants, efficiency = POPULATIONS[name] if name in POPULATIONS else (STRUCTURES[name][0], "standard")
    return visits_to(refrigerant, metering, variants, efficiency, per_class, seed, noise, classes)


def visits_to(
    refrigerant: str,
    metering: str,
    variants: tuple[Ranges, ...],
    efficiency: str,
    per_class: int,
    seed: int,
    noise: float = 1.0,
    classes: tuple[str, ...] = SINGLE,
) -> HeldOut:
    """Simulate visits to systems drawn from ranges, as many from each, and read them.

    Parameters: per_class: visits of each of ``classes`` (any of CLASSES, an entry as often as it is named);
    noise: factor on the errors of the ordinary instruments.
    """
    fluid = fit_refrigerant(refrigerant)
    rng = np.random.default_rng(seed)
    count = per_class // len(variants)
    drawn = [simulate(fluid, metering == "expansion_valve", ranges, rng, count, classes) for ranges in variants]
    population = Population(
        *(np.concatenate([getattr(part, item.name) for part in drawn]) for item in fields(Population))
    )
    deviations = noise * gauge_deviations(population.values, population.conditions, fluid)
    condition_noise = noise * np.array([INSTRUMENTS[name] for name in CONDITIONS] + [0.0])
    return HeldOut(
        refrigerant,
        metering,
        efficiency,
        population.label,
        population.share,
        population.losses,
        population.values + deviations * rng.normal(size=deviations.shape),
        _read(population.conditions, condition_noise, rng),
        population.sound_values + deviations[:, :BASELINE_COUNT] * rng.normal(size=population.sound_values.shape),
        _read(population.sound_conditions, condition_noise, rng),
        deviations,
        noise,
    )


def _read(conditions: np.ndarray, deviation: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    shown = conditions + deviation * rng.normal(size=conditions.shape)
    shown[:, 2] = np.minimum(shown[:, 2], shown[:, 1])
    return shown


def gauge_deviations(values: np.ndarray, conditions: np.ndarray, fluid: RefrigerantFit) -> np.ndarray:
    """Deviation of every reading; gauges err by 0.7 % and 1.1 psi, turned into temperatures."""
    table = np.empty_like(values)
    for at, name in enumerate(READINGS):
        if name in INSTRUMENTS:
            table[:, at] = INSTRUMENTS[name] * (np.abs(values[:, at]) if name in RELATIVE else 1.0)
    for at, curve in ((0, fluid.dew_pressure), (1, fluid.bubble_pressure)):
        pressure = curve(values[:, at])
        slope = curve(values[:, at] + 0.5) - curve(values[:, at] - 0.5)
        table[:, at] = np.hypot(0.007 * pressure, 1.1 * PSI) / slope
    outdoor = conditions[:, 0]
    pressure = fluid.bubble_pressure(outdoor)
    slope = fluid.bubble_pressure(outdoor + 0.5) - fluid.bubble_pressure(outdoor - 0.5)
    gauge = np.hypot(0.007 * pressure, 1.1 * PSI) / slope
    table[:, READINGS.index("standing_saturation_excess")] = np.hypot(gauge, INSTRUMENTS["outdoor_dry_bulb"])
    return table


def inputs(
    visits: HeldOut, row: int, names: tuple[str, ...], efficiency: bool = True, stated: bool = True
) -> CycleInputs:
    """The question a visit asks; stated: whether the request tells the accuracy of its instruments."""
    shown = {name: float(visits.values[row, READINGS.index(name)]) for name in names}
    target = shown.pop("target_subcooling", None)
    return CycleInputs(
        visits.refrigerant,
        "fixed_orifice" if visits.metering == "fixed_orifice" else "thermostatic_expansion_valve",
        as_readings(shown),
        CycleConditions(*map(float, visits.conditions[row])),
        visits.efficiency if efficiency else None,
        target,
        None,
        accuracies(visits, row, names) if stated else {},
    )


def baseline(visits: HeldOut, row: int, names: tuple[str, ...]) -> CycleBaseline:
    """The visit to the same unit when it was sound."""
    known = [name for name in names if name in READINGS[:BASELINE_COUNT]]
    shown = {name: float(visits.sound_values[row, READINGS.index(name)]) for name in known}
    conditions = CycleConditions(*map(float, visits.sound_conditions[row]))
    return CycleBaseline(as_readings(shown), conditions, accuracies(visits, row, names))


def chart(visits: HeldOut, row: int, names: tuple[str, ...]) -> CycleBaseline:
    """The normals that a chart of this unit's model prints for the weather of its sound visit.

    The chart errs by its printed tolerance and by how far units of a model differ, as the service takes it
    (limits ``normals``), about the unit's own readings; figures other than the gauges' are not printed.
    """
    printed = {name: CHART[name] for name in names if name in CHART}
    rng = np.random.default_rng((int(1e6 * abs(visits.sound_values[row, 0])), row))
    values = {
        name: float(visits.sound_values[row, READINGS.index(name)] + 0.5 * width * rng.normal())
        for name, width in printed.items()
    }
    conditions = CycleConditions(*map(float, visits.sound_conditions[row]))
    return CycleBaseline(as_readings(values), conditions, printed, kind="printed_normals")


def as_readings(shown: dict[str, float]) -> CycleReadings:
    """Readings in the measures of a request."""
    shown = dict(shown)
    if "airflow_ratio" in shown:
        shown["airflow_per_capacity"] = shown.pop("airflow_ratio") * AIRFLOW_PER_CAPACITY
    if "compressor_amps_ratio" in shown:
        shown["voltage_ratio"] = 1.0
    return CycleReadings(**shown)


def accuracies(visits: HeldOut, row: int, names: tuple[str, ...]) -> dict[str, float]:
    """95 % half-widths of the instruments of a visit, as a request states them."""
    found = {name: 2.0 * float(visits.deviations[row, READINGS.index(name)]) for name in names}
    if "airflow_ratio" in found:
        found["airflow_per_capacity"] = found.pop("airflow_ratio") * AIRFLOW_PER_CAPACITY
    found.pop("target_subcooling", None)
    return found | {name: 2.0 * visits.noise * INSTRUMENTS[name] for name in CONDITIONS}
