"""The table of operations, second part: one visit document, many questions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from service.results.comparison import ComparisonComputed, ComparisonRequest
from service.results.computed import Computed
from service.results.declare import member
from service.results.expected import ExpectedComputed
from service.results.visit import Visit
from service.schemas.answer_shape import answer_of
from service.schemas.item_shapes import ProvenanceShape, always
from service.schemas.list_shapes import ProblemShape
from service.schemas.sizes import FULL, SHORT, SIZES
from service.workshop.specification.operation import NDJSON, Example, Operation, Parameter, posted

PART_SIZES = (FULL, SHORT)
VisitAnswer = answer_of("VisitAnswer", Computed, sizes=PART_SIZES)
AssessmentAnswer = answer_of("AssessmentAnswer", Computed, outcome=True, sizes=SIZES)
IntakeAnswer = answer_of("IntakeAnswer", Computed, outcome=True, intake=True, sizes=SIZES)
ExpectedAnswer = answer_of("ExpectedAnswer", ExpectedComputed, sizes=PART_SIZES)


@dataclass(frozen=True)
class BatchRequest:
    """Many visits as one document."""

    visits: tuple[Visit, ...] = member("parts", "The visits, 1 to 1000.", part=Visit, length=1000, required=True)


@dataclass(frozen=True)
class BatchLineShape:
    """What came of one visit of a batch: an assessment, or a problem where it was refused."""

    line: int = always("integer", "Its place in the batch, from 1.", low=1, high=100_000_000)
    reference: str | None = member("text", "The caller's `reference`, echoed.")
    status: int = always("integer", "The HTTP status that it would have had alone.", low=200, high=599)
    assessment: Any = member("object", "The answer.", part=AssessmentAnswer)
    problem: Any = member("object", "Why it was refused.", part=ProblemShape)


@dataclass(frozen=True)
class BatchAnswerShape:
    """The answers of a batch, in order."""

    answers: tuple[BatchLineShape, ...] = always("parts", "One for each visit.", part=BatchLineShape)
    provenance: Any = always("object", "What gave the answers.", part=ProvenanceShape)


def size(sizes: tuple[str, ...]) -> Parameter:
    """The query that chooses how much of an answer is sent."""
    said = "How much of the answer is sent: full; short: what passed is a list of codes"
    said += "; outcome: every list but the holds is empty." if len(sizes) > len(PART_SIZES) else "."
    schema = (("type", "string"), ("enum", list(sizes)), ("default", sizes[0]))
    return Parameter("size", "query", said, schema, sizes[0])


def _visit(name: str, said: str) -> Example:
    return Example(name, said, f"visits/{name}.json")


GROUNDED = _visit("grounded-winding", "A winding to ground")
HOT_SHELL = _visit("hot-shell", "An open winding on a hot shell")
WEAK_CAPACITOR = _visit("weak-capacitor", "A weak run capacitor")
LOW_VALVE = _visit("low-charge-valve", "Short of refrigerant, expansion valve")
LOW_ORIFICE = _visit("low-charge-orifice", "Short of refrigerant, fixed orifice")
DIRTY_COIL = _visit("dirty-outdoor-coil", "A dirty outdoor coil")
SOUND = _visit("sound-unit", "A sound unit")


def _about_visit(
    name: str,
    operation_id: str,
    summary: str,
    description: str,
    answer: type,
    *examples: Example,
    others: tuple[str, ...] = (),
    sizes: tuple[str, ...] = PART_SIZES,
) -> Operation:
    return posted(
        f"/v1/{name}",
        operation_id,
        "Visits",
        summary,
        description,
        request=Visit,
        answer=answer,
        others=others,
        examples=examples,
        parameters=(size(sizes),),
    )


VISITS: tuple[Operation, ...] = (
    _about_visit(
        "assessment",
        "assessVisit",
        "Judge the whole visit",
        "Every check that the readings allow, holds ahead of everything, causes, the next reading, ordered next "
        "steps and the outcome. A partial visit is never an error; readings that contradict are a finding. With "
        "`Accept: text/html` the answer is the printable job note, chart included.",
        AssessmentAnswer,
        GROUNDED,
        LOW_VALVE,
        others=("text/html",),
        sizes=SIZES,
    ),
    _about_visit(
        "electrical",
        "judgeElectrical",
        "Electrical verdicts",
        "Isolation, windings, insulation, capacitors, contactor, supply, control, currents, protection. No dead "
        "reading is trusted until dead is proven.",
        VisitAnswer,
        WEAK_CAPACITOR,
        HOT_SHELL,
    ),
    _about_visit(
        "charge",
        "judgeCharge",
        "Charge status",
        "Saturation, superheat, subcooling and their targets; the status follows the published installer "
        "tolerances, and only where nothing else in the readings speaks against charge.",
        VisitAnswer,
        LOW_VALVE,
        LOW_ORIFICE,
    ),
    _about_visit(
        "air",
        "judgeAir",
        "Air side",
        "States of the air, temperature split and its target, airflow, capacity, static pressure.",
        VisitAnswer,
        LOW_VALVE,
        SOUND,
    ),
    _about_visit(
        "compressor",
        "judgeCompressor",
        "Is the compressor pumping",
        "Compression ratio, discharge superheat, amps and flow by the rating coefficients, efficiencies.",
        VisitAnswer,
        DIRTY_COIL,
        SOUND,
    ),
    _about_visit(
        "intake",
        "takeIn",
        "Before anybody is sent",
        "Likely causes, urgency, questions worth asking, what to load, certificates and planned minutes, from "
        "complaint, nameplate and history.",
        IntakeAnswer,
        Example("no-start", "It hums and does not start", "intake/no-start.json"),
        Example("smell", "A smell or hiss of refrigerant", "intake/refrigerant-smell.json"),
        sizes=SIZES,
    ),
    _about_visit(
        "expected",
        "expectReadings",
        "What a sound unit would read here and now",
        "Each expected reading with a 90 % range, for the weather and the unit of the document.",
        ExpectedAnswer,
        LOW_VALVE,
        SOUND,
    ),
    posted(
        "/v1/comparison",
        "compareVisits",
        "Visits",
        "Was it repaired",
        "Both visits judged, each finding gone, still there, new or not read again, the readings normalised "
        "for the weather of each day.",
        request=ComparisonRequest,
        answer=answer_of("ComparisonAnswer", ComparisonComputed),
        examples=(
            Example("charge", "Charge weighed in after a repair", "comparison/charge-repaired.json"),
            Example("capacitor", "Run capacitor replaced", "comparison/capacitor-replaced.json"),
        ),
    ),
    posted(
        "/v1/chart",
        "drawChart",
        "Visits",
        "Pressure-enthalpy chart",
        "The cycle of the visit in the pressure-enthalpy chart of its refrigerant; what the readings do not "
        "give is said in words.",
        request=Visit,
        media="image/svg+xml",
        examples=(LOW_VALVE, DIRTY_COIL),
    ),
    posted(
        "/v1/note",
        "writeNote",
        "Visits",
        "Job note",
        "The whole visit as a page to read on a phone or to print, chart included.",
        request=Visit,
        media="text/html",
        examples=(LOW_VALVE, GROUNDED),
    ),
    posted(
        "/v1/customer-page",
        "writeCustomerPage",
        "Visits",
        "Customer's page",
        "What the customer is told, as a page of its own: whether it may run, what was found, what happens next.",
        request=Visit,
        media="text/html",
        examples=(LOW_VALVE, GROUNDED),
    ),
    posted(
        "/v1/batch",
        "assessMany",
        "Visits",
        "Judge many visits",
        "Up to 1000 visits, 8388608 bytes together, answered as they came: one JSON document in and out, or "
        "newline-delimited JSON in and out, a line a visit (at most 65536 bytes) and an answer a line (BatchLine)."
        " Both are streamed in order. A refused visit never stops the others.",
        request=BatchRequest,
        answer=BatchAnswerShape,
        body_text="Newline-delimited JSON: a Visit a line.",
        other_request_media=NDJSON,
        others=(NDJSON,),
        parameters=(size(SIZES),),
        examples=(
            Example("two-visits", "Two visits", "batch/two-visits.json"),
            Example("one-visit", "A batch of one", "batch/one-visit.json"),
        ),
        other_examples=(
            Example("two-visits", "Two visits", "batch/two-visits.ndjson"),
            Example("one-visit", "A batch of one", "batch/one-visit.ndjson"),
        ),
    ),
)
