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
from service.words.quantities import LONG_MINUTES, SPACED_PERCENT
from service.words.say import Speaker

SPOKEN_CAUSES = 4
SPOKEN_SHARE = 0.02
SPOKEN_READINGS = 3
TOLD = ("fail", "review", "undecided")
COMBINED = "cycle.like-a-sound-unit"  # its cause and share stand at the head of the note
NO_CAUSE = "cause.none-found"
BANDS = (("most", 0.9), ("likely", 0.6), ("possible", 0.3), ("none", 0.0))  # least share; project choice
SENTENCE = re.compile(r"(?<=[^0-9]\.) (?=\S)")
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


def job_note(
    visit: Visit,
    body: Mapping[str, Any],
    pictures: Sequence[Picture],
    speaker: Speaker,
    table: Sequence[Mapping[str, str]] = (),
) -> bytes:
    """The note as HTML.

    body: the answer of an assessment as the contract writes it. pictures, table: of the same visit's readings.
    """
    labels = {
        code.removeprefix("note."): speaker.text("report", code)
        for code in texts("en", "report")
        if code.startswith("note.")
    }
    page = (
        environment()
        .get_template("job_note.html")
        .render(
            language=speaker.language,
            say=labels,
            style=Markup(style()),  # our own file, nothing of the caller's
            reference=visit.reference,
            facts=_facts(visit, labels, speaker),
            pictures=[picture.members() for picture in pictures],
            charted=any(picture.caption == speaker.text("report", "chart.title") for picture in pictures),
            table=table,
            duration=_duration(body["outcome"]["minutes"], labels["to"]),
            found=_found(body, speaker),
            reason=_reason(body),
            provenance=", ".join(str(value) for value in body["provenance"].values()),
            **_outcome(body["outcome"], speaker),
            **_lists(body, " %" if speaker.language in SPACED_PERCENT else "%"),
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
def environment() -> Environment:
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


def _lists(body: Mapping[str, Any], mark: str) -> dict[str, Any]:
    causes = [item for item in body["causes"][:SPOKEN_CAUSES] if item["probability"] >= SPOKEN_SHARE]
    passed = [item["title"] for item in body["findings"] if item["state"] == "pass"]
    lead = next((item["code"] for item in causes if item["code"] != NO_CAUSE), None)
    steps, left = _with_cautions(body["next_steps"], body["cautions"])
    return {
        "holds": body["holds"],
        "findings": _told_once(_told(body)),
        "passed": list(dict.fromkeys(passed)),
        # One share a cause a page: that of the leading one stands at the head.
        "causes": [
            {"title": item["title"], "percent": _share(item, mark)}
            for item in causes
            if item["code"] not in (lead, NO_CAUSE)
        ],
        "steps": steps,
        "readings": body["next_readings"][:SPOKEN_READINGS],
        "cautions": left,
    }


def _told(body: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Findings that are told, failures first."""
    findings = [item for item in body["findings"] if item["state"] in TOLD and item["code"] != COMBINED]
    return sorted(findings, key=lambda item: TOLD.index(item["state"]))


def _share(cause: Mapping[str, Any], mark: str) -> str:
    return f"{percent(cause['probability'])}{mark}"


def _with_cautions(
    steps: Sequence[Mapping[str, Any]], cautions: Sequence[Mapping[str, Any]]
) -> tuple[list[dict[str, Any]], list[str]]:
    """Steps with the cautions that no earlier step has said, and the cautions that belong to no step."""
    left = {item["code"]: item["text"] for item in cautions}
    told = [{**step, "cautions": [left.pop(code) for code in step["hazards"] if code in left]} for step in steps]
    return told, list(left.values())


def _found(body: Mapping[str, Any], speaker: Speaker) -> str:
    """What was found, in one line: the leading cause as surely as it is known, else the outcome."""
    causes = [item for item in body["causes"] if item["code"] != NO_CAUSE]
    if body["outcome"]["state"] == "sound" or not causes:
        said: str = speaker.text("report", f"state.{body['outcome']['state']}")
        return said
    lead = causes[0]
    band = next(name for name, least in BANDS if lead["probability"] >= least)
    values = {"cause": lead["title"], "percent": percent(lead["probability"])}
    return speaker.fill(speaker.text("report", f"band.{band}"), values)


def _reason(body: Mapping[str, Any]) -> str:
    """The first sentence of the gravest finding."""
    told = _told(body)
    return SENTENCE.split(told[0]["detail"], maxsplit=1)[0] if told else ""


def _duration(minutes: Mapping[str, float], to: str) -> str:
    """20 to 60 min, from ninety minutes on 2½ to 6½ h."""
    low, high = minutes["low"], minutes["high"]
    if high < LONG_MINUTES:
        return f"{low:.0f} {to} {high:.0f} min"
    return f"{_halves(low)} {to} {_halves(high)} h"


def _halves(minutes: float) -> str:
    whole, half = divmod(round(minutes / 30.0), 2)
    return f"{whole or ''}½" if half else str(whole)
