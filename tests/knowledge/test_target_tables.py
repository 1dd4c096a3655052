"""Target tables: published cells, interpolation, blanks, and the file's own rules."""

import pytest

from service.knowledge.rows import KnowledgeError
from service.knowledge.target_tables import Blank, table_of, target_table
from service.results.out_of_range import OutOfRange


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8 + 273.15


def superheat(outdoor, wet_bulb):
    return target_table("target-superheat").target(kelvin(outdoor), kelvin(wet_bulb)) * 1.8


def split(dry_bulb, wet_bulb):
    return target_table("target-temperature-split").target(kelvin(dry_bulb), kelvin(wet_bulb)) * 1.8


# Superheat charging table of condensing-unit installation guides (two compared).
@pytest.mark.parametrize(
    ("outdoor", "wet_bulb", "target"),
    [
        (55, 50, 9),
        (55, 76, 45),
        (80, 58, 5),
        (80, 70, 25),
        (95, 68, 14),
        (105, 66, 5),
        (115, 70, 8),
        (115, 76, 23),
    ],
)
def test_published_cells(outdoor, wet_bulb, target):
    assert superheat(outdoor, wet_bulb) == pytest.approx(target)


def test_between_the_cells_it_is_linear():
    assert superheat(95, 67) == pytest.approx(12.0)
    assert superheat(97.5, 68) == pytest.approx(13.0)
    assert superheat(92.5, 67) == pytest.approx((13 + 16 + 10 + 14) / 4)


# California RA3.2-2 (2008), rows 55 to 66 F, from memory: a soft check, 1 F on the rows and 1.5 F between them.
@pytest.mark.parametrize(
    ("outdoor", "wet_bulb", "target"),
    [(55, 60, 23.1), (58, 64, 27.8), (60, 68, 32.4), (63, 70, 33.6), (65, 76, 40.8)],
)
def test_near_the_californian_table(outdoor, wet_bulb, target):
    assert superheat(outdoor, wet_bulb) == pytest.approx(target, abs=1.5)


def test_the_rule_of_thumb_is_near():
    """(3 WB - 80 - DB)/2, common practice, from memory: within 5 F where the table has a target."""
    for outdoor in range(75, 116, 5):
        for wet_bulb in range(62, 75, 2):
            try:
                target = superheat(outdoor, wet_bulb)
            except Blank:
                continue
            assert target == pytest.approx((3 * wet_bulb - 80 - outdoor) / 2, abs=5.5)


@pytest.mark.parametrize(("outdoor", "wet_bulb"), [(65, 50), (95, 63.9), (102, 65), (112, 68)])
def test_blank_where_a_cell_that_counts_is_blank(outdoor, wet_bulb):
    with pytest.raises(Blank):
        superheat(outdoor, wet_bulb)


def test_a_blank_neighbour_does_not_count_on_the_mark():
    assert superheat(95, 64) == pytest.approx(6.0)
    assert superheat(100, 66) == pytest.approx(8.0)


@pytest.mark.parametrize(("outdoor", "wet_bulb"), [(54.9, 60), (115.1, 72), (80, 49.9), (80, 76.1)])
def test_beyond_the_edges(outdoor, wet_bulb):
    with pytest.raises(OutOfRange):
        superheat(outdoor, wet_bulb)


# California RA3.2-3 (2008), from memory; a smooth surface fits every cell within rounding.
@pytest.mark.parametrize(("dry", "wet", "target"), [(70, 50, 20.9), (75, 63, 18.6), (80, 67, 18.3), (80, 76, 8.7)])
def test_split_cells(dry, wet, target):
    assert split(dry, wet) == pytest.approx(target)


def test_a_table_says_where_its_cells_come_from():
    assert "from memory" in target_table("target-temperature-split").cited
    bounds = target_table("target-superheat").bounds(1.0, None)
    assert (bounds.origin, bounds.low, bounds.high) == ("table", 1.0, None)
    assert "installation guides" in bounds.source


GOOD = {
    "code": "t",
    "unit": "degF",
    "basis": "published",
    "source": "somewhere",
    "columns": [50, 60],
    "rows": [
        {"at": 70, "origin": "published", "cells": [1, 2]},
        {"at": 80, "origin": "published", "cells": [3, None]},
    ],
}


@pytest.mark.parametrize(
    "wrong",
    [
        {"columns": [60, 50]},
        {"columns": [50, 60, 70]},
        {"unit": "degC"},
        {"basis": "hearsay"},
        {"source": ""},
        {"rows": list(reversed(GOOD["rows"]))},
        {"rows": [{"at": 70, "origin": "from memory", "cells": [1, 2]}]},
    ],
)
def test_a_file_that_breaks_the_rules_is_refused(wrong):
    assert table_of(GOOD).cells[1] == (pytest.approx(3 / 1.8), None)
    with pytest.raises(KnowledgeError):
        table_of(GOOD | wrong)
