"""The tables of the repair procedures against their standards and rules, row by row."""

import pytest

from service.knowledge import procedure_tables
from service.knowledge.procedure_tables import (
    pressure_test_gas,
    tube_size,
    tube_sizes,
)
from service.knowledge.rows import KnowledgeError
from service.results.units import INCH

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
