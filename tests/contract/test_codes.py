"""Every code in an answer stands in its list, and every pointer of evidence leads to what was posted."""

import pytest

from service.app import create_app
from tests.golden import golden_cases

CASES = {name: case for name, case in golden_cases() if case["endpoint"] != "/v1/saturation"}
LISTS = ("findings", "causes", "steps", "hazards", "parts", "tools", "certificates", "questions", "assumptions")


@pytest.fixture(scope="module")
def listed():
    client = create_app().test_client()
    return {name: {row["code"] for row in client.get(f"/v1/{name}").get_json()[name]} for name in LISTS}


def carried(answer):
    """(list, code) of everything that an answer names by a code."""
    for name, member in (("findings", "findings"), ("causes", "causes"), ("steps", "next_steps")):
        yield from ((name, item["code"]) for item in answer[member])
    yield from (("hazards", item["code"]) for item in (*answer["holds"], *answer["cautions"]))
    yield from (("assumptions", item["code"]) for item in answer["assumptions"])
    yield from (("questions", item["code"]) for item in answer.get("questions", ()))
    yield from (("steps", code) for cause in answer["causes"] for code in cause["confirm_by"])
    yield from (("causes", code) for reading in answer["next_readings"] for code in reading["tells_apart"])
    for step in answer["next_steps"]:
        yield from (("hazards", code) for code in step["hazards"])
        yield from (("certificates", code) for code in step["certificates"])
        yield from (("tools", code) for code in step["tool_codes"])
        yield from (("parts", part["code"]) for part in step["parts"])
    outcome = answer.get("outcome")
    if outcome:
        yield "causes", outcome["lead_cause"]
        yield from (("tools", tool["code"]) for tool in outcome["tools"])
        yield from (("parts", part["code"]) for part in (*outcome["parts"], *outcome["take_along"]))
        yield from (("certificates", code) for code in outcome["certificates"])
        yield from (("findings", found["finding"]) for found in outcome["found"])


def leads_somewhere(document, pointer):
    at = document
    for token in pointer.split("/")[1:]:
        name = token.replace("~1", "/").replace("~0", "~")
        if isinstance(at, list):
            if not name.isdecimal() or int(name) >= len(at):
                return False
            at = at[int(name)]
        elif isinstance(at, dict) and name in at:
            at = at[name]
        else:
            return False
    return True


@pytest.mark.parametrize("identifier", CASES)
def test_codes_are_listed_and_evidence_was_posted(golden_answer, listed, identifier):
    status, answer = golden_answer(identifier)
    if status != 200:
        return
    assert [(name, code) for name, code in carried(answer) if code not in listed[name]] == []
    causes_of_a_step = listed["findings"] | listed["causes"] | listed["hazards"] | listed["steps"]
    assert {code for step in answer["next_steps"] for code in step["why"]} <= causes_of_a_step
    raised = {code for hold in answer["holds"] for code in hold["raised_by"] if not code.startswith("/")}
    assert raised <= listed["findings"] | listed["steps"]
    evidence = {pointer for finding in answer["findings"] for pointer in finding["evidence"]}
    request = CASES[identifier]["request"]
    assert [pointer for pointer in evidence if not leads_somewhere(request, pointer)] == []


def test_a_pointer_into_nothing_is_noticed():
    assert leads_somewhere({"a": [{"b": 0}]}, "/a/0/b")
    assert not leads_somewhere({"a": [{"b": 0}]}, "/a/1/b")
    assert not leads_somewhere({"a": 1}, "/a/b")
