"""python -m service try: a visit in the terminal, without a server.

Asks for readings in the order in which the service wants them, what makes the work safe first, and ends with the
verdict. Nothing is kept.
"""

from __future__ import annotations

import argparse
from typing import Any

from service.knowledge.readings import reading_rows
from service.library import assess_one
from service.results.refusal import Refusal
from service.results.visit import Visit
from service.schemas.documents import load
from service.workshop.walkthrough.pointers import absent, declared_at, place
from service.workshop.walkthrough.telling import in_columns, show_holds, show_verdict, wrapped
from service.workshop.walkthrough.typed import NotUnderstood, how_to_type, typed, words_of

Document = dict[str, Any]
FIRST = (
    ("/complaint/symptoms", "What does the customer report?"),
    ("/equipment/refrigerant", "Which refrigerant is in the unit (nameplate)?"),
    ("/equipment/metering_device", "What meters the refrigerant?"),
    ("/equipment/target_subcooling", "Which target subcooling does the nameplate give?"),
    ("/equipment/compressor/drive", "How is the compressor motor fed?"),
)
PROOF = "/isolation/"
FIRST_OF_PROOF = "/isolation/disconnect_locked"
LAST_OF_PROOF = "/isolation/meter_proved_after"
UNITS: dict[str, dict[str, str]] = {
    "us": {},
    "si": {"temperature": "degC", "pressure": "barg", "static_pressure": "Pa", "airflow": "m3/h", "mass": "kg"},
}


def main(arguments: list[str]) -> int:
    """Walk through a visit; the end of the input is the end of the readings."""
    parser = argparse.ArgumentParser(prog="python -m service try", description="A visit in the terminal.")
    parser.add_argument(
        "--units", choices=tuple(UNITS), default="us", help="us: degF, psig ...; si: degC, barg ..."
    )
    given = parser.parse_args(arguments)
    print(
        "Type a reading, or press Enter when it was not taken. ? says why it is asked, done ends with the verdict."
    )
    walk = Walk({"units": dict(UNITS[given.units])})
    try:
        walk.run()
    except (EOFError, KeyboardInterrupt):
        print()
    show_verdict(answer(walk.document))
    return 0


def answer(document: Document) -> Document:
    """The assessment of a document, as the service answers it. Raises: Refusal."""
    return assess_one(document).document()


class Done(Exception):
    """No more readings."""


class Walk:
    """A visit in progress: the document so far, and what was asked already."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.asked: set[str] = set()
        self.shown: set[str] = set()

    def run(self) -> None:
        """Ask until nothing that is worth its minutes is left."""
        try:
            for pointer, question in FIRST:
                if pointer != "/equipment/target_subcooling" or self._has_valve():
                    self.ask(pointer, question, "")
            while self._ask_next():
                pass
        except Done:
            return

    def _has_valve(self) -> bool:
        device = self.document.get("equipment", {}).get("metering_device", "")
        return str(device).endswith("expansion_valve")

    def _ask_next(self) -> bool:
        so_far = answer(self.document)
        self.shown |= show_holds(so_far, self.shown)
        for reading in so_far["next_readings"]:
            for pointer in self._before(reading["pointer"], so_far["missing"]):
                self.ask(pointer, "Before a dead reading: prove dead.", "No dead reading counts before this.")
                return True
            if reading["pointer"] not in self.asked:
                self.ask(reading["pointer"], reading["title"], reading["why"])
                return True
        return False

    def _before(self, pointer: str, missing: list[Document]) -> list[str]:
        """What the proof of dead still lacks before a dead reading; the meter's second trial comes last."""
        if not pointer.startswith(PROOF) and not _is_dead(pointer):
            return []
        lacking = [item["pointer"] for item in missing if item["pointer"].startswith(PROOF)]
        if absent(self.document, PROOF[:-1]):
            lacking = [FIRST_OF_PROOF]
        return sorted((item for item in lacking if item not in self.asked), key=LAST_OF_PROOF.__eq__)

    def ask(self, pointer: str, title: str, why: str) -> None:
        """Ask for one member until it is understood and accepted, or not taken."""
        self.asked.add(pointer)
        declared = declared_at(pointer)
        units = load(Visit, {"units": self.document["units"]}).units
        print(f"\n{title}")
        print(in_columns(words_of(declared)), end="")
        while True:
            said = input(f"  {declared.description} {how_to_type(declared, units)} ").strip()
            if said == "":
                return
            if said == "done":
                raise Done
            if said == "?":
                print(wrapped(why or "It decides which rules apply.", "  "))
            elif self._take(pointer, said):
                return

    def _take(self, pointer: str, said: str) -> bool:
        try:
            changed = place(self.document, pointer, typed(declared_at(pointer), said, input))
            answer(changed)
        except NotUnderstood as reason:
            print(wrapped(str(reason), "  "))
            return False
        except Refusal as refusal:
            print(wrapped(refusal.errors[0].detail, "  "))
            return False
        self.document = changed
        return True


def _is_dead(pointer: str) -> bool:
    """A reading that is taken at conductors with the power off."""
    rows = [row for row in reading_rows().values() if pointer in row.pointers]
    return pointer.startswith("/electrical/") and any(row.power == "off" for row in rows)
