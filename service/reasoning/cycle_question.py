"""From a visit to the question that the cycle model is asked, and which of the visit's readings it weighs."""

from service.checks.refrigerant.before_port import is_throttled
from service.checks.refrigerant.patterns import is_equalised
from service.checks.refrigerant.refrigerant_doubts import is_doubted
from service.checks.refrigerant.running_state import running_state
from service.knowledge.kinds import kind_row
from service.knowledge.limits import limit
from service.reasoning.cycle_read import accuracies_of, conditions_of, readings_of, runs_at_full_speed
from service.reasoning.known_unit import known_unit
from service.results.cycle import CycleHistory, CycleInputs
from service.results.visit import Visit
from service.verdicts.judge import above, below
from service.verdicts.refrigerant_held import refrigerant_held

OBSERVATIONS = (
    "oil_stains",
    "filter_dirty",
    "indoor_coil_dirty",
    "outdoor_coil_dirty",
    "ice_on_suction_line",
    "ice_on_coil",
)


def cycle_inputs(visit: Visit) -> CycleInputs | None:
    """The question, or None where the visit cannot ask it.

    Asked of a fixed-speed unit in cooling, whose refrigerant and both entering air temperatures are known. No
    simulated unit is throttled ahead of its liquid gauge port, holds another refrigerant than it is said to, runs
    with a coil that ice has closed, or makes no pressure difference.
    """
    refrigerant = refrigerant_held(visit)
    conditions = conditions_of(visit.air, visit.site_pressure)
    if (
        refrigerant is None
        or conditions is None
        or not runs_at_full_speed(visit)
        or _is_none_of_the_simulated(visit)
    ):
        return None
    return CycleInputs(
        refrigerant=refrigerant.designation,
        metering=visit.equipment.metering_device,
        readings=readings_of(visit, refrigerant),
        conditions=conditions,
        efficiency_class=_efficiency_class(visit),
        target_subcooling=visit.equipment.target_subcooling,
        target_superheat=visit.equipment.target_superheat,
        accuracies=accuracies_of(visit, refrigerant),
        baseline=known_unit(visit, refrigerant, conditions),
        history=_history(visit),
        minutes_running=visit.running.minutes_running,
        kind=kind_row(visit.equipment.kind).stands_as or None,
    )


def _is_none_of_the_simulated(visit: Visit) -> bool:
    iced, state = visit.inspection.ice_on_coil is True, running_state(visit)
    return iced or is_throttled(visit) or is_doubted(visit, state) or is_equalised(state)


def _efficiency_class(visit: Visit) -> str | None:
    """As stated, else by the nameplate's SEER; None between the simulated classes, which are then both weighed."""
    seer = visit.equipment.seer
    if visit.equipment.efficiency_class is not None or seer is None:
        return visit.equipment.efficiency_class
    if not below(seer, limit("cycle.lowest-seer-high").value):
        return "high"
    return None if above(seer, limit("cycle.highest-seer-standard").value) else "standard"


def _history(visit: Visit) -> CycleHistory:
    complaint = visit.complaint
    return CycleHistory(
        symptoms=complaint.symptoms,
        observations=tuple(name for name in OBSERVATIONS if getattr(visit.inspection, name)),
        recent_work=bool(complaint.recent_work),
        charge_added_recently=bool(complaint.charge_added_recently),
        days_since_ok=complaint.days_since_ok,
    )
