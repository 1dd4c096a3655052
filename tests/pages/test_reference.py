"""/docs: every operation is shown and can be tried, offline, by keyboard and by screen reader."""

import json
from itertools import pairwise

from tests.contract.documents import contract, operations


def opened(watched, address):
    watched.page.goto(f"{address}/docs")
    watched.page.wait_for_selector("article")
    return watched.page


def test_every_operation_is_shown_and_linked(watched, address):
    page = opened(watched, address)
    ids = {operation["operationId"] for _, _, operation in operations()}
    assert {item.get_attribute("id") for item in page.locator("article").all()} == ids
    links = {link.get_attribute("href") for link in page.locator("nav.contents a").all()}
    assert links == {f"#{name}" for name in ids}
    assert watched.complaints == []


def test_it_needs_nothing_from_elsewhere_and_runs_under_a_strict_policy(watched, address):
    page = opened(watched, address)
    assert {url.split("/")[2] for url in watched.asked} == {address.split("/")[2]}
    policy = page.request.get(f"{address}/docs").headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    for name in ("docs.css", "docs.js", "element.js", "schema.js", "trial.js"):
        body = page.request.get(f"{address}/docs/files/{name}").text()
        assert "http" not in body.replace("http-equiv", "")


def test_an_example_is_sent_to_the_running_service(watched, address):
    page = opened(watched, address)
    trial = page.locator("#assessVisit form")
    trial.get_by_label("Example").select_option(label="Short of refrigerant, expansion valve")
    trial.get_by_role("button", name="Send").click()
    page.wait_for_selector("#assessVisit form .good")
    answer = json.loads(trial.locator("pre").inner_text())
    assert answer["reference"] == "demo-low-charge-valve"
    assert answer["causes"][0]["code"] == "cause.undercharge"


def test_a_refusal_is_shown_as_it_comes(watched, address):
    page = opened(watched, address)
    trial = page.locator("#findSaturation form")
    trial.get_by_label("Body").fill('{"refrigerant": "R-999", "points": [{"pressure": 118}]}')
    trial.get_by_role("button", name="Send").click()
    page.wait_for_selector("#findSaturation form .bad")
    problem = json.loads(trial.locator("pre").inner_text())
    assert problem["errors"][0]["pointer"] == "/refrigerant"


def test_a_table_can_be_asked_for_as_csv(watched, address):
    page = opened(watched, address)
    trial = page.locator("#getSaturationTable form")
    trial.get_by_label("designation").fill("R-32")
    trial.get_by_label("lowest").fill("40")
    trial.get_by_label("highest").fill("50")
    trial.get_by_label("Answer as").select_option("text/csv")
    trial.get_by_role("button", name="Send").click()
    page.wait_for_selector("#getSaturationTable form .good")
    assert trial.locator("pre").inner_text().splitlines()[0] == "temperature,bubble_pressure,dew_pressure"


def test_the_language_of_the_answers_can_be_chosen(watched, address):
    page = opened(watched, address)
    page.get_by_label("Language of the answers").select_option("es")
    with page.expect_response("**/v1/hazards") as answered:
        page.locator("#listHazards form").get_by_role("button", name="Send").click()
    assert answered.value.headers["content-language"] == "es"


def test_members_open_down_to_a_reading_with_its_range(watched, address):
    page = opened(watched, address)
    body = page.locator("#assessVisit > details", has_text="Body").first
    body.locator("summary").first.click()
    running = body.locator("dd", has=page.locator("summary")).filter(has_text="steady running").first
    running.locator("summary").first.click()
    running.locator("dt", has_text="suction_pressure").first.wait_for()
    said = contract()["components"]["schemas"]["Running"]["properties"]["suction_pressure"]["description"]
    assert said.split(".")[0] in running.inner_text()
    assert "Accepted:" in running.inner_text()


def test_every_control_has_a_name_and_headings_do_not_jump(watched, address):
    page = opened(watched, address)
    unnamed = page.evaluate(
        "[...document.querySelectorAll('input, select, textarea, button')]"
        ".filter((item) => !(item.labels?.length || item.textContent.trim())).length"
    )
    assert unnamed == 0
    levels = page.evaluate("[...document.querySelectorAll('h1,h2,h3,h4')].map((item) => Number(item.tagName[1]))")
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    assert page.evaluate("document.documentElement.lang") == "en"
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"


def test_it_fits_a_narrow_screen(watched, address):
    watched.page.set_viewport_size({"width": 390, "height": 800})
    page = opened(watched, address)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
