"""What is drawn for the population: units of an unusual make, tubes without correlation, charge that acts.

The shares are choices of this project; what the charge does in cool and dry weather is measured (NISTIR 7350,
appendix D, through tests/laboratory).
"""

import numpy as np
import pytest

from service.results.record import replace
from service.workshop.build.population_sampling import (
    COMPONENTS,
    HIGH,
    NEAR_END,
    STANDARD,
    UNUSUAL,
    Ranges,
    charge_held_back,
    draw_designs,
    draw_weather,
)
from tests.laboratory import unit
from tests.physics.cycle.systems import weather

COUNT = 4000


def _designs(ranges: Ranges):
    return draw_designs(np.random.default_rng(5), ranges, False, COUNT)


def _near_an_end(values: np.ndarray, name: str) -> np.ndarray:
    low, high = COMPONENTS[name]
    return np.minimum(values - low, high - values) <= NEAR_END * (high - low)


@pytest.mark.parametrize("ranges", [STANDARD, HIGH])
def test_an_unusual_unit_is_unusual_in_all_its_parts(ranges):
    design = _designs(ranges)
    near = np.stack([_near_an_end(getattr(design, name), name) for name in UNUSUAL])
    # Of the others a quarter stands there by chance, in one part or another, hardly ever in all.
    assert near.all(axis=0).mean() == pytest.approx(ranges.unusual, abs=0.03)
    for name in UNUSUAL:
        low, high = COMPONENTS[name]
        values = getattr(design, name)
        assert low <= values.min() < low + 0.01 * (high - low)
        assert high - 0.01 * (high - low) < values.max() <= high


def test_ranges_that_ask_for_no_unusual_units_have_none():
    design = _designs(replace(STANDARD, unusual=0.0))
    near = np.stack([_near_an_end(getattr(design, name), name) for name in UNUSUAL])
    assert near.mean() == pytest.approx(2.0 * NEAR_END, abs=0.02)
    assert near.all(axis=0).mean() == 0.0


def test_some_tubes_hold_nothing_of_the_correlation():
    design = _designs(STANDARD)
    assert (design.published_tube == 0.0).mean() == pytest.approx(STANDARD.calibrated_tubes, abs=0.03)
    assert design.published_tube.max() > 0.99


def test_dry_rooms_are_drawn():
    rooms = draw_weather(np.random.default_rng(5), STANDARD, COUNT)
    assert rooms.return_ratio.min() < 0.003


def test_charge_held_back_is_what_the_measured_unit_asked_for():
    # Share of the charge that had to be taken away from the model to meet the measured subcooling, by condition.
    asked = {7: 0.0, 3: 0.03, 8: 0.04, 16: 0.05, 11: 0.06, 2: 0.075, 10: 0.095}
    row = {condition: at for at, condition in enumerate(unit.CONDITIONS)}
    outdoor, inside = unit.kelvins("outdoor"), unit.kelvins("return_dry_bulb")
    wet = unit.wet_bulbs("return")
    for condition, share in asked.items():
        at = row[condition]
        operation = weather(float(outdoor[at]), float(inside[at]), float(wet[at]), 1)
        assert charge_held_back(np.ones(1), operation)[0] == pytest.approx(1.0 - share, abs=0.015)
        assert charge_held_back(np.zeros(1), operation)[0] == 1.0
