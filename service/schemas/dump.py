"""An answer on its way out: SI -> the caller's units, codes -> texts; plain dictionaries in a fixed order."""

from dataclasses import fields
from typing import Any

from service.knowledge.catalogues import cautions
from service.results.answer import (
    Answer,
    Argument,
    Cause,
    Hold,
    Minutes,
    NextReading,
    Outcome,
    PartNeeded,
    Sentence,
    Step,
)
from service.results.declare import is_empty
from service.results.finding import Assumption, Bounds, Finding, Missing
from service.results.quantity import Quantity
from service.results.units import TABLE, Units, written, written_width
from service.words.say import Speaker


def dump(
    answer: Answer, speaker: Speaker, provenance: dict[str, str], reference: str | None = None
) -> dict[str, Any]:
    """The answer as the contract writes it. All lists are present; unknown members are absent, never null."""
    scale = speaker
    body: dict[str, Any] = {}
    if reference is not None:
        body["reference"] = reference
    if answer.outcome is not None:
        body["outcome"] = _outcome(answer.outcome, scale)
    body["computed"] = dump_computed(answer.computed, scale)
    body["findings"] = [_finding(item, scale) for item in answer.findings]
    body["holds"] = [_hold(item, scale) for item in answer.holds]
    body["causes"] = [_cause(item, scale) for item in answer.causes]
    body["next_readings"] = [_reading(item, scale) for item in answer.next_readings]
    body["next_steps"] = [_step(item, scale) for item in answer.next_steps]
    body["cautions"] = [_caution(code, scale) for code in answer.cautions]
    body["assumptions"] = [_assumption(item, scale) for item in answer.assumptions]
    body["missing"] = [_missing(item, scale) for item in answer.missing]
    if answer.questions is not None:
        body["questions"] = [_question(item.code, item.information_bits, scale) for item in answer.questions]
    if answer.load_list is not None:
        body["load_list"] = answer.load_list
    body["units"] = dump_units(scale.units)
    body["provenance"] = provenance
    return body


def dump_units(units: Units) -> dict[str, str]:
    """The full units object."""
    return {name: getattr(units, name) for name in TABLE}


def dump_quantity(quantity: Quantity, scale: Speaker) -> dict[str, Any]:
    """value, unit and, where known, uncertainty (95 % half-width)."""
    units = scale.units
    body: dict[str, Any] = {
        "value": written(quantity.value, quantity.kind, units, scale.site_pressure),
        "unit": units.code(quantity.kind),
    }
    if quantity.uncertainty is not None:
        body["uncertainty"] = written_width(quantity.uncertainty, quantity.kind, units)
    return body


def dump_computed(computed: Any, scale: Speaker) -> dict[str, Any]:
    """A declared dataclass of computed members; empty parts and absent members are left out."""
    body: dict[str, Any] = {}
    for item in fields(computed):
        value = getattr(computed, item.name)
        if value is None or value == ():
            continue
        if isinstance(value, Quantity):
            body[item.name] = dump_quantity(value, scale)
        elif isinstance(value, tuple):
            body[item.name] = [dump_computed(each, scale) for each in value]
        elif isinstance(value, str | bool | int | float):
            body[item.name] = value
        elif not is_empty(value):
            body[item.name] = dump_computed(value, scale)
    return body


def _finding(finding: Finding, scale: Speaker) -> dict[str, Any]:
    body: dict[str, Any] = {
        "code": finding.code,
        "state": str(finding.state),
        "severity": str(finding.severity),
        "confidence": str(finding.confidence),
        "title": scale.title("findings", finding.code),
        "detail": scale.detail(finding),
    }
    if finding.measured is not None:
        body["measured"] = dump_quantity(finding.measured, scale)
    if finding.limit is not None:
        body["limit"] = _limit(finding.limit, scale)
    body["evidence"] = list(finding.evidence)
    return body


def _limit(limit: Bounds, scale: Speaker) -> dict[str, Any]:
    body: dict[str, Any] = {}
    for name in ("low", "high"):
        value = getattr(limit, name)
        if value is not None:
            body[name] = written(value, limit.kind, scale.units, scale.site_pressure)
    return body | {"unit": scale.units.code(limit.kind), "origin": limit.origin, "source": limit.source}


def _hold(hold: Hold, scale: Speaker) -> dict[str, Any]:
    said = scale.text("holds", hold.code)
    return {
        "code": hold.code,
        "title": said["title"],
        "instruction": said["instruction"],
        "clears_when": said["clears_when"],
        "raised_by": list(hold.raised_by),
    }


def _cause(cause: Cause, scale: Speaker) -> dict[str, Any]:
    return {
        "code": cause.code,
        "title": scale.title("causes", cause.code),
        "probability": round(cause.probability, 4),
        "supported_by": [_argument(item, scale) for item in cause.supported_by],
        "contradicted_by": [_argument(item, scale) for item in cause.contradicted_by],
        "confirm_by": list(cause.confirm_by),
    }


def _argument(argument: Argument, scale: Speaker) -> str:
    values = dict(argument.values)
    if "finding" in values:
        values["finding"] = scale.title("findings", str(values["finding"]))
    return scale.fill(scale.text("arguments", argument.code), values)


def _reading(reading: NextReading, scale: Speaker) -> dict[str, Any]:
    said = scale.text("readings", reading.why)
    return {
        "pointer": reading.pointer,
        "title": said["title"],
        "why": said["why"],
        "information_bits": round(reading.information_bits, 3),
        "minutes": reading.minutes,
        "tells_apart": list(reading.tells_apart),
    }


def _step(step: Step, scale: Speaker) -> dict[str, Any]:
    said = scale.text("steps", step.code)
    return {
        "code": step.code,
        "order": step.order,
        "title": said["title"],
        "text": scale.fill(said["text"], step.values),
        "why": list(step.why),
        "hazards": list(step.hazards),
        "power": step.power,
        "certificates": list(step.certificates),
        "tools": [scale.title("tools", code) for code in step.tools],
        "parts": [_part(item, scale) for item in step.parts],
        "minutes": _minutes(step.minutes),
    }


def _part(part: PartNeeded, scale: Speaker) -> dict[str, Any]:
    body = {"code": part.code, "title": scale.title("parts", part.code)}
    return body | ({"rating": part.rating} if part.rating else {})


def _minutes(minutes: Minutes) -> dict[str, float]:
    return {"low": minutes.low, "high": minutes.high}


def _caution(code: str, scale: Speaker) -> dict[str, Any]:
    return {"code": code, "severity": str(cautions()[code].severity), "text": scale.title("cautions", code)}


def _assumption(assumption: Assumption, scale: Speaker) -> dict[str, Any]:
    return {"code": assumption.code, "pointer": assumption.pointer, "text": scale.assumption(assumption)}


def _missing(missing: Missing, scale: Speaker) -> dict[str, Any]:
    return {"pointer": missing.pointer, "would_allow": scale.missing(missing)}


def _question(code: str, bits: float, scale: Speaker) -> dict[str, Any]:
    said = scale.text("questions", code)
    return {"code": code, "text": said["text"], "why": said["why"], "information_bits": round(bits, 3)}


def _say(sentences: tuple[Sentence, ...], scale: Speaker) -> str:
    return " ".join(scale.fill(scale.text("sentences", item.code), _named(item, scale)) for item in sentences)


def _named(sentence: Sentence, scale: Speaker) -> dict[str, Any]:
    """Values that are codes of a cause, finding, hold or step are said by their titles."""
    folders = {"cause": "causes", "finding": "findings", "hold": "holds", "step": "steps", "part": "parts"}
    return {
        name: scale.title(folders[name], str(value)) if name in folders else value
        for name, value in sentence.values.items()
    }


def _outcome(outcome: Outcome, scale: Speaker) -> dict[str, Any]:
    body: dict[str, Any] = {
        "state": outcome.state,
        "run_permission": outcome.run_permission,
        "disposition": outcome.disposition,
        "urgency": outcome.urgency,
        "urgency_reason": scale.text("sentences", outcome.urgency_reason),
        "parts": [_part(item, scale) for item in outcome.parts],
        "certificates": list(outcome.certificates),
        "minutes": _minutes(outcome.minutes),
        "summary": _say(outcome.summary, scale),
        "customer_note": _say(outcome.customer_note, scale),
        "technician_note": _say(outcome.technician_note, scale),
        "watch_for": [scale.text("sentences", code) for code in outcome.watch_for],
    }
    if outcome.replacement:
        body["replacement"] = _say(outcome.replacement, scale)
    return body
