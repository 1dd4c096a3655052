"""A unit in a room hears of nothing that it has not: ducts, a line set, a pressure beside a temperature.

Source: common practice, no source. Every complaint and every golden visit of these kinds, in both languages.
"""

import re

import pytest

from service.app import create_app
from service.knowledge.catalogues import causes, steps
from service.knowledge.kinds import kind_rows
from service.reasoning.unit import HEAT_PUMP, fits_step
from service.results.record import replace
from service.results.visit import Visit
from service.results.visit.observations import SYMPTOMS
from tests.golden import golden_cases
from tests.words.test_heating import texts

IN_A_ROOM = (
    "packaged_terminal_air_conditioner",
    "packaged_terminal_heat_pump",
    "room_air_conditioner",
    "room_air_conditioner_reverse_cycle",
)
DUCTS_AND_LINES = {
    "en": re.compile(r"\b(ducts?|ductwork|registers?|dampers?|static pressure|line set)\b", re.I),
    "es": re.compile(r"(\bductos?\b|\bcompuertas?\b|presión estática|más (la corrección de la )?línea)", re.I),
}
LOCKED = {"en": re.compile(r"\bdisconnect\b", re.I), "es": re.compile(r"\bdesconectador\b", re.I)}
WIRED_IN = {"en": re.compile("wired in|plug", re.I), "es": re.compile("conexión es fija|desench", re.I)}
PAIRED = {
    "en": re.compile("subcooling|superheat", re.I),
    "es": re.compile("subenfriamiento|sobrecalentamiento", re.I),
}
LEAVE = "hold.fuel-gas"  # names the disconnect to say that it is not touched
TOLD = ("holds", "causes", "next_readings", "next_steps", "cautions")


def visits():
    for kind in IN_A_ROOM:
        equipment = {"kind": kind, "refrigerant": "R-410A", "phases": 1, "compressor": {"drive": "single_phase"}}
        yield from ({"equipment": equipment, "complaint": {"symptoms": [symptom]}} for symptom in SYMPTOMS)
        yield {"equipment": equipment, "running": {"minutes_running": 20}, "inspection": {"filter_dirty": True}}
        yield {"equipment": equipment, "electrical": {"windings": {"common_start": {"ohms": 3.0}}}}
    for _, case in golden_cases():
        unit = case["request"].get("equipment", {}) if isinstance(case["request"], dict) else {}
        if unit.get("kind") in IN_A_ROOM and case["endpoint"] == "/v1/assessment":
            yield case["request"]


@pytest.fixture(scope="module")
def bodies():
    client = create_app().test_client()
    answers = {
        language: [
            client.post("/v1/assessment", json=document, headers={"Accept-Language": language})
            for document in visits()
        ]
        for language in ("en", "es")
    }
    assert all(answer.status_code == 200 for found in answers.values() for answer in found)
    return {language: [answer.get_json() for answer in found] for language, found in answers.items()}


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_unit_in_a_room_hears_of_no_duct_and_of_no_line_set(bodies, language):
    told = [pair for body in bodies[language] for part in TOLD for pair in texts(body[part])]
    assert len(told) > 1000
    assert not {pair for pair in told if DUCTS_AND_LINES[language].search(pair[1])}


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_unit_with_a_plug_is_unplugged(bodies, language):
    told = {
        pair
        for body in bodies[language]
        for part in ("holds", "cautions", "next_steps")
        for pair in texts(body[part])
        if LOCKED[language].search(pair[1]) and pair[0] != LEAVE
    }
    assert any(code == "caution.isolate-first" for code, _ in told)
    assert not {pair for pair in told if not WIRED_IN[language].search(pair[1])}


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_temperature_is_asked_for_beside_a_pressure_that_cannot_be_had(bodies, language):
    asked = {(item["pointer"], item["why"]) for body in bodies[language] for item in body["next_readings"]}
    assert "/running/liquid_line_temperature" in {pointer for pointer, _ in asked}
    assert not {pair for pair in asked if PAIRED[language].search(pair[1])}


def test_every_cause_can_be_confirmed_on_every_kind():
    """A fault has a step of its own whatever the kind: one without a place to read on it is never ordered."""
    missing = [
        (kind, code)
        for kind in kind_rows()
        for code, row in causes().items()
        if row.confirm_by
        and not row.sound
        and not any(has_a_place(kind, steps()[step]) for step in row.confirm_by)
    ]
    assert not missing


def has_a_place(kind, step):
    """Whether the unit has what the step reads; a step for a part that it has not goes with its cause."""
    visit = Visit()
    return step.unit == HEAT_PUMP or fits_step(replace(visit, equipment=replace(visit.equipment, kind=kind)), step)
