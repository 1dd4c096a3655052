"""The one pipeline: every question is a case with a profile that goes through the same stages in one order."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import symptoms as symptom_rows
from service.reasoning.case import Case, Profile
from service.reasoning.causes import rank_causes
from service.reasoning.cautions import gather_cautions
from service.reasoning.charge_withdrawn import withdraw_charge
from service.reasoning.decision import decide
from service.reasoning.findings import ask_cycle_model, find
from service.reasoning.holds import raise_holds
from service.reasoning.keeping import ask_for_baseline, could_keep, to_keep
from service.reasoning.outcome import conclude
from service.reasoning.outvoted import tell_outvoted
from service.reasoning.passed import believe_what_passed
from service.reasoning.plan import make_plan, raise_opening_hold
from service.reasoning.preparing import prepare
from service.reasoning.resting import relied_on, simulated_of
from service.reasoning.set_aside import set_aside
from service.results.answer import Answer
from service.results.pointers import present_pointers
from service.results.record import replace
from service.results.stale import fresh
from service.results.visit import Visit
from service.verdicts.asked import asked_of
from service.verdicts.refrigerant_held import is_flammable, may_be_flammable

Stage = Callable[[Case], Case]
BEFORE_THE_MODEL: tuple[Stage, ...] = (find, raise_holds, set_aside)
AFTER_THE_MODEL: tuple[Stage, ...] = (
    rank_causes,
    tell_outvoted,
    lambda case: replace(case, computed=case.profile.computed(case)),
    withdraw_charge,
    raise_opening_hold,
    decide,
    believe_what_passed,
    ask_for_baseline,
    make_plan,
    conclude,
    prepare,
)


def judge(visits: Sequence[Visit], profile: Profile) -> list[Answer]:
    """The answers to a lot of visits, stage by stage; each is what it would be alone.

    Raises: Refusal for impossible readings (the contract's closed list).
    """
    cases = [open_case(visit, profile) for visit in visits]
    for stage in BEFORE_THE_MODEL:
        cases = [stage(case) for case in cases]
    cases = ask_cycle_model(cases)
    for stage in AFTER_THE_MODEL:
        cases = [stage(case) for case in cases]
    return [answer_of(case) for case in cases]


def open_case(visit: Visit, profile: Profile) -> Case:
    """A case of which nothing is judged yet."""
    told = fresh(visit)
    asked, flammable = asked_of(told), is_flammable(visit) or _may_be_escaping(visit)
    opened = Case(told, profile, visit, read=present_pointers(told), asked=asked, flammable=flammable)
    return opened if told is visit else replace(opened, overtaken=find(replace(opened, visit=visit)).raw)


def _may_be_escaping(visit: Visit) -> bool:
    """Where a leak is reported and nobody knows the refrigerant, it is taken for one that burns."""
    leaks = {row.code for row in symptom_rows().values() if row.finding and finding_rows()[row.finding].leak_sign}
    return not leaks.isdisjoint(visit.complaint.symptoms) and may_be_flammable(visit)


def answer_of(case: Case) -> Answer:
    """What of a case is handed out."""
    baseline = could_keep(case)
    return Answer(
        computed=case.computed,
        findings=case.findings,
        holds=case.holds,
        causes=case.causes,
        next_readings=case.plan.readings,
        next_steps=case.plan.steps,
        cautions=gather_cautions(case),
        assumptions=case.assumptions,
        missing=case.missing,
        outcome=case.outcome,
        questions=case.plan.questions,
        load_list=case.plan.load_list,
        baseline_to_keep=to_keep(case, baseline),
        relied_on=relied_on(case),
        simulated=simulated_of(case),
        could_keep=baseline,
    )
