"""Every reference from row to row, checked before the server listens: codes, pointers of the visit document,
motors."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from functools import cache

from service.knowledge import catalogues
from service.knowledge.charge_moves import DIRECTIONS
from service.knowledge.circumstances import circumstance_rows
from service.knowledge.complaint_checks import complaint_rows
from service.knowledge.crew import crew_rows
from service.knowledge.cycle_kinds import cycle_kinds
from service.knowledge.exclusions import exclusion_references, states
from service.knowledge.kinds import kind_rows, require_known_kinds
from service.knowledge.limits import require_known_codes
from service.knowledge.people import people_rows
from service.knowledge.questions import question_rows
from service.knowledge.readings import reading_rows
from service.knowledge.row_files import file_of
from service.knowledge.rule_book import book
from service.knowledge.yaml_files import KnowledgeError
from service.results.declare import declared_members
from service.results.record import Record
from service.results.visit import Visit
from service.results.visit.observations import PEOPLE
from service.results.visit.site import Site

RUN = ("no", "test", "watch")
URGENCIES = ("now", "same_day", "next_day")
TURNING = ("turns", "stands", "may_stand")
AGAIN = "Mend these rows, then: bash tests/run --fast knowledge/test_references.py"
NEAR = 3  # how many allowed codes a message names


class Reference(Record):
    """A row that names something: where, what, and what is allowed there."""

    row: str
    member: str
    named: str
    allowed: Collection[str]

    @property
    def message(self) -> str:
        """Row, member and what is allowed, for whoever wrote the row."""
        near = sorted(self.allowed, key=lambda code: (-_alike(code, self.named), code))[:NEAR]
        said = f"{self.row}: {self.member}: {self.named!r} is not known; near it: {', '.join(near)}"
        return f"{file_of(self.row)}: {said}"


def load_all() -> None:
    """Read every catalogue and check what its rows name.

    Raises: KnowledgeError that lists every unknown code, pointer, motor or word with its row.
    """
    require_known_codes()
    require_known_kinds()
    wrong = [item.message for item in references() if item.named not in item.allowed]
    if wrong:
        raise KnowledgeError("\n".join([*wrong, AGAIN]))


def references() -> Iterator[Reference]:
    """Everything that a row names."""
    yield from _of_findings()
    yield from _of_causes()
    yield from _of_work()
    yield from _of_readings()
    yield from _of_kinds()
    yield from _of_states()


def _of_findings() -> Iterator[Reference]:
    findings, causes, steps = catalogues.findings(), catalogues.causes(), catalogues.steps()
    for row in findings.values():
        yield from _many(row.code, "raises", _flat(row.raises.values()), catalogues.holds())
        yield from _many(row.code, "speaks", _flat(row.speaks.values()), causes)
        yield from _many(row.code, "steps", _flat(row.steps.values()), steps)
        yield from _many(row.code, "cautions", _flat(row.cautions.values()), catalogues.cautions())
        yield from _many(row.code, "run", row.run.values(), RUN)
        yield from _many(row.code, "motors", _flat(row.motors.values()), catalogues.motors())
        yield from _many(row.code, "motors", _flat(said.values() for said in row.motors.values()), TURNING)
        yield from _many(row.code, "cleared_by", _flat(row.cleared_by), findings)
        yield from _many(row.code, "forbids_charge", row.forbids_charge.values(), DIRECTIONS)
        yield from _many(row.code, "stands_for", [row.stands_for] if row.stands_for else [], causes)
        yield from _many(row.code, "withdrawn_as", [row.withdrawn_as] if row.withdrawn_as else [], findings)
        yield from _many(row.code, "doubts", _flat(row.doubts.values()), visit_pointers())
        swaps = [code for swap in row.instead.values() for pair in swap.items() for code in pair]
        yield from _many(row.code, "instead", swaps, steps)


def _of_causes() -> Iterator[Reference]:
    findings, steps = catalogues.findings(), catalogues.steps()
    for row in catalogues.causes().values():
        yield from _many(row.code, "confirm_by", row.confirm_by, steps)
        yield from _many(row.code, "repair", row.repair, steps)
        yield from _many(row.code, "parts", row.parts, catalogues.parts())
        yield from _many(row.code, "symptoms", row.symptoms, catalogues.symptoms())
        yield from _many(
            row.code, "proof", (*row.proof, *row.refuted_by, *row.waits_for, *row.cannot_explain), findings
        )
    for symptom in catalogues.symptoms().values():
        yield from _many(symptom.code, "motors", symptom.motors, catalogues.motors())
        yield from _many(symptom.code, "finding", [symptom.finding] if symptom.finding else [], findings)
        yield from _many(symptom.code, "cautions", symptom.cautions, catalogues.cautions())


def _of_work() -> Iterator[Reference]:
    findings, steps, parts = catalogues.findings(), catalogues.steps(), catalogues.parts()
    for hold in catalogues.holds().values():
        yield from _many(hold.code, "steps", hold.steps, steps)
        yield from _many(hold.code, "cautions", (*hold.cautions, *hold.says), catalogues.cautions())
        yield from _many(hold.code, "reads_again", hold.reads_again, visit_pointers())
    for step in steps.values():
        yield from _many(step.code, "hazards", (*step.hazards, *step.says), catalogues.cautions())
        yield from _many(step.code, "parts", step.parts, parts)
        yield from _many(step.code, "only_for", step.only_for, catalogues.causes())
        yield from _many(step.code, "yields", _flat(step.yields), visit_pointers())
        yield from _many(step.code, "waits_while", step.waits_while, findings)
    for caution in catalogues.cautions().values():
        if caution.rule:
            yield from _many(caution.code, "rule", (caution.rule,), book().rules)
            yield from _many(caution.code, "elsewhere", (caution.elsewhere,), catalogues.cautions())
    for part in parts.values():
        yield from _many(part.code, "condemned_by", (*part.condemned_by, *part.cleared_by), findings)
        yield from _many(part.code, "waits_for", part.waits_for, parts)
    places = dict(declared_members(Site))["equipment_location"].choices
    for crew in crew_rows().values():
        yield from _many(crew.code, "parts", crew.parts, parts)
        yield from _many(crew.code, "locations", crew.locations, [str(place) for place in places])


def _of_readings() -> Iterator[Reference]:
    findings, causes = catalogues.findings(), catalogues.causes()
    for reading in reading_rows().values():
        yield from _many(reading.code, "pointers", (*reading.pointers, *reading.told_by), visit_pointers())
        yield from _many(reading.code, "abnormal", reading.abnormal, causes)
        yield from _many(reading.code, "settles", reading.settles, findings)
    for person in people_rows().values():
        yield from _many(person.code, "people_at_risk", [person.code], PEOPLE)
        yield from _many(person.code, "urgency", filter(None, (person.no_cooling, person.otherwise)), URGENCIES)
    for question in question_rows().values():
        yield from _many(question.code, "telling", question.abnormal, causes)
        yield from _many(question.code, "symptoms", question.symptoms, catalogues.symptoms())
    for complaint in complaint_rows().values():
        yield from _many(complaint.code, "passed", _flat(complaint.passed), findings)
        yield from _many(complaint.code, "or_weighed", complaint.or_weighed, visit_pointers())
    for motor in catalogues.motors().values():
        yield from _many(motor.code, "shown_turning_by", _flat(motor.shown_turning_by), visit_pointers())


def _of_kinds() -> Iterator[Reference]:
    parts, pointers = catalogues.parts(), visit_pointers()
    tools = {tool for step in catalogues.steps().values() for tool in step.tools}
    for kind in kind_rows().values():
        yield from _many(kind.code, "circumstances", kind.circumstances, circumstance_rows())
        yield from _many(kind.code, "stands_as", [kind.stands_as] if kind.stands_as else [], cycle_kinds())
        yield from _many(kind.code, "lacks_parts", kind.lacks_parts, parts)
        yield from _many(kind.code, "lacks_tools", kind.lacks_tools, tools)
        yield from _many(kind.code, "cautions", kind.cautions, catalogues.cautions())
        yield from _many(kind.code, "lacks", kind.lacks, {*pointers, *_beginnings(pointers)})


def _beginnings(pointers: Iterable[str]) -> Iterator[str]:
    """Parts of the document that hold the pointers."""
    yield from (pointer[:at] for pointer in pointers for at, sign in enumerate(pointer) if sign == "/" and at)


def _of_states() -> Iterator[Reference]:
    for row in states().values():
        yield from _many(row.code, "pointers", row.pointers, visit_pointers())
    for code, member, named, allowed in exclusion_references():
        yield from _many(code, member, named, allowed)


def _many(row: str, member: str, named: Iterable[str], allowed: Collection[str]) -> Iterator[Reference]:
    for code in named:
        yield Reference(row, member, code, allowed)


def _flat(groups: Iterable[Iterable[str]]) -> list[str]:
    return [code for group in groups for code in group]


@cache
def visit_pointers() -> frozenset[str]:
    """Every member of the visit document, as a JSON Pointer; items of lists are not told apart."""
    return frozenset(_pointers(Visit, ""))


def _pointers(of: type, base: str) -> Iterator[str]:
    for name, declared in declared_members(of):
        pointer = f"{base}/{name}"
        yield pointer
        if declared.kind == "part" and declared.part is not None:
            yield from _pointers(declared.part, pointer)


def _alike(one: str, other: str) -> int:
    """Length of the common beginning."""
    return next(
        (at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other))
    )
