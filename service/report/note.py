"""The printable job note: one page of HTML from an answer that has already been put into words."""

import base64
import re
from collections.abc import Collection, Mapping, Sequence
from functools import cache
from hashlib import sha256
from importlib import resources
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.catalogues import steps as step_rows
from service.reasoning.shares import band, percent
from service.results.record import Record
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
CERTIFICATE = "caution.refrigerant-certificate"  # said by the outcome where it names the certificates
PRINTED_PROVENANCE = ("service", "contract", "edition", "knowledge", "properties", "priors")  # what gives it again
KNOWN_BY = ("baseline", "printed_normals")  # members of the provenance, one of which may be there
SOUND, CONFIRMS = "sound", "confirm"
CUSTOMER_LABELS = ("watch", "danger", "emergency", "facts")
SENTENCE = re.compile(r"(?<=[^0-9]\.) (?=\S)")
SIZE = re.compile(rb'width="([0-9.]+)pt" height="([0-9.]+)pt"')


class Picture(Record):
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
    waiting: int = 0,
) -> bytes:
    """The note as HTML.

    body: the answer of an assessment as the contract writes it. pictures, table: of the same visit's readings.
    waiting: how many of its steps, from the end, wait for a part or another visit.
    """
    labels = {
        code.removeprefix("note."): speaker.text("report", code)
        for code in texts("en", "report")
        if code.startswith("note.")
    }
    return page(
        "job_note.html",
        visit,
        speaker,
        title=labels["title"],
        say=labels,
        facts=_facts(visit, labels, speaker),
        pictures=[picture.members() for picture in pictures],
        charted=any(picture.caption == speaker.text("report", "chart.title") for picture in pictures),
        table=table,
        durations={
            name: _duration(body["outcome"].get(name), labels["to"]) for name in ("minutes", "return_minutes")
        },
        found=_found(body, speaker),
        reason=_reason(body),
        keeps="baseline_to_keep" in body,
        compared_with=next((labels[name] for name in KNOWN_BY if name in body["provenance"]), ""),
        provenance=", ".join(
            body["provenance"][name] for name in PRINTED_PROVENANCE if name in body["provenance"]
        ),
        told=told_to_customer(body["outcome"], speaker),
        **_outcome(body["outcome"], speaker),
        **_lists(body, " %" if speaker.language in SPACED_PERCENT else "%", waiting),
        states={state: speaker.text("report", f"finding.{state}") for state in TOLD},
        powers={power: speaker.text("report", f"power.{power}") for power in ("on", "off", "either")},
    )


def page(template: str, visit: Visit, speaker: Speaker, **members: Any) -> bytes:
    """A page of this visit: the head that all pages share, and what its template asks for."""
    rendered = (
        environment()
        .get_template(template)
        .render(
            language=speaker.language,
            style=Markup(style()),  # our own file, nothing of the caller's
            reference=visit.reference,
            **members,
        )
    )
    return rendered.encode()


def told_to_customer(outcome: Mapping[str, Any], speaker: Speaker) -> dict[str, Any]:
    """What both pages tell the customer. outcome: of the answer, as the contract writes it."""
    return {
        **{name: speaker.text("report", f"customer.{name}") for name in CUSTOMER_LABELS},
        "permission": speaker.text("report", f"customer.permission.{outcome['run_permission']}"),
        "note": outcome["customer_note"],
        "watch_for": outcome["watch_for"],
        "replacement": outcome.get("replacement"),
    }


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
        "site": visit.site.label,
        "kind": speaker.title("kinds", kind) if kind else None,
        "model": visit.equipment.model,
        "serial": visit.equipment.serial,
        "refrigerant": visit.equipment.refrigerant,
        "complaint": ", ".join(speaker.title("symptoms", item) for item in visit.complaint.symptoms),
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


def _told_once(findings: Sequence[Mapping[str, Any]], acted_on: Collection[str]) -> list[dict[str, str]]:
    """Findings by state as headlines; a failure that no hold and no step acts on brings its text along."""
    headlines: dict[tuple[str, str], list[str]] = {}
    for item in findings:
        detail = item["detail"] if item["state"] == "fail" and item["code"] not in acted_on else ""
        headlines.setdefault((item["state"], detail), []).append(item["headline"])
    return [
        {"state": state, "detail": detail, "title": ". ".join(dict.fromkeys(found))}
        for (state, detail), found in headlines.items()
    ]


def _lists(body: Mapping[str, Any], mark: str, waiting: int) -> dict[str, Any]:
    causes = [item for item in _causes(body)[:SPOKEN_CAUSES] if item["probability"] >= SPOKEN_SHARE]
    lead = next((item["code"] for item in causes if item["code"] != NO_CAUSE), None)
    told = _told(body)
    acted_on = {code for step in body["next_steps"] for code in step["why"]}
    acted_on.update(code for hold in body["holds"] for code in hold["raised_by"])
    steps, left = _with_cautions(body, waiting)
    here = len(steps) - waiting
    return {
        "holds": body["holds"],
        "findings": _told_once(told, acted_on),
        "passed": _passed(body, {item["check"] for item in told}),
        # One share a cause a page: that of the leading one stands at the head.
        "causes": [
            {"title": item["title"], "percent": _share(item, mark)}
            for item in causes
            if item["code"] not in (lead, NO_CAUSE) and body["outcome"]["state"] != SOUND
        ],
        "steps": steps[:here],
        "waiting": steps[here:],
        **_readings(body["next_readings"][:SPOKEN_READINGS]),
        "cautions": left,
    }


def _causes(body: Mapping[str, Any]) -> Sequence[Mapping[str, Any]]:
    """The causes, likeliest first; none is named while everybody has to get out."""
    ends = any(hold_rows()[hold["code"]].ends_call for hold in body["holds"])
    return [] if ends else body["causes"]


def _readings(asked: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """What to measure next, with the reason while the cause is open; by name alone where it only confirms."""
    return {
        "readings": [item for item in asked if item["purpose"] != CONFIRMS],
        "confirming": [item["title"] for item in asked if item["purpose"] == CONFIRMS],
    }


def _passed(body: Mapping[str, Any], doubtful: Collection[str]) -> list[str]:
    """What passed, by name; not where another check of the same thing failed."""
    passed = (item["check"] for item in body["findings"] if item["state"] == "pass")
    return [name for name in dict.fromkeys(passed) if name not in doubtful]


def _told(body: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Findings that are told, failures first."""
    findings = [item for item in body["findings"] if item["state"] in TOLD and item["code"] != COMBINED]
    return sorted(findings, key=lambda item: TOLD.index(item["state"]))


def _share(cause: Mapping[str, Any], mark: str) -> str:
    return f"{percent(cause['probability'])}{mark}"


def _with_cautions(body: Mapping[str, Any], waiting: int) -> tuple[list[dict[str, Any]], list[str]]:
    """Steps with the cautions that nothing before them has said, and the cautions that belong to no step.

    A hold's text and a step's own text count as said; certificates stand in the outcome. A step that waits is
    named with its cautions; its text comes with the visit that does it.
    """
    left = {item["code"]: item["text"] for item in body["cautions"]}
    rows = step_rows()
    said = [hold_rows()[hold["code"]].says for hold in body["holds"]]
    if body["outcome"]["certificates"]:
        said.append((CERTIFICATE,))
    for code in (code for codes in said for code in codes):
        left.pop(code, None)
    told = []
    here = len(body["next_steps"]) - waiting
    for place, step in enumerate(body["next_steps"]):
        for code in rows[step["code"]].says if place < here else ():
            left.pop(code, None)
        told.append({**step, "cautions": [left.pop(code) for code in step["hazards"] if code in left]})
    return told, list(left.values())


def _found(body: Mapping[str, Any], speaker: Speaker) -> str:
    """What was found, in one line: the leading cause as surely as it is known, else the outcome."""
    causes = [item for item in _causes(body) if item["code"] != NO_CAUSE]
    if body["outcome"]["state"] == SOUND or not causes:
        state = body["outcome"]["state"]
        return f"{speaker.text('report', f'state.{state}')}."
    lead = causes[0]
    values = {"cause": lead["title"], "percent": percent(lead["probability"])}
    return speaker.fill(speaker.text("sentences", f"cause.{band(lead['probability'])}"), values)


def _reason(body: Mapping[str, Any]) -> str:
    """What the gravest finding measured, or its headline where nothing was measured."""
    told = _told(body)
    if not told:
        return ""
    measured = (part for part in SENTENCE.split(told[0]["detail"]) if any(letter.isdigit() for letter in part))
    return next(measured, f"{told[0]['headline']}.")


def _duration(minutes: Mapping[str, float] | None, to: str) -> str:
    """20 to 60 min, from ninety minutes on 2½ to 6½ h; nothing where there is none."""
    if minutes is None:
        return ""
    unit = "min" if minutes["high"] < LONG_MINUTES else "h"
    low, high = (f"{each:.0f}" if unit == "min" else _halves(each) for each in (minutes["low"], minutes["high"]))
    return f"{low} {unit}" if low == high else f"{low} {to} {high} {unit}"


def _halves(minutes: float) -> str:
    whole, half = divmod(round(minutes / 30.0), 2)
    return f"{whole or ''}½" if half else str(whole)
