"""When a charge may be judged by superheat or subcooling at all.

Source of the published conditions: California Energy Commission, Reference Residential Appendix RA3.2 (2008).
"""

from collections.abc import Iterator

from service.checks.refrigerant.running_state import FIXED, RunningState
from service.knowledge.kinds import kind_row
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain
from service.results.finding import Assumption, Finding, State
from service.results.units import BTU, ZERO_CELSIUS
from service.results.visit import Visit
from service.verdicts.bounded import judged
from service.verdicts.judge import below
from service.verdicts.measured import measured, present
from service.verdicts.mode import asks_heating, direction, judges_cooling
from service.verdicts.report import report

TON = 12000.0 * BTU / 3600.0  # W a ton of refrigeration, 12,000 Btu/h


def charge_conditions(visit: Visit, state: RunningState) -> tuple[Finding, ...]:
    """Each condition that could be tried: pass, or the reason why the charge stays undecided."""
    simple = (_mode, _ports, _speed, _stage, _place, _control, _run_time, _outdoor, _airflow, _frost)
    return (*(finding for group in simple for finding in group(visit)), *_target(visit, state))


def conditions_hold(conditions: tuple[Finding, ...]) -> bool:
    """True when no condition forbids a verdict."""
    return all(finding.state is State.PASS for finding in conditions)


def taken_for_granted(visit: Visit) -> tuple[Assumption, ...]:
    """What a verdict rests on that was not read. The scope of Appendix RA3.2 (2008) is ducted split systems."""
    found = []
    if visit.running.minutes_running is None:
        found.append(Assumption("charge.run-long-enough", "/running/minutes_running"))
    if visit.air.airflow is None or visit.equipment.rated_capacity is None:
        found.append(Assumption("charge.airflow-enough", "/air/airflow"))
    if visit.air.outdoor_dry_bulb is None:
        found.append(Assumption("charge.outdoor-warm-enough", "/air/outdoor_dry_bulb"))
    if (visit.equipment.stages or 1) > 1 and visit.running.stage is None:
        found.append(Assumption("charge.highest-stage", "/running/stage"))
    if visit.equipment.refrigerant is None:
        found.append(Assumption("charge.nameplate-refrigerant", "/equipment/refrigerant"))
    if visit.equipment.kind is not None and not kind_row(visit.equipment.kind).ducted_split:
        found.append(Assumption("charge.tolerance-of-ducted-splits", "/equipment/kind"))
    return tuple(found)


def _mode(visit: Visit) -> Iterator[Finding]:
    if asks_heating(visit):
        yield report("charge.cooling-mode", State.NOT_APPLICABLE, ("/equipment/mode",))
    elif not judges_cooling(visit):
        shown = direction(visit)
        yield report("charge.cooling-mode", State.NOT_APPLICABLE, shown.evidence, variant="reversed")


def _ports(visit: Visit) -> Iterator[Finding]:
    """A circuit that was charged and closed in the factory is charged by its nameplate's weight alone."""
    if kind_row(visit.equipment.kind).sealed:
        yield report("charge.service-ports", State.NOT_APPLICABLE, ("/equipment/kind",))


def _speed(visit: Visit) -> Iterator[Finding]:
    """Variable-speed and unloading compressors: the fixed-speed rules do not hold."""
    found = part_load(visit)
    unknown_drive = visit.equipment.compressor.drive is None
    if not found and kind_row(visit.equipment.kind).variable_speed and unknown_drive:
        found = ("/equipment/kind",)
    if found:
        yield report("charge.fixed-speed", State.NOT_APPLICABLE, found)


def part_load(visit: Visit) -> tuple[str, ...]:
    """Pointers that say the compressor may not run at full, fixed speed; empty when none does."""
    speed = visit.running.speed_percent
    said = {
        "/equipment/compressor/drive": visit.equipment.compressor.drive == "inverter",
        "/running/unloaded": bool(visit.running.unloaded),
        "/running/speed_percent": speed is not None and below(speed, 100.0),
    }
    return tuple(pointer for pointer, holds in said.items() if holds)


def _stage(visit: Visit) -> Iterator[Finding]:
    if visit.running.stage == 1 and visit.equipment.stages != 1:
        pointers = present(visit, "/running/stage", "/equipment/stages")
        yield report("charge.full-stage", State.UNDECIDED, pointers)


def _place(visit: Visit) -> Iterator[Finding]:
    if visit.equipment.metering_location == "outdoor":
        pointer = "/equipment/metering_location"
        yield report("charge.metering-indoors", State.NOT_APPLICABLE, (pointer,))


def _control(visit: Visit) -> Iterator[Finding]:
    if visit.equipment.head_pressure_control == "flooding_valve":
        pointer = "/equipment/head_pressure_control"
        yield report("charge.condenser-not-flooded", State.NOT_APPLICABLE, (pointer,))


def _run_time(visit: Visit) -> Iterator[Finding]:
    minutes = visit.running.minutes_running
    if minutes is not None:
        value = Uncertain(minutes, {"/running/minutes_running": 0.0})
        yield judged("charge.run-time", value, limit("charge.least-run-time").as_low(), worst=State.UNDECIDED)


def _outdoor(visit: Visit) -> Iterator[Finding]:
    """The head pressure follows the outdoor air in cooling only."""
    outdoor = measured(visit, "/air/outdoor_dry_bulb")
    if outdoor is not None and judges_cooling(visit):
        bounds = limit("charge.least-outdoor-temperature").as_low()
        yield judged("charge.outdoor-temperature", outdoor, bounds, worst=State.UNDECIDED)


def _airflow(visit: Visit) -> Iterator[Finding]:
    per_ton = airflow_per_ton(visit)
    if per_ton is not None:
        bounds = limit("charge.least-airflow-per-ton").as_low()
        also = ("/equipment/rated_capacity",)
        yield judged("charge.airflow", per_ton, bounds, worst=State.UNDECIDED, also=also)


def airflow_per_ton(visit: Visit) -> Uncertain | None:
    """Measured airflow per 12,000 Btu/h of rated capacity.

    Returns
    -------
    [m3/s]; None where either is not given

    References
    ----------
    Definition of the ton of refrigeration.
    """
    airflow, capacity = measured(visit, "/air/airflow"), visit.equipment.rated_capacity
    return airflow * (TON / capacity) if airflow is not None and capacity is not None else None


def _frost(visit: Visit) -> Iterator[Finding]:
    """An iced coil is short of air, whatever the charge. A suction line below freezing at the service valve
    shows that the whole coil is. In heating the line belongs to the outdoor coil and is cold in any winter."""
    line = visit.running.suction_line_temperature
    cooling = judges_cooling(visit)
    frozen = cooling and line is not None and line < ZERO_CELSIUS
    ice_on_line = cooling and visit.inspection.ice_on_suction_line and (line is None or frozen)
    ice_on_coil = cooling and visit.inspection.ice_on_coil
    if ice_on_coil or ice_on_line or frozen:
        pointers = (
            *(("/inspection/ice_on_coil",) if ice_on_coil else ()),
            *(("/inspection/ice_on_suction_line",) if ice_on_line else ()),
            *(("/running/suction_line_temperature",) if frozen else ()),
        )
        yield report("charge.coil-free-of-ice", State.UNDECIDED, pointers)


def _target(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """A fixed orifice needs a target superheat of 5 F or more."""
    if visit.equipment.metering_device not in FIXED:
        return
    target = state.target_superheat
    least = limit("charge.least-target-superheat")
    if state.no_target:
        pointers = present(visit, "/air/outdoor_dry_bulb", "/air/return_wet_bulb", "/air/return_relative_humidity")
        yield report(
            "charge.target-superheat", State.UNDECIDED, pointers, limit=least.as_low(), variant=state.no_target
        )
    elif target is not None and below(target.value, least.value):
        also = present(visit, "/equipment/target_superheat")
        yield judged(
            "charge.target-superheat", target, least.as_low(), worst=State.UNDECIDED, also=also, variant="low"
        )
