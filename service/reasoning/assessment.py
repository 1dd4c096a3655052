"""The questions that are asked of a visit, each a profile of the one pipeline."""

from __future__ import annotations

from collections.abc import Sequence

from service.checks.air.air_side import check_air
from service.checks.electrical.bench import check_electrical
from service.checks.refrigerant.charge import check_charge
from service.checks.refrigerant.compressor import check_compressor
from service.checks.refrigerant.cooling import check_cooling
from service.checks.refrigerant.running_state import running_values
from service.checks.refrigerant.start_up import check_start_up
from service.checks.seen.complaint import check_complaint
from service.reasoning.case import Case, Profile
from service.reasoning.expected import expected_computed, loss_computed
from service.reasoning.known_unit import check_known_unit
from service.reasoning.pipeline import judge
from service.results.answer import Answer
from service.results.computed import Computed
from service.results.procedures.request import ProcedureRequest
from service.results.record import replace
from service.results.visit import Visit
from service.verdicts.report import Checked


def _of_visit(case: Case) -> Computed:
    electrical, cooling = case.checked[1], case.checked[2]
    loss = case.cycle.verdict.loss if case.cycle.verdict is not None else None
    computed: Computed = replace(cooling.computed, electrical=electrical.computed, loss=loss_computed(loss))
    return computed


def _of_compressor(case: Case) -> Computed:
    pump, start = case.checked
    return Computed(running=running_values(case.visit), start_up=start.computed, compressor=pump.computed)


def _expected(case: Case) -> object:
    return expected_computed(case.visit, case.cycle.inputs, case.cycle.verdict)


EVERYTHING = (check_complaint, check_electrical, check_cooling)
WHOLE_VISIT = Profile((*EVERYTHING, check_known_unit), _of_visit, asks_cycle=True, whole=True)
INTAKE = Profile(EVERYTHING, _of_visit, whole=True, prepares=True)
ELECTRICAL = Profile((check_electrical,), lambda case: Computed(electrical=case.checked[0].computed))
CHARGE = Profile(
    (check_charge,), lambda case: Computed(running=running_values(case.visit), charge=case.checked[0].computed)
)
AIR = Profile((check_air,), lambda case: Computed(air=case.checked[0].computed))
COMPRESSOR = Profile((check_compressor, check_start_up), _of_compressor)
EXPECTED = Profile((), _expected, asks_cycle=True, explains=True)


def assess_all(visits: Sequence[Visit]) -> list[Answer]:
    """Judge visits as wholes, a lot at a time; each answer is what the visit alone would get.

    Raises: Refusal for impossible readings (the contract's closed list) of any of them.
    """
    return judge(visits, WHOLE_VISIT)


def assess(visit: Visit) -> Answer:
    """Judge a visit as a whole: the case of one."""
    return assess_all((visit,))[0]


def take_in(visit: Visit) -> Answer:
    """Prepare a visit from complaint, nameplate and history; readings of an earlier visit count too."""
    return judge((visit,), INTAKE)[0]


def judge_electrical(visit: Visit) -> Answer:
    """Electrical verdicts alone."""
    return judge((visit,), ELECTRICAL)[0]


def judge_charge(visit: Visit) -> Answer:
    """Charge status alone."""
    return judge((visit,), CHARGE)[0]


def judge_air(visit: Visit) -> Answer:
    """The air side alone."""
    return judge((visit,), AIR)[0]


def judge_compressor(visit: Visit) -> Answer:
    """The pump alone."""
    return judge((visit,), COMPRESSOR)[0]


def judge_expected(visit: Visit) -> Answer:
    """What this unit would read here and now if sound, and once its leading fault is repaired."""
    return judge((visit,), EXPECTED)[0]


def conclude_procedure(request: ProcedureRequest, checked: Checked) -> Answer:
    """The answer of a repair procedure: its own findings and steps; nothing else is asked for or restarted.

    request: a procedure's request; its equipment, site and refrigerant tell what cautions belong to the work. The
    circuit is open, under nitrogen or under vacuum meanwhile, so causes of another fault add no steps.
    """
    profile = Profile((lambda _: checked,), lambda case: case.checked[0].computed, works=True)
    return judge((_visit_of(request),), profile)[0]


def _visit_of(request: ProcedureRequest) -> Visit:
    equipment = request.equipment
    named = getattr(request, "refrigerant", None)
    return Visit(
        units=request.units,
        site_pressure=request.site_pressure,
        site=request.site,
        equipment=replace(equipment, refrigerant=named) if named is not None else equipment,
        visit_date=request.visit_date,
    )
