"""The tables of the repair procedures against their standards and rules, row by row."""

from datetime import date

import pytest

from service.knowledge import procedure_tables
from service.knowledge.procedure_tables import (
    INCH_OF_MERCURY,
    evacuation_level,
    leak_rules,
    pressure_test_gas,
    tube_size,
    tube_sizes,
)
from service.knowledge.rows import KnowledgeError
from service.results.units import INCH, POUND, STANDARD_ATMOSPHERE

BORES = {  # square inch, as tabulated for ASTM B280
    ("annealed_coil", 0.25): 0.0284,
    ("annealed_coil", 0.375): 0.076,
    ("annealed_coil", 0.5): 0.149,
    ("annealed_coil", 0.625): 0.242,
    ("annealed_coil", 0.75): 0.363,
    ("annealed_coil", 0.875): 0.484,
    ("annealed_coil", 1.125): 0.825,
    ("annealed_coil", 1.375): 1.26,
    ("drawn", 0.375): 0.078,
    ("drawn", 0.5): 0.145,
    ("drawn", 0.625): 0.233,
    ("drawn", 0.75): 0.348,
}


@pytest.mark.parametrize(("temper", "outside"), BORES)
def test_tube_walls_give_the_tabulated_bore(temper, outside):
    """ASTM B280 (three digits): the wall is right when the bore is."""
    size = tube_size(temper, outside * INCH)
    inside = (size.outside_diameter - 2 * size.wall) / INCH
    assert 3.14159265 / 4 * inside**2 == pytest.approx(BORES[(temper, outside)], rel=7e-3)


@pytest.mark.parametrize(
    ("millimetres", "inch"), [(6.35, 0.25), (9.52, 0.375), (12.7, 0.5), (15.88, 0.625), (19.05, 0.75)]
)
def test_metric_labels_find_the_inch_size(millimetres, inch):
    assert tube_size("annealed_coil", millimetres / 1000).outside_diameter == pytest.approx(inch * INCH)


@pytest.mark.parametrize("outside", [0.4, 0.45, 0.7])
def test_a_size_between_is_no_size(outside):
    assert tube_size("annealed_coil", outside * INCH) is None


def test_every_tube_has_a_bore_and_grows():
    for temper in ("annealed_coil", "drawn"):
        sizes = [size for size in tube_sizes() if size.temper == temper]
        assert [size.outside_diameter for size in sizes] == sorted(size.outside_diameter for size in sizes)
        assert all(size.wall * 2 < size.outside_diameter for size in sizes)


@pytest.mark.parametrize(
    ("pressure_class", "pounds", "after", "before"),
    [
        ("very_high", 10, 0, 0),
        ("very_high", 500, 0, 0),
        ("high", 199.9, 0, 0),
        ("high", 200, 10, 4),
        ("medium", 199.9, 10, 4),
        ("medium", 200, 15, 4),
    ],
)
def test_evacuation_levels(pressure_class, pounds, after, before):
    """40 CFR 82.156 Table 1, inches of mercury vacuum."""
    level = evacuation_level(pressure_class, pounds * POUND)
    assert (STANDARD_ATMOSPHERE - level.after_1993) / INCH_OF_MERCURY == pytest.approx(after, abs=1e-9)
    assert (STANDARD_ATMOSPHERE - level.before_1993) / INCH_OF_MERCURY == pytest.approx(before, abs=1e-9)


def test_evacuation_level_of_a_low_pressure_appliance():
    """40 CFR 82.156 Table 1: 25 mm of mercury absolute, 3333 Pa."""
    assert evacuation_level("low", 300 * POUND).after_1993 == pytest.approx(3333.06, abs=0.01)


def test_leak_rules_hold_the_law():
    """40 CFR 82.157(a), (c)(2): 50 lb, 10/20/30 %; 40 CFR 84.106: 15 lb, GWP above 53, 2026-01-01."""
    rules = {rule.code: rule for rule in leak_rules()}
    older, newer = rules["rule.ozone-depleting"], rules["rule.hydrofluorocarbon"]
    for rule in (older, newer):
        assert rule.thresholds["comfort_cooling"] == 10
        assert rule.thresholds["commercial_refrigeration"] == 20
        assert rule.thresholds["industrial_process_refrigeration"] == 30
    assert older.least_charge == pytest.approx(50 * POUND)
    assert newer.least_charge == pytest.approx(15 * POUND)
    assert newer.potential_above == 53
    assert newer.excluded_classes == ("residential_light_commercial",)
    assert not newer.in_force(date(2025, 12, 31))
    assert newer.in_force(date(2026, 1, 1))
    substitutes = rules["rule.substitutes-until-2020"]
    assert substitutes.in_force(date(2020, 4, 9))
    assert not substitutes.in_force(date(2020, 4, 10))


def test_gases():
    assert pressure_test_gas("Dry Nitrogen").accepted
    assert pressure_test_gas("Compressed-Air").explosive
    assert pressure_test_gas("helium") is None


def test_one_spelling_cannot_name_two_gases(monkeypatch):
    rows = [
        {"code": "gas.one", "accepted": False, "explosive": True, "spellings": ["x"]},
        {"code": "gas.two", "accepted": False, "explosive": True, "spellings": ["x"]},
    ]
    monkeypatch.setattr(procedure_tables, "_rows", lambda *_, **__: rows)
    with pytest.raises(KnowledgeError, match="two gases"):
        procedure_tables._test_gases.__wrapped__()
