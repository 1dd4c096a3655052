"""No violation of axe-core's rules (WCAG 2 A and AA, and its best practices) on any page, in a real browser.

Source: axe-core, the library that ships in axe-playwright-python; its rules name the clauses of WCAG 2.2.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from service.app import create_app

axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason="pip install axe-playwright-python")
VISITS = sorted((Path(__file__).parents[2] / "samples" / "visits").glob("*.json"))
pytestmark = pytest.mark.long


def violations(page):
    """Rules that are broken, each with the elements that break it."""
    found = axe.Axe().run(page).response["violations"]
    return [(rule["id"], [node["target"] for node in rule["nodes"]][:3]) for rule in found]


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("path", ["/v1/note", "/v1/customer-page"])
def test_pages_of_a_visit_at_the_width_of_a_phone(watched, path, language):
    page, client = watched.page, create_app().test_client()
    page.set_viewport_size({"width": 390, "height": 844})
    broken = {}
    for visit in VISITS:
        answer = client.post(path, json=json.loads(visit.read_text()), headers={"Accept-Language": language})
        page.set_content(answer.get_data(as_text=True))
        if found := violations(page):
            broken[visit.stem] = found
    assert len(VISITS) > 3
    assert broken == {}


@pytest.mark.parametrize("path", ["/docs", "/docs/guide"])
def test_pages_that_explain_the_service(watched, address, path):
    page = watched.page
    page.goto(f"{address}{path}", wait_until="networkidle")
    assert violations(page) == []


def test_the_check_sees_what_is_wrong(watched):
    pale = "<p style='color:#ccc;background:#fff'>pale</p>"
    watched.page.set_content(f"<html><body><img src='x.png'>{pale}</body></html>")
    assert {"image-alt", "color-contrast", "html-has-lang"} <= {rule for rule, _ in violations(watched.page)}
