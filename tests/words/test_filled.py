"""What fills a sentence stands in its language and place: no word of the document's lists, no capital inside."""

import pytest

from service.app import create_app
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.words.say import Speaker
from tests.golden import golden_cases

REPEATED = "visits/before_readings:vis-b04-burnt-smell-reported"  # its one step takes fifteen minutes


def detail(path, body, code, language):
    answer = create_app().test_client().post(path, json=body, headers={"Accept-Language": language}).get_json()
    return next(item["detail"] for item in answer["findings"] if item["code"] == code)


@pytest.mark.parametrize(
    ("language", "said"), [("en", "high pressure refrigerant"), ("es", "refrigerante de presión alta")]
)
def test_the_pressure_class_is_said_in_the_language(language, said):
    body = {"refrigerant": "R-22", "full_charge": 10, "visit_date": "2026-07-14", "site": {"jurisdiction": "US"}}
    body["units"] = {"mass": "lb"}
    assert said in detail("/v1/procedures/recovery", body, "recovery.evacuation-level", language)


@pytest.mark.parametrize(
    ("language", "said"), [("en", "POE (polyol ester) oil"), ("es", "aceite POE (poliol éster)")]
)
def test_the_oil_is_said_in_the_language(language, said):
    body = {"equipment": {"refrigerant": "R-410A", "oil": "poe"}}
    assert said in detail("/v1/assessment", body, "refrigerant.oil", language)


@pytest.mark.parametrize(
    ("template", "said"),
    [
        ("The readings match {cause}.", "The readings match low refrigerant charge."),
        ("Most likely: {cause}.", "Most likely: Low refrigerant charge."),
        ("No fault is clear. {cause} leads.", "No fault is clear. Low refrigerant charge leads."),
        ("{cause} leads.", "Low refrigerant charge leads."),
    ],
)
def test_a_cause_has_no_capital_inside_a_sentence(template, said):
    speaker = Speaker(Units(), STANDARD_ATMOSPHERE)
    assert speaker.fill_named(template, {"cause": "cause.undercharge"}) == said


@pytest.mark.parametrize(("language", "said"), [("en", "Time: 15 min."), ("es", "Tiempo: 15 min.")])
def test_a_time_whose_ends_are_alike_is_said_once(language, said):
    """Fifteen minutes, not `15 min to 15 min`."""
    case = next(case for name, case in golden_cases() if name == REPEATED)
    headers = {"Accept-Language": language}
    outcome = (
        create_app()
        .test_client()
        .post(case["endpoint"], json=case["request"], headers=headers)
        .get_json()["outcome"]
    )
    assert said in outcome["summary"]


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_unit_that_ends_with_a_period_ends_no_sentence(language):
    """`0.25 in. w.c.` before a period gives two of them."""
    client = create_app().test_client()
    cases = [case for _, case in golden_cases() if case["endpoint"] == "/v1/air"]
    answers = [
        client.post("/v1/air", json=case["request"], headers={"Accept-Language": language}) for case in cases
    ]
    details = [item["detail"] for answer in answers for item in answer.get_json().get("findings", ())]
    assert any("in. w.c." in detail for detail in details)
    assert [detail for detail in details if ".." in detail] == []
