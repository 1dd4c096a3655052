"""One case: a visit and all that is judged of it, built in one order and never patched.

visit -> asked -> findings -> holds -> set aside -> causes -> decision -> plan -> outcome. Every stage reads the
case before it and returns a new one.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property
from typing import Any

from service.knowledge.kinds import kind_row
from service.reasoning.cycle_weighing import CycleWeighing
from service.results.answer import Cause, Hold, LoadList, NextReading, Question, Step
from service.results.computed import Computed
from service.results.cycle import CycleInputs, CycleVerdict
from service.results.finding import Assumption, Finding, Missing
from service.results.outcome import Outcome
from service.results.planned import PartNeeded
from service.results.record import Record, field
from service.results.stale import repair_assumptions
from service.results.visit import Visit
from service.verdicts.asked import Asked
from service.verdicts.report import Checked

Check = Callable[[Visit], Checked]
Compute = Callable[["Case"], Any]


class Profile(Record):
    """Which stages run for a question, and what of the case is shown.

    checks: what is judged. computed: what the answer's computed values are, from the case. asks_cycle: the cycle
    model weighs the running readings. whole: all that was read is judged, so the visit gets an outcome. prepares:
    nobody is there yet; history and complaint count, and what to ask and load is said. works: the circuit is being
    worked on, so only the work's own findings add steps and nothing is restarted. explains: what the cycle model
    misses is listed.
    """

    checks: tuple[Check, ...]
    computed: Compute
    asks_cycle: bool = False
    whole: bool = False
    prepares: bool = False
    works: bool = False
    explains: bool = False


class CycleCase(Record):
    """What the cycle model was asked and says; weighing is None where its verdict may not be relied on."""

    inputs: CycleInputs | None = None
    verdict: CycleVerdict | None = None
    weighing: CycleWeighing | None = None


class Decision(Record):
    """state: sound | fault | undecided | unsafe. permission: may_run | may_run_watched | unknown | keep_off.

    off: no step and no reading may ask for power. brief: power for the seconds of a test only.
    """

    state: str = "undecided"
    permission: str = "unknown"
    off: bool = False
    brief: bool = False


class Plan(Record):
    """What to do and read next, what parts that needs, and what is taken along for a suspicion."""

    steps: tuple[Step, ...] = ()
    readings: tuple[NextReading, ...] = ()
    needed: tuple[PartNeeded, ...] = ()
    take_along: tuple[PartNeeded, ...] = ()
    questions: tuple[Question, ...] | None = None
    load_list: LoadList | None = None


class Case(Record, dict=True):
    """A visit and what is judged of it so far.

    visit: what is judged, without the readings that a repair has overtaken; posted: all of it. overtaken: findings
    of those older readings: they raise holds until the readings are taken again, and say nothing else.
    read: pointers of every member that the visit has.
    raw: findings before any was set aside. doubtful: readings (JSON Pointers) that cannot all be true. unsettled:
    those and the readings that are to be taken again for another reason.
    """

    visit: Visit
    profile: Profile
    posted: Visit = field(default_factory=Visit)
    overtaken: tuple[Finding, ...] = ()
    read: frozenset[str] = frozenset()
    asked: Asked = field(default_factory=Asked)
    flammable: bool = False
    checked: tuple[Checked, ...] = ()
    raw: tuple[Finding, ...] = ()
    holds: tuple[Hold, ...] = ()
    doubtful: frozenset[str] = frozenset()
    unsettled: frozenset[str] = frozenset()
    findings: tuple[Finding, ...] = ()
    cycle: CycleCase = field(default_factory=CycleCase)
    causes: tuple[Cause, ...] = ()
    computed: Computed | Any = None
    decision: Decision = field(default_factory=Decision)
    plan: Plan = field(default_factory=Plan)
    outcome: Outcome | None = None

    @cached_property
    def kept(self) -> dict[Any, Any]:
        """What was worked out from this very case already (`results/visit/kept.py`); a changed one begins anew."""
        return {}

    @property
    def lead(self) -> Cause:
        """The likeliest cause; the list is never empty once causes were ranked."""
        return self.causes[0]

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """What the checks took for granted."""
        taken = tuple(item for check in self.checked for item in check.assumptions)
        return (*repair_assumptions(self.posted), *taken)

    @property
    def missing(self) -> tuple[Missing, ...]:
        """Readings that the checks would have needed, of those that this kind of unit has."""
        kind = kind_row(self.posted.equipment.kind)
        return tuple(item for check in self.checked for item in check.missing if kind.has_reading(item.pointer))
