"""What the reasoning hands out: holds, causes, readings, steps, and the whole answer.

Each member that is sent is declared here, with what the contract says of it: `schemas/dump.py` writes it and the
contract is made from it. A ClassVar is said from the others when the answer is written.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar

from service.results.declare import growing, listed, sent, sent_if_known, words_of
from service.results.finding import Assumption, Finding, Missing, Severity, Value
from service.results.kept_baseline import KeptBaseline
from service.results.outcome import Outcome
from service.results.planned import Minutes, PartNeeded, RefrigerantLoad
from service.results.record import Record, field
from service.results.visit import Baseline

RESTS_ON = ("history", "simulated_units", "tests", "simulated_units_and_tests")


class Simulated(Record):
    """The simulated units that a verdict rests on.

    known_by: what told how this very unit reads when sound, baseline or printed_normals, empty where nothing did;
    readings: how many of its readings or figures were used.
    """

    known_by: str = ""
    readings: int = 0


class Hold(Record):
    """A hazard that stops the work until it is cleared; holds come before everything else."""

    code: str = field(metadata=listed("GET /v1/hazards"))
    title: ClassVar[str] = field(metadata=sent("text", "The hazard in a few words.", said="hold"))
    instruction: ClassVar[str] = field(metadata=sent("text", "What to do now.", said="hold"))
    clears_when: ClassVar[str] = field(metadata=sent("text", "What clears the hold.", said="hold"))
    raised_by: tuple[str, ...] = field(
        metadata=sent("texts", "What raised it: codes of findings or steps, or JSON Pointers into the document.")
    )


class Argument(Record):
    """One thing that speaks for or against a cause.

    weight: natural-log likelihood ratio; text code and values are for the words.
    """

    code: str
    weight: float
    values: Mapping[str, Value] = field(default_factory=dict)


class Cause(Record):
    """A possible cause; the probabilities of all causes in an answer descend and sum to 1."""

    code: str = field(metadata=listed("GET /v1/causes"))
    title: ClassVar[str] = field(metadata=sent("text", "The cause in a few words.", said="cause"))
    probability: float = field(metadata=sent("number", "Probability.", low=0.0, high=1.0, decimals=4))
    supported_by: tuple[Argument, ...] = field(
        default=(), metadata=sent("texts", "What supports it, in words.", said="arguments")
    )
    contradicted_by: tuple[Argument, ...] = field(
        default=(), metadata=sent("texts", "What contradicts it, in words.", said="arguments")
    )
    confirm_by: tuple[str, ...] = field(
        default=(), metadata=sent("texts", "Codes of the steps that would confirm it.")
    )
    rests_on: str = field(
        default="history",
        metadata=growing("What its probability rests on.", *RESTS_ON),
    )
    simulated_probability: float | None = field(
        default=None,
        metadata=sent_if_known(
            "number",
            "Its probability from simulated units alone, before any check of its own; absent where they were not "
            "asked or do not know it.",
            low=0.0,
            high=1.0,
            decimals=4,
        ),
    )


class NextReading(Record):
    """A reading worth taking next, the most telling one first.

    why: code of its text. purpose: make_safe (proof of dead), confirm (the leading cause is all but settled) or
    tell_apart.
    """

    pointer: str = field(metadata=sent("text", "Where the reading goes in the visit document (JSON Pointer)."))
    title: ClassVar[str] = field(metadata=sent("text", "The reading in a few words.", said="reading"))
    why: str = field(metadata=sent("text", "What it is good for and how it is taken.", said="reading"))
    information_bits: float = field(
        metadata=sent("number", "How much it is expected to tell, in bits.", decimals=3)
    )
    minutes: float = field(metadata=sent("number", "How long it takes."))
    tells_apart: tuple[str, ...] = field(
        default=(), metadata=sent("texts", "Codes of the causes that it tells apart.")
    )
    purpose: str = field(
        default="tell_apart",
        metadata=growing("What it is for.", "make_safe", "confirm", "tell_apart"),
    )


class Step(Record):
    """A next step in its place; while a hold keeps the unit off, no step has the power on."""

    code: str = field(metadata=listed("GET /v1/steps"))
    order: int = field(metadata=sent("integer", "Place in the order of work, from 1.", low=1, high=1000))
    title: ClassVar[str] = field(metadata=sent("text", "The step in a few words.", said="step title"))
    text: ClassVar[str] = field(metadata=sent("text", "What to do.", said="step text"))
    why: tuple[str, ...] = field(
        metadata=sent("texts", "Codes of the holds, causes, findings or steps that call for it.")
    )
    hazards: tuple[str, ...] = field(metadata=sent("texts", "Codes of the cautions that belong to it."))
    power: str = field(
        metadata=sent("choice", "Power at the unit during the step.", choices=("off", "on", "either"))
    )
    certificates: tuple[str, ...] = field(
        metadata=sent("texts", "Codes of the certificates that the work asks for.")
    )
    tools: tuple[str, ...] = field(metadata=sent("texts", "Tools.", said="tools"))
    tool_codes: ClassVar[tuple[str, ...]] = field(
        metadata=sent("texts", "Codes of GET /v1/tools.", said="tool codes")
    )
    parts: tuple[PartNeeded, ...] = field(metadata=sent("parts", "Parts.", part=PartNeeded))
    minutes: Minutes = field(metadata=sent("object", "How long it takes.", part=Minutes))
    values: Mapping[str, Value] = field(default_factory=dict)


class Caution(Record):
    """A caution: what can hurt, and how to avoid it."""

    code: str = field(metadata=listed("GET /v1/hazards"))
    severity: ClassVar[str] = field(
        metadata=sent("choice", "critical: can kill.", choices=words_of(Severity), said="caution severity")
    )
    text: ClassVar[str] = field(metadata=sent("text", "The caution.", said="caution"))


class Question(Record):
    """A question worth asking by telephone, the most telling one first."""

    code: str = field(metadata=sent("text", "Code of the question."))
    text: ClassVar[str] = field(metadata=sent("text", "The question.", said="question"))
    why: ClassVar[str] = field(metadata=sent("text", "What the answer is good for.", said="question"))
    information_bits: float = field(
        metadata=sent("number", "How much it is expected to tell, in bits.", decimals=3)
    )


class LoadList(Record):
    """What to put on the truck."""

    parts: tuple[PartNeeded, ...] = field(metadata=sent("parts", "Parts.", part=PartNeeded))
    tools: tuple[str, ...] = field(metadata=sent("texts", "Tools.", said="tools"))
    tool_codes: ClassVar[tuple[str, ...]] = field(
        metadata=sent("texts", "Codes of GET /v1/tools.", said="tool codes")
    )
    refrigerant: RefrigerantLoad = field(metadata=sent("object", "Refrigerant work.", part=RefrigerantLoad))


class Answer(Record):
    """Verdicts on what was posted, holds first in importance. All lists are present; unknown members are absent.

    computed: a declared record, another one by endpoint. outcome, questions and load_list: where the endpoint
    has them. relied_on: pointers of the readings that it rests on, which are counted and not sent. simulated: the
    simulated units that weighed the running readings, where they were relied on; provenance names them.
    could_keep: the readings as a baseline where the model finds no fault in them, with or without a reason to keep
    it.
    """

    outcome: Outcome | None = field(
        default=None, metadata=sent("object", "What the dispatcher needs.", part=Outcome)
    )
    computed: Any = field(default=None, metadata=sent("computed", "Computed values; absent where not computable."))
    findings: tuple[Finding, ...] = field(
        default=(), metadata=sent("parts", "Verdicts on what was read.", part=Finding)
    )
    holds: tuple[Hold, ...] = field(
        default=(),
        metadata=sent("parts", "Hazards that stop the work, most serious first. Show them first.", part=Hold),
    )
    causes: tuple[Cause, ...] = field(
        default=(), metadata=sent("parts", "Possible causes, the likeliest first.", part=Cause)
    )
    next_readings: tuple[NextReading, ...] = field(
        default=(), metadata=sent("parts", "Readings worth taking next.", part=NextReading)
    )
    next_steps: tuple[Step, ...] = field(default=(), metadata=sent("parts", "What to do, in order.", part=Step))
    cautions: tuple[str, ...] = field(
        default=(), metadata=sent("coded", "What can hurt, most serious first.", part=Caution)
    )
    assumptions: tuple[Assumption, ...] = field(
        default=(), metadata=sent("parts", "What was taken for granted.", part=Assumption)
    )
    missing: tuple[Missing, ...] = field(
        default=(),
        metadata=sent("parts", "Readings that are not there and what they would allow.", part=Missing),
    )
    questions: tuple[Question, ...] | None = field(
        default=None, metadata=sent("parts", "Questions worth asking.", part=Question)
    )
    load_list: LoadList | None = field(default=None, metadata=sent("object", "What to load.", part=LoadList))
    baseline_to_keep: KeptBaseline | None = field(
        default=None,
        metadata=sent_if_known(
            "object",
            "How this unit reads when nothing is wrong with it: after a proven repair, and after a sound "
            "commissioning or maintenance visit.",
            part=KeptBaseline,
        ),
    )
    relied_on: frozenset[str] = frozenset()
    simulated: Simulated | None = None
    could_keep: Baseline | None = None
