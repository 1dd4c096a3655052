"""The row names the role; the place names the certificate."""

import pytest

from service.app import create_app

CYLINDER = {
    "units": {"mass": "lb"},
    "visit_date": "2026-06-01",
    "water_capacity": 120,
    "tare": 40,
    "gross": 40,
    "expected_charge": 50,
    "full_charge": 50,
    "cylinder_contents": "empty",
    "cylinder_test_date": "2025-06-01",
    "cylinder_service_pressure": 400,
}


@pytest.mark.parametrize(
    ("refrigerant", "place", "certificate"),
    [
        ("R-410A", None, "epa-608-type-2"),
        ("R-123", None, "epa-608-type-3"),
        ("R-410A", "US-CA", "epa-608-type-2"),
        ("R-410A", "DE", "eu-f-gas-certificate"),
        ("R-410A", "BR", "refrigerant-handling"),
    ],
)
def test_who_may_recover(refrigerant, place, certificate):
    """40 CFR 82.161 (Type III: low pressure); Regulation (EU) 2024/573 Article 10 (from memory)."""
    document = CYLINDER | {"refrigerant": refrigerant}
    if place:
        document["site"] = {"jurisdiction": place}
    client = create_app().test_client()
    body = client.post("/v1/procedures/recovery", json=document).get_json()
    assert "step.recover-charge" in [step["code"] for step in body["next_steps"]]
    named = {code for step in body["next_steps"] for code in step["certificates"]}
    assert certificate in named
    listed = {row["code"] for row in client.get("/v1/certificates").get_json()["certificates"]}
    assert named <= listed
