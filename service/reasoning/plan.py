"""What to do next, in a safe order.

Hazards first, then what is proven and its repair, then the proof of what is likely, then what tells the rest
apart; what proves the repair comes last. While a hold keeps the unit off no step has power on; a step that puts a
hand to conductors is preceded by the proof of dead; what was posted and stands firm is not ordered again.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from service.knowledge.catalogues import StepRow
from service.knowledge.catalogues import cautions as caution_rows
from service.knowledge.catalogues import parts as part_rows
from service.knowledge.catalogues import steps as step_rows
from service.reasoning.case import Case, Plan
from service.reasoning.cautions import of_place
from service.reasoning.certificates import certificates_of
from service.reasoning.done import is_done
from service.reasoning.flammable import with_opening_hold
from service.reasoning.holds import ends_call
from service.reasoning.next_readings import next_readings
from service.reasoning.part_state import fits, may_be_sold
from service.reasoning.parts import needed_of, taken_along
from service.reasoning.ratings import part_of
from service.reasoning.set_aside import failures
from service.reasoning.steps import Wanted, wanted_steps
from service.reasoning.unit import fits_step, tools_of
from service.results.answer import Step
from service.results.planned import Minutes
from service.results.record import replace

MOST_STEPS = 16
REPAIRING, PROVING = 5, 8  # stages: the first of a repair, and the proof that it holds


def raise_opening_hold(case: Case) -> Case:
    """The case with the hold of an opened flammable circuit, which what is wanted may raise."""
    return with_opening_hold(case, wanted_steps)


def make_plan(case: Case) -> Case:
    """The case with its plan; nothing is left to do or read where the whole visit is sound."""
    if case.profile.whole and case.decision.state == "sound":
        return case
    wanted = wanted_steps(case)
    rows = _ordered(case, wanted)
    steps = tuple(_step(case, row, order, wanted[row.code].why) for order, row in enumerate(rows, 1))
    needed = tuple({part.code: part for step in steps for part in step.parts}.values())
    asks = not (case.profile.works or ends_call(case.holds))
    along = taken_along(case, needed, rows) if asks else ()
    readings = next_readings(case) if asks else ()
    return replace(case, plan=Plan(steps, readings, needed, along))


def _ordered(case: Case, wanted: dict[str, Wanted]) -> list[StepRow]:
    """The rows of the steps to take, at most MOST_STEPS, in the order of the work."""
    rows = [step_rows()[code] for code in wanted]
    rows = [row for row in rows if fits_step(case.visit, row) and _has_its_part(case, row)]
    rows = [row for row in rows if not is_done(case, row) or _acts_on_it(case, row, wanted[row.code])]
    rows.sort(key=lambda row: (row.stage >= PROVING, wanted[row.code].rank if row.stage > 1 else 0, _place(row)))
    rows = [row for row in rows if _may_be_powered(case, row, rows)]
    proof = _proof_of_dead()
    if proof.code not in wanted:
        first = next((index for index, row in enumerate(rows) if row.touches_conductors), None)
        if first is not None:
            wanted[proof.code] = Wanted([rows[first].code])
            rows.insert(first, proof)
    return rows[:MOST_STEPS]


@cache
def _proof_of_dead() -> StepRow:
    return next(row for row in step_rows().values() if row.proves_dead)


@cache
def _places() -> dict[str, int]:
    """The place of each step in the order of the work: by stage, then as the catalogue has them."""
    ordered = sorted(step_rows().values(), key=lambda row: row.stage)
    return {row.code: place for place, row in enumerate(ordered)}


def _place(row: StepRow) -> int:
    return _places()[row.code]


def _has_its_part(case: Case, row: StepRow) -> bool:
    """A repair is taken only for a part that the unit has, that nothing clears, and that nothing yet may clear."""
    if not row.parts or row.stage < REPAIRING:
        return True
    return any(fits(case, code) for code in row.parts) and all(
        may_be_sold(case, code) for code in row.parts if part_rows()[code].compressor
    )


def _acts_on_it(case: Case, row: StepRow, want: Wanted) -> bool:
    """A reading that failed is not taken again but acted on, by the step that its own finding names."""
    yields = {pointer for group in row.yields for pointer in group}
    failed = (item for item in failures(case) if item.code in want.why)
    return any(not yields.isdisjoint(item.evidence) for item in failed)


def _may_be_powered(case: Case, row: StepRow, planned: Iterable[StepRow]) -> bool:
    """Power only where nothing keeps the unit off; while a motor stands, for a test or once the repair is done."""
    if row.power != "on":
        return True
    if case.decision.off:
        return False
    repaired = row.stage >= PROVING and any(REPAIRING <= step.stage < PROVING for step in planned)
    return not case.decision.brief or row.brief or repaired


def _step(case: Case, row: StepRow, order: int, why: list[str]) -> Step:
    return Step(
        code=row.code,
        order=order,
        why=tuple(why),
        hazards=of_place(_hazards(row, case.flammable), case.visit),
        power=row.power,
        certificates=certificates_of(row, case),
        tools=tools_of(case.visit, row),
        parts=tuple(part_of(code, case.visit, case.findings) for code in needed_of(case, row)),
        minutes=Minutes(row.low, row.high),
    )


def _hazards(row: StepRow, flammable: bool) -> tuple[str, ...]:
    rows = caution_rows()
    if not flammable:
        return tuple([code for code in row.hazards if not rows[code].flammable_only])
    burning = [code for code, caution in rows.items() if caution.flammable_only and row.opens_circuit]
    return tuple(dict.fromkeys((*row.hazards, *burning)))
