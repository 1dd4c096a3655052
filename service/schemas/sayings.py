"""What writes the members of an answer that are not sent as they stand: numbers in the caller's units, and texts.

A declaration names its saying (`said`); one that names none of these stops the start.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from service.knowledge.catalogues import cautions
from service.results.answer import Argument, Cause, Caution, Hold, LoadList, NextReading, Question, Step
from service.results.expected import RangeOf
from service.results.finding import Assumption, Bounds, Finding, Missing, State
from service.results.kept_baseline import KeptBaseline
from service.results.outcome import Found
from service.results.planned import PartNeeded, RefrigerantLoad, Sentence, Tool
from service.results.quantity import Quantity
from service.words.say import Speaker

Saying = Callable[[Any, str, Speaker], Any]
"""(item, name of the member, speaker) -> what is written."""
Measured = Quantity | RangeOf | Bounds


def _written(item: Measured, name: str, speaker: Speaker) -> float | None:
    """In the unit of its kind; a difference of two temperatures is none of a temperature."""
    value: float | None = getattr(item, name)
    return None if value is None else speaker.measure(item.kind).written(value)


def _width(item: Quantity, _: str, speaker: Speaker) -> float | None:
    width = item.uncertainty
    return None if width is None else speaker.measure(item.kind).width(width)


def _unit(item: Measured, _: str, speaker: Speaker) -> str:
    return speaker.measure(item.kind).code


def _word(item: Finding, name: str, speaker: Speaker) -> str:  # noqa: ARG001 - a saying
    return str(getattr(item, name))


def _finding_title(item: Finding, name: str, speaker: Speaker) -> str:
    """The headline of what was found; else the neutral name of the check."""
    found = item.state in (State.FAIL, State.REVIEW)
    return _headline(item, name, speaker) if found else speaker.check(item.code)


def _headline(item: Finding, _: str, speaker: Speaker) -> str:
    return speaker.headline(item.code, str(item.state))


def _found(item: Found, _: str, speaker: Speaker) -> str:
    return speaker.headline(item.finding, str(State.FAIL))


def _check(item: Finding, _: str, speaker: Speaker) -> str:
    return speaker.check(item.code)


def _detail(item: Finding, _: str, speaker: Speaker) -> str:
    return speaker.detail(item)


def _hold(item: Hold, name: str, speaker: Speaker) -> Any:
    return speaker.text("holds", item.code)[name]


def _cause(item: Cause, _: str, speaker: Speaker) -> str:
    return speaker.title("causes", item.code)


def _arguments(item: Cause, name: str, speaker: Speaker) -> list[str]:
    arguments: tuple[Argument, ...] = getattr(item, name)
    return [speaker.fill_named(speaker.text("arguments", each.code), each.values) for each in arguments]


def _reading(item: NextReading, name: str, speaker: Speaker) -> Any:
    return speaker.text("readings", item.why)[name]


def _step_title(item: Step, _: str, speaker: Speaker) -> str:
    return speaker.title("steps", item.code)


def _step_text(item: Step, _: str, speaker: Speaker) -> str:
    return speaker.fill(speaker.text("steps", item.code)["text"], item.values)


def _tools(item: Step | LoadList, _: str, speaker: Speaker) -> list[str]:
    return [speaker.title("tools", code) for code in item.tools]


def _tool_codes(item: Step | LoadList, _: str, speaker: Speaker) -> list[str]:  # noqa: ARG001 - a saying
    return list(item.tools)


def _tool(item: Tool, _: str, speaker: Speaker) -> str:
    return speaker.title("tools", item.code)


def _part(item: PartNeeded, _: str, speaker: Speaker) -> str:
    return speaker.title("parts", item.code)


def _rating(item: PartNeeded, _: str, speaker: Speaker) -> str:
    return ", ".join(speaker.fill(speaker.text("ratings", each.code), each.values) for each in item.rating)


def _caution_severity(item: Caution, _: str, speaker: Speaker) -> str:  # noqa: ARG001 - a saying
    return str(cautions()[item.code].severity)


def _caution(item: Caution, _: str, speaker: Speaker) -> str:
    return speaker.title("cautions", item.code)


def _assumption(item: Assumption, _: str, speaker: Speaker) -> str:
    return speaker.assumption(item)


def _missing(item: Missing, _: str, speaker: Speaker) -> str:
    return speaker.missing(item)


def _question(item: Question, name: str, speaker: Speaker) -> Any:
    return speaker.text("questions", item.code)[name]


def _carry(item: RefrigerantLoad, _: str, speaker: Speaker) -> Quantity | None:  # noqa: ARG001 - a saying
    return item.factory_charge if item.likely else None


def _keep(item: KeptBaseline, _: str, speaker: Speaker) -> str:
    said: str = speaker.text("sentences", item.code)
    return said


def _sentence(item: Any, name: str, speaker: Speaker) -> Any:
    return speaker.text("sentences", getattr(item, name))


def _sentences(item: Any, name: str, speaker: Speaker) -> str:
    sentences: tuple[Sentence, ...] = getattr(item, name)
    return " ".join(speaker.fill_named(speaker.text("sentences", each.code), each.values) for each in sentences)


def _sentence_list(item: Any, name: str, speaker: Speaker) -> list[Any]:
    return [speaker.text("sentences", code) for code in getattr(item, name)]


SAYINGS: dict[str, Saying] = {
    "written": _written,
    "width": _width,
    "unit": _unit,
    "word": _word,
    "finding title": _finding_title,
    "headline": _headline,
    "check": _check,
    "detail": _detail,
    "found": _found,
    "hold": _hold,
    "cause": _cause,
    "arguments": _arguments,
    "reading": _reading,
    "step title": _step_title,
    "step text": _step_text,
    "tools": _tools,
    "tool codes": _tool_codes,
    "tool": _tool,
    "part": _part,
    "rating": _rating,
    "caution severity": _caution_severity,
    "caution": _caution,
    "assumption": _assumption,
    "missing": _missing,
    "question": _question,
    "carry": _carry,
    "keep": _keep,
    "sentence": _sentence,
    "sentences": _sentences,
    "sentence list": _sentence_list,
}
