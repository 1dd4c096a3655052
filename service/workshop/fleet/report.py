"""The figures as one page that needs nothing beside it: pictures, tables, and what it cannot show."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from service.words.locale import text
from service.workshop.fleet.drawings import pictures

NAMES = {
    "right_first": "The proven cause leads",
    "right_in_first_three": "The proven cause is among the first three",
    "undecided": "Left undecided",
    "fault_said_of_sound": "A fault said of a sound unit",
    "sound_said_of_fault": "Sound said of a unit with a fault",
    "wrong_parts": "Parts named, none of which the proven repair needs",
    "unsafe": "Called unsafe",
    "unsafe_proven_sound": "Of those called unsafe, proven sound",
}
GROUPS = {
    "kind": "Kind of unit",
    "refrigerant": "Refrigerant",
    "efficiency_class": "Efficiency class",
    "month": "Month",
}


def as_page(found: Mapping[str, Any]) -> bytes:
    """The report as HTML; labels and names of the owner's are text in it, never markup."""
    environment = Environment(
        loader=PackageLoader("service.workshop.fleet", ""), autoescape=True, undefined=StrictUndefined
    )
    drawn = [picture.members() for picture in pictures(dict(found))]
    page = environment.get_template("report.html").render(
        **found, names=NAMES, groups=GROUPS, pictures=drawn, cells=_cells, brief=_brief, title=_title
    )
    return page.encode()


def _title(code: str) -> str:
    """The name of a cause, as answers in English say it."""
    return str(text("en", "causes", code))


def _cells(item: Mapping[str, Any]) -> Markup:
    """Share, interval and counts as cells of a table; made of numbers alone."""
    if not item["of"]:
        return Markup("<td>none</td><td></td><td>0</td>")
    interval = f"{item['low']:.3f} to {item['high']:.3f}"
    return Markup(f"<td>{item['share']:.3f}</td><td>{interval}</td><td>{item['count']} of {item['of']}</td>")


def _brief(item: Mapping[str, Any]) -> str:
    return f"{item['share']:.3f} ({item['low']:.2f} to {item['high']:.2f})" if item["of"] else "none"
