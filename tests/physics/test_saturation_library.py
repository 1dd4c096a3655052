"""Saturation lines against the property library from which the tables are built, off the knots.

By default a few dozen points a line; SATURATION_POINTS=1000 tries as many as that.
"""

import os

import numpy as np
import pytest
from CoolProp import CoolProp

from service.knowledge.refrigerant_rows import refrigerant_data
from service.knowledge.refrigerants import find
from service.workshop.build.equilibrium import LIQUID, VAPOUR, saturation_line
from service.workshop.build.tables import model_of

POINTS = int(os.environ.get("SATURATION_POINTS", "29"))
ALLOWED = 0.005  # [K] what the tables promise against the library
ROWS = [pytest.param(row, id=row.designation) for row in refrigerant_data().refrigerants]
QUALITIES = [pytest.param(LIQUID, id="bubble"), pytest.param(VAPOUR, id="dew")]


def fresh_flash(row, quality):
    """Saturation states at odd temperatures, each solved from nothing, where the library finds them."""
    curve, state = find(row.designation).saturation, model_of(row).state()
    found = []
    for temperature in np.linspace(curve.lowest_temperature + 0.01, curve.highest_temperature - 0.01, POINTS):
        try:
            state.update(CoolProp.QT_INPUTS, quality, float(temperature))
        except ValueError:
            continue
        found.append((float(temperature), state.p()))
    return found


@pytest.mark.parametrize("row", ROWS)
@pytest.mark.parametrize("quality", QUALITIES)
def test_tables_agree_with_flashes_solved_from_nothing(row, quality):
    curve = find(row.designation).saturation
    found = fresh_flash(row, quality)
    assert len(found) > 0.8 * POINTS
    line = "bubble" if quality == LIQUID else "dew"
    for temperature, pressure in found:
        assert getattr(curve, f"{line}_temperature")(pressure) == pytest.approx(temperature, abs=ALLOWED)
        slope = getattr(curve, f"{line}_temperature_slope")(pressure)
        off = (getattr(curve, f"{line}_pressure")(temperature) - pressure) * slope
        assert off == pytest.approx(0.0, abs=ALLOWED)


@pytest.mark.parametrize("designation", ["R-454B", "R-407F", "R-448A", "R-452B"])
@pytest.mark.parametrize("quality", QUALITIES)
def test_spots_where_a_flash_fails_lie_on_the_line_walked_from_elsewhere(designation, quality, monkeypatch):
    """Another start and stride reach the same line, through the spots that a fresh flash cannot solve."""
    monkeypatch.setattr("service.workshop.build.equilibrium.START", 262.0)
    monkeypatch.setattr("service.workshop.build.equilibrium.STEP", 0.7)
    curve = find(designation).saturation
    (row,) = (row for row in refrigerant_data().refrigerants if row.designation == designation)
    temperature_of = curve.bubble_temperature if quality == LIQUID else curve.dew_temperature
    tried = 0
    for point in saturation_line(model_of(row), quality):
        if curve.lowest_pressure <= point.pressure <= curve.highest_pressure:
            tried += 1
            assert temperature_of(point.pressure) == pytest.approx(point.temperature, abs=ALLOWED)
    assert tried > 150


def test_the_walk_reaches_what_a_fresh_flash_does_not():
    """R-454B: bubble points above about 56 C fail from nothing, and the shipped range still covers them."""
    curve = find("R-454B").saturation
    state = model_of(next(row for row in refrigerant_data().refrigerants if row.designation == "R-454B")).state()
    failed = 0
    for celsius in np.arange(50.0, 73.5, 0.25):
        try:
            state.update(CoolProp.QT_INPUTS, LIQUID, float(celsius) + 273.15)
        except ValueError:
            failed += 1
            assert curve.bubble_pressure(float(celsius) + 273.15) < 5.3e6
    assert failed > 0
