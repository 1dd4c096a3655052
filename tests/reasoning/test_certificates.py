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


@pytest.mark.parametrize(
    ("equipment", "certificate"),
    [
        ({"kind": "room_air_conditioner", "factory_charge": 1.3}, "epa-608-type-1"),
        ({"kind": "packaged_terminal_heat_pump"}, "epa-608-type-1"),
        ({"kind": "packaged_terminal_air_conditioner", "factory_charge": 6}, "epa-608-type-2"),
        ({"kind": "single_package_vertical_air_conditioner", "factory_charge": 4}, "epa-608-type-2"),
        ({"kind": "split_air_conditioner", "factory_charge": 4}, "epa-608-type-2"),
    ],
)
def test_a_small_appliance_is_told_by_its_kind_and_charge(equipment, certificate):
    """40 CFR 82.152 (factory-sealed, 5 lb or less; room air conditioners are named) and 82.161, read in a copy."""
    charge = {"expected_charge": 1, "full_charge": equipment.get("factory_charge", 2)}
    document = CYLINDER | charge | {"refrigerant": "R-410A", "equipment": equipment}
    body = create_app().test_client().post("/v1/procedures/recovery", json=document).get_json()
    named = {code for step in body["next_steps"] for code in step["certificates"]}
    assert named & {"epa-608-type-1", "epa-608-type-2"} == {certificate}
