"""The code lists: findings, holds, causes, steps, parts, symptoms, motors, hazards (cautions)."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from service.knowledge.row_types import ByFinding, Groups, Numbers, PerState, States, Words, catalogue, of_state
from service.knowledge.rows import DECIDING, KnowledgeError
from service.results.finding import Finding, Severity, State
from service.results.record import Record, field, replace


class FindingRow(Record):
    """What a finding means: its severity, what it rests on, and what follows from each state.

    raises, steps, cautions: codes of holds, steps, cautions. speaks: natural-log likelihood ratio by cause.
    run: `no`, `test` (off but for a test) or `watch`, where running on does harm. motors: `turns`, `stands` or
    `may_stand` (until it was read turning), by motor. contradicts: states in which its readings cannot all be
    true. doubts: readings of its evidence that cannot be judged while it stands. unsettles: beginnings of
    pointers whose readings are to be taken again. voids: those of them that tell nothing of the unit until
    then. stands: stays as it is though its readings are contradicted, because it explains the contradiction or
    protects the unit meanwhile. disagreement: it is about readings, not the unit. unsafe: states that make the
    outcome unsafe. leak_sign: states that speak of a leak. cleared_by: of each group one must have passed to
    clear what was reported; with some of the groups it is `partly-cleared`. stands_for: the cause it is a
    verdict of, withdrawn where all readings together speak for another; withdrawn_as: the finding that then
    stands in its place. together: it is the verdict of all running readings. forbids_charge: verdicts on
    charge that it forbids: `any`, or those that `move` it, `add` or `remove` alone. instead: steps that give
    way to another one while it stands.
    safety: its pass is a permission where work can hurt, so it rests on a basis that may decide alone.
    """

    code: str
    severity: Severity
    basis: str
    since: str
    source: str = ""
    pattern: str = ""
    raises: PerState[tuple[str, ...]] = field(default_factory=dict)
    speaks: PerState[Numbers] = field(default_factory=dict)
    steps: PerState[tuple[str, ...]] = field(default_factory=dict)
    cautions: PerState[tuple[str, ...]] = field(default_factory=dict)
    run: PerState[str] = field(default_factory=dict)
    motors: PerState[Words] = field(default_factory=dict)
    contradicts: States = ()
    doubts: PerState[tuple[str, ...]] = field(default_factory=dict)
    unsettles: PerState[tuple[str, ...]] = field(default_factory=dict)
    voids: PerState[tuple[str, ...]] = field(default_factory=dict)
    stands: bool = False
    disagreement: bool = False
    unsafe: States = ()
    leak_sign: States = ()
    cleared_by: Groups = ()
    stands_for: str = ""
    withdrawn_as: str = ""
    together: bool = False
    forbids_charge: PerState[str] = field(default_factory=dict)
    instead: PerState[Words] = field(default_factory=dict)
    safety: bool = False

    def running_on(self, finding: Finding) -> str:
        """`no` or `watch` where a finding of this row speaks against running on; a critical failure does."""
        critical = self.severity is Severity.CRITICAL and finding.state is State.FAIL
        return of_state(self.run, finding, "no" if critical else "")


class HoldRow(Record):
    """A hazard that stops the work.

    unsafe: outcome state becomes unsafe; allows_watched: may_run_watched is possible while it stands. owes: a
    reading that could clear the compressor is still owed. proof_of_dead: it is the missing proof of dead itself.
    contradiction: it is readings that contradict. endangers_occupants: the customer is told so. reads_again:
    readings to take again once it was dealt with. opening: it is raised by opening the circuit of a flammable
    refrigerant. forbids_sparks: no meter goes to a live part meanwhile. ends_call: whoever calls has to get out,
    so nothing more is asked.
    """

    code: str
    unsafe: bool
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    since: str
    allows_watched: bool = False
    owes: bool = False
    proof_of_dead: bool = False
    contradiction: bool = False
    endangers_occupants: bool = False
    reads_again: tuple[str, ...] = ()
    opening: bool = False
    forbids_sparks: bool = False
    ends_call: bool = False
    says: tuple[str, ...] = ()


class CauseRow(Record):
    """A cause: its share of calls before anything is read, and how it is confirmed and put right.

    cycle_class: which class of the refrigerant-cycle model it looks like (healthy for most electrical ones).
    proof: findings, by code, of which one must come out in one of these states before the repair is planned.
    refuted_by: findings whose firm result in one of these states leaves the cause undecided, however likely
    everything else makes it. waits_for: findings that put its repair off. proof_waived_on: metering devices on
    which the proof cannot be made. condemns: the repair replaces the compressor. watch: what the customer would
    notice. cannot_explain: firm findings of the wrong sign for it: what was seen of it then stands beside the
    cause looked for, and adds nothing to it. charge: what it asks to do with the charge (add, remove).
    needs_a_sign: with the gauges on, it is looked into only where a reading speaks for it. sound: it is no fault.
    """

    code: str
    prior: float
    cycle_class: str
    confirm_by: tuple[str, ...]
    basis: str
    since: str
    repair: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    symptoms: Numbers = field(default_factory=dict)
    condemns: bool = False
    proof: ByFinding = field(default_factory=dict)
    refuted_by: ByFinding = field(default_factory=dict)
    waits_for: ByFinding = field(default_factory=dict)
    proof_waived_on: tuple[str, ...] = ()
    cannot_explain: ByFinding = field(default_factory=dict)
    watch: str = ""
    charge: str = ""
    needs_a_sign: bool = False
    sound: bool = False


class StepRow(Record):
    """A step of the work: stage orders steps (1 make safe .. 9 close out).

    yields: groups of readings; once all of one group were posted and stand firm, the step is done. only_for: in a
    whole visit it is taken only while the readings put one of these causes in suspicion. unit: `heat_pump`, on a
    part that a unit which only cools does not have; `sealed`, of one without service ports alone. brief: power is
    on for the seconds of a test, so a motor that stands still may have it. proves_dead: it is the proof that goes
    before every hand in the unit. adjusts: it corrects what it is taken for by itself, without a part.
    waits_while: findings whose own repair comes first. says: cautions that its own text says already. minutes:
    [low, high].
    """

    code: str
    stage: int
    power: str
    hazards: tuple[str, ...]
    minutes: tuple[float, float]
    since: str
    touches_conductors: bool = False
    opens_circuit: bool = False
    unit: str = ""
    only_for: tuple[str, ...] = ()
    brief: bool = False
    proves_dead: bool = False
    adjusts: bool = False
    waits_while: ByFinding = field(default_factory=dict)
    yields: Groups = ()
    certificates: tuple[str, ...] = ()
    tools: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    says: tuple[str, ...] = ()

    @property
    def low(self) -> float:
        """The least minutes."""
        return self.minutes[0]

    @property
    def high(self) -> float:
        """The most minutes."""
        return self.minutes[1]


class PartRow(Record):
    """A part: which units have it, what condemns and what clears it.

    unit: `heat_pump`, of a part that a unit which only cools does not have. drives: kinds of motor feed that have
    it; empty for all. condemned_by, cleared_by:
    findings. waits_for: parts that must be cleared first where the unit has them. companion: it goes with another
    part's repair without a proof of its own. rated_by: which nameplate readings give its rating. stocked: a truck
    carries it in few sizes. compressor: it is the compressor.
    """

    code: str
    since: str
    unit: str = ""
    drives: tuple[str, ...] = ()
    condemned_by: ByFinding = field(default_factory=dict)
    cleared_by: ByFinding = field(default_factory=dict)
    waits_for: tuple[str, ...] = ()
    companion: bool = False
    rated_by: str = ""
    stocked: bool = False
    compressor: bool = False


class SymptomRow(Record):
    """What a customer reports: how pressing it is, what it says of the motors, and what to advise meanwhile.

    presses: no_cooling, danger, damage or fading. says: the compressor `stands` or `runs`. motors: as of a
    finding. advice: text that begins with leaving the unit off. finding: what is reported of it. cautions: for
    the technician.
    """

    code: str
    since: str
    presses: tuple[str, ...] = ()
    says: str = ""
    motors: Words = field(default_factory=dict)
    advice: str = ""
    finding: str = ""
    cautions: tuple[str, ...] = ()


class MotorRow(Record):
    """A motor, and groups of running readings that are only there while it turns.

    called_as: which call runs it: outdoor (compressor and outdoor fan) or blower.
    """

    code: str
    called_as: str
    since: str
    shown_turning_by: Groups = ()


class CautionRow(Record):
    """A caution; severity critical (can kill), warning or info.

    always: said in every answer. locations: said where the equipment stands there. flammable_only: said of a
    refrigerant that burns alone. rule: it tells this rule, so it is said where that is held; elsewhere: the
    caution that is said in other places.
    """

    code: str
    severity: Severity
    basis: str
    since: str
    source: str = ""
    mark: str = ""
    always: bool = False
    locations: tuple[str, ...] = ()
    flammable_only: bool = False
    rule: str = ""
    elsewhere: str = ""


class RepairRow(Record):
    """A list of steps that the repairs of several causes share."""

    code: str
    steps: tuple[str, ...]
    since: str


@cache
def findings() -> dict[str, FindingRow]:
    """Every finding code."""
    found = catalogue("findings", FindingRow)
    weak = [row.code for row in found.values() if row.safety and row.basis not in DECIDING]
    if weak:
        raise KnowledgeError(f"findings: {weak}: a pass in a matter of safety rests on one of {sorted(DECIDING)}")
    return found


@cache
def holds() -> dict[str, HoldRow]:
    """Every hold, in order of gravity."""
    return catalogue("holds", HoldRow)


@cache
def causes() -> dict[str, CauseRow]:
    """Every cause with its prior; a repair that causes share is written out in its steps."""
    shared = catalogue("repairs", RepairRow)

    def steps_of(repair: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(step for code in repair for step in (shared[code].steps if code in shared else (code,)))

    return {code: replace(row, repair=steps_of(row.repair)) for code, row in catalogue("causes", CauseRow).items()}


@cache
def sound() -> CauseRow:
    """The cause that says that nothing is wrong."""
    return next(row for row in causes().values() if row.sound)


@cache
def steps() -> dict[str, StepRow]:
    """Every step."""
    return catalogue("steps", StepRow)


@cache
def parts() -> dict[str, PartRow]:
    """Every part."""
    return catalogue("parts", PartRow)


@cache
def symptoms() -> dict[str, SymptomRow]:
    """Every symptom, gravest advice first."""
    return catalogue("symptoms", SymptomRow)


@cache
def motors() -> dict[str, MotorRow]:
    """Every motor that a visit tells of."""
    return catalogue("motors", MotorRow)


@cache
def cautions() -> dict[str, CautionRow]:
    """Every caution (hazard), gravest first."""
    found: Mapping[str, CautionRow] = catalogue("cautions", CautionRow)
    order = list(Severity)
    return dict(sorted(found.items(), key=lambda item: order.index(item[1].severity), reverse=True))
