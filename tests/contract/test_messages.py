"""What a refusal says: what to change, the reading in words of the trade, and the range in the caller's units."""

import pytest

from service.app import create_app
from service.schemas import building, faults

JSON = "application/json"
CASES = [
    pytest.param(
        {"running": {"suction_presure": 118}},
        "/running/suction_presure",
        "Did you mean suction_pressure?",
        ["suction_pressure"],
        id="a slip of the pen",
    ),
    pytest.param({"zzz": 1}, "/zzz", "check the spelling, or leave it out.", None, id="nothing like it"),
    pytest.param(
        {"running": {"suction_pressure": "118"}},
        "/running/suction_pressure",
        "Must be a number in psig, without quotes. Suction pressure",
        ["number"],
        id="a text for a number",
    ),
    pytest.param(
        {"units": {"temperature": "degC"}, "air": {"outdoor_dry_bulb": 950}},
        "/air/outdoor_dry_bulb",
        "Must be -60 degC to 250 degC: check the decimal point and the unit. Air entering the condenser",
        ["-60 degC to 250 degC"],
        id="a range in the caller's units",
    ),
    pytest.param(
        {"equipment": {"oil": "olive"}},
        "/equipment/oil",
        'Must be one of: mineral, poe, pve, alkylbenzene. "olive" is not one of them. Compressor oil.',
        ["mineral", "poe", "pve", "alkylbenzene"],
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
        "Must be true or false, without quotes. The disconnect is open and locked.",
        ["true", "false"],
        id="yes is not true",
    ),
    pytest.param(
        {"complaint": {"symptoms": ["high_bill", "no cooling"]}},
        "/complaint/symptoms/1",
        '"no cooling" is not one of them. Did you mean not_cooling? What the customer reports',
        None,
        id="a word written as it is spoken",
    ),
    pytest.param(
        {"equipment": {"nominal_voltage": 230}},
        "/equipment/nominal_voltage",
        "460, 575. Write it in quotes. Nameplate voltage.",
        None,
        id="a number for a text that looks like one",
    ),
    pytest.param(
        {"equipment": {"phases": "1"}},
        "/equipment/phases",
        "Must be one of: 1, 3. Write it without quotes. Supply phases.",
        ["1", "3"],
        id="a text for a number of a list",
    ),
    pytest.param(
        {"site": {"jurisdiction": "California"}},
        "/site/jurisdiction",
        "Must be the code of a place: ",
        None,
        id="the name of a place for its code",
    ),
    pytest.param(
        {"suction_pressure": 118},
        "/suction_pressure",
        "It belongs in running.",
        ["running"],
        id="a reading in the wrong place",
    ),
    pytest.param(
        {"idle_volts": 240}, "/idle_volts", "It belongs in electrical/supply.", None, id="two objects further in"
    ),
    pytest.param(
        {"minutes": 3}, "/minutes", "check the spelling, or leave it out.", None, id="a name without one place"
    ),
    pytest.param(
        {"running": {"suction_pressure": 11800}},
        "/running/suction_pressure",
        "Must be up to 2886 psig: check",
        ["up to 2886 psig"],
        id="a range rounded as a gauge shows it",
    ),
    pytest.param(
        {"electrical": {"run_capacitors": {"serves": "compressor"}}},
        "/electrical/run_capacitors",
        "Must be a list. Run capacitors, one item a section.",
        ["list"],
        id="an object for a list",
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
    assert problem["detail"] == f"{pointer}: {error['detail']}"


def test_the_detail_counts_what_else_is_wrong(client):
    body = {"air": {"outdoor_dry_bulb": "warm"}, "equipment": {"phases": 2}, "visit_date": "today"}
    problem = client.post("/v1/assessment", json=body).get_json(force=True)
    assert len(problem["errors"]) == 3
    first = problem["errors"][0]
    assert problem["detail"] == f"{first['pointer']}: {first['detail']} 2 more in `errors`."


@pytest.mark.parametrize(
    ("method", "path", "said"),
    [
        ("GET", "/v1/refrigerants/R-999", "GET /v1/refrigerants lists what is known."),
        ("GET", "/v1/problems/none.such", "GET /v1/problems lists them all."),
        ("GET", "/v1/assessment", "Send POST to this path."),
        ("GET", "/v1/findings?page=2", "page: Unknown query parameter. This resource takes none."),
        (
            "GET",
            "/v1/refrigerants/R-32/saturation-table?page=2",
            "This resource takes highest, lowest, pressure_unit, step",
        ),
        (
            "GET",
            "/v1/refrigerants/R-32/saturation-table?step=0",
            "step: Must be a plain number, 0.01 to 1000 degF.",
        ),
    ],
)
def test_what_is_wrong_outside_the_body_is_told_too(client, method, path, said):
    assert said in client.open(path, method=method).get_json(force=True)["detail"]


def test_broken_json_is_told_with_its_place_and_the_usual_slips(client):
    response = client.post("/v1/assessment", data=b'{"running": {"suction_pressure": 118,5}}', content_type=JSON)
    detail = response.get_json(force=True)["detail"]
    assert detail.startswith("The text stops being JSON at line 1, column 38.")
    assert "118.5, not 118,5" in detail


def test_a_document_full_of_strange_names_makes_few_guesses(client, monkeypatch):
    """Looking for what was meant is what costs; it is counted, since its time says more of the machine."""
    guessed = []
    genuine = faults.nearest
    monkeypatch.setattr(faults, "nearest", lambda given, known: guessed.append(given) or genuine(given, known))
    body = {f"readng{index:05d}": 1 for index in range(3000)}
    response = client.post("/v1/assessment", json=body)
    assert response.status_code == 422
    assert len(response.get_json(force=True)["errors"]) > 0
    assert guessed == [f"readng{index:05d}" for index in range(building.MOST_GUESSES)]
