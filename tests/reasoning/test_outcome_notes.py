"""The outcome in words: who is told what, urgency, replacement as facts."""

import json
import re
from pathlib import Path

import pytest

from service.app import create_app
from service.knowledge.phase_out import phased_out
from service.reasoning.assessment import WHOLE_VISIT
from service.reasoning.case import CycleCase, Decision, Plan
from service.reasoning.findings import find
from service.reasoning.notes import write_notes
from service.reasoning.pipeline import open_case
from service.reasoning.replacement import replacement_reasons
from service.reasoning.shares import band
from service.reasoning.urgency import how_urgent
from service.results.answer import Cause, Hold
from service.results.cycle import CycleLoss, CycleVerdict, Range
from service.results.finding import Finding, Severity, State
from service.results.planned import PartNeeded
from service.results.record import replace
from service.results.visit import Visit
from service.schemas.documents import load
from service.verdicts.report import Checked
from service.words.locale import texts
from tests.reasoning.cases import case_of, causes_of, permission_of, state_of

GROUNDED = Finding("insulation.winding-grounded", State.FAIL, Severity.CRITICAL, ())
CONDEMNED = causes_of((GROUNDED,))


def visit_of(symptoms=(), **equipment):
    complaint = {"symptoms": list(symptoms)}
    return load(Visit, {"visit_date": "2026-07-14", "complaint": complaint, "equipment": equipment})


@pytest.mark.parametrize(
    ("symptoms", "state", "permission", "urgency"),
    [
        (("poor_cooling",), "undecided", "may_run_watched", ("next_day", "urgency.poor-cooling")),
        (("high_bill",), "undecided", "may_run_watched", ("scheduled", "urgency.nothing-presses")),
        (("not_cooling",), "undecided", "may_run_watched", ("same_day", "urgency.no-cooling")),
        (("not_cooling",), "sound", "may_run", ("scheduled", "urgency.nothing-presses")),
        (("burnt_smell",), "undecided", "keep_off", ("now", "urgency.danger")),
        (("burnt_smell",), "sound", "may_run", ("scheduled", "urgency.nothing-presses")),
        (("water_leak",), "undecided", "may_run_watched", ("same_day", "urgency.damage")),
        ((), "fault", "may_run_watched", ("next_day", "urgency.fault")),
        ((), "fault", "keep_off", ("same_day", "urgency.no-cooling")),
        ((), "unsafe", "keep_off", ("now", "urgency.danger")),
    ],
)
def test_urgency_follows_danger_then_people_then_cooling_then_damage(symptoms, state, permission, urgency):
    case = replace(case_of(visit=visit_of(symptoms)), decision=Decision(state, permission))
    assert how_urgent(case) == urgency


@pytest.mark.parametrize("symptom", ["burnt_smell", "breaker_trips"])
def test_a_reported_danger_keeps_the_unit_off_until_its_checks_have_passed(symptom):
    clearing = [
        Finding(code, State.PASS, Severity.INFO, ("/electrical",))
        for code in ("currents.compressor-normal", "insulation.sound")
    ]

    def permission(findings):
        reported = find(replace(open_case(visit_of([symptom]), with_checks(findings))))
        return permission_of(reported.raw, visit=visit_of([symptom]))

    assert permission(()) == "keep_off"
    assert permission(clearing[:1]) == "keep_off"
    assert permission(clearing) == "may_run_watched"


def with_checks(findings):
    reported, *_ = WHOLE_VISIT.checks
    return replace(WHOLE_VISIT, checks=(reported, lambda _: Checked(tuple(findings))))


@pytest.mark.parametrize(
    ("refrigerant", "off"), [("R-410A", False), ("R-32", True), (None, True), ("R-999", True)]
)
def test_a_hiss_keeps_off_what_burns_or_may_burn(refrigerant, off):
    known = {} if refrigerant is None else {"refrigerant": refrigerant}
    seen = Finding("inspection.filter-dirty", State.PASS, Severity.INFO, ("/inspection/filter_dirty",))
    visit = visit_of(["refrigerant_smell_or_hiss"], **known)
    reported = find(open_case(visit, with_checks((seen,))))
    assert (permission_of(reported.raw, visit=visit) == "keep_off") is off


def test_permission_of_a_critical_failure_is_off():
    assert permission_of((GROUNDED,)) == "keep_off"


def notes_of(state, permission, disposition, holds=(), causes=CONDEMNED, findings=(), parts=()):
    case = case_of(findings, holds, causes)
    return write_notes(
        replace(case, decision=Decision(state, permission), plan=Plan(needed=tuple(parts))), disposition
    )


def test_only_what_is_unsafe_in_the_unit_is_told_to_the_customer_as_unsafe():
    charged, grounded = (Hold("hold.capacitor-charged", ()),), (Hold("hold.winding-grounded", ()),)
    for holds, expected in ((charged, "customer.undecided"), (grounded, "customer.unsafe")):
        notes = notes_of("unsafe", "keep_off", "more_readings", holds)
        assert [item.code for item in notes.customer] == [expected, "customer.keep_off", "customer.more_readings"]
        assert notes.watch_for == ("watch.keep-off",)


def test_the_technician_note_names_what_failed_gravest_first_and_the_parts():
    mild = Finding("windings.published-match", State.FAIL, Severity.WARNING, ())
    told = Finding("windings.terminals-identified", State.FAIL, Severity.INFO, ())
    parts = (PartNeeded("part.compressor"),)
    notes = notes_of("fault", "keep_off", "parts_needed", (), CONDEMNED, (mild, told, GROUNDED), parts)
    said = [tuple(item.values.values()) for item in notes.technician if item.code in ("note.found", "note.part")]
    assert said == [(f"{GROUNDED.code}/fail",), (f"{mild.code}/fail",), ("part.compressor",)]


@pytest.mark.parametrize(
    ("cause", "signs"),
    [
        ("cause.undercharge", ("watch.running", "watch.ice", "watch.worse")),
        ("cause.no-supply", ("watch.running", "watch.worse")),
    ],
)
def test_what_to_watch_for_follows_the_likeliest_cause(cause, signs):
    notes = notes_of("fault", "may_run_watched", "return_visit", causes=(Cause(cause, 1.0),))
    assert notes.watch_for == signs


JARGON = ("superheat", "subcooling", "capacitor", "contactor", "compressor", "winding", "evaporator", "condenser")
JARGON += ("suction", "microfarad", "ohm", "psi", "amps", "volt", "refrigerant", "charge", "guarantee", "promise")
JARGON += ("certainly", "cheap", "price", "cost", "dollars", "blame", "neglected", "wrongly")


@pytest.mark.parametrize("code", [code for code in texts("en", "sentences") if code.startswith("customer.")])
def test_the_customer_note_has_no_jargon_blame_promise_or_price(code):
    said = texts("en", "sentences")[code]
    assert not [word for word in JARGON if re.search(rf"\b{re.escape(word)}\b", said, re.IGNORECASE)]


def test_every_sentence_of_the_notes_exists():
    known = texts("en", "sentences")
    repair = (Cause("cause.run-capacitor-failed", 1.0),)
    for state in ("sound", "fault", "undecided", "unsafe"):
        for permission in ("keep_off", "unknown", "may_run", "may_run_watched"):
            for disposition in ("complete", "more_readings", "parts_needed", "return_visit", "replacement_quote"):
                for causes in (CONDEMNED, causes_of(), repair):
                    notes = notes_of(state, permission, disposition, causes=causes)
                    codes = [item.code for item in (*notes.summary, *notes.technician, *notes.customer)]
                    assert set(codes) | set(notes.watch_for) <= set(known)


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_dispatcher_is_told_what_may_it_run_when_how_long_who_and_what_to_load(client_answer, language):
    """Rule 20 of the words: in this order, and no finding's headline."""
    answer = client_answer(language)
    said = answer["outcome"]["summary"]
    order = [answer["causes"][0]["title"], *DISPATCHED[language]]
    places = [said.index(part) for part in order]
    assert places == sorted(places), said
    rest = said.replace(order[0], "")
    assert not [item for item in answer["findings"] if item["state"] == "fail" and item["headline"] in rest]


DISPATCHED = {
    "en": [
        "OK to run for now.",
        "When: ",
        "Time: 20 min to 60 min.",
        "Next visit: 2½ h to 5½ h.",
        "Who: EPA",
        "Load: R-410A.",
    ],
    "es": [
        "Puede funcionar",
        "Cuándo: ",
        "Tiempo: ",
        "Próxima visita: 2½ h a 5½ h.",
        "Quién: EPA",
        "Lleve: R-410A.",
    ],
}


@pytest.fixture
def client_answer():
    """The answer to the low-charge sample in a language."""
    client = create_app().test_client()
    document = json.loads(Path("samples/visits/low-charge-valve.json").read_text())
    return lambda language: client.post(
        "/v1/assessment", json=document, headers={"Accept-Language": language}
    ).get_json()


@pytest.mark.parametrize(
    ("share", "word"), [(0.9, "most"), (0.89, "likely"), (0.6, "likely"), (0.3, "possible"), (0.29, "none")]
)
def test_a_cause_is_spoken_of_as_surely_as_it_is_known(share, word):
    """Rule 11 of the words."""
    assert band(share) == word


LOSS = CycleLoss(Range(0.6, 0.7, 0.8), Range(0.9, 1.0, 1.1), Range(0.6, 0.72, 0.85))
NO_LOSS = CycleLoss(Range(0.9, 1.0, 1.1), Range(0.9, 1.0, 1.1), Range(0.9, 1.0, 1.1))


@pytest.mark.parametrize(
    ("equipment", "loss", "codes"),
    [
        ({"refrigerant": "R-22"}, None, ["compressor", "rule"]),
        ({"refrigerant": "R-12"}, None, ["compressor", "rule"]),
        ({"refrigerant": "R-410A"}, LOSS, []),  # not a reason by itself
        ({"refrigerant": "R-410A", "year_made": 2010}, LOSS, ["compressor", "age", "rule", "energy"]),
        ({"refrigerant": "R-410A", "year_made": 2010}, NO_LOSS, ["compressor", "age", "rule"]),
        ({"refrigerant": "R-454B", "year_made": 2010}, None, ["compressor", "age"]),
        ({"refrigerant": "R-454B", "year_made": 2024}, None, []),
        ({"nameplate_refrigerant": "R-22", "year_made": 2030}, None, ["compressor", "rule"]),
        ({}, None, []),
    ],
)
def test_replacement_facts(equipment, loss, codes):
    """40 CFR 82.16 (R-22 from 2020) and 40 CFR 84.54 (potential of 700 or more from 2025)."""
    verdict = CycleVerdict("steady", loss=loss)
    case = replace(case_of(causes=CONDEMNED, visit=visit_of(**equipment)), cycle=CycleCase(verdict=verdict))
    said = replacement_reasons(replace(case, decision=Decision("unsafe")))
    assert [item.code for item in said] == [f"replacement.{code}" for code in codes]


def test_nothing_is_replaced_while_undecided_or_without_a_condemned_compressor():
    visit = visit_of(refrigerant="R-22", year_made=2005)
    condemned = case_of(causes=CONDEMNED, visit=visit)
    assert replacement_reasons(replace(condemned, decision=Decision("undecided"))) == ()
    assert replacement_reasons(replace(case_of(visit=visit), decision=Decision("fault"))) == ()
    assert state_of((GROUNDED,), (), CONDEMNED) == "fault"


def rules_of(*asked):
    return [rule.code for rule in phased_out(*asked)]


def test_a_rule_is_told_only_from_its_date_on():
    assert rules_of("R-410A", "2024-12-31", "split_air_conditioner") == []
    assert rules_of("R-410A", "2025-01-01", "split_air_conditioner") == ["us.new-equipment.split-until-2026"]
    assert rules_of("R-410A", "2026-07-26", "split_air_conditioner") == ["us.new-equipment.split-until-2026"]
    assert rules_of("R-410A", "2026-07-27", "split_air_conditioner") == ["us.new-equipment.split"]
    assert rules_of("R-22", None) == ["us.supply.class-two"]
    assert rules_of("R-32", None) == []
    assert rules_of("R-999", None) == []


@pytest.mark.parametrize(
    ("kind", "day", "code"),
    [
        ("packaged_heat_pump", "2025-01-01", "us.new-equipment.packaged"),
        ("multi_split", "2025-12-31", None),
        ("multi_split", "2026-01-01", "us.new-equipment.variable-flow"),
        (None, "2026-07-27", "us.new-equipment.any"),
    ],
)
def test_new_equipment_by_kind(kind, day, code):
    """40 CFR 84.54: split and packaged from 2025, variable flow from 2026 (89 FR 100381)."""
    assert rules_of("R-410A", day, kind) == ([code] if code else [])


def test_a_state_adds_to_the_federal_rules_and_an_unknown_place_has_none():
    codes = rules_of("R-410A", "2026-08-01", "split_heat_pump", "US-CA")
    assert codes == ["us-ca.new-equipment", "us.new-equipment.split"]
    assert rules_of("R-22", "2026-08-01", None, "BR") == []
