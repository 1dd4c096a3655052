"""Recovery: the cylinder's limit, what must never happen, and the level of the rule."""

import pytest

from service.knowledge.limits import limit
from service.knowledge.refrigerants import all_refrigerants
from service.physics.cylinder import WATER_DENSITY
from service.results.refusal import Refusal
from service.results.units import MICRON_OF_MERCURY, POUND, PSI
from tests.coolprop import props_si
from tests.procedures.judging import judge

CYLINDER = {
    "units": {"mass": "lb"},
    "visit_date": "2026-06-01",
    "refrigerant": "R-410A",
    "water_capacity": 26.2,
    "tare": 17.0,
    "gross": 17.0,
    "expected_charge": 8.0,
    "cylinder_contents": "empty",
    "cylinder_test_date": "2023-05-01",
    "cylinder_service_pressure": 400.0,
}
INCH_OF_MERCURY = 25400 * MICRON_OF_MERCURY


def cylinder(**changes):
    return {name: value for name, value in (CYLINDER | changes).items() if value is not None}


def test_limit_by_density_of_the_reference_library():
    """80 % of 26.2 lb of water as R-410A at 77 F (CoolProp): 22.2 lb, as the worked example with 1.06 has it."""
    answer = judge("recovery", cylinder())
    gravity = props_si("D", "T", 298.15, "Q", 0, "R410A") / WATER_DENSITY
    assert answer.value("liquid_limit") == pytest.approx(0.8 * 26.2 * gravity, abs=0.02)
    assert answer.value("liquid_limit") == pytest.approx(22.22, abs=0.1)
    assert answer.value("stop_at_gross") == pytest.approx(39.22, abs=0.1)
    assert answer.value("room_left") == answer.value("liquid_limit")
    assert answer.value("cylinders_needed") == 1
    assert answer.value("reference_temperature") == pytest.approx(77.0)
    assert answer.states["recovery.cylinder"] == "pass"


def test_every_refrigerants_limit_leaves_vapour_when_hot():
    """A cylinder at its limit must not be full of liquid at 130 F (49 CFR 173.304a, from memory)."""
    hot, reference = 327.594, limit("procedures.cylinder-reference-temperature").value
    for refrigerant in all_refrigerants():
        saturated = refrigerant.properties.saturated
        filled = 0.8 * saturated.liquid_density(reference)
        if saturated.highest_temperature > hot:
            assert filled < saturated.liquid_density(hot), refrigerant.designation


@pytest.mark.parametrize(
    ("gross", "expected", "state", "needed"),
    [(17.0, 22.0, "pass", 1), (17.0, 22.5, "review", 2), (30.0, 30.0, "review", 2)],
)
def test_room_on_both_sides(gross, expected, state, needed):
    answer = judge("recovery", cylinder(gross=gross, expected_charge=expected))
    assert answer.states["recovery.cylinder-room"] == state
    assert answer.value("cylinders_needed") == needed
    assert answer.states["recovery.cylinder"] == "pass"


@pytest.mark.parametrize(("gross", "state"), [(39.1, "review"), (39.4, "fail")])
def test_a_cylinder_at_its_limit(gross, state):
    answer = judge("recovery", cylinder(gross=gross))
    assert answer.states["recovery.cylinder-room"] == state
    assert answer.states["recovery.cylinder"] == ("fail" if state == "fail" else "pass")
    assert answer.value("room_left") >= 0.0


def test_an_unknown_amount_is_said():
    answer = judge("recovery", cylinder(expected_charge=None))
    assert answer.variants["recovery.cylinder-room"] == "charge-unknown"
    assert "/expected_charge" in answer.missing
    from_nameplate = judge("recovery", cylinder(expected_charge=None, equipment={"factory_charge": 8.0}))
    assert from_nameplate.states["recovery.cylinder-room"] == "pass"


@pytest.mark.parametrize(
    ("contents", "state", "variant"),
    [
        ("empty", "pass", "empty"),
        ("R410A", "pass", ""),
        ("R-22", "fail", ""),
        ("Mixed", "fail", "mixed"),
        ("unknown", "undecided", "unknown"),
        (None, "undecided", "not-said"),
    ],
)
def test_refrigerants_are_never_mixed(contents, state, variant):
    answer = judge("recovery", cylinder(cylinder_contents=contents))
    assert (answer.states["recovery.cylinder-contents"], answer.variants["recovery.cylinder-contents"]) == (
        state,
        variant,
    )
    assert answer.states["recovery.cylinder"] == state
    assert ("/cylinder_contents" in answer.missing) == (contents is None)


@pytest.mark.parametrize(
    ("tested", "visited", "state"),
    [
        ("2021-06-01", "2026-06-01", "pass"),
        ("2021-05-31", "2026-06-01", "fail"),
        ("2020-02-29", "2025-02-28", "pass"),
        ("2020-02-29", "2025-03-01", "fail"),
        ("2026-06-02", "2026-06-01", "undecided"),
        ("9999-01-01", "9999-06-01", "pass"),
        ("2021-06-01", None, "undecided"),
        (None, "2026-06-01", "undecided"),
    ],
)
def test_test_date_on_both_sides(tested, visited, state):
    """Five years (49 CFR 180.209, from memory)."""
    answer = judge("recovery", cylinder(cylinder_test_date=tested, visit_date=visited))
    assert answer.states["recovery.cylinder-test-date"] == state
    assert answer.states["recovery.cylinder"] == state
    assert ("/visit_date" in answer.missing) == (visited is None)


def test_a_cylinder_lighter_than_empty():
    answer = judge("recovery", cylinder(gross=16.0))
    assert answer.states["recovery.weights"] == "review"
    assert answer.states["recovery.cylinder"] == "undecided"


@pytest.mark.parametrize(("ambient", "state"), [(77, "pass"), (150, "fail")])
def test_liquid_full_where_it_stands(ambient, state):
    """22 lb of R-410A in 26.2 lb of water: 79 % at 77 F; liquid at 150 F is far lighter (CoolProp)."""
    answer = judge("recovery", cylinder(gross=39.0, ambient_temperature=ambient))
    assert answer.states["recovery.hot-cylinder"] == state


def test_above_the_critical_point_nothing_is_said_of_liquid():
    assert "recovery.hot-cylinder" not in judge("recovery", cylinder(ambient_temperature=200)).states
    assert "recovery.hot-cylinder" not in judge("recovery", cylinder(ambient_temperature=80, gross=None)).states


@pytest.mark.parametrize(
    ("refrigerant", "pounds", "inches", "old"),
    [
        ("R-410A", 8, 0, 0),
        ("R-22", 199.9, 0, 0),
        ("R-22", 200, 10, 4),
        ("R-134a", 199.9, 10, 4),
        ("R-134a", 200, 15, 4),
        ("R-32", 300, 0, 0),
    ],
)
def test_evacuation_level_of_the_rule(refrigerant, pounds, inches, old):
    """40 CFR 82.156 Table 1, machines made after and before 15 November 1993."""
    document = cylinder(refrigerant=refrigerant, full_charge=pounds)
    answer = judge("recovery", document)
    assert answer.value("required_vacuum") == pytest.approx(-inches * INCH_OF_MERCURY / PSI, abs=0.01)
    before = judge("recovery", document | {"recovery_machine_before_1993": True})
    assert before.value("required_vacuum") == pytest.approx(-old * INCH_OF_MERCURY / PSI, abs=0.01)
    assert f"{inches:g} inHg" in answer.texts["recovery.evacuation-level"]


def test_a_low_pressure_refrigerant():
    """40 CFR 82.156 Table 1: 25 mm of mercury absolute."""
    document = cylinder(refrigerant="R-123", full_charge=300, units={"mass": "lb", "pressure": "kPa"})
    assert judge("recovery", document).value("required_vacuum") == pytest.approx(3.333, abs=0.01)


def test_thin_air_does_not_pass_for_drawn_down():
    """At 5,280 ft the air itself is below a standard atmosphere: the level is the site's own pressure, 0 psig."""
    answer = judge("recovery", cylinder(site={"elevation": 5280}))
    assert answer.value("required_vacuum") == pytest.approx(0.0, abs=0.01)


@pytest.mark.parametrize(
    ("runs", "before_1993", "percent"),
    [(True, False, 90), (False, False, 80), (True, True, 80), (False, True, 80)],
)
def test_small_appliances(runs, before_1993, percent):
    """40 CFR 82.156(b); training texts agree: 80 % with a machine made before 15 November 1993."""
    answer = judge(
        "recovery",
        cylinder(small_appliance=True, compressor_runs=runs, recovery_machine_before_1993=before_1993),
    )
    assert answer.value("required_recovery_percent") == percent
    assert "required_vacuum" not in answer.computed


def test_the_size_may_come_from_the_nameplate():
    document = cylinder(refrigerant="R-22", equipment={"factory_charge": 250})
    assert judge("recovery", document).value("required_vacuum") < -4


def test_the_refrigerant_may_come_with_the_equipment():
    answer = judge("recovery", cylinder(refrigerant=None, equipment={"refrigerant": "R-410A"}))
    assert answer.value("liquid_limit") == pytest.approx(22.2, abs=0.1)


def test_nothing_sent_is_answered():
    answer = judge("recovery", {})
    assert set(answer.states.values()) == {"undecided"}
    assert answer.missing >= {"/refrigerant", "/water_capacity", "/tare", "/gross", "/cylinder_contents"}
    assert answer.computed == {}


def test_contents_named_and_refrigerant_not():
    answer = judge("recovery", {"cylinder_contents": "R-22", "refrigerant": "R-22"})
    assert answer.states["recovery.cylinder-contents"] == "pass"
    assert "/full_charge" in answer.missing
    unnamed = judge("recovery", {"cylinder_contents": "R-22"})
    assert unnamed.variants["recovery.cylinder-contents"] == "no-refrigerant"


@pytest.mark.parametrize(
    ("document", "pointer"),
    [
        (cylinder(refrigerant="R-9999"), "/refrigerant"),
        (cylinder(refrigerant=None, equipment={"refrigerant": "x"}), "/equipment/refrigerant"),
        (cylinder(cylinder_contents="soup"), "/cylinder_contents"),
    ],
)
def test_unknown_refrigerants_are_refused(document, pointer):
    with pytest.raises(Refusal) as refused:
        judge("recovery", document)
    assert [error.pointer for error in refused.value.errors] == [pointer]


def test_mass_units_do_not_change_the_answer():
    pounds = judge("recovery", cylinder()).value("liquid_limit")
    names = ("water_capacity", "tare", "gross", "expected_charge")
    metric = {name: CYLINDER[name] * POUND for name in names}
    kilograms = judge("recovery", cylinder(**metric, units={"mass": "kg"})).value("liquid_limit")
    assert kilograms == pytest.approx(pounds * POUND, abs=1e-3)


@pytest.mark.parametrize(
    ("refrigerant", "stamped", "state"),
    [
        ("R-32", 400, "pass"),
        ("R-32", 390, "fail"),
        ("R-454B", 400, "pass"),
        ("R-134a", 240, "pass"),
        ("R-134a", 230, "fail"),
    ],
)
def test_service_pressure_by_the_reference_library(refrigerant, stamped, state):
    """49 CFR 173.301a(d): at 131 F (55 C) at most 5/4 of the service pressure; 173.304a for the least."""
    fluid = {"R-32": "R32", "R-134a": "R134a", "R-454B": None}[refrigerant]
    if fluid:
        needed = max((props_si("P", "T", 328.15, "Q", 0, fluid) - 101325.0) / PSI / 1.25, 240.0)
        assert (stamped >= needed) == (state == "pass")
    answer = judge("recovery", cylinder(refrigerant=refrigerant, cylinder_service_pressure=stamped))
    assert answer.states["recovery.cylinder-pressure"] == state


def test_service_pressure_is_a_gauge_pressure_at_any_elevation():
    """400 psig stamped on the cylinder at 5,280 ft is 400 psig."""
    answer = judge("recovery", cylinder(site={"elevation": 5280}))
    assert answer.states["recovery.cylinder-pressure"] == "pass"


def test_carbon_dioxide_has_no_liquid_at_131_degrees():
    answer = judge("recovery", cylinder(refrigerant="R-744", cylinder_contents="R-744"))
    assert answer.variants["recovery.cylinder-pressure"] == "above-critical"
    assert answer.states["recovery.cylinder"] == "undecided"


def test_what_burns_is_not_filled_by_the_guideline_for_what_does_not():
    """AHRI Guideline K is titled for non-flammable refrigerants: it is not cited for A2L or A3."""
    for refrigerant in ("R-32", "R-454B", "R-290"):
        checked = judge("recovery", cylinder(refrigerant=refrigerant)).checked
        room = next(finding for finding in checked.findings if finding.code == "recovery.cylinder-room")
        assert room.limit is not None
        assert "Guideline K" not in room.limit.source
        assert "173.304a" in room.limit.source


def test_a_cylinder_past_its_date_may_be_emptied():
    """PHMSA interpretation 09-0148 (2009): filled before its date it may be moved and emptied; never refilled."""
    text = judge("recovery", cylinder(cylinder_test_date="2020-01-01")).texts["recovery.cylinder-test-date"]
    assert "Do not refill" in text
    assert "move and empty" in text


def test_a_place_without_a_level_names_none():
    answer = judge("recovery", cylinder(site={"jurisdiction": "DE"}))
    assert answer.states["recovery.evacuation-level"] == "not_applicable"
    assert "required_vacuum" not in answer.computed
    unknown = judge("recovery", cylinder(site={"jurisdiction": "BR"}))
    assert unknown.variants["recovery.evacuation-level"] == "place"
    assert unknown.states["recovery.cylinder"] == "pass"  # physics stays


def test_an_appliance_that_is_disposed_of_is_written_down():
    """40 CFR 82.156(a)(3): more than 5 and less than 50 lb, kept three years (EPA fact sheet P100PI7C)."""
    answer = judge("recovery", cylinder(full_charge=20.0, disposal=True))
    assert "three years" in answer.texts["recovery.disposal-record"]
