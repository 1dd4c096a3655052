"""Requests that once broke something, found by machines; each is answered as documented since."""

import pytest

from service.app import create_app
from tests.contract.documents import contract, faults

ABSURD_BASELINE = {
    "units": {"temperature": "degF", "pressure": "psig"},
    "equipment": {
        "refrigerant": "R-410A",
        "metering_device": "thermostatic_expansion_valve",
        "target_subcooling": 10,
    },
    "running": {
        "minutes_running": 20,
        "suction_pressure": 130,
        "liquid_pressure": 365,
        "suction_line_temperature": 57,
        "liquid_line_temperature": 101,
    },
    "air": {"outdoor_dry_bulb": 92, "return_dry_bulb": 78, "return_wet_bulb": 65, "supply_dry_bulb": 58},
    "baseline": {
        "air": {
            "condenser_leaving_dry_bulb": 0,
            "outdoor_dry_bulb": 92,
            "return_dry_bulb": 78,
            "return_wet_bulb": 65,
            "supply_dry_bulb": 58,
            "supply_wet_bulb": 0,
        }
    },
}
KEPT = [
    pytest.param("/v1/expected", ABSURD_BASELINE, 200, id="weights of a forecast that all underflow"),
    pytest.param("/v1/comparison", {"before": {}, "after": ABSURD_BASELINE}, 200, id="the same in a comparison"),
    pytest.param(
        "/v1/electrical",
        {"electrical": {"insulation": {"common_to_shell": {"ohms": 1000000000001.0}}}},
        422,
        id="a limit overstepped by less than the room for rounding",
    ),
    pytest.param(
        "/v1/procedures/pressure-test", {"target_pressure": -1e308}, 422, id="a pressure that leaves the numbers"
    ),
    pytest.param(
        "/v1/saturation", {"refrigerant": "R-32", "points": [{"pressure": -1e308}]}, 422, id="the same point"
    ),
]


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


@pytest.mark.parametrize(("path", "body", "status"), KEPT)
def test_it_is_answered_as_documented(client, path, body, status):
    response = client.post(path, json=body)
    assert response.status_code == status
    operation = contract()["paths"][path]["post"]["responses"]
    schema = (
        operation["200"]["content"]["application/json"]["schema"]
        if status == 200
        else {"$ref": "#/components/schemas/Problem"}
    )
    assert faults(response.get_json(force=True), schema) == []
