"""The shapes of the code lists and of a problem document."""

from dataclasses import dataclass, make_dataclass
from typing import Any

from service.results.declare import member
from service.schemas.item_shapes import SEVERITIES, MinutesShape, ProvenanceShape, always


def row(name: str, purpose: str, *more: tuple[str, type, Any]) -> type:
    """A row of a code list: code, title, severity, source and since, and what else it has."""
    common: list[tuple[str, type, Any]] = [
        ("code", str, always("text", "The code; it never changes.")),
        ("title", str, always("text", "The code in words.")),
        ("severity", str, always("choice", "How much it matters at worst.", choices=SEVERITIES)),
        ("source", str, always("text", "Who says so, or common practice.")),
        ("since", str, always("text", "Version of the contract that brought it.")),
    ]
    return make_dataclass(name, [*common, *more], frozen=True, namespace={"__doc__": purpose})


def code_list(name: str, member_name: str, purpose: str, of: type) -> type:
    """A list of rows with its provenance."""
    made = [
        (member_name, tuple, always("parts", purpose, part=of)),
        ("provenance", object, always("object", "What gave the list.", part=ProvenanceShape)),
    ]
    return make_dataclass(name, made, frozen=True, namespace={"__doc__": purpose})


FINDINGS = code_list("FindingList", "findings", "Every finding code.", row("FindingRow", "A finding code."))
CAUSES = code_list(
    "CauseList",
    "causes",
    "Every cause code.",
    row(
        "CauseRow",
        "A cause code.",
        ("prior", float, always("number", "Share of calls before anything is read.", low=0.0, high=1.0)),
        ("confirm_by", tuple, always("texts", "Codes of the steps that confirm it.")),
    ),
)
STEPS = code_list(
    "StepList",
    "steps",
    "Every step code.",
    row(
        "StepRow",
        "A step code.",
        ("power", str, always("choice", "Power at the unit.", choices=("off", "on", "either"))),
        ("certificates", tuple, always("texts", "Codes of the certificates that the work asks for.")),
        ("hazards", tuple, always("texts", "Codes of the cautions that belong to it.")),
        ("minutes", object, always("object", "How long it takes.", part=MinutesShape)),
    ),
)
HAZARDS = code_list(
    "HazardList", "hazards", "Every hold and every caution.", row("HazardRow", "A hold or a caution.")
)
SOURCES = code_list(
    "SourceList",
    "sources",
    "Every limit with its value and its source.",
    row(
        "SourceRow",
        "A limit.",
        ("value", float, always("number", "The limit in SI (K, Pa, m3/s, W; electrical in V, A, ohm).")),
        ("kind", str, always("text", "Kind of quantity of the value.")),
    ),
)


@dataclass(frozen=True)
class ProblemErrorShape:
    """One thing that is wrong with a request."""

    pointer: str = always("text", "JSON Pointer (RFC 6901) into the posted document; empty: the whole document.")
    code: str = always("text", "Stable code; the list grows.")
    detail: str = always("text", "One sentence that a person can act on.")
    allowed: tuple[str, ...] | None = member("texts", "What would be accepted, in the units of the request.")
    parameter: str | None = member("text", "Name of the query parameter, where the mistake is not in the body.")


@dataclass(frozen=True)
class ProblemShape:
    """A problem document (RFC 9457)."""

    type: str = always("text", "Relative reference to the description of this type of problem.")
    title: str = always("text", "The type of problem in a few words.")
    status: int = always("integer", "The HTTP status.", low=400, high=599)
    detail: str = always("text", "What to change.")
    instance: str = always("text", "`urn:request:` and the request id, as in the logs.")
    code: str = always("text", "Code of GET /v1/problems.")
    errors: tuple[ProblemErrorShape, ...] = always(
        "parts", "What is wrong with the request, at most 50.", part=ProblemErrorShape, length=50
    )


ProblemType = row(
    "ProblemType",
    "A type of problem.",
    ("status", int, always("integer", "The HTTP status.", low=400, high=599)),
    ("detail", str, always("text", "What it means.")),
)
PROBLEMS = make_dataclass(
    "ProblemList",
    [
        ("problems", tuple, always("parts", "Every type of problem.", part=ProblemType)),
        ("errors", tuple, always("parts", "Error codes of `errors`.", part=row("ErrorCode", "An error code."))),
    ],
    frozen=True,
    namespace={"__doc__": "Every problem and every error code found before a schema is asked."},
)
