"""A visit to a unit that is asked to heat hears no word of cooling: every complaint, asked by phone and on site.

Source: common practice. The words that are let through name the other mode on purpose, each with its reason.
"""

import re

import pytest

from service.app import create_app
from service.results.visit.observations import SYMPTOMS
from tests.golden import golden_cases

UNIT = {
    "kind": "split_heat_pump",
    "mode": "heating",
    "refrigerant": "R-410A",
    "metering_device": "thermostatic_expansion_valve",
    "target_subcooling": 10,
    "compressor": {"type": "scroll", "drive": "single_phase"},
}
RISK = ["elderly", "alone", "children", "pets"]
COOLING = {
    "en": re.compile(r"\b(cool(s|ing|er|est|ed)?|air condition\w*|evaporator|condenser|warm air)\b", re.I),
    "es": re.compile(r"(\benfr[ií]\w*|\bfresc\w|aire acondicionado|evaporador|condensador|aire caliente)", re.I),
}
# Codes whose texts name the other mode: which way the valve stands, what a target is made for, a pump-down, or
# a shell that cools.
NAME_BOTH = (
    "mode.reversed",
    "cause.reversing-valve",
    "charge.cooling-mode",
    "step.prove-mode-change",
    "step.read-valve-signal",
    "step.read-vapor-line",
    "reading.reversing-valve",
    "question.warm-air",
    "/running/vapor_line_temperature",
    "step.cool-",
    "step.pump-down-test",
    "step.repeat-pump-down",
)
BOTH_MODES = re.compile(r"heating and cooling|cool instead of heat|calor y frío|enfriar en vez de calentar", re.I)
TOLD = (
    "outcome",
    "findings",
    "holds",
    "causes",
    "next_readings",
    "next_steps",
    "questions",
    "missing",
    "assumptions",
)
CODES = ("code", "pointer", "evidence", "finding", "source", "yields", "why_codes")


def requests():
    for symptom in SYMPTOMS:
        complaint = {"symptoms": [symptom], "people_at_risk": RISK}
        yield symptom, "/v1/intake", {"equipment": UNIT, "complaint": complaint}
        yield symptom, "/v1/assessment", {"equipment": UNIT, "complaint": complaint}
    for name, case in golden_cases():
        unit = case["request"].get("equipment", {}) if isinstance(case["request"], dict) else {}
        asked = unit.get("mode") == "heating" and case["expect"].get("status", 200) == 200
        if asked and case["endpoint"] == "/v1/assessment" and "units" not in case["request"]:
            yield name, case["endpoint"], case["request"]


def texts(value, code=""):
    """(code, text) of every text that is read out, below a member of the answer."""
    if isinstance(value, dict):
        code = value.get("code") or value.get("pointer") or code
        for name, inner in value.items():
            if name not in CODES:
                yield from texts(inner, code)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner, code)
    elif isinstance(value, str) and " " in value:
        yield code, value


def of_cooling(body, language):
    told = [pair for part in TOLD for pair in texts(body.get(part, ()), "")]
    return sorted(
        {
            (code, said)
            for code, text in told
            if not code.startswith(NAME_BOTH)
            for said in re.split(r"(?<=\.) ", text)
            if COOLING[language].search(BOTH_MODES.sub("", said))
        }
    )


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_visit_in_heating_hears_no_word_of_cooling(client, language):
    found = []
    for name, endpoint, document in requests():
        response = client.post(endpoint, json=document, headers={"Accept-Language": language})
        assert response.status_code == 200, name
        found += [(name, *line) for line in of_cooling(response.get_json(), language)]
    assert not found, "\n".join(map(str, found))


@pytest.mark.parametrize(("language", "wanted"), [("en", "There is no heat."), ("es", "No hay calefacción.")])
def test_the_same_complaint_is_told_by_the_mode(client, language, wanted):
    told = {
        mode: client.post(
            "/v1/assessment",
            json={"equipment": {**UNIT, "mode": mode}, "complaint": {"symptoms": ["not_cooling"]}},
            headers={"Accept-Language": language},
        ).get_json()["outcome"]["urgency_reason"]
        for mode in ("cooling", "heating")
    }
    assert wanted in told["heating"]
    assert wanted not in told["cooling"]


def test_the_job_note_of_a_visit_in_heating_speaks_of_a_heat_pump(client):
    document = {"equipment": UNIT, "complaint": {"symptoms": ["poor_cooling"]}}
    page = client.post("/v1/note", json=document).get_data(as_text=True)
    assert "Your heat pump" in page
    assert "poor heating" in page
    assert "air conditioner" not in page
