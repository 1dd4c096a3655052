"""Water at vacuum-gauge pressures against the verification values of the IAPWS releases."""

import pytest
from CoolProp.CoolProp import PropsSI

from service.physics.water_vapour import TRIPLE_POINT_TEMPERATURE, boiling_temperature, vapour_pressure
from service.results.out_of_range import OutOfRange


@pytest.mark.parametrize(
    ("temperature", "pressure"), [(300.0, 3536.58941), (500.0, 2.63889776e6), (600.0, 12.3443146e6)]
)
def test_vapour_pressure_verification_values(temperature, pressure):
    """IAPWS R7-97(2012), Table 35, nine digits printed."""
    assert vapour_pressure(temperature) == pytest.approx(pressure, rel=2e-9)


@pytest.mark.parametrize(("pressure", "temperature"), [(0.1e6, 372.755919), (1e6, 453.035632), (10e6, 584.149488)])
def test_boiling_temperature_verification_values(pressure, temperature):
    """IAPWS R7-97(2012), Table 36, nine digits printed."""
    assert boiling_temperature(pressure) == pytest.approx(temperature, rel=2e-9)


def test_sublimation_verification_value():
    """IAPWS R14-08(2011), Table 3: 8.94735 Pa at 230 K (six digits)."""
    assert vapour_pressure(230.0) == pytest.approx(8.94735, rel=1e-6)
    assert boiling_temperature(8.94735) == pytest.approx(230.0, abs=1e-4)


@pytest.mark.parametrize("temperature", [275.0, 290.0, 310.0, 340.0])
def test_water_agrees_with_the_reference_equation(temperature):
    """CoolProp, IAPWS-95: the industrial formulation agrees within 0.1 %."""
    reference = PropsSI("P", "T", temperature, "Q", 0, "Water")
    assert vapour_pressure(temperature) == pytest.approx(reference, rel=1e-3)


def test_the_two_laws_meet_at_the_triple_point():
    below, above = boiling_temperature(611.656), boiling_temperature(611.658)
    assert below == pytest.approx(TRIPLE_POINT_TEMPERATURE, abs=1e-3)
    assert above == pytest.approx(TRIPLE_POINT_TEMPERATURE, abs=1e-3)


@pytest.mark.parametrize("pressure", [0.0, -1.0, 1e8, float("nan")])
def test_pressure_out_of_range(pressure):
    with pytest.raises(OutOfRange):
        boiling_temperature(pressure)


@pytest.mark.parametrize("temperature", [100.0, 700.0])
def test_temperature_out_of_range(temperature):
    with pytest.raises(OutOfRange):
        vapour_pressure(temperature)
