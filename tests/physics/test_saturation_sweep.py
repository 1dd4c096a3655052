"""Rules that the saturation lines of every refrigerant keep over the whole range, whatever the values."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.knowledge.refrigerants import all_refrigerants, find
from service.results.out_of_range import OutOfRange

BY_PRESSURE = ("bubble_temperature", "dew_temperature")
BY_TEMPERATURE = ("bubble_pressure", "dew_pressure")
CURVES = [pytest.param(item.saturation, id=item.designation) for item in all_refrigerants()]


def temperatures(curve, count=173):
    return np.linspace(curve.lowest_temperature, curve.highest_temperature, count)


def pressures(curve, count=173):
    # Rounding of the logarithm must not put the ends themselves outside.
    inner = np.geomspace(curve.lowest_pressure, curve.highest_pressure, count)[1:-1]
    return np.array([curve.lowest_pressure, *inner, curve.highest_pressure])


@pytest.mark.parametrize("curve", CURVES)
@pytest.mark.parametrize("line", ["bubble", "dew"])
def test_from_temperature_to_pressure_and_back(curve, line):
    for temperature in temperatures(curve):
        pressure = getattr(curve, f"{line}_pressure")(float(temperature))
        assert getattr(curve, f"{line}_temperature")(pressure) == pytest.approx(temperature, abs=0.01)


@pytest.mark.parametrize("curve", CURVES)
@pytest.mark.parametrize("name", BY_PRESSURE)
def test_temperature_rises_with_pressure(curve, name):
    values = [getattr(curve, name)(float(pressure)) for pressure in pressures(curve)]
    assert all(before < after for before, after in pairwise(values))


@pytest.mark.parametrize("curve", CURVES)
@pytest.mark.parametrize("name", BY_TEMPERATURE)
def test_pressure_rises_with_temperature(curve, name):
    values = [getattr(curve, name)(float(temperature)) for temperature in temperatures(curve)]
    assert all(before < after for before, after in pairwise(values))


@pytest.mark.parametrize("curve", CURVES)
def test_dew_is_never_colder_than_bubble(curve):
    for pressure in pressures(curve, 997):
        assert curve.dew_temperature(float(pressure)) >= curve.bubble_temperature(float(pressure))
    for temperature in temperatures(curve, 997):
        assert curve.bubble_pressure(float(temperature)) >= curve.dew_pressure(float(temperature))


@pytest.mark.parametrize("curve", CURVES)
@pytest.mark.parametrize("line", ["bubble", "dew"])
def test_the_slope_is_the_difference_of_close_values(curve, line):
    value = getattr(curve, f"{line}_temperature")
    for pressure in pressures(curve)[1:-1]:
        at, step = float(pressure), float(pressure) * 1e-5
        difference = (value(at + step) - value(at - step)) / (2.0 * step)
        assert getattr(curve, f"{line}_temperature_slope")(at) == pytest.approx(difference, rel=1e-4)


@pytest.mark.parametrize("curve", CURVES)
def test_many_values_at_once_are_the_single_values(curve):
    for names, points in ((BY_PRESSURE, pressures(curve)), (BY_TEMPERATURE, temperatures(curve))):
        for name in names:
            singly = [getattr(curve, name)(float(point)) for point in points]
            # numpy's logarithm may differ from the C library's in the last bit.
            assert getattr(curve, f"{name}_array")(points) == pytest.approx(singly, rel=1e-12)


@pytest.mark.parametrize("curve", CURVES)
@pytest.mark.parametrize(("quantity", "names"), [("pressure", BY_PRESSURE), ("temperature", BY_TEMPERATURE)])
def test_outside_the_range_there_is_no_number(curve, quantity, names):
    low, high = getattr(curve, f"lowest_{quantity}"), getattr(curve, f"highest_{quantity}")
    for name in names:
        for value in (low * (1.0 - 1e-9), high * (1.0 + 1e-9), 0.0, -1.0, math.inf, math.nan):
            for ask in (
                lambda value=value, name=name: getattr(curve, name)(value),
                lambda value=value, name=name: getattr(curve, f"{name}_array")(np.array([low, value])),
            ):
                with pytest.raises(OutOfRange) as refusal:
                    ask()
                assert (refusal.value.quantity, refusal.value.low, refusal.value.high) == (
                    quantity,
                    low,
                    high,
                )


@given(st.floats())
def test_any_pressure_is_answered_inside_the_range_or_refused(pressure):
    curve = find("R-454B").saturation
    try:
        bubble, dew = curve.bubble_temperature(pressure), curve.dew_temperature(pressure)
    except OutOfRange:
        assert not curve.lowest_pressure <= pressure <= curve.highest_pressure
    else:
        assert 180.0 < bubble <= dew < find("R-454B").critical_temperature
