"""Heat of an air stream against the trade's factors and their worked example."""

import pytest

from service.physics.air_cooling import (
    air_mass_flow,
    moist_specific_heat,
    standard_air_density,
)
from service.physics.moist_air import HEAT_OF_VAPORISATION, from_wet_bulb
from tests.physics.air.test_moist_air import BTU_PER_POUND, kelvin

CFM = 0.3048**3 / 60.0
BTU_PER_HOUR = 1055.05585262 / 3600.0
POUND_PER_HOUR = 0.45359237 / 3600.0


def test_the_trades_factors_follow():
    """4.5, 1.08 and 0.68 are rounded in the trade: 1 % (0.68 counts vapour at 1061 Btu/lb, 0 C here: 2 %)."""
    flow = air_mass_flow(CFM, 101325.0)
    assert flow / POUND_PER_HOUR == pytest.approx(4.5, rel=0.01)
    assert flow * moist_specific_heat(0.0) * 5.0 / 9.0 / BTU_PER_HOUR == pytest.approx(1.08, rel=0.01)
    assert flow * HEAT_OF_VAPORISATION / 7000.0 / BTU_PER_HOUR == pytest.approx(0.68, rel=0.02)


# Ratios of the standard atmosphere: 0.9298 at 2000 ft, 0.7571 at 7500 ft.
@pytest.mark.parametrize(("psia", "ratio"), [(13.6645, 0.9298), (11.1263, 0.7571)])
def test_factors_shrink_with_altitude(psia, ratio):
    here, sea = standard_air_density(psia * 6894.757), standard_air_density(101325.0)
    assert here / sea == pytest.approx(ratio, abs=1e-4)


def test_worked_example_of_a_three_ton_coil():
    """1200 cfm, 80/67 F to 57/55.5 F at sea level: 43,022 Btu/h by 4.5, 29,808 sensible by 1.08 (dry air, 2 %)."""
    entering = from_wet_bulb(kelvin(80), kelvin(67), 101325.0)
    leaving = from_wet_bulb(kelvin(57), kelvin(55.5), 101325.0)
    flow = air_mass_flow(1200 * CFM, 101325.0)
    drop = entering.enthalpy - leaving.enthalpy
    assert drop / BTU_PER_POUND == pytest.approx(31.447 - 23.480, rel=5e-3)
    assert flow * drop / BTU_PER_HOUR == pytest.approx(43022, rel=0.01)
    sensible = moist_specific_heat(leaving.humidity_ratio) * (entering.dry_bulb - leaving.dry_bulb)
    assert flow * sensible / BTU_PER_HOUR == pytest.approx(29808, rel=0.025)
