"""The shape of a whole answer as dump.py writes it. Real answers are held against it in the tests."""

from dataclasses import make_dataclass
from functools import cache
from typing import Any

from service.results.declare import member
from service.results.units import TABLE
from service.schemas.item_shapes import (
    AssumptionShape,
    CauseShape,
    CautionShape,
    FindingShape,
    HoldShape,
    LoadListShape,
    MissingShape,
    NextReadingShape,
    OutcomeShape,
    ProvenanceShape,
    QuestionShape,
    ReadShape,
    StepShape,
    always,
)

UnitsAnswer = make_dataclass(
    "UnitsAnswer",
    [
        (name, str, always("choice", f"Unit of {name.replace('_', ' ')}.", choices=tuple(table)))
        for name, table in TABLE.items()
    ],
    frozen=True,
    namespace={"__doc__": "The units of the answer, all of them."},
)


@cache
def answer_of(
    name: str, computed: type, outcome: bool = False, intake: bool = False, sizes: tuple[str, ...] = ()
) -> type:
    """The answer shape of an endpoint.

    name: of the schema; computed: the declared dataclass of `computed`; outcome: whether it judges a whole visit;
    intake: whether it prepares one, with questions and what to load. sizes: that can be asked for; none for what
    is about no single visit.
    """
    made: list[tuple[str, Any, Any]] = []
    if sizes:
        made.append(("size", str, always("choice", "How much of the answer this is.", choices=sizes)))
    made.append(("reference", str, member("text", "The caller's `reference`, echoed.")))
    if outcome:
        made.append(("outcome", object, always("object", "What the dispatcher needs.", part=OutcomeShape)))
    made.append(
        ("computed", object, always("object", "Computed values; absent where not computable.", part=computed))
    )
    made += [(list_name, tuple, always("parts", said, part=of)) for list_name, said, of in _LISTS]
    if intake:
        made.append(("questions", tuple, always("parts", "Questions worth asking.", part=QuestionShape)))
    if outcome:
        made.append(("load_list", object, always("object", "What to load.", part=LoadListShape)))
    if sizes:
        made.append(("passed", tuple, member("texts", "Codes of what passed, in a short answer.")))
        made.append(("read", object, always("object", "How much of what was posted was used.", part=ReadShape)))
    made.append(("units", object, always("object", "The units of the answer.", part=UnitsAnswer)))
    made.append(("provenance", object, always("object", "What gave the answer.", part=ProvenanceShape)))
    return make_dataclass(name, made, frozen=True, namespace={"__doc__": _PURPOSE})


_PURPOSE = (
    "Verdicts on what was posted, holds first in importance. All lists are present; unknown members are absent."
)
_LISTS: tuple[tuple[str, str, type], ...] = (
    ("findings", "Verdicts on what was read.", FindingShape),
    ("holds", "Hazards that stop the work, gravest first. Show them before everything else.", HoldShape),
    ("causes", "Possible causes, the likeliest first.", CauseShape),
    ("next_readings", "Readings worth taking next.", NextReadingShape),
    ("next_steps", "What to do, in order.", StepShape),
    ("cautions", "What can hurt, gravest first.", CautionShape),
    ("assumptions", "What was taken for granted.", AssumptionShape),
    ("missing", "Readings that are not there and what they would allow.", MissingShape),
)
