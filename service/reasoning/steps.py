"""What to do next, in a safe order.

Steps come from holds, from findings and from the leading causes. While a hold keeps the unit off no step has
power on; a step that puts a hand to conductors is preceded by proving dead; a compressor is not condemned
while a reading that could clear it is still owed.
"""

from collections.abc import Iterable, Mapping, Sequence
from functools import cache

from service.knowledge.catalogues import StepRow
from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.catalogues import steps as step_rows
from service.reasoning.cooling_only import is_cooling_only
from service.reasoning.holds import keeps_off
from service.reasoning.leak_signs import leak_signs
from service.reasoning.ratings import rated_part
from service.results.answer import Cause, Hold, Minutes, PartNeeded, Step
from service.results.finding import CONTRADICTED, Confidence, Finding, State
from service.results.visit import Visit

ESTABLISHED = 0.6  # share from which a cause's repair is named; project choice
SUSPECTED = 0.15  # share from which a cause is worth confirming; project choice
CERTAIN = 0.95  # share from which a cause that condemns no compressor needs no confirming; project choice
MOST_STEPS = 16
REPAIRING, PROVING = 5, 8  # stages: the first of a repair, and the proof that it holds
PROVE_DEAD = "step.prove-dead"
CONTRADICTION = "hold.readings-contradict"
# While one of these stands, a reading that could clear the compressor is still owed.
OWED = frozenset({"hold.isolation-not-proven", "hold.overload-may-be-open", CONTRADICTION})
# Variants of a finding that was not judged: nothing follows from it but what put the judging off.
NOT_JUDGED = frozenset({CONTRADICTED, "not-judged"})
SHORTAGE = "cause.undercharge"
# A motor whose open winding may be its hot protector is read again cold before it is replaced.
COOLING = {
    "cause.outdoor-fan-failed": "fans.outdoor-winding-open",
    "cause.indoor-blower-failed": "fans.blower-winding-open",
}
FLAMMABLE_TRAINING = "flammable-refrigerant-training"

Wanted = dict[str, list[str]]


def plan_steps(
    visit: Visit,
    findings: Sequence[Finding],
    holds: Sequence[Hold],
    causes: Sequence[Cause],
    flammable: bool,
    *,
    off: bool = False,
    brief: bool = False,
    whole: bool = False,
) -> tuple[Step, ...]:
    """The next steps in order; each names the findings, holds or causes it answers.

    off: the unit must stay off for another reason than a hold. brief: power only for the seconds of a test. whole:
    see `wanted_steps`.
    """
    wanted = wanted_steps(visit, findings, holds, causes, whole=whole)
    off = off or keeps_off(holds)
    places = _places()
    rows = [step_rows()[code] for code in sorted(places.keys() & wanted, key=places.__getitem__)]
    ordered = [row for row in rows if _allowed(row, off, holds, causes) and _has(visit, row)]
    ordered = [row for row in ordered if not brief or _is_brief(row, ordered)]
    if any(row.touches_conductors for row in ordered) and PROVE_DEAD not in wanted:
        first = next(index for index, row in enumerate(ordered) if row.touches_conductors)
        wanted[PROVE_DEAD] = [ordered[first].code]
        ordered.insert(first, step_rows()[PROVE_DEAD])
    kept = ordered[:MOST_STEPS]
    return tuple(
        _step(row, order, wanted[row.code], (visit, findings), flammable) for order, row in enumerate(kept, 1)
    )


@cache
def _places() -> dict[str, int]:
    """The place of each step in the order of the work: by stage, then as the catalogue has them."""
    ordered = sorted(step_rows().values(), key=lambda row: row.stage)
    return {row.code: place for place, row in enumerate(ordered)}


def _is_brief(row: StepRow, planned: Sequence[StepRow]) -> bool:
    """A motor that stands still gets power for a test, or once the repair of this plan is done."""
    repaired = row.stage >= PROVING and any(REPAIRING <= step.stage < PROVING for step in planned)
    return row.power != "on" or row.brief or repaired


def _has(visit: Visit, row: StepRow) -> bool:
    """Whether the unit has the part that a step is about."""
    return not (row.heat_pump_only and is_cooling_only(visit))


def wanted_steps(
    visit: Visit,
    findings: Sequence[Finding],
    holds: Sequence[Hold],
    causes: Sequence[Cause],
    *,
    whole: bool = False,
) -> Wanted:
    """Step codes with the reasons that ask for them.

    whole: all that was read has been weighed. Then a circuit is not emptied only because its charge cannot be
    judged by superheat or subcooling; it needs readings that put the charge in doubt.
    """
    wanted: Wanted = {}
    for hold in holds:
        _want(wanted, hold_rows()[hold.code].steps, hold.code)
    for finding in findings:
        if finding.variant not in NOT_JUDGED:
            _want(wanted, finding_rows()[finding.code].steps.get(finding.state, ()), finding.code)
    unread = _worthless_unread(visit, holds, causes, whole=whole)
    for cause in causes:
        if (
            cause.probability >= SUSPECTED
            and cause.code not in unread
            and not (_is_certain(cause) and is_proven(visit, cause, findings))
        ):
            _want(wanted, cause_rows()[cause.code].confirm_by, cause.code)
    if causes and _is_to_be_repaired(visit, causes[0], findings, holds):
        _want(wanted, cause_rows()[causes[0].code].repair, causes[0].code)
    suspected = {cause.code for cause in causes if cause.probability >= SUSPECTED and _is_read(cause)}
    return {code: why for code, why in wanted.items() if not whole or _is_called_for(code, suspected)}


def _worthless_unread(
    visit: Visit, holds: Sequence[Hold], causes: Sequence[Cause], *, whole: bool
) -> frozenset[str]:
    """Causes that only their prior speaks for, and that are not looked into yet.

    While readings contradict they are repeated first; and no leak is searched for where the gauges were on and
    show no shortage, and nothing else speaks of a leak.
    """
    unread = frozenset(cause.code for cause in causes if not _is_read(cause))
    if any(hold.code == CONTRADICTION for hold in holds):
        return unread
    gauged = visit.running.suction_pressure is not None
    return unread & {SHORTAGE} if whole and gauged and not leak_signs(visit) else frozenset()


def _is_called_for(code: str, suspected: set[str]) -> bool:
    row = step_rows().get(code)
    return row is None or not row.only_for or not suspected.isdisjoint(row.only_for)


def _is_to_be_repaired(visit: Visit, first: Cause, findings: Sequence[Finding], holds: Sequence[Hold]) -> bool:
    """Established by readings and its own test; a new compressor waits for what may yet clear the old one."""
    if first.probability < ESTABLISHED or not _is_read(first) or not is_proven(visit, first, findings):
        return False
    if any(item.code == COOLING.get(first.code) and item.state is State.UNDECIDED for item in findings):
        return False
    owed = {hold.code for hold in holds} & OWED
    return not (CONTRADICTION in owed or (owed and cause_rows()[first.code].condemns))


def is_proven(visit: Visit, cause: Cause, findings: Sequence[Finding]) -> bool:
    """Whether a test of its own stands behind the cause, where its repair asks for one on this unit, and none
    against it.
    """
    row = cause_rows()[cause.code]
    proof = {} if visit.equipment.metering_device in row.proof_waived_on else row.proof
    if proof and not any(item.state in proof.get(item.code, ()) for item in findings):
        return False
    return not is_refuted(cause, findings)


def is_refuted(cause: Cause, findings: Sequence[Finding]) -> bool:
    """Whether the test made for this cause came out firmly against it: the readings do not agree on it then."""
    against = cause_rows()[cause.code].refuted_by
    firm = (item for item in findings if against and item.confidence is Confidence.FIRM)
    return any(item.state in against.get(item.code, ()) for item in firm)


def _is_certain(cause: Cause) -> bool:
    """Confirmed by what was read; a compressor is confirmed once more whatever was read."""
    return cause.probability >= CERTAIN and _is_read(cause) and not cause_rows()[cause.code].condemns


def _is_read(cause: Cause) -> bool:
    """A cause that only its prior and the complaint speak for is not yet to be repaired."""
    return bool(cause.supported_by)


def _want(wanted: Wanted, codes: Iterable[str], reason: str) -> None:
    for code in codes:
        reasons = wanted.setdefault(code, [])
        if reason not in reasons:
            reasons.append(reason)


def _allowed(row: StepRow, off: bool, holds: Sequence[Hold], causes: Sequence[Cause]) -> bool:
    if off and row.power == "on":
        return False
    if "part.compressor" not in row.parts:
        return True
    owed = any(hold.code in OWED for hold in holds)
    condemned = bool(causes) and cause_rows()[causes[0].code].condemns and causes[0].probability >= ESTABLISHED
    return condemned and not owed


def _step(
    row: StepRow, order: int, reasons: list[str], read: tuple[Visit, Sequence[Finding]], flammable: bool
) -> Step:
    return Step(
        code=row.code,
        order=order,
        why=tuple(reasons),
        hazards=_hazards(row, flammable),
        power=row.power,
        certificates=step_certificates(row, flammable),
        tools=row.tools,
        parts=tuple(PartNeeded(code, rated_part(code, *read)) for code in row.parts),
        minutes=Minutes(row.low, row.high),
    )


def _hazards(row: StepRow, flammable: bool) -> tuple[str, ...]:
    extra = ("caution.flammable-refrigerant",) if flammable and row.opens_circuit else ()
    return tuple(code for code in row.hazards if flammable or code != "caution.flammable-refrigerant") + tuple(
        code for code in extra if code not in row.hazards
    )


def step_certificates(row: StepRow, flammable: bool) -> tuple[str, ...]:
    """Certificates a step asks for; training for flammable refrigerant only where there is one."""
    wanted = tuple(code for code in row.certificates if flammable or code != FLAMMABLE_TRAINING)
    if flammable and row.opens_circuit and FLAMMABLE_TRAINING not in wanted:
        return (*wanted, FLAMMABLE_TRAINING)
    return wanted


def opening_steps(wanted: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """Which wanted steps open the refrigerant circuit."""
    return tuple(code for code in wanted if code in step_rows() and step_rows()[code].opens_circuit)
