"""A repair procedure in the terminal: what it needs to know, then its readings one after another."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from service.knowledge.walk import WalkRow
from service.library.provenance import provenance
from service.procedures.evacuation import evacuation
from service.procedures.pressure_test import pressure_test
from service.reasoning.assessment import conclude_procedure
from service.results.procedures.evacuation import EvacuationRequest
from service.results.procedures.pressure_test import PressureTestRequest
from service.schemas.documents import load
from service.schemas.dump import dump
from service.verdicts.report import Checked
from service.words.say import Speaker
from service.workshop.walkthrough.dialogue import Dialogue, Document, Question
from service.workshop.walkthrough.pointers import absent, declared_at, place
from service.workshop.walkthrough.walk import FIRST

PROCEDURES: dict[str, tuple[type, Callable[[Any], Checked]]] = {
    "pressure-test": (PressureTestRequest, pressure_test),
    "evacuation": (EvacuationRequest, evacuation),
}


class ProcedureWalk(Dialogue):
    """A procedure: what it needs to know, then readings until one is left out."""

    def __init__(self, name: str, row: WalkRow, document: Document, asked: list[str] | None = None) -> None:
        super().__init__(document, asked)
        self.name, self.row = name, row
        self.form, self.judge = PROCEDURES[name]

    def verdict(self) -> Document:
        """The answer of the service. Raises: Refusal."""
        request: Any = load(self.form, self.document)
        found = conclude_procedure(request, self.judge(request))
        return dump(found, Speaker(request.units, request.site_pressure), provenance(), request.reference)

    def _next(self) -> Question | None:
        for pointer in self.row.asks:
            if pointer not in self.asked and absent(self.document, pointer):
                return pointer, dict(FIRST).get(pointer, declared_at(pointer, self.form).description), ""
        samples = self.document.get(str(self.row.list_name), [])
        last = samples[-1] if samples else {}
        lacking = [name for name in self.row.items if name not in last]
        at = len(samples) - 1 if samples and lacking else len(samples)
        name = lacking[0] if samples and lacking else self.row.items[0]
        return f"/{self.row.list_name}/{at}/{name}", f"Reading {at + 1}; Enter when there are no more.", ""

    def _after(self, pointer: str, taken: bool) -> Question | None:
        is_reading = pointer.startswith(f"/{self.row.list_name}/")
        return None if is_reading and not taken else self._next()

    def _take(self, pointer: str, value: Any, _: bool) -> list[str]:
        """Put a value into the request. Raises: Refusal."""
        changed = self._placed(pointer, value)
        self.judge(load(self.form, changed))
        self.document = changed
        return []

    def _placed(self, pointer: str, value: Any) -> Document:
        names = pointer.split("/")[1:]
        if names[0] != self.row.list_name:
            return place(self.document, pointer, value)
        samples = [dict(item) for item in self.document.get(names[0], [])]
        at = int(names[1])
        samples[at:] = [{**(samples[at] if at < len(samples) else {}), names[2]: value}]
        return {**self.document, names[0]: samples}
