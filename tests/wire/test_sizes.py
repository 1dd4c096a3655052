"""Answers of the right size, what of the readings was used, pages of their own, and a batch as one document."""

import json
from pathlib import Path

import pytest

from service.app import create_app
from service.words.say import Speaker

ROOT = Path(__file__).parents[2]
VISITS = {file.stem: json.loads(file.read_text()) for file in sorted((ROOT / "samples/visits").glob("*.json"))}
LISTS = ("findings", "causes", "next_readings", "next_steps", "cautions", "assumptions", "missing")


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


def asked(client, visit, size=None, path="/v1/assessment", **headers):
    query = {"size": size} if size else {}
    answer = client.post(path, json=visit, query_string=query, headers=headers)
    assert answer.status_code == 200, answer.get_data(as_text=True)
    return answer.get_json()


@pytest.mark.parametrize("name", VISITS)
def test_a_short_answer_loses_nothing_but_what_passed(client, name):
    full, short = asked(client, VISITS[name]), asked(client, VISITS[name], "short")
    told = [item for item in full["findings"] if item["state"] not in ("pass", "not_applicable")]
    assert short["findings"] == told
    passed = {item["code"] for item in full["findings"] if item["state"] == "pass"}
    assert set(short["passed"]) == passed - {item["code"] for item in told}
    left_out = [item for item in full["causes"] if item not in short["causes"]]
    assert all(item["probability"] < 0.01 for item in left_out)
    same = set(full) - {"size", "findings", "causes"}
    assert {key: short[key] for key in same} == {key: full[key] for key in same}
    assert (full["size"], short["size"]) == ("full", "short")


@pytest.mark.parametrize("name", VISITS)
def test_the_outcome_alone_keeps_the_holds(client, name):
    full, outcome = asked(client, VISITS[name], "full"), asked(client, VISITS[name], "outcome")
    for member in ("outcome", "holds", "read", "units", "provenance"):
        assert outcome[member] == full[member]
    assert all(outcome[member] == [] for member in LISTS)
    assert outcome["computed"] == {}
    assert len(json.dumps(outcome)) < 0.3 * len(json.dumps(full))


@pytest.mark.parametrize(("size", "said"), [("short", {"fail", "review", "undecided"}), ("outcome", set())])
def test_what_a_size_leaves_out_is_not_put_into_words(client, monkeypatch, size, said):
    """A text costs more than a comparison; a smaller answer made of a whole one would save bytes and no time."""
    states, detail = [], Speaker.detail
    monkeypatch.setattr(
        Speaker, "detail", lambda self, finding: states.append(finding.state) or detail(self, finding)
    )
    asked(client, VISITS["low-charge-valve"])
    assert "pass" in {*map(str, states)}
    states.clear()
    asked(client, VISITS["low-charge-valve"], size)
    assert {*map(str, states)} <= said


def test_intake_keeps_questions_and_load_list_at_the_smallest_size(client):
    visit = json.loads((ROOT / "samples/intake/no-start.json").read_text())
    full, outcome = asked(client, visit, path="/v1/intake"), asked(client, visit, "outcome", path="/v1/intake")
    assert outcome["questions"] == full["questions"] != []
    assert outcome["load_list"] == full["load_list"]


@pytest.mark.parametrize(
    ("path", "size", "allowed"),
    [
        ("/v1/assessment", "small", ["full", "short", "outcome"]),
        ("/v1/charge", "outcome", ["full", "short"]),
        ("/v1/batch", "FULL", ["full", "short", "outcome"]),
    ],
)
def test_any_other_size_is_refused_by_name(client, path, size, allowed):
    answer = client.post(path, json={}, query_string={"size": size})
    assert answer.status_code == 422
    (error,) = answer.get_json()["errors"]
    assert (error["parameter"], error["allowed"]) == ("size", allowed)


def test_what_no_verdict_names_is_told(client):
    """An indoor temperature with the unit off says nothing without the standing pressure."""
    visit = {**VISITS["low-charge-valve"], "standing": {"indoor_temperature": 75}}
    read = asked(client, visit)["read"]
    assert read["ignored"] == ["/standing/indoor_temperature"]
    assert read["used"] == read["posted"] - 1


@pytest.mark.parametrize("name", VISITS)
def test_posted_counts_readings_and_nothing_else(client, name):
    """Counted anew from the document itself: leaves of the parts that hold readings."""
    read = asked(client, VISITS[name])["read"]
    parts = ("inspection", "isolation", "electrical", "standing", "start_up", "running", "air")

    def leaves(value):
        if isinstance(value, dict) and not {"ohms", "over_limit", "megohms"} & set(value):
            return sum(leaves(item) for item in value.values())
        return sum(leaves(item) for item in value) if isinstance(value, list) else 1

    assert read["posted"] == sum(leaves(VISITS[name].get(part, {})) for part in parts)
    assert read["used"] + len(read["ignored"]) == read["posted"]


def test_nothing_posted_is_nothing_used(client):
    assert asked(client, {})["read"] == {"posted": 0, "used": 0, "ignored": []}


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("path", ["/v1/note", "/v1/customer-page"])
def test_a_page_of_nothing_read_claims_nothing(client, path, language):
    page = client.post(path, json={}, headers={"Accept-Language": language})
    assert page.status_code == 200
    assert asked(client, {})["outcome"]["run_permission"] == "unknown"


def test_the_note_has_a_resource_of_its_own_and_the_same_bytes(client):
    visit = VISITS["low-charge-valve"]
    for language in ("en", "es"):
        headers = {"Accept-Language": language}
        own = client.post("/v1/note", json=visit, headers=headers)
        negotiated = client.post("/v1/assessment", json=visit, headers={**headers, "Accept": "text/html"})
        assert own.status_code == 200
        assert own.mimetype == "text/html"
        assert own.data == negotiated.data
    assert client.post("/v1/note", json=visit, headers={"Accept": "application/json"}).status_code == 406


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("name", VISITS)
def test_the_customers_page_says_what_the_outcome_says(client, name, language):
    headers = {"Accept-Language": language}
    page = client.post("/v1/customer-page", json=VISITS[name], headers=headers).get_data(as_text=True)
    outcome = asked(client, VISITS[name], **headers)["outcome"]
    from html import unescape

    text = unescape(page)
    assert outcome["customer_note"] in text
    assert all(item in text for item in outcome["watch_for"])
    assert f'lang="{language}"' in page
    assert "911" in text
    assert "charge." not in text


def test_a_batch_as_one_document_answers_as_its_lines_do(client):
    visits = [VISITS["low-charge-valve"], {"running": {"suction_pressure": "118"}}, VISITS["grounded-winding"]]
    as_json = client.post("/v1/batch", json={"visits": visits}, headers={"X-Request-Id": "same"})
    body = as_json.get_json()
    lines = client.post(
        "/v1/batch",
        data="\n".join(json.dumps(visit) for visit in visits),
        headers={"Content-Type": "application/x-ndjson", "X-Request-Id": "same"},
    )
    assert as_json.mimetype == "application/json"
    assert body["answers"] == [json.loads(line) for line in lines.data.splitlines()]
    assert [answer["status"] for answer in body["answers"]] == [200, 422, 200]
    assert body["answers"][0]["assessment"] == asked(client, visits[0])
    small = client.post("/v1/batch?size=outcome", json={"visits": visits}).get_json()
    assert small["answers"][0]["assessment"] == asked(client, visits[0], "outcome")


@pytest.mark.parametrize(
    ("body", "status", "pointer"),
    [
        ({}, 422, "/visits"),
        ({"visits": []}, 422, "/visits"),
        ({"visits": {}}, 422, "/visits"),
        ({"visits": [{}], "size": "short"}, 422, "/size"),
        ({"visits": [{}] * 1001}, 413, None),
    ],
)
def test_a_batch_that_is_none_is_refused(client, body, status, pointer):
    answer = client.post("/v1/batch", json=body)
    assert answer.status_code == status
    assert [error["pointer"] for error in answer.get_json()["errors"]] == ([pointer] if pointer else [])


def test_what_is_no_visit_is_refused_in_its_place(client):
    answers = client.post("/v1/batch", json={"visits": [3, {}, [1]]}).get_json()["answers"]
    assert [answer["status"] for answer in answers] == [400, 200, 400]
    assert answers[0]["problem"]["errors"][0]["code"] == "json.not-an-object"


def test_a_batch_is_answered_as_it_came(client):
    refused = client.post("/v1/batch", json={"visits": [{}]}, headers={"Accept": "application/x-ndjson"})
    assert refused.status_code == 406


def test_the_root_leads_somewhere(client):
    links = client.get("/").get_json()
    for name in ("documentation", "guide", "contract", "readings", "version"):
        assert client.get(links[name]).status_code == 200, name
    led = client.get("/", headers={"Accept": "text/html,application/xhtml+xml,*/*;q=0.8"})
    assert (led.status_code, led.headers["Location"]) == (302, "/docs")


def test_an_item_that_was_posted_empty_is_no_reading(client):
    """A list may hold an item that nothing was read of; it counts for nothing and breaks nothing."""
    body = client.post(
        "/v1/assessment", json={"electrical": {"run_capacitors": [{}], "supply": {"idle_volts": 240}}}
    )
    assert body.status_code == 200
    assert body.get_json()["read"]["posted"] == 1
