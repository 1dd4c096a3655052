"""What the reasoning hands out: holds, causes, readings, steps, outcome, and the whole answer."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from service.results.finding import Assumption, Finding, Missing, Value
from service.results.quantity import Quantity


@dataclass(frozen=True, slots=True)
class Hold:
    """A hazard that stops the work: code and the findings that raised it."""

    code: str
    raised_by: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Argument:
    """One thing that speaks for or against a cause.

    weight: natural-log likelihood ratio; text code and values are for the words.
    """

    code: str
    weight: float
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause with its probability and what speaks for and against it."""

    code: str
    probability: float
    supported_by: tuple[Argument, ...] = ()
    contradicted_by: tuple[Argument, ...] = ()
    confirm_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NextReading:
    """A reading worth taking: what it tells apart, how much, and how long it takes.

    purpose: make_safe (proof of dead), confirm (the leading cause is all but settled) or tell_apart.
    """

    pointer: str
    why: str
    minutes: float
    information_bits: float
    tells_apart: tuple[str, ...] = ()
    purpose: str = "tell_apart"


@dataclass(frozen=True, slots=True)
class PartNeeded:
    """A part by generic rating; the rating is sentences of the locale files, joined by commas."""

    code: str
    rating: tuple["Sentence", ...] = ()
    numbers: "RatedNumbers | None" = None


@dataclass(frozen=True, slots=True)
class RatedNumbers:
    """The numbers of a rating, where the visit tells them.

    microfarads: of each section, the largest first; volts: a capacitor's least rating, else the nominal supply;
    amps: the motor's rated or full-load amps, of a contactor the least that it must carry; poles: of a contactor.
    """

    microfarads: tuple[float, ...] = ()
    volts: float | None = None
    amps: float | None = None
    poles: int | None = None


@dataclass(frozen=True, slots=True)
class Minutes:
    """A range of minutes."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Step:
    """A next step in its place."""

    code: str
    order: int
    why: tuple[str, ...]
    hazards: tuple[str, ...]
    power: str
    certificates: tuple[str, ...]
    tools: tuple[str, ...]
    parts: tuple[PartNeeded, ...]
    minutes: Minutes
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Found:
    """An established fault: the finding, whether it explains the complaint, and what mends it.

    mended_by: part, adjustment, or empty where only more readings tell; parts: codes of those it condemns.
    """

    finding: str
    explains_complaint: bool
    mended_by: str
    parts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the dispatcher needs: a documented pure function of the findings."""

    state: str
    run_permission: str
    disposition: str
    urgency: str
    urgency_reason: str
    lead_cause: str
    found: tuple[Found, ...]
    parts: tuple[PartNeeded, ...]
    take_along: tuple[PartNeeded, ...]
    certificates: tuple[str, ...]
    minutes: Minutes
    return_minutes: Minutes | None
    tools: tuple[str, ...]
    crew: int
    refrigerant: "RefrigerantLoad"
    summary: tuple["Sentence", ...] = ()
    customer_note: tuple["Sentence", ...] = ()
    technician_note: tuple["Sentence", ...] = ()
    watch_for: tuple[str, ...] = ()
    replacement: tuple["Sentence", ...] = ()


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence of the locale files, by code, with the values it mentions."""

    code: str
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Question:
    """A question worth asking by phone."""

    code: str
    information_bits: float


@dataclass(frozen=True, slots=True)
class RefrigerantLoad:
    """Whether refrigerant work is likely, and what it would be done with.

    probability: of a cause whose repair opens the circuit; mass: factory charge [kg] where the nameplate tells,
    which is what to carry; recovery_cylinder: a cylinder to recover into is needed as well.
    """

    probability: float
    likely: bool
    designation: str | None = None
    mass: Quantity | None = None
    recovery_cylinder: bool = False


@dataclass(frozen=True, slots=True)
class LoadList:
    """What to put on the truck: parts by generic rating, tools, and the cylinder question."""

    parts: tuple[PartNeeded, ...]
    tools: tuple[str, ...]
    refrigerant: RefrigerantLoad


@dataclass(frozen=True, slots=True)
class Answer:
    """Every evaluating endpoint answers with this shape; `computed` is a declared dataclass."""

    computed: Any
    findings: tuple[Finding, ...] = ()
    holds: tuple[Hold, ...] = ()
    causes: tuple[Cause, ...] = ()
    next_readings: tuple[NextReading, ...] = ()
    next_steps: tuple[Step, ...] = ()
    cautions: tuple[str, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    missing: tuple[Missing, ...] = ()
    outcome: Outcome | None = None
    questions: tuple[Question, ...] | None = None
    load_list: LoadList | None = None
