"""Propagation against the guide's rules and against Monte Carlo."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.knowledge.refrigerants import find
from service.physics.moist_air import from_wet_bulb
from service.physics.uncertainty import Uncertain, propagate, propagate_all, read

SAMPLES = 200_000
SEED = 20240511


def simulated_half_width(formula, *inputs):
    """95 % half-width (k = 2) of a formula of independent normal inputs (JCGM 101:2008)."""
    generator = np.random.default_rng(SEED)
    drawn = [generator.normal(item.value, item.half_width / 2.0, SAMPLES) for item in inputs]
    return 2.0 * float(np.std(formula(*drawn)))


def test_independent_readings_add_in_squares():
    """JCGM 100:2008, equation 10."""
    assert (read("a", 10.0, 3.0) + read("b", 5.0, 4.0)).half_width == pytest.approx(5.0)
    assert (read("a", 10.0, 3.0) - read("b", 5.0, 4.0)).half_width == pytest.approx(5.0)


def test_one_gauge_used_twice_cancels_in_a_difference_and_doubles_in_a_sum():
    gauge = read("gauge", 10.0, 3.0)
    assert (gauge - gauge).half_width == 0.0
    assert (gauge + gauge).half_width == pytest.approx(6.0)
    assert (gauge / gauge).half_width == 0.0


def test_compression_ratio_against_monte_carlo():
    high, low = read("high", 2.5e6, 48e3), read("low", 0.9e6, 24e3)
    assert (high / low).half_width == pytest.approx(simulated_half_width(lambda a, b: a / b, high, low), rel=0.02)


def test_ratio_and_difference_of_one_pair_of_gauges_keep_their_correlation():
    """(high - low) / low uses the suction gauge twice: wrong by a fifth if its two uses were independent."""
    high, low = read("high", 1.2e6, 48e3), read("low", 0.9e6, 48e3)
    got = (high - low) / low
    assert got.half_width == pytest.approx(simulated_half_width(lambda a, b: (a - b) / b, high, low), rel=0.02)
    careless = ((high - low) / Uncertain(low.value, {"another": 48e3})).half_width
    assert abs(careless / got.half_width - 1.0) > 0.1


@pytest.mark.parametrize("name", ["R-22", "R-410A", "R-407C"])
def test_superheat_through_the_saturation_line_against_monte_carlo(name):
    curve = find(name).saturation
    suction, line = read("gauge", curve.dew_pressure(278.15), 24e3), read("clamp", 285.0, 0.72)
    superheat = line - propagate(curve.dew_temperature, suction)
    expected = simulated_half_width(lambda p, t: t - curve.dew_temperature_array(p), suction, line)
    assert superheat.half_width == pytest.approx(expected, rel=0.02)


def test_enthalpy_of_moist_air_against_monte_carlo():
    dry, wet = read("dry", 299.8, 0.72), read("wet", 292.6, 0.72)
    enthalpy = propagate(lambda a, b: from_wet_bulb(a, b, 101325.0).enthalpy, dry, wet)
    vectorised = np.vectorize(lambda a, b: from_wet_bulb(a, min(a, b), 101325.0).enthalpy)
    generator = np.random.default_rng(SEED)
    drawn = vectorised(generator.normal(299.8, 0.36, 20_000), generator.normal(292.6, 0.36, 20_000))
    assert enthalpy.half_width == pytest.approx(2.0 * float(np.std(drawn)), rel=0.03)


def test_the_edge_of_a_table_is_taken_from_the_side_that_answers():
    def above_one(value):
        if value < 1.0:
            raise ValueError
        return 3.0 * value

    assert propagate(above_one, read("a", 1.0, 0.5)).half_width == pytest.approx(1.5)
    assert propagate(lambda value: -above_one(2.0 - value), read("a", 1.0, 0.5)).half_width == pytest.approx(1.5)


def test_an_exact_input_adds_nothing():
    assert propagate(lambda a, b: a * b, read("a", 2.0, 0.1), Uncertain(3.0)).half_width == pytest.approx(0.3)


def test_sources_are_named_by_weight():
    assert (read("small", 1.0, 0.1) + read("large", 1.0, 0.5) * -1.0).sources == ("large", "small")


@given(st.floats(0.1, 1e3), st.floats(0.1, 1e3), st.floats(0.0, 10.0))
def test_scaling_scales_the_uncertainty(value, factor, width):
    scaled = read("a", value, width) * factor
    assert scaled.half_width == pytest.approx(width * factor)
    assert scaled.quantity("ratio").uncertainty == scaled.half_width


def test_several_values_of_one_state_have_the_slopes_they_would_have_alone():
    """At saturation the wet bulb can only move down: that side alone is taken for both values."""
    dry, wet = read("dry", 299.8, 0.72), read("wet", 299.8, 0.72)

    def both(a, b):
        air = from_wet_bulb(a, b, 101325.0)
        return air.enthalpy, air.humidity_ratio

    enthalpy, humidity_ratio = propagate_all(both, dry, wet)
    assert enthalpy == propagate(lambda a, b: from_wet_bulb(a, b, 101325.0).enthalpy, dry, wet)
    assert humidity_ratio == propagate(lambda a, b: from_wet_bulb(a, b, 101325.0).humidity_ratio, dry, wet)
    assert enthalpy.half_width > 0.0
