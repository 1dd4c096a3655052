"""The code lists, and what a row of each has."""

from __future__ import annotations

from service.results.declare import sent, words_of
from service.results.finding import Severity
from service.results.planned import Minutes
from service.results.provenance import Provenance
from service.results.record import Record, field

GAVE = sent("object", "What gave the list.", part=Provenance)
NAMED_BY_STEPS = sent("texts", "Codes of the steps that name it.")


class CodeRow(Record):
    """A code with how much it matters and who says so."""

    code: str = field(metadata=sent("text", "The code; it never changes."))
    title: str = field(metadata=sent("text", "The code in words."))
    severity: str = field(metadata=sent("choice", "How much it matters at worst.", choices=words_of(Severity)))
    source: str = field(metadata=sent("text", "Who says so, or common practice."))
    since: str = field(metadata=sent("text", "Version of the contract that brought it."))


class FindingRow(CodeRow):
    """A finding code."""


class FindingList(Record):
    """Every finding code."""

    findings: tuple[FindingRow, ...] = field(metadata=sent("parts", "Every finding code.", part=FindingRow))
    provenance: Provenance = field(metadata=GAVE)


class CauseRow(CodeRow):
    """A cause code."""

    prior: float = field(
        metadata=sent("number", "Share of service calls (before any readings).", low=0.0, high=1.0)
    )
    confirm_by: tuple[str, ...] = field(metadata=sent("texts", "Codes of the steps that confirm it."))


class CauseList(Record):
    """Every cause code."""

    causes: tuple[CauseRow, ...] = field(metadata=sent("parts", "Every cause code.", part=CauseRow))
    provenance: Provenance = field(metadata=GAVE)


class StepRow(CodeRow):
    """A step code."""

    power: str = field(metadata=sent("choice", "Power at the unit.", choices=("off", "on", "either")))
    certificates: tuple[str, ...] = field(
        metadata=sent("texts", "Codes of the certificates that the work asks for.")
    )
    hazards: tuple[str, ...] = field(metadata=sent("texts", "Codes of the cautions that belong to it."))
    minutes: Minutes = field(metadata=sent("object", "How long it takes.", part=Minutes))


class StepList(Record):
    """Every step code."""

    steps: tuple[StepRow, ...] = field(metadata=sent("parts", "Every step code.", part=StepRow))
    provenance: Provenance = field(metadata=GAVE)


class HazardRow(CodeRow):
    """A hold or a caution."""


class HazardList(Record):
    """Every hold and every caution."""

    hazards: tuple[HazardRow, ...] = field(metadata=sent("parts", "Every hold and every caution.", part=HazardRow))
    provenance: Provenance = field(metadata=GAVE)


class SourceRow(CodeRow):
    """A limit; no answer names it by its code, and limits come and go with the knowledge."""

    value: float = field(metadata=sent("number", "The limit in `unit`."))
    quantity: str = field(metadata=sent("text", "Kind of quantity, as in GET /v1/readings."))
    unit: str = field(metadata=sent("text", "Unit code: SI, or V, A, ohm, uF, %, min, s, d, 1."))


class SourceList(Record):
    """Every limit with its value and its source."""

    sources: tuple[SourceRow, ...] = field(
        metadata=sent("parts", "Every limit with its value and its source.", part=SourceRow)
    )
    provenance: Provenance = field(metadata=GAVE)


class NamedRow(Record):
    """A code with its title."""

    code: str = field(metadata=sent("text", "The code; it never changes."))
    title: str = field(metadata=sent("text", "The code in words."))
    since: str = field(metadata=sent("text", "Version of the contract that brought it."))


class PartRow(NamedRow):
    """A part."""

    steps: tuple[str, ...] = field(metadata=NAMED_BY_STEPS)
    causes: tuple[str, ...] = field(metadata=sent("texts", "Codes of the causes whose repair needs it."))


class PartList(Record):
    """Every part that an answer may name."""

    parts: tuple[PartRow, ...] = field(metadata=sent("parts", "Every part that an answer may name.", part=PartRow))
    provenance: Provenance = field(metadata=GAVE)


class ToolRow(NamedRow):
    """A tool."""

    steps: tuple[str, ...] = field(metadata=NAMED_BY_STEPS)


class ToolList(Record):
    """Every tool and instrument that an answer may name."""

    tools: tuple[ToolRow, ...] = field(
        metadata=sent("parts", "Every tool and instrument that an answer may name.", part=ToolRow)
    )
    provenance: Provenance = field(metadata=GAVE)


class CertificateRow(NamedRow):
    """A certificate."""

    steps: tuple[str, ...] = field(metadata=NAMED_BY_STEPS)


class CertificateList(Record):
    """Every certificate that a step may ask for."""

    certificates: tuple[CertificateRow, ...] = field(
        metadata=sent("parts", "Every certificate that a step may ask for.", part=CertificateRow)
    )
    provenance: Provenance = field(metadata=GAVE)


class AssumptionRow(NamedRow):
    """An assumption."""


class AssumptionList(Record):
    """Every assumption; a name in braces stands for a value of the visit."""

    assumptions: tuple[AssumptionRow, ...] = field(
        metadata=sent(
            "parts", "Every assumption; a name in braces stands for a value of the visit.", part=AssumptionRow
        )
    )
    provenance: Provenance = field(metadata=GAVE)
