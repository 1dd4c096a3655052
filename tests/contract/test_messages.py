"""What a refusal says: what to change, the reading in words of the trade, and the range in the caller's units."""

import time

import pytest

from service.app import create_app

CASES = [
    pytest.param(
        {"running": {"suction_presure": 118}},
        "/running/suction_presure",
        "Was suction_pressure meant?",
        ["suction_pressure"],
        id="a slip of the pen",
    ),
    pytest.param({"zzz": 1}, "/zzz", "check the spelling, or leave it out.", None, id="nothing like it"),
    pytest.param(
        {"running": {"suction_pressure": "118"}},
        "/running/suction_pressure",
        "A number in psig belongs here, without quotes. Suction pressure",
        ["number"],
        id="a text for a number",
    ),
    pytest.param(
        {"units": {"temperature": "degC"}, "air": {"outdoor_dry_bulb": 950}},
        "/air/outdoor_dry_bulb",
        "-60 degC to 250 degC: check the decimal point and the unit. Air entering the condenser",
        ["-60 degC to 250 degC"],
        id="a range in the caller's units",
    ),
    pytest.param(
        {"equipment": {"oil": "olive"}},
        "/equipment/oil",
        "Use one of: mineral, poe, pve. Compressor oil.",
        ["mineral", "poe", "pve"],
        id="a word that is not in the list",
    ),
    pytest.param(
        {"electrical": {"windings": {"common_run": 2}}},
        "/electrical/windings/common_run",
        "when the meter shows OL. Common to run.",
        ['{"ohms": number}', '{"over_limit": true}'],
        id="a resistance without its unit",
    ),
    pytest.param(
        {"isolation": {"disconnect_locked": "yes"}},
        "/isolation/disconnect_locked",
        "true or false belongs here, without quotes. The disconnect is open and locked.",
        ["true", "false"],
        id="yes is not true",
    ),
    pytest.param(
        {"equipment": {"refrigerant": "R-999"}},
        "/equipment/refrigerant",
        "R-999",
        None,
        id="an unknown refrigerant",
    ),
]


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


@pytest.mark.parametrize(("body", "pointer", "said", "allowed"), CASES)
def test_a_stranger_learns_what_to_change(client, body, pointer, said, allowed):
    problem = client.post("/v1/assessment", json=body).get_json(force=True)
    (error,) = problem["errors"]
    assert error["pointer"] == pointer
    assert said in error["detail"]
    if allowed is not None:
        assert error["allowed"] == allowed


def test_a_document_full_of_strange_names_is_refused_fast(client):
    body = {f"readng{index:05d}": 1 for index in range(3000)}
    client.post("/v1/assessment", json={"readng": 1})
    started = time.perf_counter()
    assert client.post("/v1/assessment", json=body).status_code == 422
    assert time.perf_counter() - started < 1.0
