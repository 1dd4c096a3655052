"""Intake: what nameplate and history say, questions by what they tell, load list, minutes."""

import copy

import pytest

from service.app import create_app
from service.checks.seen.complaint import may_be_flammable
from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.circumstances import circumstance_rows
from service.knowledge.questions import question_of, question_rows
from service.knowledge.rows import KnowledgeError
from service.reasoning.askable import value_at
from service.reasoning.assessment import INTAKE, take_in
from service.reasoning.circumstances import age_in_years, circumstances, weights_of_circumstances
from service.reasoning.loading import weighted_quantile
from service.reasoning.pipeline import open_case
from service.results.visit import Visit
from service.results.visit.observations import SYMPTOMS
from service.schemas.documents import load


def visit_of(*symptoms, **parts):
    complaint = {"symptoms": list(symptoms)} | parts.pop("complaint", {})
    return load(Visit, {"complaint": complaint, **parts})


@pytest.mark.parametrize(
    ("document", "expected"),
    [
        ({}, ()),
        ({"equipment": {"phases": 1}}, ("single_phase",)),
        ({"equipment": {"phases": 3, "compressor": {"drive": "three_phase"}}}, ("three_phase", "fixed_speed")),
        ({"equipment": {"compressor": {"drive": "inverter"}}}, ("inverter",)),
        ({"equipment": {"kind": "packaged_air_conditioner"}}, ("cooling_only",)),
        ({"equipment": {"refrigerant": "R-22"}}, ("not_flammable",)),
        ({"equipment": {"nameplate_refrigerant": "R-32", "kind": "split_heat_pump"}}, ("flammable",)),
        ({"visit_date": "2026-07-01", "equipment": {"year_made": 2010}}, ("old",)),
        ({"visit_date": "2026-07-01", "equipment": {"year_made": 2025}}, ("new",)),
        ({"visit_date": "2026-07-01", "equipment": {"year_made": 2020}}, ()),
        ({"equipment": {"year_made": 2010}}, ()),
        ({"complaint": {"recent_work": True, "charge_added_recently": True}}, ("recent_work", "charge_added")),
        ({"complaint": {"days_since_ok": 1}}, ("sudden",)),
        ({"complaint": {"days_since_ok": 10}}, ()),
        ({"complaint": {"days_since_ok": 60}}, ("slow",)),
        ({"complaint": {"symptoms": ["no_start"]}}, ("does_not_start",)),
        ({"complaint": {"symptoms": ["poor_cooling"]}}, ("it_runs",)),
        ({"complaint": {"symptoms": ["no_start", "poor_cooling"]}}, ()),
    ],
)
def test_circumstances_are_what_the_document_says(document, expected):
    assert circumstances(load(Visit, document)) == expected


def test_a_date_before_the_year_of_manufacture_tells_no_age():
    assert age_in_years(load(Visit, {"visit_date": "2026-07-01", "equipment": {"year_made": 2027}})) is None


def test_weights_of_several_circumstances_add_up():
    visit = load(Visit, {"complaint": {"recent_work": True, "charge_added_recently": True}})
    rows = circumstance_rows()
    expected = rows["recent_work"]["cause.overcharge"] + rows["charge_added"]["cause.overcharge"]
    assert weights_of_circumstances(open_case(visit, INTAKE))["cause.overcharge"] == pytest.approx(expected)


def test_circumstances_and_questions_name_causes_and_members_that_exist():
    named = {cause for row in circumstance_rows().values() for cause in row}
    named |= {cause for row in question_rows().values() for cause in row.abnormal}
    assert named <= set(cause_rows())
    for row in question_rows().values():
        assert set(row.symptoms) <= set(SYMPTOMS)
        assert all(value_at(Visit(), pointer) is None for pointer in row.pointers)


@pytest.mark.parametrize("chance", [0, 1, 1.5])
def test_a_chance_outside_0_to_1_is_refused_when_loaded(chance):
    with pytest.raises(KnowledgeError):
        question_of({"code": "question.x", "otherwise": 0.5, "telling": {"cause.undercharge": chance}})


@pytest.mark.parametrize("cause", ["single-phasing", "supply-unbalance", "drive-failed", "reversing-valve-leak"])
def test_a_unit_cannot_have_what_it_has_no_part_for(cause):
    equipment = {"phases": 1, "kind": "split_air_conditioner", "compressor": {"drive": "single_phase"}}
    answer = take_in(visit_of("not_cooling", "hums_no_start", "fault_code_shown", equipment=equipment))
    assert f"cause.{cause}" not in {item.code for item in answer.causes}


@pytest.mark.parametrize("symptom", SYMPTOMS)
def test_every_complaint_gets_a_whole_answer(symptom):
    answer = take_in(visit_of(symptom))
    shares = [cause.probability for cause in answer.causes]
    assert sum(shares) == pytest.approx(1.0, abs=1e-9)
    assert shares == sorted(shares, reverse=True)
    none_found = [cause.probability for cause in answer.causes if cause.code == "cause.none-found"]
    assert not none_found or none_found[0] < 0.1  # somebody called: common practice, no source
    assert answer.outcome.minutes.low <= answer.outcome.minutes.high
    assert answer.outcome.certificates or symptom == "fuel_gas_smell"  # that is no call for a technician
    if answer.outcome.run_permission == "keep_off":
        assert all(step.power != "on" for step in answer.next_steps)


def test_questions_come_danger_first_then_by_falling_information_and_loading_last():
    asked = take_in(visit_of("poor_cooling")).questions
    codes = [question.code for question in asked]
    assert set(codes[:3]) == {"question.breaker", "question.burnt-smell", "question.hiss"}
    loading = [code for code, row in question_rows().items() if row.loading]
    assert codes[-len(loading) :] == loading
    bits = [question.information_bits for question in asked[3 : -len(loading)]]
    assert bits == sorted(bits, reverse=True)


@pytest.mark.parametrize(
    ("symptom", "question"),
    [
        ("breaker_trips", "trips-when"),
        ("noise_outdoor", "which-noise"),
        ("noise_indoor", "which-noise"),
        ("water_leak", "where-water"),
        ("fault_code_shown", "which-code"),
        ("refrigerant_smell_or_hiss", "fuel-gas"),
    ],
)
def test_each_symptom_has_its_own_follow_up(symptom, question):
    """Common practice, no source: a dispatcher asks on about what was said before anything else but danger."""
    codes = [item.code for item in take_in(visit_of(symptom)).questions]
    assert codes.index(f"question.{question}") < 4
    assert f"question.{question}" not in {item.code for item in take_in(visit_of("poor_cooling")).questions}


@pytest.mark.parametrize("refrigerant", ["R-290", "R-32", "R-410A"])
def test_nothing_that_needs_the_unit_running_while_it_stays_off(refrigerant):
    answer = take_in(visit_of("refrigerant_smell_or_hiss", equipment={"refrigerant": refrigerant}))
    runs = {code for code, row in question_rows().items() if row.runs}
    asked = {item.code for item in answer.questions}
    assert answer.outcome.run_permission == "keep_off"
    assert not runs & asked
    assert runs & {item.code for item in take_in(visit_of("poor_cooling")).questions}


def test_fuel_gas_is_not_refrigerant():
    """Common practice, no source: out, no switch, gas utility and emergency number from outside; no questions."""
    gas = take_in(visit_of("fuel_gas_smell"))
    assert [hold.code for hold in gas.holds] == ["hold.fuel-gas"]
    assert gas.outcome.state == "unsafe"
    assert gas.outcome.urgency == "now"
    assert gas.next_steps[0].code == "step.leave-fuel-gas"
    assert "advice.fuel-gas" in {item.code for item in gas.outcome.customer_note}
    assert gas.questions == ()
    assert not gas.load_list.parts
    assert not gas.load_list.tools
    assert "note.likely" not in {item.code for item in gas.outcome.summary}
    hiss = take_in(visit_of("refrigerant_smell_or_hiss"))
    assert "hold.fuel-gas" not in {hold.code for hold in hiss.holds}


@pytest.mark.parametrize("symptom", ["burnt_smell", "noise_outdoor", "noise_indoor"])
def test_low_charge_does_not_lead_what_it_does_not_make(symptom):
    leading = [cause.code for cause in take_in(visit_of(symptom)).causes[:4]]
    assert "cause.undercharge" not in leading


def test_water_loads_drain_parts_and_a_float_switch():
    loaded = {part.code for part in take_in(visit_of("water_leak")).load_list.parts}
    assert {"part.drain-parts", "part.float-switch"} <= loaded
    assert not {"part.drain-parts", "part.float-switch"} & {
        part.code for part in take_in(visit_of("noise_outdoor")).load_list.parts
    }


def patched(document, patches):
    """The document after `add` operations (RFC 6902); what is not there on the way is made first."""
    document = copy.deepcopy(document)
    for change in patches:
        *way, last = change["path"].split("/")[1:]
        place = document
        for name, following in zip(way, (*way[1:], last), strict=True):
            place = place.setdefault(name, [] if following == "-" else {})
        if last == "-":
            place.append(change["value"])
        else:
            place[last] = change["value"]
    return document


@pytest.mark.parametrize("code", question_rows())
def test_every_answer_has_its_place_in_the_document(code):
    """The patch of a question (RFC 6902) makes a document that is accepted and answers the question."""
    row = question_rows()[code]
    members = {
        "/equipment/refrigerant": "R-410A",
        "/site/equipment_location": "roof",
        "/equipment/year_made": 2015,
    }
    words = {"/complaint/trip_timing": "at_once", "/complaint/noise": "rattling", "/complaint/water_at": "ceiling"}
    words["/inspection/outdoor_coil_ice"] = "iced"
    words["/complaint/people_at_risk"] = ("elderly", "pets")
    said = {**members, **words, "/complaint/fault_code": "E4"}.get(row.pointer, True)
    document = patched({"complaint": {"symptoms": list(row.follows)}}, row.patch(said))
    asked = {item.code for item in take_in(load(Visit, document)).questions}
    assert code not in asked


def test_the_note_says_what_the_caller_said():
    summary = take_in(visit_of("noise_outdoor", "poor_cooling")).outcome.summary
    said = [item.values["symptom"] for item in summary if item.code == "note.caller-said"]
    assert said == ["noise_outdoor", "poor_cooling"]


def test_what_the_document_answers_is_not_asked():
    document = {
        "complaint": {"recent_work": False, "people_at_risk": ["none"]},
        "equipment": {"refrigerant": "R-410A", "year_made": 2015},
        "site": {"equipment_location": "roof"},
    }
    codes = {question.code for question in take_in(visit_of("ice_on_line", "breaker_trips", **document)).questions}
    absent = ("ice", "breaker", "recent-work", "refrigerant", "people-at-risk", "location", "year-made")
    assert not codes & {f"question.{name}" for name in absent}


def test_a_question_tells_more_where_it_parts_the_likely_causes():
    """Lindley 1956: an answer that is certain under one half and impossible under the other is worth a bit."""
    airflow = {item.code: item.information_bits for item in take_in(visit_of("poor_cooling")).questions}
    start = {item.code: item.information_bits for item in take_in(visit_of("no_start")).questions}
    assert airflow["question.charge-added"] > start.get("question.charge-added", 0.0)


def test_no_compressor_is_loaded_on_suspicion_and_refrigerant_gear_only_where_likely():
    hums = take_in(visit_of("hums_no_start")).load_list
    leaks = take_in(visit_of("refrigerant_smell_or_hiss", equipment={"refrigerant": "R-410A"})).load_list
    assert "part.run-capacitor" in {part.code for part in hums.parts}
    assert "part.compressor" not in {part.code for part in (*hums.parts, *leaks.parts)}
    assert not hums.refrigerant.likely
    assert "tool.recovery-machine" not in hums.tools
    assert leaks.refrigerant.likely
    assert leaks.refrigerant.designation == "R-410A"
    assert {"tool.recovery-machine", "tool.vacuum-pump"} <= set(leaks.tools)


@pytest.mark.parametrize(
    ("document", "expected"),
    [
        ({}, True),
        ({"equipment": {"refrigerant": "R-410A"}}, False),
        ({"equipment": {"nameplate_refrigerant": "R-290"}}, True),
        ({"equipment": {"refrigerant": "unheard of"}}, True),
    ],
)
def test_what_is_not_known_to_be_harmless_may_burn(document, expected):
    assert may_be_flammable(load(Visit, document)) is expected


@pytest.mark.parametrize(("share", "expected"), [(0.0, 1.0), (0.5, 2.0), (0.51, 3.0), (0.9, 3.0), (1.0, 4.0)])
def test_weighted_quantile_by_hand(share, expected):
    pairs = [(4.0, 0.1), (1.0, 0.2), (3.0, 0.4), (2.0, 0.3)]
    assert weighted_quantile(pairs, share) == expected


def test_the_range_of_minutes_covers_what_is_likely():
    answer = take_in(visit_of("will_not_shut_off", "fault_code_shown"))
    assert answer.causes[0].code == "cause.contactor-welded"
    assert 15.0 < answer.outcome.minutes.low < answer.outcome.minutes.high


TYPED = {"text": "R-410A", "whole_number": 2015}


def test_a_call_taker_answers_the_published_questions_until_none_is_left():
    """Over the wire: each question of the answer is looked up, answered by its patches, and never asked again."""
    client = create_app().test_client()
    published = {row["code"]: row for row in client.get("/v1/questions").get_json()["questions"]}
    document, asked = {"complaint": {"symptoms": ["breaker_trips"]}}, []
    while True:
        answer = client.post("/v1/intake", json=document)
        assert answer.status_code == 200, answer.get_data(as_text=True)
        open_questions = [item["code"] for item in answer.get_json()["questions"] if item["code"] not in asked]
        if not open_questions:
            break
        asked.append(open_questions[0])
        row = published[asked[-1]]
        choices = row["answers"]
        if choices:
            assert {"yes", "no"} == {item["word"] for item in choices} or row["answer"].startswith("choice")
            patches = choices[-1]["patches"]  # the last word, or no
        else:
            patches = [{"op": "add", "path": row["pointer"], "value": TYPED[row["answer"]]}]
        document = patched(document, patches)
        still = {item["code"] for item in client.post("/v1/intake", json=document).get_json()["questions"]}
        assert row["answer"] == "yes_no" or asked[-1] not in still
    assert len(asked) > 8
    assert "question.trips-when" in asked[:4]
    assert document["complaint"]["trip_timing"] == "after_minutes"
    assert document["complaint"]["people_at_risk"] == ["pets"]


@pytest.mark.parametrize(
    ("symptom", "member", "word", "cause", "rises"),
    [
        ("breaker_trips", "trip_timing", "at_once", "winding-grounded", True),
        ("breaker_trips", "trip_timing", "after_minutes", "winding-grounded", False),
        ("breaker_trips", "trip_timing", "after_minutes", "outdoor-coil-blocked", True),
        ("breaker_trips", "trip_timing", "at_once", "outdoor-coil-blocked", False),
        ("noise_outdoor", "noise", "grinding", "outdoor-fan-failed", True),
        ("noise_outdoor", "noise", "buzzing", "contactor-contacts-failed", True),
        ("noise_outdoor", "noise", "buzzing", "outdoor-fan-failed", False),
        ("noise_indoor", "noise", "squealing", "indoor-blower-failed", True),
        ("water_leak", "water_at", "ceiling", "condensate-overflow", True),
        ("water_leak", "water_at", "outdoor_unit", "condensate-overflow", False),
        ("hums_no_start", "other_appliances", True, "low-supply-voltage", True),
    ],
)
def test_the_answer_to_a_follow_up_moves_the_causes(symptom, member, word, cause, rises):
    """Common practice, no source: a short trips at once, a hot motor after minutes; drops outdoors are normal."""

    def share(**complaint):
        answer = take_in(visit_of(symptom, complaint=complaint))
        return {item.code: item.probability for item in answer.causes}.get(f"cause.{cause}", 0.0)

    assert (share(**{member: word}) > share()) is rises


@pytest.mark.parametrize("symptom", ["breaker_trips", "burnt_smell", "noise_outdoor", "noise_indoor"])
def test_what_is_electrical_or_turns_is_not_led_by_the_circuit(symptom):
    """Common practice, no source: low charge trips no breaker, smells of nothing burnt and makes no noise."""
    leading = [item.code for item in take_in(visit_of(symptom)).causes[:3]]
    assert "cause.undercharge" not in leading


@pytest.mark.parametrize(
    ("people", "symptom", "urgency", "advice"),
    [
        (["elderly"], "not_cooling", "now", "advice.heat"),
        (["infants", "pets"], "not_cooling", "now", "advice.pets"),
        (["children"], "not_cooling", "same_day", "advice.heat"),
        (["alone"], "poor_cooling", "same_day", "advice.alone"),
        (["pets"], "not_cooling", "same_day", "advice.pets"),
        (["pets"], "high_bill", "next_day", "advice.pets"),
        (["none"], "high_bill", "scheduled", ""),
        ([], "high_bill", "scheduled", ""),
    ],
)
def test_who_is_in_the_building(people, symptom, urgency, advice):
    """Common practice, no source: infants, old and ill people take harm from heat first."""
    outcome = take_in(visit_of(symptom, complaint={"people_at_risk": people})).outcome
    told = {item.code for item in outcome.customer_note}
    assert outcome.urgency == urgency
    assert advice in told if advice else not {"advice.heat", "advice.alone", "advice.pets"} & told
    named = [item.values["person"] for item in outcome.summary if item.code == "note.caller-people"]
    assert named == [word for word in people if word != "none"]
