"""Questions one after another, with a way back: what a visit and a procedure have in common."""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Any

from service.results.units import Units
from service.results.visit import Visit
from service.schemas.documents import load
from service.workshop.walkthrough.asking import Back, Done, Prompt, ask
from service.workshop.walkthrough.pointers import declared_at

Document = dict[str, Any]
Question = tuple[str, str, str]
"""Pointer, title, why."""


class Dialogue(ABC):
    """The document so far, what was asked already, and the answers that can be taken back."""

    form: type = Visit

    def __init__(self, document: Document, asked: list[str] | None) -> None:
        self.document = document
        self.asked = list(asked or ())
        self.answers: list[tuple[Document, int, Question]] = []

    @property
    def units(self) -> Units:
        """The units in which is asked."""
        return load(Visit, {"units": self.document.get("units", {})}).units

    def run(self) -> None:
        """Ask until nothing is left that is worth asking. Raises: Stopped."""
        question = self._next()
        try:
            while question is not None:
                question = self._asked(question)
        except Done:
            return

    def ask(self, pointer: str, title: str, why: str) -> bool:
        """Ask for one member; whether it was taken. Raises: Back, Done, Stopped."""
        known = self.document, len(self.asked), (pointer, title, why)
        declared = declared_at("/".join(name for name in pointer.split("/") if not name.isdigit()), self.form)
        taken = ask(Prompt(pointer, title, declared, why), self.units, self._take)
        if taken:
            self.answers.append(known)
        if pointer not in self.asked:
            self.asked.append(pointer)
        return taken

    @abstractmethod
    def verdict(self) -> Document:
        """The answer of the service to what was read so far. Raises: Refusal."""

    @abstractmethod
    def _next(self) -> Question | None:
        """The next question worth asking."""

    @abstractmethod
    def _take(self, pointer: str, value: Any, sure: bool) -> list[str]:
        """Put a value into the document, unless it is doubtful and not sure; the doubts. Raises: Refusal."""

    def _after(self, _pointer: str, _taken: bool) -> Question | None:
        """The question that comes after one."""
        return self._next()

    def _asked(self, question: Question) -> Question | None:
        """Ask; the question that comes next."""
        try:
            taken = self.ask(*question)
        except Back:
            return self._one_back(question)
        return self._after(question[0], taken)

    def _one_back(self, now: Question) -> Question:
        """The question of the last answer, with the document as it was before it."""
        if not self.answers:
            print("  This is the first question.")
            return now
        self.document, asked, question = self.answers.pop()
        del self.asked[asked:]
        return question
