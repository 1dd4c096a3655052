"""The customer's page: may it run, what was found and what happens next, in plain words on half a page."""

from collections.abc import Mapping
from typing import Any

from service.report.note import page, told_to_customer
from service.results.visit import Visit
from service.words.say import Speaker


def customer_page(visit: Visit, outcome: Mapping[str, Any], speaker: Speaker) -> bytes:
    """The page as HTML. outcome: of the answer of an assessment, as the contract writes it."""
    return page(
        "customer_page.html",
        visit,
        speaker,
        title=speaker.text("report", "customer.title"),
        visit_date=visit.visit_date,
        told=told_to_customer(outcome, speaker),
    )
