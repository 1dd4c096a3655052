"""The shapes of the code lists and of a problem document."""

from dataclasses import dataclass, make_dataclass
from typing import Any

from service.results.declare import member
from service.results.planned import Minutes
from service.schemas.item_shapes import SEVERITIES, ProvenanceShape, always
from service.schemas.reading_list import KINDS_OF_ANSWER


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
        ("prior", float, always("number", "Share of service calls (before any readings).", low=0.0, high=1.0)),
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
        ("minutes", object, always("object", "How long it takes.", part=Minutes)),
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


def _named(name: str, purpose: str, *more: tuple[str, type, Any]) -> type:
    """A row that is a code with its title, and what else it has."""
    common: list[tuple[str, type, Any]] = [
        ("code", str, always("text", "The code; it never changes.")),
        ("title", str, always("text", "The code in words.")),
        ("since", str, always("text", "Version of the contract that brought it.")),
    ]
    return make_dataclass(name, [*common, *more], frozen=True, namespace={"__doc__": purpose})


_STEPS = ("steps", tuple, always("texts", "Codes of the steps that name it."))
PARTS = code_list(
    "PartList",
    "parts",
    "Every part that an answer may name.",
    _named(
        "PartRow",
        "A part.",
        _STEPS,
        ("causes", tuple, always("texts", "Codes of the causes whose repair needs it.")),
    ),
)
TOOLS = code_list(
    "ToolList", "tools", "Every tool and instrument that an answer may name.", _named("ToolRow", "A tool.", _STEPS)
)
CERTIFICATES = code_list(
    "CertificateList",
    "certificates",
    "Every certificate that a step may ask for.",
    _named("CertificateRow", "A certificate.", _STEPS),
)


@dataclass(frozen=True)
class QuestionPatchShape:
    """One operation of a JSON Patch (RFC 6902) on the visit document."""

    op: str = always("choice", "What is done.", choices=("add",))
    path: str = always("text", "JSON Pointer; objects and lists on the way that are not there yet are made first.")
    value: object = always("said", "What is put there.")


@dataclass(frozen=True)
class QuestionAnswerShape:
    """What may be answered, and what that puts into the visit document."""

    said: str = always("text", "yes, no, or a word of the choice.")
    title: str | None = member("text", "What the word means.")
    patches: tuple[QuestionPatchShape, ...] = always(
        "parts", "Operations in order; empty where the answer changes nothing.", part=QuestionPatchShape
    )


QUESTIONS = code_list(
    "QuestionList",
    "questions",
    "Every question that the intake may ask.",
    _named(
        "QuestionRow",
        "A question.",
        ("why", str, always("text", "What the answer is good for.")),
        ("safety", bool, always("boolean", "It is asked in any case, because the answer may mean danger.")),
        (
            "pointer",
            str,
            always("text", "JSON Pointer (RFC 6901) into the visit document: where the answer goes."),
        ),
        ("answer", str, always("choice", "Kind of answer.", choices=KINDS_OF_ANSWER)),
        (
            "answers",
            tuple,
            always(
                "parts",
                "What may be answered; empty where the answer is a text or a number for the pointer.",
                part=QuestionAnswerShape,
            ),
        ),
    ),
)
ASSUMPTIONS = code_list(
    "AssumptionList",
    "assumptions",
    "Every assumption; a name in braces stands for a value of the visit.",
    _named("AssumptionRow", "An assumption."),
)


@dataclass(frozen=True)
class ReadingRangeShape:
    """A range in one unit."""

    unit: str = always("text", "Unit code.")
    low: float | None = member("number", "Lowest value that is accepted; a pressure must lie above absolute zero.")
    high: float | None = member("number", "Highest value that is accepted.")


@dataclass(frozen=True)
class ReadingWordShape:
    """A word of a closed list."""

    word: str = always("text", "The word to post; a whole number is posted as a number.")
    title: str = always("text", "What it means.")


@dataclass(frozen=True)
class ReadingRowShape:
    """A member of the visit document, with what a form needs to ask for it."""

    pointer: str = always(
        "text", "JSON Pointer (RFC 6901) into the visit document; 0 stands for any place of a list."
    )
    part: str = always("text", "The part of the document that it belongs to.")
    label: str = always("text", "What it is.")
    instruction: str = always("text", "What to do to take it.")
    answer: str = always("choice", "Kind of answer.", choices=KINDS_OF_ANSWER)
    quantity: str | None = member("text", "Kind of quantity, where the answer is one.")
    unit_chosen_by: str | None = member(
        "text", "The member of `units` that chooses the unit; absent where the unit never changes."
    )
    ranges: tuple[ReadingRangeShape, ...] | None = member(
        "parts",
        "What is accepted, in each unit that can be chosen; gauge pressures at sea level.",
        part=ReadingRangeShape,
    )
    words: tuple[ReadingWordShape, ...] | None = member("parts", "The words of a choice.", part=ReadingWordShape)
    most: int | None = member("integer", "Most characters, numbers or items.", low=1, high=1000)
    power: str = always("choice", "Power at the unit while it is taken.", choices=("off", "on", "either"))
    minutes: float = always("number", "How long it typically takes.")
    asked: bool = always("boolean", "It is asked or looked up rather than measured.")
    instrument: str | None = member("text", "Code of GET /v1/tools, where an instrument is needed.")
    findings: tuple[str, ...] = always("texts", "Codes of the findings that rest on it.")


READINGS = code_list("ReadingList", "readings", "Every member of the visit document.", ReadingRowShape)


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
