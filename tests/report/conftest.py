"""Visits of an invented scenario for the job note and the chart."""

import pytest

from service.app import create_app

RUNNING = {
    "minutes_running": 20,
    "suction_pressure": 113,
    "liquid_pressure": 332,
    "suction_line_temperature": 56,
    "liquid_line_temperature": 101,
    "discharge_line_temperature": 178,
}
LOW_CHARGE = {
    "reference": "job 17",
    "visit_date": "2026-07-16",
    "complaint": {"symptoms": ["poor_cooling"]},
    "equipment": {
        "kind": "split_air_conditioner",
        "refrigerant": "R-410A",
        "metering_device": "thermostatic_expansion_valve",
        "target_subcooling": 10,
    },
    "running": RUNNING,
    "air": {"outdoor_dry_bulb": 95, "return_dry_bulb": 80, "return_wet_bulb": 67, "supply_dry_bulb": 64},
}


@pytest.fixture(scope="session")
def client():
    """A client of the service."""
    return create_app().test_client()


@pytest.fixture
def job_note(client):
    """Post a visit and get its job note."""

    def post(document, language="en"):
        headers = {"Accept": "text/html", "Accept-Language": language}
        return client.post("/v1/assessment", json=document, headers=headers)

    return post
