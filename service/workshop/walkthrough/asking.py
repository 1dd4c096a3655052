"""Asking at the prompt: one member at a time, with the words of the trade, a way back and a way to stop."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from service.knowledge.walk import usual_ranges, walk_rows
from service.results.declare import Member
from service.results.record import Record
from service.results.refusal import Refusal
from service.results.units import STANDARD_ATMOSPHERE, Units, to_si
from service.words import refusing
from service.words.locale import DEFAULT
from service.workshop.walkthrough.telling import in_columns, wrapped
from service.workshop.walkthrough.typed import Items, NotUnderstood, how_to_type, titled, typed

PROMPT = " > "
TYPED = 15  # columns for the prompt and what is typed
KEYS = (
    "Enter: not taken. ?: why it is asked. back: the last one again. stop: keep it for later. done: the verdict."
)


class Done(Exception):
    """No more readings."""


class Back(Exception):
    """The last answer is wanted again."""


class Stopped(Exception):
    """The rest another time."""


class Prompt(Record):
    """What is asked: where it goes, its title, its declaration, why, and its list words with their titles."""

    pointer: str
    title: str
    declared: Member
    why: str

    @property
    def words(self) -> dict[str, str]:
        """Each word of a closed list with what the trade calls it."""
        return titled(self.pointer, self.declared)

    def by_title(self, said: str) -> str:
        """What was typed with titles put back into the words of the document."""
        words = {title.lower(): word for word, title in self.words.items()}
        parts = [part.strip() for part in said.split(",")]
        return ",".join(words.get(part.lower(), part) for part in parts) if words else said


Take = Callable[[str, Any, bool], Sequence[str]]
"""Put a value at a pointer, unless it is doubtful and not yet sure; the doubts, in sentences. Raises: Refusal."""


def plain(description: str) -> str:
    """The description of a member as it is asked, without the document's own words and notation."""
    said = (
        description.split(" `", maxsplit=1)[0]
        .replace(", ISO 8601", "")
        .replace("; the equipment's when absent", "")
    )
    return said.replace("_", " ")


def said_at(prompt: str) -> str:
    """One line from the prompt. Raises: Done, Back, Stopped."""
    said = input(prompt).strip()
    stop = {"done": Done, "back": Back, "stop": Stopped}.get(said.lower())
    if stop is not None:
        raise stop
    return said


def ask(prompt: Prompt, units: Units, take: Take) -> bool:
    """Ask until it is understood and accepted, or not taken. Returns whether it was taken.

    What is likely a slip is asked once more: the same answer a second time stands.
    """
    print(f"\n{wrapped(prompt.title, '')}")
    print(in_columns([f"{at:2} {title}" for at, title in enumerate(prompt.words.values(), 1)]), end="")
    doubted: str | None = None
    while True:
        said = said_at(_line(prompt, units))
        if said == "":
            return False
        told = (
            [prompt.why or "It decides which rules apply."]
            if said == "?"
            else _tried(prompt, said, units, take, said == doubted)
        )
        if not told:
            return True
        doubted = said
        print(wrapped(" ".join(told), "  "))


def _tried(prompt: Prompt, said: str, units: Units, take: Take, sure: bool) -> list[str]:
    """What speaks against an answer, in sentences; nothing where it was taken."""
    try:
        value = typed(prompt.declared, prompt.by_title(said), _for_items(prompt, units))
        doubts = [] if sure else _unusual(prompt, value, units)
        doubts += [] if doubts else take(prompt.pointer, value, sure)
    except NotUnderstood as reason:
        return [str(reason)]
    except Refusal as refusal:
        return [refusing.said(refusal.errors[0].detail, DEFAULT)]
    return [*doubts, "Type it again if it was read so, or type the right one."] if doubts else []


def _for_items(prompt: Prompt, units: Units) -> Items:
    """How the items of a list are asked: the members that its row names, or all of them."""
    row = walk_rows().get(prompt.pointer)
    return Items(prompt.pointer, row.items if row else None, units, said_at)


def _line(prompt: Prompt, units: Units) -> str:
    label = plain(prompt.declared.description)
    shown = label if label != prompt.title else ""
    return wrapped(f"{shown} {how_to_type(prompt.declared, units)}".strip(), "  ", TYPED) + PROMPT


def _unusual(prompt: Prompt, value: Any, units: Units) -> list[str]:
    usual = usual_ranges().get(prompt.pointer)
    if usual is None or not isinstance(value, float):
        return []
    si = to_si(value, prompt.declared.kind, units, STANDARD_ATMOSPHERE)
    return [] if usual[0] <= si <= usual[1] else [f"{value:g} is unusual here."]
