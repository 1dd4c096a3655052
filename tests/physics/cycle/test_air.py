"""Moist air over arrays against an independent library (psychrolib, ASHRAE Fundamentals 2017)."""

import numpy as np
import psychrolib
import pytest

from service.physics.cycle import air

psychrolib.SetUnitSystem(psychrolib.SI)
CASES = [(26.7, 0.5, 101_325.0), (20.0, 0.3, 101_325.0), (30.0, 0.7, 85_000.0), (14.0, 0.95, 95_000.0)]


@pytest.mark.parametrize(("celsius", "humidity", "pressure"), CASES)
def test_humidity_enthalpy_and_wet_bulb(celsius: float, humidity: float, pressure: float) -> None:
    dry, at = np.array([celsius + 273.15]), np.array([pressure])
    ratio = air.ratio_from_relative_humidity(dry, np.array([humidity]), at)
    expected = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
    assert ratio[0] == pytest.approx(expected, rel=3e-3)
    assert air.enthalpy(dry, ratio)[0] == pytest.approx(
        psychrolib.GetMoistAirEnthalpy(celsius, expected), rel=3e-3
    )
    wet = psychrolib.GetTWetBulbFromHumRatio(celsius, expected, pressure)
    assert air.wet_bulb(dry, ratio, at)[0] - 273.15 == pytest.approx(wet, abs=0.05)
    back = air.humidity_ratio(dry, air.wet_bulb(dry, ratio, at), at)
    assert back[0] == pytest.approx(ratio[0], rel=1e-3)


def test_saturation_is_inverted() -> None:
    temperature, pressure = np.array([275.0, 285.0, 298.0]), np.full(3, 90_000.0)
    assert air.saturation_temperature(air.saturation_enthalpy(temperature, pressure), pressure) == pytest.approx(
        temperature, abs=1e-3
    )


def test_density_of_standard_air() -> None:
    # Source: ASHRAE Fundamentals 2017, standard dry air 1.204 kg/m3 at 20 degC and 101.325 kPa.
    assert air.density(np.array([293.15]), np.array([101_325.0]))[0] == pytest.approx(1.204, abs=0.001)
