"""The visit document on its way in: strict types, pointers, units, and what absent means."""

import pytest

from service.knowledge.problem_types import error_codes
from service.physics.atmosphere import pressure_at_elevation
from service.results.refusal import Refusal
from service.results.resistance import Resistance
from service.results.saturation import SaturationRequest
from service.results.units import PSI, STANDARD_ATMOSPHERE
from service.results.visit import Visit
from service.schemas.documents import load
from service.schemas.faults import nearest
from service.words.refusing import said


def refused(document, content):
    with pytest.raises(Refusal) as caught:
        load(document, content)
    return {(error.pointer, error.code) for error in caught.value.errors}


def test_empty_document_is_a_visit_with_nothing_read():
    visit = load(Visit, {})
    assert visit.running.suction_pressure is None
    assert visit.electrical.run_capacitors == ()
    assert visit.site_pressure == STANDARD_ATMOSPHERE
    assert visit.baseline is None


def test_missing_zero_and_over_limit_are_three_things():
    visit = load(
        Visit, {"electrical": {"windings": {"common_run": {"ohms": 0}, "run_start": {"over_limit": True}}}}
    )
    windings = visit.electrical.windings
    assert windings.common_run == Resistance(0.0)
    assert windings.run_start is not None
    assert windings.run_start.over_limit
    assert windings.common_start is None


def test_gauge_pressure_uses_the_barometer_then_the_elevation():
    reading = {"running": {"suction_pressure": 118}}
    by_elevation = load(Visit, {"site": {"elevation": 5280}, **reading})
    assert by_elevation.site_pressure == pytest.approx(pressure_at_elevation(1609.344))
    both = load(Visit, {"site": {"elevation": 5280, "barometric_pressure": 12.2}, **reading})
    assert both.site_pressure == pytest.approx(12.2 * PSI)
    assert both.running.suction_pressure == pytest.approx((118 + 12.2) * PSI)


def test_absolute_units_ignore_the_site():
    visit = load(
        Visit,
        {"units": {"pressure": "psia"}, "site": {"elevation": 5280}, "running": {"suction_pressure": 118}},
    )
    assert visit.running.suction_pressure == pytest.approx(118 * PSI)


def test_baseline_takes_the_outer_units_and_site_unless_it_has_its_own():
    outer = {"units": {"temperature": "degC"}, "site": {"barometric_pressure": 12.0}}
    inherited = load(Visit, {**outer, "baseline": {"air": {"outdoor_dry_bulb": 35}}})
    assert inherited.baseline is not None
    assert inherited.baseline.air.outdoor_dry_bulb == pytest.approx(308.15)
    assert inherited.baseline.site_pressure == pytest.approx(12.0 * PSI)
    own = load(Visit, {**outer, "baseline": {"units": {"temperature": "degF"}, "air": {"outdoor_dry_bulb": 95}}})
    assert own.baseline is not None
    assert own.baseline.air.outdoor_dry_bulb == pytest.approx(308.15)


BAD = [
    ({"running": {"suction_pressure": "118"}}, "/running/suction_pressure", "document.not-a-number"),
    ({"running": {"suction_pressure": True}}, "/running/suction_pressure", "document.not-a-number"),
    ({"running": {"suction_pressure": None}}, "/running/suction_pressure", "document.null"),
    ({"running": None}, "/running", "document.null"),
    ({"running": [1]}, "/running", "document.not-an-object"),
    ({"running": {"suction": 1}}, "/running/suction", "document.unknown-member"),
    ({"a/b~c": 1}, "/a~1b~0c", "document.unknown-member"),
    ({"units": {"pressure": "psi"}}, "/units/pressure", "document.not-a-choice"),
    ({"units": None}, "/units", "document.null"),
    ({"equipment": {"phases": "3"}}, "/equipment/phases", "document.not-a-choice"),
    ({"equipment": {"phases": True}}, "/equipment/phases", "document.not-a-choice"),
    ({"equipment": {"stages": 9}}, "/equipment/stages", "document.out-of-range"),
    ({"equipment": {"stages": 1.5}}, "/equipment/stages", "document.not-an-integer"),
    ({"equipment": {"refrigerant": 22}}, "/equipment/refrigerant", "document.not-a-text"),
    ({"equipment": {"refrigerant": "x" * 25}}, "/equipment/refrigerant", "document.text-length"),
    ({"equipment": {"refrigerant": ""}}, "/equipment/refrigerant", "document.text-length"),
    ({"reference": "a\nb"}, "/reference", "document.text-length"),
    ({"visit_date": "14/07/2026"}, "/visit_date", "document.not-a-date"),
    ({"visit_date": "2026-02-30"}, "/visit_date", "document.not-a-date"),
    ({"visit_date": 20260714}, "/visit_date", "document.not-a-date"),
    ({"isolation": {"disconnect_locked": 1}}, "/isolation/disconnect_locked", "document.not-a-boolean"),
    ({"isolation": {"disconnect_locked": "yes"}}, "/isolation/disconnect_locked", "document.not-a-boolean"),
    ({"complaint": {"symptoms": "no_start"}}, "/complaint/symptoms", "document.not-a-list"),
    ({"complaint": {"symptoms": ["no_start", "sad"]}}, "/complaint/symptoms/1", "document.not-a-choice"),
    ({"complaint": {"symptoms": [["no_start"]]}}, "/complaint/symptoms/0", "document.not-a-choice"),
    ({"complaint": {"symptoms": ["no_start", "no_start"]}}, "/complaint/symptoms/1", "document.repeated-word"),
    ({"complaint": {"symptoms": ["no_start"] * 30}}, "/complaint/symptoms", "document.list-too-long"),
    ({"electrical": {"run_capacitors": {}}}, "/electrical/run_capacitors", "document.not-a-list"),
    ({"electrical": {"run_capacitors": [{}] * 7}}, "/electrical/run_capacitors", "document.list-too-long"),
    ({"electrical": {"run_capacitors": [None]}}, "/electrical/run_capacitors/0", "document.null"),
    ({"electrical": {"run_capacitors": None}}, "/electrical/run_capacitors", "document.null"),
    (
        {"electrical": {"windings": {"common_run": 2.1}}},
        "/electrical/windings/common_run",
        "document.not-a-resistance",
    ),
    (
        {"electrical": {"windings": {"common_run": {"over_limit": False}}}},
        "/electrical/windings/common_run",
        "document.not-a-resistance",
    ),
    (
        {"electrical": {"windings": {"common_run": {"ohms": -1}}}},
        "/electrical/windings/common_run",
        "document.out-of-range",
    ),
    (
        {"electrical": {"insulation": {"run_to_shell": {"ohms": 1, "megohms": 2}}}},
        "/electrical/insulation/run_to_shell",
        "document.not-a-resistance",
    ),
    (
        {"electrical": {"protection": {"conductor_gauge": 11}}},
        "/electrical/protection/conductor_gauge",
        "document.not-a-choice",
    ),
    ({"air": {"return_relative_humidity": 100.5}}, "/air/return_relative_humidity", "document.out-of-range"),
    ({"air": {"outdoor_dry_bulb": 999}}, "/air/outdoor_dry_bulb", "document.out-of-range"),
    ({"running": {"liquid_pressure": 1e9}}, "/running/liquid_pressure", "document.out-of-range"),
    ({"baseline": {"running": {"x": 1}}}, "/baseline/running/x", "document.unknown-member"),
    ({"baseline": 3}, "/baseline", "document.not-an-object"),
    (
        {"equipment": {"compressor": {"rating_coefficients": {"power": [1, 2]}}}},
        "/equipment/compressor/rating_coefficients/power",
        "document.not-a-number",
    ),
]


@pytest.mark.parametrize(("content", "pointer", "code"), BAD)
def test_what_is_wrong_is_pointed_at(content, pointer, code):
    assert (pointer, code) in refused(Visit, content)
    assert code in error_codes()


def test_all_mistakes_are_reported_at_once():
    content = {"running": {"suction_pressure": "118", "x": 1}, "air": {"outdoor_dry_bulb": 999}}
    assert len(refused(Visit, content)) == 3


def test_unknown_members_are_told_in_the_order_of_the_document():
    """Not in that of a set of texts, which differs from process to process: the same request, the same bytes."""
    names = [f"member_{number}" for number in (7, 3, 9, 1, 8, 2)]
    with pytest.raises(Refusal) as caught:
        load(Visit, {"running": dict.fromkeys(names, 1), **dict.fromkeys(names, 1)})
    told = [error.pointer for error in caught.value.errors]
    assert told == [*(f"/running/{name}" for name in names), *(f"/{name}" for name in names)]


def test_required_members_of_a_request():
    assert refused(SaturationRequest, {}) == {
        ("/refrigerant", "document.required"),
        ("/points", "document.required"),
    }
    assert ("/points", "document.list-empty") in refused(SaturationRequest, {"refrigerant": "R-22", "points": []})


def test_the_allowed_range_is_said_in_the_callers_units():
    with pytest.raises(Refusal) as caught:
        load(Visit, {"units": {"temperature": "degC"}, "air": {"outdoor_dry_bulb": 999}})
    assert [said(item, "en") for item in caught.value.errors[0].allowed] == ["-60 degC to 250 degC"]


def test_a_value_exactly_on_the_range_is_accepted():
    assert load(Visit, {"air": {"outdoor_dry_bulb": -76}}).air.outdoor_dry_bulb == pytest.approx(213.15)


def test_names_may_be_texts_or_whole_numbers_where_the_trade_writes_both():
    for given, inside in ((10, 10), ("10", 10), ("1/0", "1/0")):
        visit = load(Visit, {"electrical": {"protection": {"conductor_gauge": given}}})
        assert visit.electrical.protection.conductor_gauge == inside
    assert load(Visit, {"equipment": {"circuit": 1}}).equipment.circuit == 1


@pytest.mark.parametrize(
    ("given", "known", "meant"),
    [
        ("240", ("115", "230", "460", "575", "208_230", "220_240"), []),
        ("presure", ("pressure", "points"), ["pressure"]),
        ("suction_presure", ("suction_pressure", "liquid_pressure"), ["suction_pressure"]),
        ("volts_12", ("volts_ab", "volts_bc"), []),
        ("roof_top", ("ground", "roof", "attic"), []),
        ("scrol", ("reciprocating", "rotary", "scroll"), ["scroll"]),
        ("drop_volts_pole4", ("drop_volts_pole1", "drop_volts_pole2"), []),
    ],
)
def test_only_a_near_word_is_suggested_and_never_another_number(given, known, meant):
    assert nearest(given, known) == meant
