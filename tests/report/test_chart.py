"""The chart over HTTP: well-formed SVG, the same bytes again, words for what is not drawn."""

import re
from xml.etree import ElementTree

import pytest

from tests.report.conftest import LOW_CHARGE, RUNNING

SVG = "{http://www.w3.org/2000/svg}"


def posted(client, document, language="en"):
    response = client.post("/v1/chart", json=document, headers={"Accept-Language": language})
    assert response.status_code == 200
    return response, ElementTree.fromstring(response.data)


def description(root):
    return root.find(f"{SVG}desc").text


def test_a_full_visit_gives_dome_cycle_and_the_expected_cycle_behind_it(client):
    response, root = posted(client, LOW_CHARGE)
    assert response.content_type == "image/svg+xml"
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title").text == "Pressure-enthalpy chart"
    assert "113 psig, 56 °F" in description(root)
    assert "Dashed" in description(root)
    assert "stroke-dasharray" in response.text


def test_the_same_visit_gives_the_same_bytes(client):
    first, _ = posted(client, LOW_CHARGE)
    second, _ = posted(client, LOW_CHARGE)
    assert first.data == second.data
    assert not re.search(rb"<dc:date|20[2-9][0-9]-[01][0-9]|matplotlib v", first.data)


@pytest.mark.parametrize(
    ("document", "words"),
    [
        ({}, "the refrigerant is not named"),
        ({"equipment": {"refrigerant": "R-410A"}}, "Not measured: suction pressure"),
        (
            {"equipment": {"refrigerant": "R-410A"}, "running": {"suction_pressure": 118}},
            "Not measured: liquid pressure",
        ),
        (
            {"equipment": {"refrigerant": "R-410A"}, "running": RUNNING | {"liquid_line_temperature": 110}},
            "warmer than liquid can be",
        ),
        (
            {"equipment": {"refrigerant": "R-410A"}, "running": {"suction_pressure": 118, "liquid_pressure": 330}},
            "Not measured: suction line temperature",
        ),
    ],
)
def test_what_cannot_be_drawn_is_said(client, document, words):
    _, root = posted(client, document)
    assert words in description(root)


def test_a_visit_in_metric_units_is_drawn_in_them(client):
    document = {
        "units": {"temperature": "degC", "pressure": "kPag", "enthalpy": "kJ/kg"},
        "equipment": {"refrigerant": "R-32"},
        "running": {"suction_pressure": 800, "suction_line_temperature": 12},
    }
    _, root = posted(client, document)
    assert "800 kPa" in description(root)
    assert "12.0 °C" in description(root)


def test_every_refrigerant_of_the_list_can_be_charted(client):
    listed = client.get("/v1/refrigerants").get_json()["refrigerants"]
    designations = [row["designation"] for row in listed]
    assert len(designations) > 30
    for designation in designations[::6]:
        posted(client, {"equipment": {"refrigerant": designation}})


def test_other_representations_and_impossible_readings_are_refused(client):
    assert client.post("/v1/chart", json={}, headers={"Accept": "image/png"}).status_code == 406
    impossible = {"equipment": {"refrigerant": "R-410A"}, "running": {"suction_pressure": 2000}}
    assert client.post("/v1/chart", json=impossible).status_code == 422
    assert client.post("/v1/chart", json={"equipment": {"refrigerant": "R-unheard"}}).status_code == 422


def test_nothing_in_the_chart_can_load_or_run_anything(client):
    response, root = posted(client, LOW_CHARGE)
    assert response.headers["Content-Security-Policy"].startswith("default-src 'none'")
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags <= {"svg", "title", "desc", "defs", "style", "g", "path", "use", "clipPath", "rect"}
    links = {value for element in root.iter() for name, value in element.items() if name.endswith("href")}
    assert all(link.startswith("#") for link in links)
