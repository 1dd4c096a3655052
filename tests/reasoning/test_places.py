"""What an answer says of the law is the place's: nothing of one country is told in another."""

import re

import pytest

from service.app import create_app
from service.knowledge.catalogues import cautions
from service.knowledge.rule_book import book
from tests.golden import golden_cases

FEDERAL = re.compile(r"federal law|Section 608|EPA\b|\bOSHA\b(?! requires)|40 CFR|29 CFR")
PLACED = [("/v1/assessment", name, case) for name, case in golden_cases() if case["endpoint"] == "/v1/assessment"]
SAMPLE = PLACED[::9]


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


def texts_of(body):
    if isinstance(body, str):
        yield body
    elif isinstance(body, dict):
        # A source tells where a number was read, wherever that number is used.
        told = (item for name, item in body.items() if name not in ("provenance", "source"))
        yield from (text for item in told for text in texts_of(item))
    elif isinstance(body, list):
        yield from (text for item in body for text in texts_of(item))


@pytest.mark.parametrize("place", ["FR", "BR"])
@pytest.mark.parametrize(("endpoint", "name", "case"), SAMPLE, ids=[name for _, name, _ in SAMPLE])
def test_nothing_federal_is_told_elsewhere(client, place, endpoint, name, case):
    document = case["request"] | {"site": case["request"].get("site", {}) | {"jurisdiction": place}}
    response = client.post(endpoint, json=document)
    if response.status_code == 200:
        found = [text for text in texts_of(response.get_json()) if FEDERAL.search(text)]
        assert not found, found


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (None, {"caution.no-venting", "caution.refrigerant-certificate"}),
        ("US", {"caution.no-venting", "caution.refrigerant-certificate"}),
        ("US-CA", {"caution.no-venting", "caution.refrigerant-certificate"}),
        ("FR", {"caution.no-release", "caution.local-certificate"}),
        ("BR", {"caution.no-release", "caution.local-certificate"}),
    ],
)
def test_cautions_of_the_place(client, place, said):
    site = {} if place is None else {"jurisdiction": place}
    body = client.post("/v1/procedures/recovery", json={"site": site, "refrigerant": "R-410A"}).get_json()
    codes = {item["code"] for item in body["cautions"]}
    legal = {
        "caution.no-venting",
        "caution.refrigerant-certificate",
        "caution.no-release",
        "caution.local-certificate",
    }
    assert codes & legal == said
    assert "caution.cylinder-fill" in codes  # what can hurt is said everywhere
    assert {code for step in body["next_steps"] for code in step["hazards"]} <= codes


def test_a_caution_of_a_rule_says_what_is_said_elsewhere():
    placed = [row for row in cautions().values() if row.rule]
    assert len(placed) == 2
    for row in placed:
        assert row.rule in book().rules
        assert not cautions()[row.elsewhere].rule
