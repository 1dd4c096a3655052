"""The customer's page: may it run, what was found and what happens next, in plain words on half a page."""

from collections.abc import Mapping
from typing import Any

from markupsafe import Markup

from service.report.note import environment, style
from service.results.visit import Visit
from service.words.say import Speaker

LABELS = ("title", "watch", "danger", "emergency")


def customer_page(visit: Visit, outcome: Mapping[str, Any], speaker: Speaker) -> bytes:
    """The page as HTML. outcome: of the answer of an assessment, as the contract writes it."""
    page = (
        environment()
        .get_template("customer_page.html")
        .render(
            language=speaker.language,
            say={name: speaker.text("report", f"customer.{name}") for name in LABELS},
            style=Markup(style()),  # our own file, nothing of the caller's
            reference=visit.reference,
            visit_date=visit.visit_date,
            permission=speaker.text("report", f"customer.permission.{outcome['run_permission']}"),
            note=outcome["customer_note"],
            watch_for=outcome["watch_for"],
        )
    )
    return page.encode()
