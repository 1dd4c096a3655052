"""Supply, capacitors and insulation: limits of the formulas; the worked examples are held elsewhere."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.knowledge.electrical_tables import (
    copper_ampacity,
    copper_ohms_per_kilofoot,
    derating_table,
    standard_device_sizes,
)
from service.physics import capacitors, conductors, insulation, supply


@pytest.mark.parametrize(
    ("unbalance", "factor"),
    [(0.0, 1.0), (0.5, 1.0), (1.0, 1.0), (1.5, 0.97), (2.5, 0.93), (3.0, 0.89), (4.0, 0.82), (5.0, 0.76)],
)
def test_derating_rows(unbalance, factor):
    """NEMA MG 1 Fig. 14-1, read off."""
    assert supply.derating_factor(unbalance, derating_table()) == pytest.approx(factor, abs=1e-12)


def test_derating_between_rows():
    """NEMA MG 1 Fig. 14-1: linear between 1.5 % (0.97) and 2.0 % (0.95)."""
    assert supply.derating_factor(1.75, derating_table()) == pytest.approx(0.96, abs=1e-9)


def test_no_derating_beyond_five_percent():
    """NEMA MG 1: operation above 5 % is not recommended."""
    assert supply.derating_factor(5.0001, derating_table()) is None


@given(st.floats(0.0, 4.99), st.floats(0.0, 0.01))
def test_derating_never_rises(unbalance, more):
    table = derating_table()
    lower, higher = supply.derating_factor(unbalance, table), supply.derating_factor(unbalance + more, table)
    assert lower is not None
    assert higher is not None
    assert higher <= lower + 1e-12


@given(st.lists(st.floats(0.1, 1000.0), min_size=3, max_size=3), st.floats(0.01, 100.0))
def test_unbalance_does_not_depend_on_the_scale(values, scale):
    expected = supply.unbalance_percent(values)
    assert supply.unbalance_percent([value * scale for value in values]) == pytest.approx(
        expected, rel=1e-9, abs=1e-9
    )


def test_bleed_time_is_zero_when_already_below():
    assert capacitors.bleed_seconds(45.0, 20000.0, 40.0, 50.0) == 0.0


def test_capacitance_factor_at_50_and_60_hertz():
    """Field forms: 2652.6 A/V at 60 Hz, 3183.1 A/V at 50 Hz (identity)."""
    assert capacitors.capacitance_under_load(1.0, 1.0, 60.0) == pytest.approx(2652.58, abs=0.01)
    assert capacitors.capacitance_under_load(1.0, 1.0, 50.0) == pytest.approx(3183.10, abs=0.01)


def test_unequal_label_tolerance():
    """Start capacitor, -0/+20 % (common practice)."""
    assert capacitors.label_limits(100.0, 0.0, 20.0) == pytest.approx((100.0, 120.0))


def test_thermosetting_has_two_branches():
    """IEEE 43-2013 clause 6.3 (from memory): constant 1245 below 40 C, 4230 above."""
    assert insulation.thermosetting_factor(293.15) == pytest.approx(0.7623, abs=1e-3)
    assert insulation.thermosetting_factor(313.15) == pytest.approx(1.0, abs=1e-3)


def test_no_standard_size_below_the_smallest():
    """NEC 240.6(A) (from memory): 15 A is the smallest."""
    assert conductors.size_not_above(14.9, standard_device_sizes()) is None
    assert conductors.size_not_above(15.0, standard_device_sizes()) == 15.0


@pytest.mark.parametrize(
    ("gauge", "cool", "warm"), [("14", 15, 20), ("10", 30, 35), ("8", 40, 50), ("1", 110, 130)]
)
def test_ampacity_rows(gauge, cool, warm):
    """NEC Table 310.16 (2023), copper, 60 and 75 C."""
    assert (copper_ampacity(gauge, 60), copper_ampacity(gauge, 75)) == (cool, warm)


def test_rows_that_are_not_there():
    assert copper_ampacity("1/0", 75) is None
    assert copper_ohms_per_kilofoot("22") is None


def test_conductor_resistance_rows():
    """NEC Chapter 9 Table 8, stranded."""
    assert copper_ohms_per_kilofoot("10") == 1.24
    assert copper_ohms_per_kilofoot("1/0") == 0.122


def test_contact_heat():
    """Electricity for HVACR Technicians (RSES): 7.2 V at 20 A is 144 W."""
    assert conductors.contact_heat(7.2, 20.0) == pytest.approx(144.0)
