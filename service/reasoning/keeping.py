"""The baseline of a unit: when a visit is one, when it is to be kept, and what it lacks to be one."""

from __future__ import annotations

from functools import cache
from typing import Any

from service.knowledge.kinds import kind_row
from service.knowledge.limits import limit
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.reasoning.case import Case
from service.reasoning.cycle import judge_cycle
from service.reasoning.cycle_pointers import CONTEXT, pointers_of
from service.reasoning.cycle_read import runs_at_full_speed
from service.reasoning.decision import model_finds_sound
from service.reasoning.known_unit import owed_of_conditions
from service.reasoning.resting import RUNNING_VOLTS
from service.results.cycle import CycleHistory
from service.results.declare import declared_members
from service.results.finding import Missing
from service.results.kept_baseline import KeptBaseline
from service.results.pointers import present_pointers
from service.results.record import replace
from service.results.visit import Baseline, Visit
from service.results.visit.electrical import Electrical
from service.results.visit.site import Site
from service.verdicts.report import Checked

CORE = (
    "/running/minutes_running",
    "/running/suction_pressure",
    "/running/liquid_pressure",
    "/running/suction_line_temperature",
    "/running/liquid_line_temperature",
)
"""Without these and the air entering both coils a visit tells too little of its unit; project choice."""
ALLOWS = "missing.baseline-to-keep"
COME_FOR_IT = ("commissioning", "maintenance")


def could_keep(case: Case) -> Baseline | None:
    """The readings as a baseline: complete, agreeing with one another, and with no fault in them by the model.

    None where they are not, and where the unit is complained of; whether there is a reason to keep them is another
    question.
    """
    verdict = case.cycle.verdict
    visit = case.visit
    if not case.profile.whole or case.profile.prepares or case.decision.state not in ("sound", "undecided"):
        return None
    if visit.complaint.symptoms and visit.repaired_at is None:
        return None
    if verdict is None or verdict.left_out or case.unsettled & READ_BACK or owed_to_keep(visit):
        return None
    return baseline_of(visit) if _model_finds_sound(case) else None


def _model_finds_sound(case: Case) -> bool:
    """As it always is; after a repair without the complaint, which was about the unit before it."""
    inputs = case.cycle.inputs
    if case.visit.repaired_at is None or inputs is None or case.decision.state != "sound":
        return model_finds_sound(case)
    since = replace(inputs, history=CycleHistory(observations=inputs.history.observations))
    return judge_cycle(since).sound >= limit("reasoning.sound-share").value


def to_keep(case: Case, baseline: Baseline | None) -> KeptBaseline | None:
    """The baseline to hand out: of a visit that was made for it, or after a repair, and that came out sound."""
    if baseline is None or case.decision.state != "sound" or not is_for_keeping(case.visit):
        return None
    return KeptBaseline(baseline)


def is_for_keeping(visit: Visit) -> bool:
    """Whether the visit is about a sound unit: repaired, or commissioned or maintained without complaint."""
    planned = visit.visit_kind in COME_FOR_IT and not visit.complaint.symptoms
    return planned or visit.repaired_at is not None


def ask_for_baseline(case: Case) -> Case:
    """The case with what it lacks to leave a baseline behind: at commissioning, and after a proven repair."""
    visit = case.visit
    repaired = visit.repaired_at is not None and case.decision.state == "sound"
    asked = visit.visit_kind == "commissioning" or repaired
    if not (asked and case.profile.whole and runs_at_full_speed(visit)) or case.profile.prepares:
        return case
    owed = owed_to_keep(visit)
    return replace(case, checked=(*case.checked, Checked(missing=owed))) if owed else case


def owed_to_keep(visit: Visit, prefix: str = "") -> tuple[Missing, ...]:
    """Readings without which the visit can be no baseline, of those that this kind of unit has."""
    read, kind = present_pointers(visit), kind_row(visit.equipment.kind)
    wanted = (pointer for pointer in CORE if pointer not in read and kind.has_reading(pointer))
    core = (Missing(f"{prefix}{pointer}", ALLOWS) for pointer in wanted)
    return (*core, *owed_of_conditions(visit, prefix, ALLOWS))


def baseline_of(visit: Visit) -> Baseline:
    """What the service reads back of a visit, as the baseline of later ones; the site as its air pressure."""
    running, air = (_narrowed(visit, part) for part in ("running", "air"))
    amps, volts = visit.electrical.currents.compressor_amps, visit.electrical.supply.running_volts
    empty = Electrical()
    return Baseline(
        units=visit.units,
        site_pressure=visit.site_pressure,
        visit_date=visit.visit_date,
        site=Site(barometric_pressure=visit.site_pressure),
        running=running,
        air=air,
        electrical=replace(
            empty,
            currents=replace(empty.currents, compressor_amps=amps),
            supply=replace(empty.supply, running_volts=volts),
        ),
        instruments=visit.instruments,
    )


def _narrowed(visit: Visit, part: str) -> Any:
    """A part of the visit with those of its readings alone that a baseline is used by."""
    return replace(getattr(visit, part), **dict.fromkeys(_not_read_back(part)))


@cache
def _not_read_back(part: str) -> tuple[str, ...]:
    """Members of a part that no baseline is used by; each is None where it was not read."""
    names = (name for name, _ in declared_members(type(getattr(Visit(), part))))
    return tuple(name for name in names if f"/{part}/{name}" not in READ_BACK)


def _read_back() -> frozenset[str]:
    named = (name for name in READINGS[:BASELINE_COUNT])
    return frozenset((*CORE, *CONTEXT, RUNNING_VOLTS, *(item for name in named for item in pointers_of(name))))


READ_BACK = _read_back()
"""Pointers of what a baseline is used by, under the names of the visit document."""
