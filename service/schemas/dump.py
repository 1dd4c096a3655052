"""An answer on its way out: SI -> the caller's units, codes -> texts; plain dictionaries in a fixed order."""

from collections.abc import Callable
from dataclasses import fields
from functools import cache, lru_cache
from operator import attrgetter
from typing import Any

from service.knowledge.catalogues import cautions
from service.results.answer import (
    Answer,
    Argument,
    Cause,
    Found,
    Hold,
    LoadList,
    Minutes,
    NextReading,
    Outcome,
    PartNeeded,
    RatedNumbers,
    RefrigerantLoad,
    Sentence,
    Step,
)
from service.results.expected import RangeOf
from service.results.finding import Assumption, Bounds, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.units import TABLE, Units
from service.words.say import Speaker

PLAIN = (str, bool, int, float)


def dump(
    answer: Answer,
    speaker: Speaker,
    provenance: dict[str, str],
    reference: str | None = None,
    read: dict[str, Any] | None = None,
) -> dict[str, Any]:
    """The answer as the contract writes it. All lists are present; unknown members are absent, never null.

    read: how much of a visit's readings the answer rests on.
    """
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
        body["load_list"] = _load_list(answer.load_list, scale)
    if read is not None:
        body["read"] = read
    body["units"] = dump_units(scale.units)
    body["provenance"] = provenance
    return body


@lru_cache(maxsize=256)
def dump_units(units: Units) -> dict[str, str]:
    """The full units object; not to be changed, it is shared."""
    return {name: getattr(units, name) for name in TABLE}


def dump_quantity(quantity: Quantity, scale: Speaker) -> dict[str, Any]:
    """value, unit and, where known, uncertainty (95 % half-width)."""
    measure = scale.measure(quantity.kind)
    body: dict[str, Any] = {"value": measure.written(quantity.value), "unit": measure.code}
    if quantity.uncertainty is not None:
        body["uncertainty"] = measure.width(quantity.uncertainty)
    return body


def dump_range(found: RangeOf, scale: Speaker) -> dict[str, Any]:
    """low, high, likely and unit."""
    measure = scale.measure(found.kind)
    return {
        "low": measure.written(found.low),
        "high": measure.written(found.high),
        "likely": measure.written(found.likely),
        "unit": measure.code,
    }


def dump_computed(computed: Any, scale: Speaker) -> dict[str, Any]:
    """A declared dataclass of computed members; empty parts and absent members are left out."""
    body: dict[str, Any] = {}
    names, values_of = _members(computed.__class__)
    for name, value in zip(names, values_of(computed), strict=True):
        if value is None:
            continue
        if isinstance(value, Quantity):
            body[name] = dump_quantity(value, scale)
        elif isinstance(value, RangeOf):
            body[name] = dump_range(value, scale)
        elif isinstance(value, PLAIN):
            body[name] = value
        elif inner := _inner(value, scale):
            body[name] = inner
    return body


def _inner(value: Any, scale: Speaker) -> Any:
    """A part or a list of parts; empty where nothing in it is known."""
    if isinstance(value, tuple):
        return [dump_computed(each, scale) for each in value]
    return dump_computed(value, scale)


@cache
def _members(computed: type) -> tuple[tuple[str, ...], Callable[[Any], tuple[Any, ...]]]:
    """Names of the members of a part, and what reads them all."""
    names = tuple(item.name for item in fields(computed))
    return names, (lambda part: (getattr(part, names[0]),)) if len(names) == 1 else attrgetter(*names)


def _finding(finding: Finding, scale: Speaker) -> dict[str, Any]:
    body: dict[str, Any] = {
        "code": finding.code,
        "state": str(finding.state),
        "severity": str(finding.severity),
        "confidence": str(finding.confidence),
        "title": _title(finding, scale),
        "check": scale.check(finding.code),
        "headline": scale.headline(finding.code, str(finding.state)),
        "detail": scale.detail(finding),
    }
    if finding.measured is not None:
        body["measured"] = dump_quantity(finding.measured, scale)
    if finding.limit is not None:
        body["limit"] = _limit(finding.limit, scale)
    body["evidence"] = list(finding.evidence)
    return body


def _title(finding: Finding, scale: Speaker) -> str:
    """The headline of what was found; else the neutral name of the check."""
    if finding.state in (State.FAIL, State.REVIEW):
        return scale.headline(finding.code, str(finding.state))
    return scale.check(finding.code)


def _limit(limit: Bounds, scale: Speaker) -> dict[str, Any]:
    measure = scale.measure(limit.kind)
    body: dict[str, Any] = {}
    if limit.low is not None:
        body["low"] = measure.written(limit.low)
    if limit.high is not None:
        body["high"] = measure.written(limit.high)
    body["unit"], body["origin"], body["source"] = measure.code, limit.origin, limit.source
    return body


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
    return scale.fill_named(scale.text("arguments", argument.code), argument.values)


def _reading(reading: NextReading, scale: Speaker) -> dict[str, Any]:
    said = scale.text("readings", reading.why)
    return {
        "pointer": reading.pointer,
        "title": said["title"],
        "why": said["why"],
        "information_bits": round(reading.information_bits, 3),
        "minutes": reading.minutes,
        "tells_apart": list(reading.tells_apart),
        "purpose": reading.purpose,
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
        "tool_codes": list(step.tools),
        "parts": [dump_part(item, scale) for item in step.parts],
        "minutes": _minutes(step.minutes),
    }


def dump_part(part: PartNeeded, scale: Speaker) -> dict[str, Any]:
    """A part by code and title, with its rating where one is known."""
    body = {"code": part.code, "title": scale.title("parts", part.code)}
    rating = ", ".join(scale.fill(scale.text("ratings", item.code), item.values) for item in part.rating)
    return body | ({"rating": rating} if rating else {}) | _numbers(part.numbers)


def _numbers(numbers: RatedNumbers | None) -> dict[str, Any]:
    """The numbers of a rating that are known."""
    if numbers is None:
        return {}
    named = {"volts": numbers.volts, "amps": numbers.amps, "poles": numbers.poles}
    sizes = {"microfarads": list(numbers.microfarads)} if numbers.microfarads else {}
    return sizes | {name: value for name, value in named.items() if value is not None}


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


def _load_list(load: LoadList, scale: Speaker) -> dict[str, Any]:
    return {
        "parts": [dump_part(item, scale) for item in load.parts],
        "tools": [scale.title("tools", code) for code in load.tools],
        "tool_codes": list(load.tools),
        "refrigerant": _refrigerant(load.refrigerant, scale),
    }


def _refrigerant(load: RefrigerantLoad, scale: Speaker) -> dict[str, Any]:
    body: dict[str, Any] = {"likely": load.likely, "probability": round(load.probability, 4)}
    if load.designation is not None:
        body["designation"] = load.designation
    if load.mass is not None:
        body["factory_charge"] = dump_quantity(load.mass, scale)
        if load.likely:
            body["carry"] = dump_quantity(load.mass, scale)
    return body | {"recovery_cylinder": load.recovery_cylinder}


def _say(sentences: tuple[Sentence, ...], scale: Speaker) -> str:
    said = [scale.fill_named(scale.text("sentences", item.code), item.values) for item in sentences]
    return " ".join(said)


def _found(found: Found, scale: Speaker) -> dict[str, Any]:
    body: dict[str, Any] = {
        "finding": found.finding,
        "title": scale.headline(found.finding, str(State.FAIL)),
        "explains_complaint": found.explains_complaint,
        "parts": list(found.parts),
    }
    return body | ({"mended_by": found.mended_by} if found.mended_by else {})


def _outcome(outcome: Outcome, scale: Speaker) -> dict[str, Any]:
    body: dict[str, Any] = {
        "state": outcome.state,
        "run_permission": outcome.run_permission,
        "disposition": outcome.disposition,
        "urgency": outcome.urgency,
        "urgency_reason": scale.text("sentences", outcome.urgency_reason),
        "lead_cause": outcome.lead_cause,
        "found": [_found(item, scale) for item in outcome.found],
        "parts": [dump_part(item, scale) for item in outcome.parts],
        "take_along": [dump_part(item, scale) for item in outcome.take_along],
        "certificates": list(outcome.certificates),
        "minutes": _minutes(outcome.minutes),
        **({"return_minutes": _minutes(outcome.return_minutes)} if outcome.return_minutes else {}),
        "tools": [{"code": code, "title": scale.title("tools", code)} for code in outcome.tools],
        "crew": outcome.crew,
        "refrigerant": _refrigerant(outcome.refrigerant, scale),
        "summary": _say(outcome.summary, scale),
        "customer_note": _say(outcome.customer_note, scale),
        "technician_note": _say(outcome.technician_note, scale),
        "watch_for": [scale.text("sentences", code) for code in outcome.watch_for],
    }
    if outcome.replacement:
        body["replacement"] = _say(outcome.replacement, scale)
    return body
