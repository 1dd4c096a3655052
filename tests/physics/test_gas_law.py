"""The sealed gas: closed form, and nitrogen's real behaviour from a reference library."""

from math import hypot

import pytest
from CoolProp.CoolProp import PropsSI

from service.physics.gas_law import expected_pressure, expected_pressure_uncertainty


def test_pressure_follows_absolute_temperature():
    """p2/T2 = p1/T1, absolute (ideal gas at constant volume): 464.696 psia from 75 to 65 F is 456.005 psia."""
    assert expected_pressure(464.696, 534.67, 524.67) == pytest.approx(464.696 * 524.67 / 534.67, rel=1e-12)
    assert expected_pressure(464.696, 534.67, 524.67) == pytest.approx(456.005, abs=1e-3)


def test_gauge_and_thermometer_add_up_in_quadrature():
    """GUM (JCGM 100:2008) equation 10, by finite differences; no temperature change, so no real-gas part."""
    p, t, a, b = 3.2e6, 297.0, 24e3, 0.7
    by_hand = hypot(a, p / t * b, p / t * b)
    assert expected_pressure_uncertainty(p, t, t, a, b) == pytest.approx(by_hand, rel=1e-12)


@pytest.mark.parametrize("pressure", [1.1e6, 2.2e6, 3.2e6, 4.2e6])
@pytest.mark.parametrize(("temperature", "later"), [(300.0, 290.0), (310.0, 290.0), (285.0, 305.0)])
def test_nitrogen_stays_within_the_departure_allowed(pressure, temperature, later):
    """CoolProp (Span et al. 2000) at constant density against the ideal law, 10 % of the allowance to spare."""
    density = PropsSI("D", "P", pressure, "T", temperature, "Nitrogen")
    real = PropsSI("P", "D", density, "T", later, "Nitrogen")
    allowance = expected_pressure_uncertainty(pressure, temperature, later, 0.0, 0.0)
    assert abs(real - expected_pressure(pressure, temperature, later)) <= 1.1 * allowance
