"""The shape of a whole answer, endpoint by endpoint, from the declaration of `Answer`."""

from functools import cache
from typing import Any

from service.results.answer import Answer
from service.results.declare import Member, declared_members, member
from service.results.provenance import Provenance, Read
from service.results.record import field, record_of, replace
from service.results.units import TABLE
from service.schemas.item_shapes import always
from service.schemas.writing import writer_of

COMPUTED = "computed"
UnitsAnswer = record_of(
    "UnitsAnswer",
    "The units of the answer, all of them.",
    [
        (name, str, always("choice", f"Unit of {name.replace('_', ' ')}.", choices=tuple(table)))
        for name, table in TABLE.items()
    ],
)


@cache
def answer_of(
    name: str,
    computed: type,
    outcome: bool = False,
    intake: bool = False,
    sizes: tuple[str, ...] = (),
    keeps: bool = False,
) -> type:
    """The answer shape of an endpoint.

    name: of the schema; computed: the declared record of `computed`; outcome: whether it judges a whole visit;
    intake: whether it prepares one, with questions and what to load. sizes: that can be asked for; none for what
    is about no single visit; keeps: whether it may hand out a baseline. Raises: ValueError for a computed member
    that cannot be written.
    """
    writer_of(computed)  # what cannot be written stops the start
    left_out = {
        "outcome": not outcome,
        "load_list": not outcome,
        "questions": not intake,
        "baseline_to_keep": not keeps,
    }
    told = [
        (item, object, _field(replace(declared, kind="object", part=computed) if item == COMPUTED else declared))
        for item, declared in declared_members(Answer)
        if not left_out.get(item, False)
    ]
    size = [("size", str, always("choice", "How much of the answer this is.", choices=sizes))] if sizes else []
    counted = [
        ("passed", tuple, member("texts", "Codes of what passed, in a short answer.")),
        ("read", object, always("object", "How much of what was posted was used.", part=Read)),
    ]
    made = [
        *size,
        ("reference", str, member("text", "The caller's `reference`, echoed.")),
        *told,
        *(counted if sizes else []),
        ("units", object, always("object", "The units of the answer.", part=UnitsAnswer)),
        ("provenance", object, always("object", "What gave the answer.", part=Provenance)),
    ]
    purpose = " ".join((Answer.__doc__ or "").split("\n\n")[0].split())
    return record_of(name, purpose, made)


def _field(declared: Member) -> Any:
    return field(default=None, metadata={"member": declared})
