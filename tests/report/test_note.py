"""The job note: whole, safe, readable without pictures, the same bytes again."""

import base64
import re
from html.parser import HTMLParser

import pytest

from service.report.drawing import ACCENT, INK, SOFT
from service.report.note import style, style_digest
from tests.golden import golden_cases
from tests.report.conftest import LOW_CHARGE, RUNNING
from tests.words.lengths import first_screen, words

VOID = {"meta", "img", "br"}


class Reader(HTMLParser):
    """Checks that elements close in order, and collects headings, pictures and text."""

    def __init__(self, page):
        super().__init__()
        self.open, self.headings, self.pictures, self.text, self.tags = [], [], [], [], set()
        self.feed(page)
        assert self.open == []

    def handle_starttag(self, tag, attributes):
        self.tags.add(tag)
        if tag == "img":
            self.pictures.append(dict(attributes))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag

    def handle_data(self, data):
        if self.open and self.open[-1] in ("h1", "h2", "h3"):
            self.headings.append(data)
        if "style" not in self.open:
            self.text.append(data)


def read(response):
    assert response.status_code == 200
    assert response.content_type == "text/html; charset=utf-8"
    return Reader(response.text)


def test_a_visit_becomes_a_note_with_outcome_findings_steps_pictures_and_cautions(job_note):
    page = read(job_note(LOW_CHARGE))
    for heading in (
        "Job note",
        "Outcome",
        "Found",
        "Other possible causes",
        "Next steps",
        "Your air conditioner",
    ):
        assert heading in page.headings
    text = " ".join(page.text)
    for said in ("job 17", "2026-07-16", "R-410A", "poor cooling", "Low refrigerant charge"):
        assert said in text
    assert [picture["alt"][:9] for picture in page.pictures] == ["1  Suctio", "Subcoolin"]


def test_local_codes_are_named_once(job_note):
    assert "".join(Reader(job_note(LOW_CHARGE).text).text).lower().count("local code ") == 1


def test_what_is_not_judged_for_one_reason_is_said_once(job_note):
    swapped = {**RUNNING, "suction_pressure": 332, "liquid_pressure": 113}
    text = " ".join(read(job_note({**LOW_CHARGE, "running": swapped})).text)
    assert text.count("Inconclusive:") == 1
    assert "STOP WORK: Readings conflict." in " ".join(text.split())
    for title in ("Coil above freezing", "Subcooling"):
        assert title in text


def test_pictures_have_words_and_sizes_and_lie_in_the_page(job_note):
    for picture in read(job_note(LOW_CHARGE)).pictures:
        assert len(picture["alt"]) > 80
        assert int(picture["width"]) > 300
        kind, content = picture["src"].split(",")
        assert kind == "data:image/svg+xml;base64"
        assert base64.b64decode(content).startswith(b"<?xml")


def test_the_same_visit_gives_the_same_bytes(job_note):
    assert job_note(LOW_CHARGE).data == job_note(LOW_CHARGE).data


def test_a_hold_is_told_before_anything_is_found(job_note):
    case = {
        "electrical": {"insulation": {"instrument": "ohmmeter", "common_to_shell": {"ohms": 12}}},
        "complaint": {"symptoms": ["breaker_trips"]},
    }
    page = read(job_note(case))
    assert page.headings.index("STOP WORK until cleared") < page.headings.index("Found")
    assert "Keep it OFF." in " ".join(page.text)


def test_no_cause_is_named_while_everybody_has_to_get_out(job_note):
    """Fuel gas comes before a low charge (common practice, no source)."""
    text = " ".join(read(job_note({**LOW_CHARGE, "complaint": {"symptoms": ["fuel_gas_smell"]}})).text)
    assert "Get out and call from outside" in text
    assert "%" not in text


@pytest.mark.parametrize("document", [{}, {"equipment": {"refrigerant": "R-32"}}])
def test_a_visit_without_readings_gives_a_note_that_says_so(job_note, document):
    page = read(job_note(document))
    assert page.pictures == []
    assert "No chart: no running pressure" in " ".join(page.text)


def test_nothing_of_the_caller_is_ever_markup(job_note):
    page = read(job_note(LOW_CHARGE | {"reference": "<script>alert(1)</script>&\"'"}))
    assert "script" not in page.tags
    assert "<script>alert(1)</script>" in "".join(page.text)


def test_nothing_in_the_page_can_load_or_run_anything(job_note):
    response = job_note(LOW_CHARGE)
    policy = response.headers["Content-Security-Policy"]
    assert policy.startswith("default-src 'none'")
    assert "unsafe" not in policy
    assert f"style-src '{style_digest()}'" in policy
    assert f"<style>{style()}</style>" in response.text
    assert not re.search(r"<script|\son[a-z]+=|\sstyle=|javascript:|https?://", response.text)


NAMED = {"label": "Warehouse gate 7", "model": "MODEL-<1>", "serial": "SERIAL-0815"}


def test_place_and_unit_are_printed_where_the_caller_sends_them_and_never_logged(job_note, client, capsys):
    """They may name a person's home: on the note, and in no line of the log and no JSON answer."""
    site, unit = {"label": NAMED["label"]}, {"model": NAMED["model"], "serial": NAMED["serial"]}
    document = LOW_CHARGE | {"site": site, "equipment": LOW_CHARGE["equipment"] | unit}
    page = job_note(document)
    text = "".join(read(page).text)
    answer = client.post("/v1/assessment", json=document)
    refused = client.post("/v1/assessment", json=document | {"running": {"suction_pressure": "many"}})
    assert (answer.status_code, refused.status_code) == (200, 422)
    logged = capsys.readouterr().out
    assert '"status"' in logged
    for said in NAMED.values():
        assert said in text
        assert said not in logged
        assert said not in answer.text
        assert said not in refused.text


def test_what_is_not_named_has_no_line(job_note):
    text = " ".join(read(job_note(LOW_CHARGE)).text)
    assert "Serial number" not in text
    assert "Place" not in text


def luminance(colour):
    """Relative luminance of WCAG 2.2."""
    if len(colour) == 4:
        colour = "#" + "".join(2 * digit for digit in colour[1:])
    parts = [int(colour[place : place + 2], 16) / 255.0 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_every_colour_of_type_has_contrast():
    """WCAG 2.2, success criterion 1.4.3: 4.5 to 1 against the white page."""
    colours = re.findall(r"[^-]color: (#[0-9a-f]{3,6})", style())
    assert len(colours) >= 3
    for colour in (*colours, INK, SOFT, ACCENT):
        assert 1.05 / (luminance(colour) + 0.05) >= 4.5, colour


def test_json_stays_the_default(client):
    for accept in ("*/*", "application/json", "application/json, text/html;q=0.5"):
        response = client.post("/v1/assessment", json=LOW_CHARGE, headers={"Accept": accept})
        assert response.content_type == "application/json"


ASSESSED = {name: case for name, case in golden_cases() if case["endpoint"] == "/v1/assessment"}


@pytest.mark.parametrize("name", sorted(ASSESSED)[::7])
def test_golden_visits_give_a_note(job_note, name):
    case = ASSESSED[name]
    response = job_note(case["request"])
    assert response.status_code == case["expect"].get("status", 200)
    if response.status_code == 200:
        read(response)


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("name", sorted(ASSESSED)[::7])
def test_the_first_screen_says_what_to_do_in_few_words(job_note, name, language):
    response = job_note(ASSESSED[name]["request"], language)
    if response.status_code == 200:
        head = first_screen(response.text)
        assert 1 <= words(head) <= 120
        assert head.index('class="big"') < head.index("<strong>")


def test_each_caution_and_each_share_is_printed_once(job_note):
    text = " ".join(" ".join(read(job_note(LOW_CHARGE)).text).split())
    assert text.count("Never fill a recovery cylinder past 80%.") == 1
    lead = re.search(r"Likely: [^(]*\((\d+%)\)", text)
    assert lead is not None
    assert text.count(lead[1]) == 1


def test_a_power_state_stands_before_the_title_of_a_step(job_note):
    page = job_note(LOW_CHARGE).text
    assert '<span class="power">POWER OFF, LOCKED OUT</span> Repair the leak' in page


def test_readings_are_told_in_the_units_of_the_meters(job_note):
    assert "<td>113 psig</td>" in job_note(LOW_CHARGE).text


def test_nothing_is_printed_smaller_than_nine_points():
    printed = style().split("@media print", 1)[1]
    sizes = [float(size) for size in re.findall(r"font-size: ([0-9.]+)pt", printed)]
    assert min(sizes) >= 9.0
