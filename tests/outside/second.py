"""Visits to units of the second model: field shares of faults, slight ones mostly. Frozen by their seeds.

Shares of charge and airflow faults and their sizes: installed units as a national stock model carries them
(Winkler et al., Applied Energy 278, 2020, in the charge and airflow tables of that model: 206 and 354 units;
bins in ``CHARGE`` and ``AIRFLOW``). Sizes of the other faults: small ones likelier, a choice of these tests.
"""

from collections.abc import Callable

import numpy as np

from service.knowledge.cycle_model import FAULT_LEVELS, FAULTS, SOUND
from service.physics.cycle import air
from service.physics.cycle.readings import BASELINE_COUNT
from service.reasoning.cycle.posterior import CAUSES
from service.workshop.build.population_fluids import fit_refrigerant
from tests.outside.fluid import saturation
from tests.outside.machine import Machine
from tests.outside.solving import Plant, rated, sized, solve
from tests.simulated.populations import CONDITIONS, INSTRUMENTS, HeldOut, gauge_deviations

Array = np.ndarray
F = 5.0 / 9.0
ZERO_F = 255.3722
# Middle of a bin and units in it; a bin is .139 and 49.6 cfm a ton wide.
CHARGE = {
    "undercharge": ((0.57, 8), (0.709, 15), (0.848, 64)),
    "overcharge": ((1.127, 51), (1.266, 5), (1.405, 6)),
}
AIRFLOW = ((154.8, 9), (204.4, 31), (254.0, 51), (303.5, 75))
# Of a hundred visits to a call or a check, by fault; a choice of these tests guided by the same source.
VISITS = {
    SOUND: 40,
    "undercharge": 15,
    "overcharge": 10,
    "low_indoor_airflow": 13,
    "outdoor_coil_blocked": 7,
    "liquid_line_restriction": 3,
    "non_condensables": 3,
    "compressor_not_pumping": 3,
    "metering_overfeeding": 3,
    "metering_underfeeding": 3,
}
AT_DRIER = 0.7  # share of restrictions that two clamps at the drier can see
CLAMP = 1.0 * F
SEED = 77_001


def second_visits(refrigerant: str, metering: str, hundreds: int, seed: int, rough: float = 1.0) -> HeldOut:
    """Visits to single units, each with at most one fault.

    Parameters: hundreds: how often ``VISITS`` is drawn; rough: factor on the errors of the ordinary instruments.
    """
    rng = np.random.default_rng(seed)
    label = np.repeat([CAUSES.index(name) for name in VISITS], [hundreds * count for count in VISITS.values()])
    plant = _plants(rng, refrigerant, metering == "expansion_valve", label.size)
    size = sizes_of(rng, label)
    truth = label, shares_of(label, size)
    return _visited(rng, refrigerant, metering, plant, truth, lambda run: with_faults(run, label, size), rough)


def visits_to(
    rng: np.random.Generator,
    refrigerant: str,
    metering: str,
    truth: tuple[Array, Array],
    faulty: Callable[[Machine], Machine],
) -> HeldOut:
    """Visits to newly drawn units.

    Parameters: truth: label into CLASSES and share of the range of size; faulty: what a sound unit's operation
    becomes.
    """
    plant = _plants(rng, refrigerant, metering == "expansion_valve", truth[0].size)
    return _visited(rng, refrigerant, metering, plant, truth, faulty, 1.0)


def _visited(
    rng: np.random.Generator,
    refrigerant: str,
    metering: str,
    plant: Plant,
    truth: tuple[Array, Array],
    faulty: Callable[[Machine], Machine],
    rough: float,
) -> HeldOut:
    label, share = truth
    weather, other = weather_of(rng, label.size), weather_of(rng, label.size)
    placement = placed_in(rng, label.size)
    today, ok = _read(plant, faulty(weather), placement)
    sound, sound_ok = _read(plant, other, placement)
    kept = ok & sound_ok & (today[:, 0] > 258.0) & (today[:, 1] < 336.0)
    return by_instruments(
        rng,
        refrigerant,
        metering,
        (label[kept], share[kept]),
        [part[kept] for part in (today, sound)],
        [_conditions(one)[kept] for one in (weather, other)],
        rough,
    )


def _plants(rng: np.random.Generator, refrigerant: str, has_valve: bool, count: int) -> Plant:
    def normal(mean: float, deviation: float, low: float, high: float) -> Array:
        return np.clip(rng.normal(mean, deviation, count), low, high)

    one = np.ones(count)
    boiling = normal(47.5 if refrigerant == "R-410A" else 45.5, 3.2, 39.0, 56.0)
    values = {
        "boiling": ZERO_F + F * boiling,
        "condensing": 308.15 + F * normal(21.0, 5.0, 11.0, 36.0),
        "superheat": F * (normal(9.0, 2.5, 4.0, 17.0) if has_valve else normal(12.0, 3.0, 5.0, 21.0)),
        "subcooling": F * normal(10.5, 3.0, 3.5, 18.0),
        "air": 0.2272 * normal(1.0, 0.07, 0.84, 1.16),
        "suction_drop": rng.uniform(0.2, 1.0, count),
        "suction_gain": rng.uniform(0.4, 1.8, count),
        "shell_loss": rng.uniform(0.02, 0.15, count),
        "drier_loss": rng.uniform(0.5e4, 4e4, count),
        "charge_scale": rng.uniform(18.0, 36.0, count),
        "superheat_holds": rng.uniform(0.0, 0.15, count) if has_valve else rng.uniform(0.05, 0.35, count),
        "head_holds": rng.uniform(-0.25, 0.25, count),
        "clearance": rng.uniform(0.01, 0.06, count),
        "efficiency": rng.uniform(0.62, 0.76, count),
        "efficiency_fall": rng.uniform(0.01, 0.035, count),
        "best_ratio": rng.uniform(2.3, 3.3, count),
        "discharge_heat": (1250.0 if refrigerant == "R-410A" else 950.0) * one,
        "blower_rise": rng.uniform(0.3, 1.0, count),
        "subcool_feeds": rng.uniform(0.008, 0.03, count),
        "static": F * rng.uniform(2.0, 3.8, count),
        "most_open": rng.uniform(1.25, 2.0, count),
        "inside_resistance": rng.uniform(2e-4, 1e-3, count),
        "gas_resistance": rng.uniform(2.0, 7.0, count),
        "outdoor_transfer": rng.uniform(0.9, 2.0, count),
        "gas_share": rng.uniform(0.25, 0.7, count),
        "liquid_share": rng.uniform(0.3, 0.8, count),
    }
    values["condensing"] = np.maximum(values["condensing"], 308.15 + values["subcooling"] / 0.85)
    values |= dict.fromkeys(("displacement", "area", "flow", "lift", "contact", "outdoor_air"), one)
    return sized(saturation(refrigerant), has_valve, Machine(values))


def weather_of(rng: np.random.Generator, count: int) -> Machine:
    """Weather and return air at each visit, and how far sound units are from their design."""
    dry = ZERO_F + F * np.clip(rng.normal(76.0, 3.0, count), 69.0, 85.0)
    pressure = np.where(rng.random(count) < 0.7, 101_325.0, rng.uniform(84e3, 101e3, count))
    ratio = air.ratio_from_relative_humidity(dry, np.clip(rng.normal(0.5, 0.08, count), 0.25, 0.72), pressure)
    return rated(count).but(
        outdoor=ZERO_F + F * np.clip(rng.normal(89.0, 9.0, count), 68.0, 112.0),
        return_dry_bulb=dry,
        return_ratio=ratio,
        pressure=pressure,
        charge=rng.uniform(0.96, 1.04, count),
        indoor_flow=rng.uniform(0.93, 1.05, count),
        outdoor_flow=rng.uniform(0.9, 1.02, count),
        leakage=rng.uniform(0.0, 0.04, count),
    )


def sizes_of(rng: np.random.Generator, label: Array) -> Array:
    """Size of each fault in its own measure (``LEVEL_MEASURES``); 0 where sound."""
    size = np.zeros(label.size)
    for name in FAULTS:
        chosen = label == CAUSES.index(name)
        low, high = FAULT_LEVELS[name]
        count = int(chosen.sum())
        if name in CHARGE:
            size[chosen] = np.clip(np.abs(_binned(rng, CHARGE[name], 0.139, count) - 1.0), low, high)
        elif name == "low_indoor_airflow":
            size[chosen] = np.clip(1.0 - _binned(rng, AIRFLOW, 49.6, count) / 400.0, low, high)
        else:
            size[chosen] = low + (high - low) * rng.beta(1.2, 2.0, count)
    return size


def _binned(rng: np.random.Generator, bins: tuple[tuple[float, int], ...], width: float, count: int) -> Array:
    shares = np.array([units for _, units in bins], dtype=float)
    middles = np.array([middle for middle, _ in bins])
    chosen = rng.choice(middles, count, p=shares / shares.sum())
    return chosen + rng.uniform(-0.5 * width, 0.5 * width, count)


def shares_of(label: Array, size: Array) -> Array:
    """Place of each size in the range of its fault; 0 where sound."""
    share = np.zeros(label.size)
    for name in FAULTS:
        chosen = label == CAUSES.index(name)
        low, high = FAULT_LEVELS[name]
        share[chosen] = (size[chosen] - low) / (high - low)
    return share


def with_faults(run: Machine, label: Array, size: Array) -> Machine:
    """Operation with the one fault of each unit."""

    def of(name: str) -> Array:
        return np.where(label == CAUSES.index(name), size, 0.0)

    blocked, low_air, over = of("outdoor_coil_blocked"), of("low_indoor_airflow"), of("metering_overfeeding")
    under = of("metering_underfeeding")
    return run.but(
        charge=run["charge"] * (1.0 - of("undercharge") + of("overcharge")),
        indoor_flow=run["indoor_flow"] * (1.0 - low_air),
        outdoor_flow=run["outdoor_flow"] * (1.0 - blocked),
        fin_share=1.0 - 0.3 * blocked,
        restriction=of("liquid_line_restriction"),
        foreign=of("non_condensables"),
        leakage=1.0 - (1.0 - run["leakage"]) * (1.0 - of("compressor_not_pumping")),
        area=(1.0 + 0.6 * over) * (1.0 - under),
        static_shift=-9.0 * over,
        opening=1.0 - under,
    )


def placed_in(rng: np.random.Generator, count: int) -> dict[str, Array]:
    """What instruments and ducts do to the readings of each unit, and what its nameplate says."""
    return {
        "suction_pull": rng.uniform(0.0, 0.06, count),
        "liquid_pull": rng.uniform(0.0, 0.06, count),
        "discharge_loss": F * rng.uniform(2.0, 11.0, count),
        "duct_gain": rng.uniform(0.0, 0.6, count),
        "amps": rng.uniform(0.58, 0.88, count),
        "standing": rng.uniform(0.25, 0.5, count),
        "standing_offset": rng.normal(0.0, 0.4, count),
        "seen": (rng.random(count) < AT_DRIER).astype(float),
        "nameplate": rng.normal(0.0, 0.8, count),
        "nameplate_superheat": rng.normal(0.0, 1.0, count),
    }


def _read(plant: Plant, run: Machine, placed: dict[str, Array]) -> tuple[Array, Array]:
    """Readings free of instruments' errors (n x 14) and which units were solved."""
    fluid, unit = plant.fluid, plant.unit
    found, ok = solve(plant, run)
    at_rating, rated_ok = solve(plant, rated(run["outdoor"].size))
    outdoor = run["outdoor"]
    supply = found["supply"] + placed["duct_gain"]
    ratio = np.minimum(found["supply_ratio"], air.saturation_ratio(supply, run["pressure"]))
    standing = fluid.at("pressure", outdoor) + placed["standing"] * run["foreign"] * found["gauge"]
    values = [
        found["suction_saturation"],
        fluid.temperature(found["gauge"]),
        found["suction_line"] + placed["suction_pull"] * (outdoor - found["suction_line"]),
        found["liquid_line"] + placed["liquid_pull"] * (outdoor - found["liquid_line"]),
        found["discharge"] - placed["discharge_loss"],
        supply,
        air.wet_bulb(supply, ratio, run["pressure"]),
        found["leaving_air"],
        unit["air"] / 0.2272 * run["indoor_flow"],
        placed["amps"] * found["power"] / at_rating["power"],
        placed["seen"] * (found["liquid_line"] - found["drier_outlet"]),
        fluid.temperature(standing) - outdoor + placed["standing_offset"],
        unit["subcooling"] + placed["nameplate"],
        unit["superheat"] + unit["suction_gain"] + placed["nameplate_superheat"],
    ]
    table = np.stack(values, axis=1)
    return table, ok & rated_ok & np.isfinite(table).all(axis=1)


def _conditions(run: Machine) -> Array:
    wet = air.wet_bulb(run["return_dry_bulb"], run["return_ratio"], run["pressure"])
    return np.stack([run["outdoor"], run["return_dry_bulb"], wet, run["pressure"]], axis=1)


def by_instruments(
    rng: np.random.Generator,
    refrigerant: str,
    metering: str,
    truth: tuple[Array, Array],
    values: list[Array],
    conditions: list[Array],
    rough: float,
) -> HeldOut:
    """Visits as ordinary instruments read them; values: of today and of the sound unit, free of errors."""
    deviations = rough * gauge_deviations(values[0], conditions[0], fit_refrigerant(refrigerant))
    spread = rough * np.array([INSTRUMENTS[name] for name in CONDITIONS] + [0.0])
    shown = [one + spread * rng.normal(size=one.shape) for one in conditions]
    for one in shown:
        one[:, 2] = np.minimum(one[:, 2], one[:, 1])
    sound = values[1][:, :BASELINE_COUNT]
    return HeldOut(
        refrigerant,
        metering,
        "standard",
        truth[0],
        truth[1],
        np.zeros((truth[0].size, 2)),
        values[0] + deviations * rng.normal(size=deviations.shape),
        shown[0],
        sound + deviations[:, :BASELINE_COUNT] * rng.normal(size=sound.shape),
        shown[1],
        deviations,
        rough,
    )
