"""The items of an answer as dump.py writes them, declared like the requests; the contract is made from them.

Real answers are held against the schemas made from these declarations in the tests. Kinds that only answers use:
number (a plain number), texts (a list of texts), quantity (value, unit and uncertainty).
"""

from dataclasses import dataclass
from typing import Any

from service.results.declare import member
from service.results.finding import Confidence, Severity, State

EDITION = (
    "Digest over code, knowledge, texts, tables, libraries and contract; also in the header X-Edition. The same "
    "edition gives the same bytes."
)
SEVERITIES = tuple(str(item) for item in Severity)


def always(kind: str, description: str, **details: Any) -> Any:
    """A member that every answer has."""
    return member(kind, description, required=True, **details)


def code(folder: str) -> Any:
    """A code of one of the lists; new codes come with new versions."""
    return always("text", f"Code of {folder}; the list grows, so let unknown codes pass.")


@dataclass(frozen=True)
class QuantityShape:
    """A value with its unit; the uncertainty is a 95 % half-width (k = 2) and absent where it is not known."""

    value: float = always("number", "The value in `unit`.")
    unit: str = always(
        "text", "Unit code, as in `units` of the answer, or a fixed one (V, A, ohm, Mohm, uF, %, 1 ...)."
    )
    uncertainty: float | None = member("number", "95 % half-width (k = 2) in `unit`.")


@dataclass(frozen=True)
class RangeShape:
    """A 90 % range with its likeliest value."""

    low: float = always("number", "Lower end in `unit`.")
    high: float = always("number", "Upper end in `unit`.")
    likely: float = always("number", "Likeliest value in `unit`.")
    unit: str = always("text", "Unit code.")


@dataclass(frozen=True)
class LimitShape:
    """A limit as applied; `low`, `high` or both."""

    low: float | None = member("number", "Lowest accepted value in `unit`.")
    high: float | None = member("number", "Highest accepted value in `unit`.")
    unit: str = always("text", "Unit code of the limit.")
    origin: str = always("choice", "Where the limit came from.", choices=("request", "table", "default"))
    source: str = always("text", "Who says so, or `common practice, no source`.")


@dataclass(frozen=True)
class FindingShape:
    """One verdict on what was read."""

    code: str = code("GET /v1/findings")
    state: str = always("choice", "How the check came out.", choices=tuple(str(item) for item in State))
    severity: str = always("choice", "How much it matters.", choices=SEVERITIES)
    confidence: str = always(
        "choice", "How far the limit lies from what was measured.", choices=tuple(str(item) for item in Confidence)
    )
    title: str = always("text", "The headline where it failed or is for review, else the check.")
    check: str = always("text", "What was checked, as a neutral noun.")
    headline: str = always("text", "What was found.")
    detail: str = always("text", "The verdict with its readings and limits, in the caller's units.")
    measured: QuantityShape | None = member("object", "What was measured or computed.", part=QuantityShape)
    limit: LimitShape | None = member("object", "What it was held against.", part=LimitShape)
    evidence: tuple[str, ...] = always("texts", "JSON Pointers (RFC 6901) into the posted document.")


@dataclass(frozen=True)
class HoldShape:
    """A hazard that stops the work until it is cleared; holds come before everything else."""

    code: str = code("GET /v1/hazards")
    title: str = always("text", "The hazard in a few words.")
    instruction: str = always("text", "What to do now.")
    clears_when: str = always("text", "What clears the hold.")
    raised_by: tuple[str, ...] = always("texts", "Codes of the findings that raised it.")


@dataclass(frozen=True)
class CauseShape:
    """A possible cause; the probabilities of all causes in an answer descend and sum to 1."""

    code: str = code("GET /v1/causes")
    title: str = always("text", "The cause in a few words.")
    probability: float = always("number", "Probability.", low=0.0, high=1.0)
    supported_by: tuple[str, ...] = always("texts", "What speaks for it.")
    contradicted_by: tuple[str, ...] = always("texts", "What speaks against it.")
    confirm_by: tuple[str, ...] = always("texts", "Codes of the steps that would confirm it.")


@dataclass(frozen=True)
class NextReadingShape:
    """A reading worth taking next, the most telling one first."""

    pointer: str = always("text", "Where the reading goes in the visit document (JSON Pointer).")
    title: str = always("text", "The reading in a few words.")
    why: str = always("text", "What it is good for and how it is taken.")
    information_bits: float = always("number", "How much it is expected to tell, in bits.")
    minutes: float = always("number", "How long it takes.")
    tells_apart: tuple[str, ...] = always("texts", "Codes of the causes that it tells apart.")
    purpose: str = always("choice", "What it is for.", choices=("make_safe", "confirm", "tell_apart"))


@dataclass(frozen=True)
class PartShape:
    """A part by its generic rating."""

    code: str = always("text", "Code of the part.")
    title: str = always("text", "The part in a few words.")
    rating: str | None = member("text", "Its rating, where one follows from what was posted.")
    microfarads: tuple[float, ...] | None = member(
        "capacitances", "Capacitance of each section, the largest first."
    )
    volts: float | None = member("number", "Rated volts, of a capacitor the least.")
    amps: float | None = member("number", "Rated or full-load amps; of a contactor the least that it must carry.")
    poles: int | None = member("integer", "Number of poles.", low=1, high=4)


@dataclass(frozen=True)
class MinutesShape:
    """A range of minutes."""

    low: float = always("number", "At best.")
    high: float = always("number", "At worst.")


@dataclass(frozen=True)
class StepShape:
    """A next step in its place; while a hold keeps the unit off, no step has the power on."""

    code: str = code("GET /v1/steps")
    order: int = always("integer", "Place in the order of work, from 1.", low=1, high=1000)
    title: str = always("text", "The step in a few words.")
    text: str = always("text", "What to do.")
    why: tuple[str, ...] = always("texts", "Codes of the holds, causes or findings that call for it.")
    hazards: tuple[str, ...] = always("texts", "Codes of the cautions that belong to it.")
    power: str = always("choice", "Power at the unit during the step.", choices=("off", "on", "either"))
    certificates: tuple[str, ...] = always("texts", "Codes of the certificates that the work asks for.")
    tools: tuple[str, ...] = always("texts", "Tools.")
    tool_codes: tuple[str, ...] = always("texts", "Codes of GET /v1/tools.")
    parts: tuple[PartShape, ...] = always("parts", "Parts.", part=PartShape)
    minutes: MinutesShape = always("object", "How long it takes.", part=MinutesShape)


@dataclass(frozen=True)
class CautionShape:
    """What can hurt, gravest first."""

    code: str = code("GET /v1/hazards")
    severity: str = always("choice", "critical: can kill.", choices=SEVERITIES)
    text: str = always("text", "The caution.")


@dataclass(frozen=True)
class AssumptionShape:
    """Something taken for granted, and the member that would replace it."""

    code: str = always("text", "Code of the assumption.")
    pointer: str = always("text", "The member that would replace it (JSON Pointer).")
    text: str = always("text", "What was taken for granted.")


@dataclass(frozen=True)
class MissingShape:
    """A reading that is not there, and what it would allow."""

    pointer: str = always("text", "The member that is missing (JSON Pointer).")
    would_allow: str = always("text", "What it would allow.")


@dataclass(frozen=True)
class FoundShape:
    """An established fault."""

    finding: str = always("text", "Code of the finding.")
    title: str = always("text", "What was found.")
    explains_complaint: bool = always("boolean", "Whether it explains the complaint, or is a defect beside it.")
    mended_by: str | None = member(
        "choice", "What mends it; absent where more readings must tell.", choices=("part", "adjustment")
    )
    parts: tuple[str, ...] = always("texts", "Codes of the needed parts that it condemns.")


@dataclass(frozen=True)
class RefrigerantLoadShape:
    """Whether refrigerant work is likely, and with what."""

    likely: bool = always("boolean", "Refrigerant work is likely.")
    probability: float = always("number", "Of a cause whose repair opens the circuit.", low=0.0, high=1.0)
    designation: str | None = member("text", "ASHRAE 34 designation, where known.")
    factory_charge: QuantityShape | None = member("object", "From the nameplate, where known.", part=QuantityShape)
    carry: QuantityShape | None = member(
        "object", "How much to carry, where refrigerant work is likely and the charge known.", part=QuantityShape
    )
    recovery_cylinder: bool = always("boolean", "A cylinder to recover into is needed.")


@dataclass(frozen=True)
class ToolShape:
    """A tool or instrument."""

    code: str = always("text", "Code of GET /v1/tools.")
    title: str = always("text", "The tool in a few words.")


@dataclass(frozen=True)
class OutcomeShape:
    """What the dispatcher needs to know: a pure function of the findings; unsafe wins."""

    state: str = always("choice", "Verdict.", choices=("sound", "fault", "undecided", "unsafe"))
    run_permission: str = always(
        "choice", "Whether the unit may run.", choices=("may_run", "may_run_watched", "unknown", "keep_off")
    )
    disposition: str = always(
        "choice",
        "What becomes of the visit.",
        choices=("complete", "more_readings", "parts_needed", "return_visit", "replacement_quote"),
    )
    urgency: str = always(
        "choice", "How soon somebody must be there.", choices=("now", "same_day", "next_day", "scheduled")
    )
    urgency_reason: str = always("text", "Why.")
    lead_cause: str = always("text", "Code of the likeliest cause.")
    found: tuple[FoundShape, ...] = always("parts", "Established faults, gravest first.", part=FoundShape)
    parts: tuple[PartShape, ...] = always("parts", "Parts that are needed, each proven.", part=PartShape)
    take_along: tuple[PartShape, ...] = always(
        "parts", "Parts for a suspicion that is not proven yet.", part=PartShape
    )
    certificates: tuple[str, ...] = always("texts", "Codes of the certificates that the work asks for.")
    minutes: MinutesShape = always("object", "How long the steps of this visit take.", part=MinutesShape)
    return_minutes: MinutesShape | None = member(
        "object", "How long the work takes that waits for a part or a longer visit.", part=MinutesShape
    )
    tools: tuple[ToolShape, ...] = always("parts", "Tools of the planned steps.", part=ToolShape)
    crew: int = always("integer", "People to send.", low=1, high=4)
    refrigerant: RefrigerantLoadShape = always("object", "Refrigerant work.", part=RefrigerantLoadShape)
    summary: str = always("text", "For the office.")
    customer_note: str = always("text", "For the customer, in plain words.")
    technician_note: str = always("text", "For the technician.")
    watch_for: tuple[str, ...] = always("texts", "What to watch after the visit.")
    replacement: str | None = member("text", "Why a replacement is worth a quote.")


@dataclass(frozen=True)
class ProvenanceShape:
    """What gave the answer: the same request to the same versions gives the same bytes."""

    service: str = always("text", "Version of the service.")
    contract: str = always("text", "Version of the contract.")
    edition: str = always("text", EDITION)
    knowledge: str = always("text", "Edition of the limits, codes and texts.")
    properties: str = always("text", "Property library and edition of the tables made from it.")
    priors: str = member("text", "A fleet's learnt shares of causes that were mixed in, and their labels.")


@dataclass(frozen=True)
class ReadShape:
    """How much of the readings that were posted the answer rests on."""

    posted: int = always("integer", "Readings in the document.", low=0, high=100000)
    used: int = always("integer", "Readings that a verdict of this answer names.", low=0, high=100000)
    ignored: tuple[str, ...] = always("texts", "Pointers of the readings that no verdict of this answer names.")


@dataclass(frozen=True)
class QuestionShape:
    """A question worth asking by telephone, the most telling one first."""

    code: str = always("text", "Code of the question.")
    text: str = always("text", "The question.")
    why: str = always("text", "What the answer is good for.")
    information_bits: float = always("number", "How much it is expected to tell, in bits.")


@dataclass(frozen=True)
class LoadListShape:
    """What to put on the truck."""

    parts: tuple[PartShape, ...] = always("parts", "Parts.", part=PartShape)
    tools: tuple[str, ...] = always("texts", "Tools.")
    tool_codes: tuple[str, ...] = always("texts", "Codes of GET /v1/tools.")
    refrigerant: RefrigerantLoadShape = always("object", "Refrigerant work.", part=RefrigerantLoadShape)
