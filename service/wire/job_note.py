"""The job note and the chart over HTTP: what is drawn, and what a browser may load from it: nothing.

Drawing is imported where it is used: it takes a third of a second to load, and most callers never ask for it.
"""

from __future__ import annotations

from service.library import Assessed
from service.reasoning.assessment import judge_expected
from service.reasoning.outcome import by_visit
from service.results.expected import ExpectedReadings
from service.results.visit import Visit
from service.schemas.sizes import OUTCOME
from service.words.say import speaker_of

HTML = "text/html"
SVG = "image/svg+xml"
CLOSED = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"


def note_page(assessed: Assessed, spoken: str) -> tuple[bytes, str]:
    """A judged visit as a page to read on a phone or to print, and its Content-Security-Policy."""
    from service.report.note import job_note, style_digest
    from service.report.pictures import note_pictures, note_table

    visit = assessed.visit
    speaker = speaker_of(visit, spoken)
    expected = _expected(visit)
    pictures = note_pictures(visit, assessed.answer, expected, speaker)
    table = note_table(visit, assessed.answer, expected, speaker)
    answer = assessed.answer
    assert answer.outcome is not None  # an assessment has one
    _, later = by_visit(answer.next_steps, answer.outcome.disposition)
    page = job_note(visit, assessed.document(spoken), pictures, speaker, table, len(later))
    return page, f"{CLOSED}; style-src '{style_digest()}'; img-src data:"


def customers_page(assessed: Assessed, spoken: str) -> tuple[bytes, str]:
    """What the customer is told of a judged visit, as a page of its own, and its Content-Security-Policy."""
    from service.report.customer_page import customer_page
    from service.report.note import style_digest

    visit = assessed.visit
    speaker = speaker_of(visit, spoken)
    page = customer_page(visit, assessed.document(spoken, OUTCOME)["outcome"], speaker)
    return page, f"{CLOSED}; style-src '{style_digest()}'"


def chart_drawing(visit: Visit, spoken: str) -> tuple[bytes, str]:
    """The pressure-enthalpy chart alone, and its Content-Security-Policy."""
    from service.report.pictures import chart_picture

    speaker = speaker_of(visit, spoken)
    picture = chart_picture(visit, _expected(visit), speaker)
    # A drawing carries its colours in style attributes; nothing in it can load or run anything.
    return picture.svg, f"{CLOSED}; style-src 'unsafe-inline'"


def _expected(visit: Visit) -> ExpectedReadings:
    expected: ExpectedReadings = judge_expected(visit).computed.expected
    return expected
