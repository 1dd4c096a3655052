"""From findings to holds, causes, steps and outcome: rules of the contract, on findings made for the purpose."""

import math

import pytest

from service.knowledge import catalogues
from service.reasoning.causes import NONE_FOUND, is_weighed, rank_causes
from service.reasoning.cycle_weighing import CycleWeighing, class_of
from service.reasoning.holds import keeps_off, raise_holds
from service.reasoning.next_readings import information, motor_feed, next_readings, value_at
from service.reasoning.outcome import outcome_state, run_permission
from service.reasoning.replacement import replacement_reasons
from service.reasoning.steps import plan_steps
from service.reasoning.urgency import how_urgent
from service.results.answer import Argument, Cause, Hold
from service.results.finding import Finding, Severity, State
from service.results.visit import Visit
from service.results.visit.equipment import Compressor, Equipment
from service.results.visit.observations import Complaint
from service.schemas.documents import load
from tests.checks.electrical.visits import PROVEN


def finding(code, state, severity=Severity.CRITICAL):
    return Finding(code, state, severity, ())


GROUNDED = finding("insulation.winding-grounded", State.FAIL)


def test_holds_come_gravest_first_and_name_their_findings():
    voltage = finding("isolation.voltage-present", State.FAIL)
    holds = raise_holds([GROUNDED, voltage, voltage])
    order = list(catalogues.holds())
    assert [order.index(hold.code) for hold in holds] == sorted(order.index(hold.code) for hold in holds)
    assert {code: hold.raised_by for hold in holds for code in [hold.code]}["hold.winding-grounded"] == (
        GROUNDED.code,
    )


@pytest.mark.parametrize("code", [code for code, row in catalogues.holds().items() if not row.allows_watched])
def test_every_hold_but_a_contradiction_keeps_the_unit_off(code):
    assert keeps_off((Hold(code, ()),))
    assert run_permission("fault", (), (Hold(code, ()),)) == "keep_off"


def test_a_contradiction_allows_a_watched_run_at_best():
    holds = (Hold("hold.readings-contradict", ()),)
    assert not keeps_off(holds)
    assert run_permission("undecided", (), holds) == "may_run_watched"


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
    assert outcome_state(Visit(), (), (Hold(f"hold.{code}", ()),), rank_causes((), Complaint())) == "unsafe"


@pytest.mark.parametrize(
    "code", ["isolation-not-proven", "overload-may-be-open", "flammable-refrigerant", "readings-contradict"]
)
def test_other_holds_are_not_unsafe_by_themselves(code):
    assert outcome_state(Visit(), (), (Hold(f"hold.{code}", ()),), rank_causes((), Complaint())) == "undecided"


def test_voltage_where_dead_was_claimed_is_unsafe():
    voltage = finding("isolation.voltage-present", State.FAIL)
    assert outcome_state(Visit(), (voltage,), (), rank_causes((), Complaint())) == "unsafe"


def test_nothing_read_leads_with_none_found_whatever_the_complaint():
    for symptom in ("not_cooling", "hums_no_start", "will_not_shut_off", "water_leak"):
        assert rank_causes((), Complaint(symptoms=(symptom,)))[0].code == NONE_FOUND


def test_probabilities_fall_and_sum_to_one():
    causes = rank_causes((GROUNDED,), Complaint(symptoms=("breaker_trips",)))
    shares = [cause.probability for cause in causes]
    assert causes[0].code == "cause.winding-grounded"
    assert shares == sorted(shares, reverse=True)
    assert math.isclose(sum(shares), 1.0, abs_tol=1e-9)


def test_cycle_likelihood_moves_the_causes_that_look_like_it():
    classes = {class_of(row.cycle_class) for row in catalogues.causes().values()} - {"none"}
    shares = dict.fromkeys(classes, 0.001) | {"undercharge": 0.99}
    relative = dict.fromkeys(classes, -6.0) | {"undercharge": 1.7}
    causes = rank_causes((), Complaint(), CycleWeighing(shares, relative, 0.35, frozenset()))
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
    sure = type(row)(row.code, row.pointers, 1.0, "off", row.feeds, 1e-12, {"a": 1 - 1e-12})
    assert information(sure, {"a": 0.5, "b": 0.5}) == pytest.approx(1.0, abs=1e-6)
    certain = type(row)(row.code, row.pointers, 1.0, "off", row.feeds, 1.0, {"a": 0.5})
    assert information(certain, {"b": 1.0}) == 0.0
    useless = type(row)(row.code, row.pointers, 1.0, "off", row.feeds, 0.3, {"a": 0.3})
    assert information(useless, {"a": 0.5, "b": 0.5}) == pytest.approx(0.0, abs=1e-12)


def _rows():
    from service.knowledge.readings import reading_rows

    return reading_rows().values()


def test_proving_dead_is_the_next_reading_while_it_is_owed():
    holds = (Hold("hold.isolation-not-proven", ()),)
    first = next_readings(Visit(), holds, rank_causes((), Complaint()))[0]
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
    assert next_readings(visit, holds, rank_causes((), Complaint()))[0].pointer == pointer


def test_no_live_reading_is_asked_for_while_the_unit_must_stay_off():
    holds = (Hold("hold.winding-grounded", ()),)
    power = {row.code: row.power for row in _rows()}
    asked = next_readings(Visit(), holds, rank_causes((), Complaint(symptoms=("no_start",))))
    assert asked
    assert all(power[reading.why] != "on" for reading in asked)


def test_readings_that_are_there_are_not_asked_for_again():
    visit = load(Visit, {"electrical": {"run_capacitors": [{"serves": "compressor"}]}})
    asked = next_readings(visit, (), rank_causes((), Complaint(symptoms=("hums_no_start",))))
    assert all(reading.why != "reading.run-capacitor" for reading in asked)
    humid = load(Visit, {"air": {"return_relative_humidity": 50}})
    assert all(
        reading.pointer != "/air/return_wet_bulb"
        for reading in next_readings(humid, (), rank_causes((), Complaint()))
    )


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
    steps = plan_steps(Visit(), (), (), causes, False)
    codes = [step.code for step in steps]
    touching = [step.code for step in steps if catalogues.steps()[step.code].touches_conductors]
    assert touching
    assert codes.index("step.prove-dead") <= codes.index(touching[0])


def test_no_compressor_is_ordered_while_a_reading_that_could_clear_it_is_owed():
    causes = rank_causes((GROUNDED,), Complaint())
    for hold in ("hold.isolation-not-proven", "hold.overload-may-be-open", "hold.readings-contradict"):
        steps = plan_steps(Visit(), (GROUNDED,), (Hold(hold, ()),), causes, False)
        assert all(part.code != "part.compressor" for step in steps for part in step.parts)


def test_flammable_refrigerant_adds_its_caution_and_training_to_steps_that_open_the_circuit():
    causes = rank_causes((GROUNDED,), Complaint())
    holds = raise_holds((GROUNDED,))
    for flammable in (True, False):
        steps = plan_steps(Visit(), (GROUNDED,), holds, causes, flammable)
        opening = [step for step in steps if catalogues.steps()[step.code].opens_circuit]
        assert opening
        assert all(("flammable-refrigerant-training" in step.certificates) is flammable for step in opening)
        assert all(("caution.flammable-refrigerant" in step.hazards) is flammable for step in opening)


def test_people_at_risk_raise_the_urgency():
    complaint = Complaint(symptoms=("not_cooling",))
    at_risk = Complaint(symptoms=("not_cooling",), people_at_risk=True)
    assert how_urgent(Visit(complaint=complaint), "undecided", "may_run_watched", ())[0] == "same_day"
    assert how_urgent(Visit(complaint=at_risk), "undecided", "may_run_watched", ())[0] == "now"


def test_replacement_is_facts_about_a_condemned_compressor_only():
    visit = load(Visit, {"visit_date": "2026-07-14", "equipment": {"refrigerant": "R-22", "year_made": 2008}})
    condemned = rank_causes((GROUNDED,), Complaint())
    codes = [sentence.code for sentence in replacement_reasons(visit, condemned, "unsafe")]
    assert codes == ["replacement.compressor", "replacement.age", "replacement.ozone-depleting"]
    assert replacement_reasons(visit, rank_causes((), Complaint()), "fault") == ()
    assert replacement_reasons(load(Visit, {"equipment": {"refrigerant": "R-32"}}), condemned, "unsafe") == ()


def test_running_readings_alone_condemn_no_pump():
    """Common practice, no source: a pump is condemned by a pump-down or a start that moves neither gauge."""
    leading = (Cause("cause.compressor-not-pumping", 0.9, (Argument("argument.for", 3.0),)),)
    suspected = plan_steps(Visit(), (), (), leading, False)
    assert "step.pump-down-test" in [step.code for step in suspected]
    assert all(part.code != "part.compressor" for step in suspected for part in step.parts)
    failed = Finding("compressor.pump-down-holds", State.FAIL, Severity.WARNING, ("/running/pump_down_holds",))
    proven = plan_steps(Visit(), (failed,), (), leading, False)
    assert any(part.code == "part.compressor" for step in proven for part in step.parts)
