"""A visit in progress: asks in the order in which the service wants readings, what makes the work safe first."""

from __future__ import annotations

from typing import Any

from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.readings import reading_rows
from service.library import assess_one
from service.library.provenance import provenance
from service.reasoning.before_after import judge_comparison
from service.results.comparison import ComparisonRequest
from service.schemas.documents import load
from service.schemas.dump import dump
from service.words.say import speaker_of
from service.workshop.walkthrough.dialogue import Dialogue, Document, Question
from service.workshop.walkthrough.pointers import absent, place
from service.workshop.walkthrough.telling import show_holds

FIRST = (
    ("/complaint/symptoms", "What does the customer report?"),
    ("/equipment/refrigerant", "Which refrigerant is in the unit (nameplate)?"),
    ("/equipment/metering_device", "What meters the refrigerant?"),
    ("/equipment/target_subcooling", "Which target subcooling does the nameplate give?"),
    ("/equipment/compressor/drive", "How is the compressor motor fed?"),
)
SAME_UNIT = ("units", "site", "equipment", "instruments")
PROOF = "/isolation/"
FIRST_OF_PROOF = "/isolation/disconnect_locked"
LAST_OF_PROOF = "/isolation/meter_proved_after"


def answer(document: Document) -> Document:
    """The assessment of a document, as the service answers it. Raises: Refusal."""
    return assess_one(document).document()


def comparison(before: Document, after: Document) -> Document:
    """The comparison of two visits, as the service answers it. Raises: Refusal."""
    request = load(ComparisonRequest, {"before": before, "after": after, "units": after.get("units", {})})
    found = judge_comparison(request)
    speaker = speaker_of(request.after)
    return dump(found, speaker, provenance(), None)


class Walk(Dialogue):
    """A visit, and the visit before the repair where there was one."""

    def __init__(self, document: Document, asked: list[str] | None = None, before: Document | None = None) -> None:
        super().__init__(document, asked)
        self.before = before
        self.shown: set[str] = set()

    def next_round(self) -> Walk:
        """The walk after the repair: the same unit, nothing read yet."""
        same = {name: self.document[name] for name in SAME_UNIT if name in self.document}
        return Walk(same, before=self.document)

    def verdict(self) -> Document:
        """The answer of the service to what was read so far."""
        return answer(self.document) if self.before is None else comparison(self.before, self.document)

    def _next(self) -> Question | None:
        if self.before is not None:
            return self._next_after_repair(self.before)
        for pointer, question in FIRST:
            wanted = pointer != "/equipment/target_subcooling" or self._has_valve()
            if wanted and pointer not in self.asked and absent(self.document, pointer):
                return pointer, question, ""
        so_far = answer(self.document)
        self.shown |= show_holds(so_far, self.shown)
        for reading in so_far["next_readings"]:
            for pointer in self._before(reading["pointer"], so_far["missing"]):
                return pointer, "Before a dead reading: prove dead.", "No dead reading counts before this."
            if reading["pointer"] not in self.asked:
                return reading["pointer"], reading["title"], reading["why"]
        return None

    def _next_after_repair(self, before: Document) -> Question | None:
        """What the comparison still owes: each reading that a fault rested on, taken again."""
        so_far = comparison(before, self.document)
        self.shown |= show_holds(so_far, self.shown)
        missing = [item["pointer"].removeprefix("/after") for item in so_far["missing"]]
        for pointer in (item for item in missing if item.count("/") > 1 and not item.startswith(PROOF)):
            bare = f"/{'/'.join(name for name in pointer.split('/')[1:] if not name.isdigit())}"
            wanted = pointer if bare == pointer else pointer[: pointer.index("/", pointer.index("/", 1) + 1)]
            for proof in self._before(wanted, [{"pointer": item} for item in missing]):
                return proof, "Before a dead reading: prove dead.", "No dead reading counts before this."
            if wanted not in self.asked and absent(self.document, wanted):
                return wanted, "Read again after the repair.", "The fault rested on it."
        return None

    def _has_valve(self) -> bool:
        device = self.document.get("equipment", {}).get("metering_device", "")
        return str(device).endswith("expansion_valve")

    def _before(self, pointer: str, missing: list[Document]) -> list[str]:
        """What the proof of dead still lacks before a dead reading; the meter's second trial comes last."""
        if not pointer.startswith(PROOF) and not _is_dead(pointer):
            return []
        lacking = [item["pointer"] for item in missing if item["pointer"].startswith(PROOF)]
        if absent(self.document, PROOF[:-1]):
            lacking = [FIRST_OF_PROOF]
        return sorted((item for item in lacking if item not in self.asked), key=LAST_OF_PROOF.__eq__)

    def _take(self, pointer: str, value: Any, sure: bool) -> list[str]:
        """Put a value into the document; where readings then contradict, only once sure. Raises: Refusal."""
        changed = place(self.document, pointer, value)
        found = answer(changed)
        if not sure:
            before = {hold["code"] for hold in answer(self.document)["holds"]}
            doubts = [
                hold["instruction"]
                for hold in found["holds"]
                if hold_rows()[hold["code"]].allows_watched and hold["code"] not in before
            ]
            if doubts:
                return doubts
        self.document = changed
        return []


def _is_dead(pointer: str) -> bool:
    """A reading that is taken at conductors with the power off."""
    rows = [row for row in reading_rows().values() if pointer in row.pointers]
    return pointer.startswith("/electrical/") and any(row.power == "off" for row in rows)
