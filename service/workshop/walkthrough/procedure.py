"""A repair procedure in the terminal: what it needs to know, then its readings one after another."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from service.knowledge.walk import WalkRow
from service.library.provenance import provenance
from service.procedures.evacuation import evacuation
from service.procedures.leak_rate import leak_rate
from service.procedures.pressure_test import pressure_test
from service.procedures.recovery import recovery
from service.procedures.weighed_charge import weighed_charge
from service.reasoning.assessment import conclude_procedure
from service.results.procedures.evacuation import EvacuationRequest
from service.results.procedures.leak_rate import LeakRateRequest
from service.results.procedures.pressure_test import PressureTestRequest
from service.results.procedures.recovery import RecoveryRequest
from service.results.procedures.weighed_charge import WeighedChargeRequest
from service.schemas.documents import load
from service.schemas.dump import dump
from service.verdicts.report import Checked
from service.words.say import Speaker
from service.workshop.walkthrough.asking import plain
from service.workshop.walkthrough.dialogue import Dialogue, Document, Question
from service.workshop.walkthrough.pointers import absent, declared_at, place
from service.workshop.walkthrough.walk import FIRST

PROCEDURES: dict[str, tuple[type, Callable[[Any], Checked]]] = {
    "pressure-test": (PressureTestRequest, pressure_test),
    "evacuation": (EvacuationRequest, evacuation),
    "weighed-charge": (WeighedChargeRequest, weighed_charge),
    "recovery": (RecoveryRequest, recovery),
    "leak-rate": (LeakRateRequest, leak_rate),
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
            if self._is_open(pointer):
                return self._question(pointer)
        return self._next_of_list() or self._next_missing()

    def _question(self, pointer: str, why: str = "") -> Question:
        title = dict(FIRST).get(pointer) or dict(FIRST).get(f"/equipment{pointer}")
        return pointer, title or plain(declared_at(pointer, self.form).description), why

    def _is_open(self, pointer: str) -> bool:
        return pointer not in self.asked and absent(self.document, pointer)

    def _next_of_list(self) -> Question | None:
        """The next member of the last item, or the first of a new one; a new one that was left out is the end."""
        if self.row.list_name is None:
            return None
        items = self.document.get(self.row.list_name, [])
        last = len(items) - 1
        for name in self.row.items if items else ():
            pointer = f"/{self.row.list_name}/{last}/{name}"
            if name not in items[last] and pointer not in self.asked:
                return pointer, f"Reading {last + 1}.", ""
        pointer = f"/{self.row.list_name}/{len(items)}/{self.row.items[0]}"
        if pointer in self.asked:
            return None
        return pointer, f"Reading {len(items) + 1}; Enter when there are no more.", ""

    def _next_missing(self) -> Question | None:
        """What the verdict still lacks and can be typed as one member."""
        for item in self.verdict()["missing"]:
            pointer = item["pointer"]
            if not any(name.isdigit() for name in pointer.split("/")) and self._is_open(pointer):
                return self._question(pointer, item["would_allow"])
        return None

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
