"""From findings to holds, causes, steps and outcome: rules of the contract, on findings made for the purpose."""

import math

import pytest

from service.knowledge import catalogues
from service.reasoning.askable import value_at
from service.reasoning.case import Decision
from service.reasoning.causes import is_weighed
from service.reasoning.cycle_weighing import CycleWeighing, class_of
from service.reasoning.gained import information
from service.reasoning.holds import holds_of, keeps_off
from service.reasoning.replacement import replacement_reasons
from service.reasoning.unit import motor_feed
from service.reasoning.urgency import how_urgent
from service.results.answer import Argument, Cause, Hold
from service.results.finding import Finding, Severity, State
from service.results.record import replace
from service.results.visit import Visit
from service.results.visit.equipment import Compressor, Equipment
from service.results.visit.observations import Complaint
from service.schemas.documents import load
from tests.checks.electrical.visits import PROVEN
from tests.reasoning.cases import case_of, causes_of, permission_of, readings_of, state_of, steps_of

NONE_FOUND = catalogues.sound().code


def finding(code, state, severity=Severity.CRITICAL):
    return Finding(code, state, severity, ())


GROUNDED = finding("insulation.winding-grounded", State.FAIL)


def test_holds_come_gravest_first_and_name_their_findings():
    voltage = finding("isolation.voltage-present", State.FAIL)
    holds = holds_of([GROUNDED, voltage, voltage])
    order = list(catalogues.holds())
    assert [order.index(hold.code) for hold in holds] == sorted(order.index(hold.code) for hold in holds)
    assert {code: hold.raised_by for hold in holds for code in [hold.code]}["hold.winding-grounded"] == (
        GROUNDED.code,
    )


@pytest.mark.parametrize("code", [code for code, row in catalogues.holds().items() if not row.allows_watched])
def test_every_hold_but_a_contradiction_keeps_the_unit_off(code):
    assert keeps_off((Hold(code, ()),))
    assert permission_of((), (Hold(code, ()),)) == "keep_off"


def test_a_contradiction_allows_a_watched_run_at_best():
    holds = (Hold("hold.readings-contradict", ()),)
    assert not keeps_off(holds)
    assert permission_of((), holds, visit=load(Visit, {})) == "unknown"
    read = finding("inspection.filter-dirty", State.PASS, Severity.INFO)
    seen = Finding(read.code, read.state, read.severity, ("/inspection/filter_dirty",))
    assert permission_of((seen,), holds) == "may_run_watched"


@pytest.mark.parametrize(
    "code",
    [
        "winding-grounded",
        "terminal-damaged",
        "breaker-tripping",
        "capacitor-charged",
        "drive-bus-charged",
        "pressure-unsafe",
    ],
)
def test_the_contracts_unsafe_holds_make_the_outcome_unsafe(code):
    assert state_of((), (Hold(f"hold.{code}", ()),)) == "unsafe"


@pytest.mark.parametrize(
    "code", ["isolation-not-proven", "overload-may-be-open", "flammable-refrigerant", "readings-contradict"]
)
def test_other_holds_are_not_unsafe_by_themselves(code):
    assert state_of((), (Hold(f"hold.{code}", ()),)) == "undecided"


def test_voltage_where_dead_was_claimed_is_unsafe():
    voltage = finding("isolation.voltage-present", State.FAIL)
    assert state_of((voltage,)) == "unsafe"


def test_nothing_read_leads_with_none_found_where_the_unit_may_run():
    for symptom in ("not_cooling", "will_not_shut_off", "water_leak", "high_bill"):
        assert causes_of((), Complaint(symptoms=(symptom,)))[0].code == NONE_FOUND


@pytest.mark.parametrize("symptom", ["hums_no_start", "outdoor_fan_stopped", "indoor_fan_stopped"])
def test_a_motor_reported_standing_is_no_sound_unit_until_it_was_read_turning(symptom):
    """Common practice, no source: a unit that does not start is not found sound by parts that test good."""
    complaint = Complaint(symptoms=(symptom,))
    assert causes_of((), complaint)[0].code != NONE_FOUND
    assert state_of(visit=Visit(complaint=complaint)) == "undecided"
    not_called = load(Visit, {"electrical": {"control": {"thermostat_calling": False}}})
    assert case_of(visit=replace(not_called, complaint=complaint)).lead.code == NONE_FOUND


def test_what_is_read_on_doubtful_readings_calls_for_no_step_but_its_holds():
    """Pressures that fit another refrigerant: a head unsafe for the one entered says nothing of the coil."""
    pressure = ("/running/liquid_pressure",)
    unsafe = Finding("pressure.high-side-unsafe", State.FAIL, Severity.CRITICAL, pressure)
    other = Finding("refrigerant.fits-another", State.REVIEW, Severity.WARNING, pressure)
    alone = [step.code for step in steps_of((unsafe,), holds_of((unsafe,)))]
    doubted = case_of((unsafe, other), holds_of((unsafe, other)))
    codes = [step.code for step in steps_of((unsafe, other), doubted.holds)]
    assert "step.inspect-outdoor-coil" in alone
    assert "step.inspect-outdoor-coil" not in codes
    assert codes[0] == "step.shut-down-and-lock"
    assert "step.confirm-refrigerant" in codes
    assert all("pressure.high-side-unsafe" not in str(cause.supported_by) for cause in doubted.causes)


def test_a_contradiction_binds_only_the_repair_whose_readings_it_touches():
    """A winding read to ground stands whatever the gauges say (common practice, no source)."""
    gauges = Finding("readings.superheat-negative", State.FAIL, Severity.WARNING, ("/running/suction_pressure",))
    for pointer, ordered in (
        ("/electrical/insulation/common_to_shell", True),
        ("/running/suction_pressure", False),
    ):
        grounded = replace(GROUNDED, evidence=(pointer,))
        found = (grounded, gauges)
        steps = steps_of(found, holds_of(found))
        assert any(part.code == "part.compressor" for step in steps for part in step.parts) is ordered


def test_probabilities_fall_and_sum_to_one():
    causes = causes_of((GROUNDED,), Complaint(symptoms=("breaker_trips",)))
    shares = [cause.probability for cause in causes]
    assert causes[0].code == "cause.winding-grounded"
    assert shares == sorted(shares, reverse=True)
    assert math.isclose(sum(shares), 1.0, abs_tol=1e-9)


def test_cycle_likelihood_moves_the_causes_that_look_like_it():
    classes = {class_of(row.cycle_class) for row in catalogues.causes().values()} - {"none"}
    shares = dict.fromkeys(classes, 0.001) | {"undercharge": 0.99}
    relative = dict.fromkeys(classes, -6.0) | {"undercharge": 1.7}
    causes = causes_of((), weighing=CycleWeighing(shares, relative, 0.35, frozenset()))
    assert causes[0].code == "cause.undercharge"
    assert all(cause.code != "cause.no-supply" for cause in causes)


def test_a_finding_that_the_cycle_model_has_weighed_counts_once():
    weighing = CycleWeighing(
        {"none_found": 0.9}, {"none_found": 0.9}, 0.35, frozenset({"/running/suction_pressure"})
    )
    inside = Finding("charge.undercharged", State.FAIL, Severity.WARNING, ("/running/suction_pressure",))
    beyond = Finding("charge.undercharged", State.FAIL, Severity.WARNING, ("/running/sight_glass",))
    critical = Finding("charge.undercharged", State.FAIL, Severity.CRITICAL, ("/running/suction_pressure",))
    assert [is_weighed(item, weighing) for item in (inside, beyond, critical)] == [True, False, False]
    assert not is_weighed(inside, None)


def test_information_is_mutual_information():
    # Two equally likely causes told apart with certainty is one bit (Lindley 1956), by hand.
    row = next(iter(reading for reading in _rows() if reading.code == "reading.run-capacitor"))
    sure = type(row)(row.code, row.pointers, 1.0, "off", row.feeds, 1e-12, {"a": 1 - 1e-12}, "1")
    assert information(sure, {"a": 0.5, "b": 0.5}) == pytest.approx(1.0, abs=1e-6)
    certain = type(row)(row.code, row.pointers, 1.0, "off", row.feeds, 1.0, {"a": 0.5}, "1")
    assert information(certain, {"b": 1.0}) == 0.0
    useless = type(row)(row.code, row.pointers, 1.0, "off", row.feeds, 0.3, {"a": 0.3}, "1")
    assert information(useless, {"a": 0.5, "b": 0.5}) == pytest.approx(0.0, abs=1e-12)


def _rows():
    from service.knowledge.readings import reading_rows

    return reading_rows().values()


def test_proving_dead_is_the_next_reading_while_it_is_owed():
    holds = (Hold("hold.isolation-not-proven", ()),)
    first = readings_of(holds=holds)[0]
    assert first.pointer == "/isolation/disconnect_locked"


@pytest.mark.parametrize(
    ("equipment", "pointer"),
    [
        ({}, "/isolation/capacitor_residual_volts"),
        ({"phases": 3}, "/isolation/line2_to_line3_volts"),
        ({"compressor": {"drive": "inverter"}}, "/isolation/drive_bus_volts"),
    ],
)
def test_the_proof_of_dead_ends_with_what_this_motor_feed_still_owes(equipment, pointer):
    owed = ("line2_to_line3_volts", "line1_to_line3_volts", "line3_to_ground_volts", "capacitor_residual_volts")
    dead = {name: value for name, value in PROVEN.items() if name not in (*owed, "drive_bus_volts")}
    visit = load(Visit, {"isolation": dead, "equipment": equipment})
    holds = (Hold("hold.isolation-not-proven", ()),)
    assert readings_of(visit, holds)[0].pointer == pointer


def test_no_live_reading_is_asked_for_while_the_unit_must_stay_off():
    holds = (Hold("hold.winding-grounded", ()),)
    power = {row.code: row.power for row in _rows()}
    asked = readings_of(Visit(complaint=Complaint(symptoms=("no_start",))), holds)
    assert asked
    assert all(power[reading.why] != "on" for reading in asked)


def test_readings_that_are_there_are_not_asked_for_again():
    visit = load(Visit, {"electrical": {"run_capacitors": [{"serves": "compressor"}]}})
    asked = readings_of(visit)
    assert all(reading.why != "reading.run-capacitor" for reading in asked)
    humid = load(Visit, {"air": {"return_relative_humidity": 50}})
    assert all(reading.pointer != "/air/return_wet_bulb" for reading in readings_of(humid))


def test_every_pointer_of_a_reading_row_is_a_member_of_the_visit():
    for row in _rows():
        for pointer in row.pointers:
            assert value_at(Visit(), pointer) is None


@pytest.mark.parametrize(
    ("equipment", "feed"),
    [
        (Equipment(), "single_phase"),
        (Equipment(phases=3), "three_phase"),
        (Equipment(compressor=Compressor(drive="inverter"), phases=3), "inverter"),
    ],
)
def test_motor_feed(equipment, feed):
    assert motor_feed(Visit(equipment=equipment)) == feed


def test_steps_that_touch_conductors_begin_with_proving_dead():
    causes = (Cause("cause.run-capacitor-failed", 1.0),)
    steps = steps_of((), (), causes)
    codes = [step.code for step in steps]
    touching = [step.code for step in steps if catalogues.steps()[step.code].touches_conductors]
    assert touching
    assert codes.index("step.prove-dead") <= codes.index(touching[0])


def test_no_compressor_is_ordered_while_a_reading_that_could_clear_it_is_owed():
    causes = causes_of((GROUNDED,))
    for hold in ("hold.isolation-not-proven", "hold.overload-may-be-open", "hold.readings-contradict"):
        steps = steps_of((GROUNDED,), (Hold(hold, ()),), causes)
        assert all(part.code != "part.compressor" for step in steps for part in step.parts)


def test_flammable_refrigerant_adds_its_caution_and_training_to_steps_that_open_the_circuit():
    causes = causes_of((GROUNDED,))
    holds = holds_of((GROUNDED,))
    for flammable in (True, False):
        steps = steps_of((GROUNDED,), holds, causes, flammable=flammable)
        opening = [step for step in steps if catalogues.steps()[step.code].opens_circuit]
        assert opening
        assert all(("flammable-refrigerant-training" in step.certificates) is flammable for step in opening)
        assert all(("caution.flammable-refrigerant" in step.hazards) is flammable for step in opening)


def test_people_at_risk_raise_the_urgency():
    complaint = Complaint(symptoms=("not_cooling",))
    at_risk = Complaint(symptoms=("not_cooling",), people_at_risk=("elderly",))
    assert how_urgent(case_of(visit=Visit(complaint=complaint)))[0] == "same_day"
    assert how_urgent(case_of(visit=Visit(complaint=at_risk)))[0] == "now"


def decided(visit, causes, state):
    return replace(case_of(causes=causes, visit=visit), decision=Decision(state))


def test_replacement_is_facts_about_a_condemned_compressor_only():
    visit = load(Visit, {"visit_date": "2026-07-14", "equipment": {"refrigerant": "R-22", "year_made": 2008}})
    condemned = causes_of((GROUNDED,))
    codes = [sentence.code for sentence in replacement_reasons(decided(visit, condemned, "unsafe"))]
    assert codes == ["replacement.compressor", "replacement.age", "replacement.rule"]
    assert replacement_reasons(decided(visit, causes_of(), "fault")) == ()
    assert (
        replacement_reasons(decided(load(Visit, {"equipment": {"refrigerant": "R-32"}}), condemned, "unsafe"))
        == ()
    )


def test_running_readings_alone_condemn_no_pump():
    """Common practice, no source: a pump is condemned by a pump-down or a start that moves neither gauge."""
    leading = (Cause("cause.compressor-not-pumping", 0.9, (Argument("argument.for", 3.0),)),)
    suspected = steps_of((), (), leading)
    assert "step.pump-down-test" in [step.code for step in suspected]
    assert all(part.code != "part.compressor" for step in suspected for part in step.parts)
    failed = Finding("compressor.pump-down-holds", State.FAIL, Severity.WARNING, ("/running/pump_down_holds",))
    proven = steps_of((failed,), (), leading)
    assert any(part.code == "part.compressor" for step in proven for part in step.parts)
