"""Tube charge, cylinder filling and leak rates against published or constructed figures."""

import pytest
from CoolProp.CoolProp import PropsSI

from service.physics.cylinder import WATER_DENSITY, cylinders_needed, liquid_limit
from service.physics.leak_rate import annualizing_rate, rolling_average_rate
from service.physics.tube_charge import bore_area, charge_per_length, product_uncertainty
from service.results.units import FOOT, INCH, POUND


@pytest.mark.parametrize(
    ("outside", "wall", "bore"), [(0.375, 0.032, 0.076), (0.75, 0.035, 0.363), (1.125, 0.050, 0.825)]
)
def test_bore_of_standard_tubes(outside, wall, bore):
    """ASTM B280 tabulates the bore in square inch to three digits."""
    assert bore_area(outside * INCH, wall * INCH) / INCH**2 == pytest.approx(bore, abs=6e-4)


def test_a_wall_without_bore_is_refused():
    with pytest.raises(ValueError, match="no bore"):
        bore_area(0.01, 0.005)


def test_line_set_of_three_eighths_and_three_quarters():
    """R-410A, liquid at 100 F and vapour at 45 F (CoolProp): inside the common 0.54 to 0.62 oz/ft."""
    liquid = PropsSI("D", "T", 310.928, "Q", 0, "R410A")
    vapour = PropsSI("D", "T", 280.372, "Q", 1, "R410A")
    bores = bore_area(0.375 * INCH, 0.032 * INCH), bore_area(0.75 * INCH, 0.035 * INCH)
    ounces_per_foot = charge_per_length(bores[0], liquid, bores[1], vapour) * FOOT / (POUND / 16.0)
    assert 0.54 <= ounces_per_foot <= 0.62


def test_product_uncertainty_is_quadrature():
    """GUM (JCGM 100:2008) equation 12."""
    assert product_uncertainty(-10.0, 0.03, 0.04) == pytest.approx(0.5)


def test_liquid_limit_of_a_worked_example():
    """26.2 lb of water, specific gravity 1.06, 80 %: 22.22 lb (constructed from the formula as taught)."""
    limit = liquid_limit(26.2 * POUND, 1.06 * WATER_DENSITY, 0.8)
    assert limit / POUND == pytest.approx(22.22, abs=0.005)


def test_water_density_of_the_stamp():
    """IAPWS-95 by CoolProp at 60 F and 1 atm."""
    assert PropsSI("D", "T", 288.7056, "P", 101325.0, "Water") == pytest.approx(WATER_DENSITY, abs=0.01)


@pytest.mark.parametrize(
    ("charge", "room", "limit", "needed"),
    [
        *[
            (5.0, 8.0, 10.0, 1),
            (8.0, 8.0, 10.0, 1),
            (8.001, 8.0, 10.0, 2),
            (28.0, 8.0, 10.0, 3),
            (5.0, -1.0, 10.0, 1),
        ],
        *[(20.0, 0.0, 10.0, 2), (0.0, 8.0, 10.0, 0), (0.0, 0.0, 10.0, 0)],
    ],
)
def test_cylinders_needed(charge, room, limit, needed):
    """Counted by hand, on both sides of a full cylinder."""
    assert cylinders_needed(charge, room, limit) == needed


@pytest.mark.parametrize(
    ("added", "full", "days", "rate"), [(6.0, 80.0, 500.0, 7.5), (6.0, 80.0, 365.0, 7.5), (6.0, 80.0, 73.0, 37.5)]
)
def test_annualizing_rate(added, full, days, rate):
    """40 CFR 82.152: days since the last addition count as 365 at the most (first row: a worked example)."""
    assert annualizing_rate(added, full, days) == pytest.approx(rate)


def test_rolling_average_rate():
    """40 CFR 82.152: all additions of the year over the full charge."""
    assert rolling_average_rate(9.0, 60.0) == pytest.approx(15.0)
