"""Visits to installed units by the second model: charge and airflow each as the field has them, by themselves.

No unit has any other fault. Charge and airflow of every unit are drawn from the whole distributions of the same
source as ``second`` (Winkler et al. 2020: 206 and 354 units), independently, because the source does not say what
goes with what. A unit is labelled by what is beyond the smallest fault of ``FAULT_LEVELS``; the others are sound.
Two faults at once are labelled by their pair.
"""

import numpy as np

from service.knowledge.cycle_model import CLASSES, FAULT_LEVELS, SOUND
from tests.outside.machine import Machine
from tests.outside.second import AIRFLOW, CHARGE, Array, visits_to
from tests.simulated.populations import HeldOut

RIGHT_CHARGE = (0.988, 57)
MORE_AIRFLOW = ((353.1, 65), (402.7, 54), (452.3, 35), (501.9, 21), (551.5, 5), (601.0, 3), (650.6, 4), (700.2, 1))
CHARGE_WIDTH, AIRFLOW_WIDTH, DESIGN_AIRFLOW = 0.139, 49.6, 400.0
# The coil and blower of a unit hold no more than this over its design airflow; a choice of these tests.
MOST_AIR = 1.15


def installed_visits(refrigerant: str, metering: str, count: int, seed: int) -> HeldOut:
    """Visits to ``count`` installed units."""
    rng = np.random.default_rng(seed)
    charge = _drawn(rng, (*CHARGE["undercharge"], RIGHT_CHARGE, *CHARGE["overcharge"]), CHARGE_WIDTH, count)
    air = _drawn(rng, (*AIRFLOW, *MORE_AIRFLOW), AIRFLOW_WIDTH, count) / DESIGN_AIRFLOW
    charge = np.clip(charge, 1.0 - FAULT_LEVELS["undercharge"][1], 1.0 + FAULT_LEVELS["overcharge"][1])
    air = np.clip(air, 1.0 - FAULT_LEVELS["low_indoor_airflow"][1], MOST_AIR)
    label, share = _labels(charge, air)

    def faulty(weather: Machine) -> Machine:
        return weather.but(charge=charge, indoor_flow=air)

    return visits_to(rng, refrigerant, metering, (label, share), faulty)


def _drawn(rng: np.random.Generator, bins: tuple[tuple[float, int], ...], width: float, count: int) -> Array:
    middles, units = (np.array(values, dtype=float) for values in zip(*bins, strict=True))
    return rng.choice(middles, count, p=units / units.sum()) + rng.uniform(-0.5 * width, 0.5 * width, count)


def _labels(charge: Array, air: Array) -> tuple[Array, Array]:
    """Index into CLASSES, and the larger of the places in the ranges of size."""
    sizes = {"undercharge": 1.0 - charge, "overcharge": charge - 1.0, "low_indoor_airflow": 1.0 - air}
    names, place = np.full(charge.size, "", dtype=object), np.zeros(charge.size)
    for name, size in sizes.items():
        low, high = FAULT_LEVELS[name]
        is_faulty = size >= low
        names = np.where(is_faulty, np.where(names == "", name, names + "+" + name), names)
        place = np.where(is_faulty, np.maximum(place, (size - low) / (high - low)), place)
    return np.array([CLASSES.index(name or SOUND) for name in names]), place
