"""What is drawn at random: designs, weather and the placement of instruments."""

import numpy as np

from service.physics.arrays import Array
from service.physics.cycle import air
from service.results.record import Record, field, replace
from service.workshop.cycle.readings import Placement
from service.workshop.cycle.unit import AMPLE_OPENING, STANDARD_PRESSURE, Design, Operation

F = 5.0 / 9.0
FAHRENHEIT_ZERO = 255.3722
# All ranges are engineering judgement without data behind them, unless a comment names a basis. With nothing known
# of the middle the ends must not be rare, or a sound unit of an unusual make is called faulty: a part is drawn
# evenly for some units and near its ends for the others (see ``UNUSUAL``).
COMPONENTS = {
    "volumetric_intercept": (0.92, 0.995),
    "volumetric_slope": (0.01, 0.058),
    "efficiency_peak": (0.60, 0.77),
    "efficiency_peak_ratio": (2.2, 3.4),
    "efficiency_curvature": (0.010, 0.038),
    "shell_loss": (0.02, 0.17),
    "air_side_share": (0.45, 0.8),
    "airflow_exponent": (0.38, 0.68),
    "condenser_effectiveness": (0.58, 0.84),
    "desuperheat_conductance": (0.24, 0.72),
    "subcool_conductance": (0.28, 0.82),
    "superheat_conductance": (0.08, 0.47),
    "resistance_ratio": (0.12, 0.5),
    "condenser_volume": (1.1e-3, 2.7e-3),
    "evaporator_volume": (0.6e-3, 1.55e-3),
    "line_length": (3.0, 22.0),
    "suction_loss": (0.2, 1.0),
    "suction_gain": (0.5, 1.8),
    "condenser_loss": (1.0e4, 5.0e4),
    "liquid_loss": (1.0e4, 4.0e4),
    "throat_ratio": (0.28, 0.85),
    "valve_reserve": (1.12, 2.1),
    "valve_gain": (0.5, 1.7),
    # From the void fraction of Zivi (2/3) towards homogeneous flow (1), and from leaked gas cooled to its inlet
    # state (0) towards gas not cooled at all (1): both ends are physical limits, left to the test populations.
    "slip_exponent": (0.62, 0.98),
    "remix_share": (0.05, 0.95),
    "blower_power": (60.0, 200.0),
    # Between the throat pressure calibrated to the target-superheat rule and the published correlation of tests.
    "published_tube": (0.0, 1.0),
    "tube_length_ratio": (6.0, 16.0),
}
# What the forms of the model hang on. Of an unusual unit every one of these stands near one of its ends, each by
# itself: between units far apart the mixtures learn what drawing evenly would make rare.
UNUSUAL = (
    "volumetric_slope",
    "efficiency_curvature",
    "shell_loss",
    "desuperheat_conductance",
    "subcool_conductance",
    "superheat_conductance",
    "condenser_volume",
    "evaporator_volume",
    "throat_ratio",
    "valve_reserve",
    "valve_gain",
    "slip_exponent",
    "remix_share",
)
# How near to an end, as a share of the range.
NEAR_END = 0.12
# Subcooling over the difference of bubble point and outdoor air at rating A.
LARGEST_SUBCOOLING_SHARE = 0.88
SUPERHEAT_ORIFICE = (12.5 * F, 2.5 * F, 6.0 * F, 20.0 * F)
SUPERHEAT_VALVE = (9.0 * F, 2.2 * F, 4.0 * F, 16.0 * F)


class Ranges(Record):
    """The ranges of one population: normal (mean, deviation, low, high) or plain (low, high), kelvin and factors.

    Plain ranges are drawn evenly. outdoor: weather [degF]; unusual [0..1]: share of units with every one of
    ``UNUSUAL`` near an end of its range; calibrated_tubes [0..1]: share of short tubes without any part of the
    published correlation, which hardly depends on the evaporating pressure where others do; humidity [0..1]: of
    the return air; held_back: see ``charge_held_back``.
    """

    evaporating: tuple[float, float, float, float]
    condensing_over_outdoor: tuple[float, float, float, float]
    subcooling: tuple[float, float, float, float] = (10.0 * F, 2.4 * F, 4.0 * F, 17.0 * F)
    airflow: tuple[float, float, float, float] = (1.0, 0.07, 0.85, 1.15)
    components: dict[str, tuple[float, float]] = field(default_factory=lambda: COMPONENTS)
    amps_at_rating: tuple[float, float] = (0.6, 0.87)
    outdoor: tuple[float, float] = (65.0, 115.0)
    unusual: float = 0.0
    calibrated_tubes: float = 0.0
    humidity: tuple[float, float] = (0.28, 0.72)
    held_back: tuple[float, float] = (0.0, 0.0)


# Trade expectation: evaporating 40-47 degF, condensing 15-25 degF over outdoor; both widened. A sound unit of SEER
# 13 was measured to boil at 52 degF (NISTIR 7350, appendix D; see tests/laboratory). The same measurements hold
# rooms of 17 % relative humidity, and a valve unit whose charge acted up to a tenth smaller in cool, dry weather
# than this model has it.
STANDARD = Ranges(
    (FAHRENHEIT_ZERO + 46.0 * F, 2.6 * F, FAHRENHEIT_ZERO + 39.5 * F, FAHRENHEIT_ZERO + 54.0 * F),
    (21.0 * F, 4.3 * F, 12.0 * F, 32.0 * F),
    unusual=0.6,
    calibrated_tubes=0.5,
    humidity=(0.12, 0.75),
    held_back=(0.0, 1.6),
)
HIGH = replace(
    STANDARD,
    evaporating=(FAHRENHEIT_ZERO + 48.2 * F, 2.6 * F, FAHRENHEIT_ZERO + 42.0 * F, FAHRENHEIT_ZERO + 55.5 * F),
    condensing_over_outdoor=(14.5 * F, 3.2 * F, 8.0 * F, 22.0 * F),
)
EFFICIENCY_RANGES = {"standard": STANDARD, "high": HIGH}


def draw_designs(
    rng: np.random.Generator, ranges: Ranges, has_valve: bool, count: int, glide: float = 0.0
) -> Design:
    """Draw designs of one population; glide: of the refrigerant while condensing [K]."""
    superheat = SUPERHEAT_VALVE if has_valve else SUPERHEAT_ORIFICE
    over_outdoor = _normal(rng, ranges.condensing_over_outdoor, count)
    subcooling = _normal(rng, ranges.subcooling, count)
    # Liquid cannot be cooled below the outdoor air, and not close to it: the bubble point stands above both.
    needed = subcooling / LARGEST_SUBCOOLING_SHARE + 0.5 * glide
    return Design(
        evaporating=_normal(rng, ranges.evaporating, count),
        condensing_over_outdoor=np.maximum(over_outdoor, needed),
        superheat=_normal(rng, superheat, count),
        subcooling=subcooling,
        airflow=_normal(rng, ranges.airflow, count),
        **_components(rng, ranges, count),
    )


def _components(rng: np.random.Generator, ranges: Ranges, count: int) -> dict[str, Array]:
    drawn: dict[str, Array] = {name: rng.uniform(*limits, count) for name, limits in ranges.components.items()}
    if ranges.unusual > 0.0:
        chosen = rng.random(count) < ranges.unusual
        for name in UNUSUAL:
            drawn[name] = np.where(chosen, _near_an_end(rng, *ranges.components[name], count), drawn[name])
    if ranges.calibrated_tubes > 0.0:
        drawn["published_tube"] *= rng.random(count) >= ranges.calibrated_tubes
    return drawn


def _near_an_end(rng: np.random.Generator, low: float, high: float, count: int) -> Array:
    away = rng.uniform(0.0, NEAR_END * (high - low), count)
    return np.asarray(np.where(rng.random(count) < 0.5, low + away, high - away))


def draw_weather(rng: np.random.Generator, ranges: Ranges, count: int) -> Operation:
    """Draw conditions and the small faults every sound unit has: charge, airflow, valves, drier."""
    pressure = np.where(rng.random(count) < 0.6, STANDARD_PRESSURE, rng.uniform(83e3, 102e3, count))
    dry_bulb = FAHRENHEIT_ZERO + F * rng.uniform(68.0, 86.0, count)
    ratio = air.ratio_from_relative_humidity(dry_bulb, rng.uniform(*ranges.humidity, count), pressure)
    one, zero = np.ones(count), np.zeros(count)
    return Operation(
        outdoor=FAHRENHEIT_ZERO + F * rng.uniform(*ranges.outdoor, count),
        return_dry_bulb=dry_bulb,
        return_ratio=ratio,
        pressure=pressure,
        charge=rng.uniform(0.97, 1.03, count),
        indoor_flow=rng.uniform(0.95, 1.05, count),
        outdoor_flow=rng.uniform(0.92, 1.02, count),
        outdoor_conductance=one,
        leakage=rng.uniform(0.0, 0.04, count),
        restriction=zero,
        drier_loss=rng.uniform(0.0, 60e3, count),
        foreign_gas=zero,
        opening_limit=AMPLE_OPENING * one,
        orifice_area=one,
        setpoint_shift=zero,
    )


def charge_held_back(share: Array, operation: Operation) -> Array:
    """Factor on the charge that acts in a unit with a valve, 1 in warm and moist weather.

    The measured unit's subcooling fell in cool and dry weather where this model's rises; the charge one would have
    to take away to match it grows by .30 % a kelvin outdoors below 305 K and .66 % a kelvin of return wet bulb
    below 292.6 K (least squares). Why is not known (liquid in the coil, refrigerant in the oil), so each unit has
    a share of it.

    Parameters: share [0..1.6]: of the measured effect, by unit. Source: NISTIR 7350, appendix D, unit of tests
    without fault, against this model (tests/RESULTS.md, Against a laboratory).
    """
    wet_bulb = air.wet_bulb(operation.return_dry_bulb, operation.return_ratio, operation.pressure)
    cool, dry = np.maximum(305.0 - operation.outdoor, 0.0), np.maximum(292.6 - wet_bulb, 0.0)
    return np.asarray(1.0 - share * (0.0030 * cool + 0.0066 * dry))


def draw_placement(rng: np.random.Generator, ranges: Ranges, design: Design, rated_power: Array) -> Placement:
    """Draw where instruments sit and what the nameplate says."""
    count = design.superheat.size
    return Placement(
        suction_pull=rng.uniform(0.0, 0.06, count),
        liquid_pull=rng.uniform(0.0, 0.06, count),
        discharge_loss=F * rng.uniform(2.0, 10.0, count),
        duct_gain=rng.uniform(0.0, 0.6, count),
        amps_at_rating=rng.uniform(*ranges.amps_at_rating, count),
        rated_power=rated_power,
        standing_share=rng.uniform(0.28, 0.5, count),
        standing_offset=rng.normal(0.0, 0.4, count),
        drier_span=(rng.random(count) > 0.05).astype(np.float64),
        drier_offset=rng.normal(0.0, 0.1, count),
        nameplate_subcooling=design.subcooling + rng.normal(0.0, 0.6, count),
        nameplate_superheat=design.superheat + design.suction_gain + rng.normal(0.0, 0.8, count),
    )


def _normal(rng: np.random.Generator, limits: tuple[float, float, float, float], count: int) -> Array:
    mean, deviation, low, high = limits
    values = rng.normal(mean, deviation, count)
    # Reflect what falls outside, so that no heap grows at the limits.
    values = np.where(values < low, 2.0 * low - values, np.where(values > high, 2.0 * high - values, values))
    return np.asarray(np.clip(values, low, high))
