"""The printable job note: one page of HTML from an answer that has already been put into words."""

import base64
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib import resources
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from service.reasoning.shares import percent
from service.results.visit import Visit
from service.words.locale import texts
from service.words.say import Speaker

SPOKEN_CAUSES = 4
SPOKEN_SHARE = 0.02
SPOKEN_READINGS = 3
TOLD = ("fail", "review", "undecided")
SIZE = re.compile(rb'width="([0-9.]+)pt" height="([0-9.]+)pt"')


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing for the note: SVG, its caption, and the same in words."""

    svg: bytes
    caption: str
    words: str

    def members(self) -> dict[str, Any]:
        """What the template needs; inside an image element no style of the drawing reaches the page."""
        found = SIZE.search(self.svg)
        assert found is not None
        return {
            "source": "data:image/svg+xml;base64," + base64.b64encode(self.svg).decode(),
            "caption": self.caption,
            "words": self.words,
            "width": round(float(found[1]) * 4.0 / 3.0),
            "height": round(float(found[2]) * 4.0 / 3.0),
        }


def job_note(visit: Visit, body: Mapping[str, Any], pictures: Sequence[Picture], speaker: Speaker) -> bytes:
    """The note as HTML.

    body: the answer of an assessment as the contract writes it. pictures: drawn from the same visit.
    """
    labels = {
        code.removeprefix("note."): speaker.text("report", code)
        for code in texts("en", "report")
        if code.startswith("note.")
    }
    page = (
        _environment()
        .get_template("job_note.html")
        .render(
            language=speaker.language,
            say=labels,
            style=Markup(style()),  # our own file, nothing of the caller's
            reference=visit.reference,
            facts=_facts(visit, labels, speaker),
            pictures=[picture.members() for picture in pictures],
            charted=any(picture.caption == speaker.text("report", "chart.title") for picture in pictures),
            provenance=", ".join(str(value) for value in body["provenance"].values()),
            **_outcome(body["outcome"], speaker),
            **_lists(body),
            states={state: speaker.text("report", f"finding.{state}") for state in TOLD},
            powers={power: speaker.text("report", f"power.{power}") for power in ("on", "off", "either")},
        )
    )
    return page.encode()


@cache
def style() -> str:
    """The style sheet of the note."""
    return (resources.files("service.report") / "templates" / "job_note.css").read_text()


@cache
def style_digest() -> str:
    """SHA-256 of the style sheet as a Content-Security-Policy names it."""
    return "sha256-" + base64.b64encode(sha256(style().encode()).digest()).decode()


@cache
def _environment() -> Environment:
    return Environment(
        loader=PackageLoader("service.report"), autoescape=True, undefined=StrictUndefined, trim_blocks=True
    )


def _facts(visit: Visit, labels: Mapping[str, str], speaker: Speaker) -> list[dict[str, str]]:
    """Head of the note: only what the document says."""
    kind = visit.equipment.kind
    said = {
        "reference": visit.reference,
        "date": visit.visit_date,
        "kind": speaker.text("report", f"kind.{kind}") if kind else None,
        "refrigerant": visit.equipment.refrigerant,
        "complaint": ", ".join(speaker.text("report", f"symptom.{item}") for item in visit.complaint.symptoms),
    }
    return [{"name": labels[name], "value": value} for name, value in said.items() if value]


def _outcome(outcome: Mapping[str, Any], speaker: Speaker) -> dict[str, Any]:
    return {
        "outcome": outcome,
        "state": speaker.text("report", f"state.{outcome['state']}"),
        "permission": speaker.text("report", f"permission.{outcome['run_permission']}"),
        "urgency": speaker.text("report", f"urgency.{outcome['urgency']}"),
        "certificates": [speaker.text("report", f"certificate.{code}") for code in outcome["certificates"]],
        "disposition": speaker.text("report", f"disposition.{outcome['disposition']}"),
    }


def _told_once(findings: Sequence[Mapping[str, Any]]) -> list[dict[str, str]]:
    """Findings of one state that say the same thing stand together under their titles."""
    titles: dict[tuple[str, str], list[str]] = {}
    for item in findings:
        titles.setdefault((item["state"], item["detail"]), []).append(item["title"])
    return [
        {"state": state, "detail": detail, "title": "; ".join(found)} for (state, detail), found in titles.items()
    ]


def _lists(body: Mapping[str, Any]) -> dict[str, Any]:
    findings = [item for item in body["findings"] if item["state"] in TOLD]
    findings.sort(key=lambda item: TOLD.index(item["state"]))
    causes = [item for item in body["causes"][:SPOKEN_CAUSES] if item["probability"] >= SPOKEN_SHARE]
    passed = [item["title"] for item in body["findings"] if item["state"] == "pass"]
    return {
        "holds": body["holds"],
        "findings": _told_once(findings),
        "passed": list(dict.fromkeys(passed)),
        "causes": [{"title": item["title"], "percent": percent(item["probability"])} for item in causes],
        "steps": body["next_steps"],
        "readings": body["next_readings"][:SPOKEN_READINGS],
        "cautions": body["cautions"],
    }
