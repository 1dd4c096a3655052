"""The table of operations, second part: one visit document, many questions."""

from __future__ import annotations

from service.results.comparison import ComparisonComputed, ComparisonRequest
from service.results.computed import Computed
from service.results.expected import ExpectedComputed
from service.results.visit import Visit
from service.schemas.answer_shape import answer_of
from service.workshop.specification.operation import NDJSON, Example, Operation, posted

VisitAnswer = answer_of("VisitAnswer", Computed)
AssessmentAnswer = answer_of("AssessmentAnswer", Computed, outcome=True)
IntakeAnswer = answer_of("IntakeAnswer", Computed, outcome=True, intake=True)
ExpectedAnswer = answer_of("ExpectedAnswer", ExpectedComputed)


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
        "/v1/batch",
        "assessMany",
        "Visits",
        "Judge many visits",
        "One visit document a line (newline-delimited JSON), at most 1000 lines of 65536 bytes, 8388608 bytes "
        "together. The answer is streamed, one line for each line with text, in order: `line` (its number), "
        "`reference`, `status` and either `assessment` (AssessmentAnswer) or `problem` (Problem). A refused "
        "line never stops the others.",
        body_text="Newline-delimited JSON: a Visit a line.",
        request_media=NDJSON,
        media=NDJSON,
        examples=(
            Example("two-visits", "Two visits", "batch/two-visits.ndjson"),
            Example("one-refused", "The second line is refused", "batch/one-refused.ndjson"),
        ),
    ),
)
