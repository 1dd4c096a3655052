"""The sample back office in a real browser: visits kept in SQLite, read step by step, booked from the outcome."""

import json
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
import requests

from tests.pages.conftest import sample_program

READINGS = {
    "/equipment/compressor/drive": "single_phase",
    "/inspection/terminals": "burnt",
}


@pytest.fixture(scope="module")
def database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("office") / "visits.sqlite"


@pytest.fixture(scope="module")
def office(address: str, database: Path) -> Iterator[str]:
    with sample_program("back_office/office.py", address, "0", str(database)) as where:
        yield where


def opened(page, office, reference):
    page.goto(office)
    page.get_by_label("Reference").fill(reference)
    page.get_by_role("button", name="Open a visit").click()
    page.wait_for_selector("#permission")
    return page.url.partition("?")[0]


def read(page, visit, pointer, value, language="en"):
    page.goto(f"{visit}?language={language}&pointer={quote(pointer, safe='')}")
    field = page.locator("#value")
    if field.evaluate("item => item.tagName") == "SELECT":
        field.select_option(value)
    else:
        field.fill(value)
    with page.expect_navigation():  # the page that is left has a permission, too
        page.locator("#reading button").click()
    page.wait_for_selector("#permission")


def stored(database, reference):
    with sqlite3.connect(database) as connection:
        connection.row_factory = sqlite3.Row
        return connection.execute(
            "SELECT * FROM visits JOIN bookings ON visit = id WHERE reference = ?", (reference,)
        ).fetchone()


def test_a_visit_is_read_step_by_step_and_booked_from_its_outcome(watched, office, database, address):
    page = watched.page
    visit = opened(page, office, "job-1")
    assert page.locator("#permission").inner_text() == "unknown"
    for pointer, value in READINGS.items():
        read(page, visit, pointer, value)
    assert page.locator("#permission").inner_text() == "keep_off"
    row = stored(database, "job-1")
    document = json.loads(row["document"])
    assert document["inspection"] == {"terminals": "burnt"}
    outcome = requests.post(f"{address}/v1/assessment", json=document, timeout=20).json()["outcome"]
    assert (row["urgency"], row["disposition"]) == (outcome["urgency"], outcome["disposition"])
    assert json.loads(row["certificates"]) == outcome["certificates"]
    assert (row["minutes_low"], row["minutes_high"]) == (outcome["minutes"]["low"], outcome["minutes"]["high"])
    page.goto(office)
    assert "keep_off" in page.locator("tr", has_text="job-1").inner_text()
    assert watched.complaints == []


def test_a_reading_that_is_refused_is_told_and_not_kept(watched, office, database):
    page = watched.page
    visit = opened(page, office, "job-2")
    read(page, visit, "/air/return_dry_bulb", "9999")
    assert "return_dry_bulb" in page.locator("#refusal").inner_text()
    assert json.loads(stored(database, "job-2")["document"]) == {"reference": "job-2"}


def test_a_number_chosen_from_a_list_is_posted_as_a_number(watched, office, database):
    """phases is a whole number with words, nominal_voltage a choice of texts: the catalogue alone says which."""
    page = watched.page
    visit = opened(page, office, "job-6")
    read(page, visit, "/equipment/phases", "3")
    read(page, visit, "/equipment/nominal_voltage", "460")
    document = json.loads(stored(database, "job-6")["document"])
    assert document["equipment"] == {"phases": 3, "nominal_voltage": "460"}


def test_what_to_read_next_leads_to_its_own_form(watched, office):
    page = watched.page
    opened(page, office, "job-3")
    page.locator("#next a").first.click()
    page.wait_for_selector("#pointer")
    assert page.locator("#reading #value").count() <= 1


@pytest.mark.parametrize("language", ["en", "es"])
def test_note_and_customers_page_are_shown_in_the_language_chosen(watched, office, language):
    page = watched.page
    visit = opened(page, office, f"job-{language}")
    for name in ("note", "customer-page"):
        page.goto(f"{visit}/{name}?language={language}")
        assert page.locator("html").get_attribute("lang") == language
        assert f"job-{language}" in page.content()


def test_the_form_speaks_spanish(watched, office):
    page = watched.page
    visit = opened(page, office, "job-4")
    page.goto(f"{visit}?language=es&pointer=%2Frunning%2Fsuction_pressure")
    assert "Presión de succión" in page.locator("#reading").inner_text()
