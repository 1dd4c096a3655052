"""/docs/guide: every code with what follows from it, in the caller's language."""

import pytest

from service.app import create_app
from service.knowledge import catalogues
from service.settings import Settings

EVERY = {
    **catalogues.holds(),
    **catalogues.findings(),
    **catalogues.causes(),
    **catalogues.steps(),
    **catalogues.cautions(),
}


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_code_is_explained_and_no_link_is_dead(watched, address, language):
    page = watched.page
    page.set_extra_http_headers({"Accept-Language": language})
    page.goto(f"{address}/docs/guide")
    ids = set(page.evaluate("[...document.querySelectorAll('[id]')].map((item) => item.id)"))
    assert set(EVERY) <= ids
    links = set(
        page.evaluate("[...document.querySelectorAll('a[href^=\"#\"]')].map((item) => item.hash.slice(1))")
    )
    assert links <= ids
    assert page.evaluate("document.documentElement.lang") == language
    assert watched.complaints == []


def test_a_finding_stands_with_its_verdicts_holds_causes_and_steps(watched, address):
    page = watched.page
    page.goto(f"{address}/docs/guide")
    line = page.locator("tr", has=page.locator("[id='windings.overload-open-hot']"))
    said = line.inner_text()
    assert "undecided" in said
    assert "overload" in said
    linked = {link.get_attribute("href") for link in line.locator("a").all()}
    assert {"#hold.overload-may-be-open", "#cause.overload-open-hot", "#step.cool-and-reread"} <= linked


def test_holds_come_first_and_no_placeholder_is_left(watched, address):
    page = watched.page
    page.goto(f"{address}/docs/guide")
    assert page.locator("main h2").first.inner_text() == "Holds"
    text = page.locator("main").inner_text()
    assert "{" not in text
    assert "‹measured›" in text


def test_pages_ask_for_no_key_and_refuse_unknown_files():
    client = create_app(Settings(api_keys=frozenset({"platform:" + "0" * 64}))).test_client()
    for path in ("/docs", "/docs/guide", "/docs/files/docs.css"):
        assert client.get(path).status_code == 200
    assert client.get("/docs/files/openapi.json").status_code == 404
    assert client.get("/docs", headers={"Accept": "application/json"}).status_code == 406
