"""What to put on the truck, who to send and how long it takes, from what is likely before anybody is there."""

from collections.abc import Iterable, Sequence
from functools import cache, partial
from itertools import accumulate

from service.knowledge.catalogues import StepRow
from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import steps as step_rows
from service.knowledge.limits import limit
from service.reasoning.case import Case
from service.reasoning.certificates import certificates_of
from service.reasoning.holds import ends_call
from service.reasoning.part_state import fits
from service.reasoning.ratings import part_of
from service.reasoning.unit import fits_step, tools_of
from service.results.answer import Cause, LoadList
from service.results.planned import Minutes, PartNeeded, RefrigerantLoad
from service.results.quantity import Quantity
from service.results.record import Record


class Preparation(Record):
    """load: what to take; certificates: of whoever is sent; minutes: of the visit, without travel."""

    load: LoadList
    certificates: tuple[str, ...]
    minutes: Minutes


def load_of(case: Case) -> Preparation:
    """Prepare for every cause with a share worth preparing for; a compressor is never loaded on suspicion."""
    least = limit("intake.loaded-share").value
    likely = [cause for cause in case.causes if cause.probability >= least and not ends_call(case.holds)]
    fits_here = partial(fits_step, case.visit)
    work = {cause.code: tuple(filter(fits_here, _work(cause.code))) for cause in case.causes}
    refrigerant = refrigerant_of(case)
    planned = _unique(
        step for cause in likely for step in work[cause.code] if refrigerant.likely or not step.opens_circuit
    )
    tools = tuple(dict.fromkeys(tool for step in planned for tool in tools_of(case.visit, step)))
    return Preparation(
        LoadList(_parts(case, likely), tools, refrigerant),
        tuple(dict.fromkeys(code for step in planned for code in certificates_of(step, case))),
        _minutes(case.causes, work),
    )


@cache
def _work(code: str) -> tuple[StepRow, ...]:
    """Confirming a cause and putting it right; where it condemns the compressor, that is another visit."""
    row = cause_rows()[code]
    codes = row.confirm_by if row.condemns else (*row.confirm_by, *row.repair)
    return _unique(step_rows()[code] for code in codes)


@cache
def _opens_circuit(cause: str) -> bool:
    """Whether confirming a cause, or putting it right, opens the circuit."""
    return any(step.opens_circuit for step in _work(cause))


def _unique(steps: Iterable[StepRow]) -> tuple[StepRow, ...]:
    return tuple({step.code: step for step in steps}.values())


def _parts(case: Case, likely: Sequence[Cause]) -> tuple[PartNeeded, ...]:
    rows = [cause_rows()[cause.code] for cause in likely]
    codes = dict.fromkeys(code for row in rows if not row.condemns for code in row.parts)
    return tuple(part_of(code, case.visit, stock=True) for code in codes if fits(case, code))


def refrigerant_of(case: Case) -> RefrigerantLoad:
    """Whether refrigerant work is likely: by the causes' repairs, and where a planned step opens the circuit; not
    where everybody has to get out.
    """
    works = not ends_call(case.holds)
    share = sum(item.probability for item in case.causes if works and _opens_circuit(item.code))
    opened = any(step_rows()[step.code].opens_circuit for step in case.plan.steps)
    likely = opened or share >= limit("intake.refrigerant-share").value
    equipment = case.visit.equipment
    return RefrigerantLoad(
        probability=share,
        likely=likely,
        designation=equipment.refrigerant_named,
        factory_charge=None if equipment.factory_charge is None else Quantity(equipment.factory_charge, "mass"),
        recovery_cylinder=likely,
    )


def load_for(case: Case) -> LoadList:
    """What the plan of a judged visit needs on the truck: parts proven and suspected, tools, refrigerant."""
    parts = {part.code: part for part in (*case.plan.take_along, *case.plan.needed)}
    return LoadList(tuple(parts.values()), planned_tools(case), refrigerant_of(case))


def planned_tools(case: Case) -> tuple[str, ...]:
    """Codes of the tools of the planned steps, in their order."""
    return tuple(dict.fromkeys(tool for step in case.plan.steps for tool in step.tools))


def _minutes(causes: Sequence[Cause], work: dict[str, tuple[StepRow, ...]]) -> Minutes:
    """A range that holds the middle of what may be waiting there, weighed by probability."""
    low = [(sum(step.low for step in work[item.code]), item.probability) for item in causes]
    high = [(sum(step.high for step in work[item.code]), item.probability) for item in causes]
    bare, covered = limit("reasoning.bare-visit-minutes").value, limit("reasoning.loaded-work").value
    return Minutes(bare + weighted_quantile(low, 1.0 - covered), bare + weighted_quantile(high, covered))


def weighted_quantile(pairs: Sequence[tuple[float, float]], share: float) -> float:
    """The smallest value that at least `share` of the weight does not exceed.

    pairs: (value, weight), weights summing to about 1. share: 0 to 1.
    """
    ordered = sorted(pairs)
    totals = list(accumulate(weight for _, weight in ordered))
    wanted = share * totals[-1] - 1e-12
    return next(value for (value, _), total in zip(ordered, totals, strict=True) if total >= wanted)
