"""The air side: states, split, airflow, capacity, static pressure, filter and coil."""

from collections.abc import Iterator

from service.checks.air.air_values import AirValues, air_values, computed_of
from service.checks.plausible.refusals import refuse_impossible
from service.checks.refrigerant.charge_conditions import part_load
from service.checks.refrigerant.running_state import RunningState, running_state
from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.knowledge.target_tables import target_table
from service.physics.uncertainty import Uncertain
from service.results.finding import Assumption, Finding, Missing, State
from service.results.visit import Visit
from service.verdicts.bounded import fixed_bounds, judged, settling
from service.verdicts.judge import below
from service.verdicts.measured import measured, present
from service.verdicts.mode import judges_cooling
from service.verdicts.report import Checked

Judged = tuple[tuple[str, str, LimitCode], ...]
"""Code of the finding, reading (JSON Pointer), and the most that is usual."""
DUCTS: Judged = (
    ("air.return-restricted", "/air/static_return", "air.return-share"),
    ("air.supply-restricted", "/air/static_supply", "air.supply-share"),
)
DROPS: Judged = (
    ("air.filter-loaded", "/air/filter_drop", "air.filter-drop"),
    ("air.indoor-coil-loaded", "/air/coil_drop", "air.coil-drop"),
)


def check_air(visit: Visit) -> Checked:
    """Judge the air side; computed is an AirComputed. Raises: Refusal for a reading of the closed list."""
    refuse_impossible(visit)
    return air_of(visit, running_state(visit))


def air_of(visit: Visit, state: RunningState) -> Checked:
    """Judge the air side with the refrigerant side's values at hand (for a heat balance)."""
    values = air_values(visit, state)
    cooling = judges_cooling(visit)
    findings = (
        *(_split(visit, values) if cooling else ()),
        *_airflow(visit, values),
        *_static(visit, values),
        *_ducts(visit),
        *_drops(visit),
        *_capacity(visit, values),
    )
    return Checked(
        findings,
        (*_missing(visit, values), *settling(findings)),
        tuple(_assumptions(values)),
        computed_of(values),
    )


def _steady(visit: Visit) -> bool:
    """Run long enough (taken so where not said) and at full, fixed speed."""
    minutes = visit.running.minutes_running
    settled = minutes is None or not below(minutes, limit("charge.least-run-time").value)
    return settled and not part_load(visit)


def _split(visit: Visit, values: AirValues) -> Iterator[Finding]:
    """Return less supply dry bulb against the published target (RA3.2), else against what is usual."""
    split, target = values.temperature_split, values.target_temperature_split
    if split is None:
        return
    decided = _steady(visit)
    if target is None:
        yield from _usual_split(split, decided)
        return
    allowed = limit("air.split-tolerance").value
    table = target_table("target-temperature-split")
    high, low = table.bounds(None, target.value + allowed), table.bounds(target.value - allowed, None)
    too_high = judged("air.split-high", split, high, target=target, decided=decided)
    too_low = judged("air.split-low", split, low, target=target, worst=State.REVIEW, decided=decided)
    yield from (too_high, too_low)
    if too_high.state is State.PASS and too_low.state is State.PASS:
        both = table.bounds(target.value - allowed, target.value + allowed)
        yield judged("air.split-normal", split, both, target=target)


def _usual_split(split: Uncertain, decided: bool) -> Iterator[Finding]:
    low, high = limit("air.split-usual-lowest"), limit("air.split-usual-highest")
    yield judged("air.split-high", split, high.as_high(), worst=State.REVIEW, decided=decided, variant="usual")
    yield judged("air.split-low", split, low.as_low(), worst=State.REVIEW, decided=decided, variant="usual")


def _airflow(visit: Visit, values: AirValues) -> Iterator[Finding]:
    """Airflow a ton: short of the design range is worth a look, short of a charge test's least a fault."""
    per_ton = values.airflow_per_ton
    if per_ton is None:
        return
    also = present(visit, "/equipment/rated_capacity")
    short = values.airflow_read and below(per_ton.value, limit("charge.least-airflow-per-ton").value)
    low, high = limit("air.least-airflow-per-ton").as_low(), limit("air.most-airflow-per-ton").as_high()
    worst = State.FAIL if short else State.REVIEW
    yield judged("air.airflow-sufficient", per_ton, low, worst=worst, also=also)
    yield judged("air.airflow-high", per_ton, high, worst=State.REVIEW, also=also)


def _static(visit: Visit, values: AirValues) -> Iterator[Finding]:
    """External static pressure against the blower's rating; without one against what nameplates commonly say."""
    static = values.total_static
    if static is None:
        return
    rated = visit.air.static_rated
    if rated is not None:
        bounds = fixed_bounds("static_pressure", high=rated)
        yield judged("air.static-high", static, bounds, also=("/air/static_rated",))
        return
    usual = limit("air.static-usual").as_high()
    yield judged("air.static-high", static, usual, worst=State.REVIEW)


def _ducts(visit: Visit) -> Iterator[Finding]:
    """Which side of the blower is tight: high return static is a duct or its filter, not the coil."""
    for code, pointer, most in DUCTS:
        static = measured(visit, pointer)
        if static is not None:
            size = Uncertain(abs(static.value), static.shares)
            yield judged(code, size, limit(most).as_high(), worst=State.REVIEW)


def _drops(visit: Visit) -> Iterator[Finding]:
    """Filter and coil by their pressure drop; what was seen of them is judged with the inspection."""
    for code, pointer, most in DROPS:
        drop = measured(visit, pointer)
        if drop is not None:
            yield judged(code, drop, limit(most).as_high(), worst=State.REVIEW)


def _capacity(visit: Visit, values: AirValues) -> Iterator[Finding]:
    """Cooling delivered against the rating; only far below it tells, as the rating holds at one condition."""
    rated, total = visit.equipment.rated_capacity, values.total_capacity
    if rated is None or total is None or not judges_cooling(visit) or not values.airflow_read:
        return
    share = total / Uncertain(rated)
    least = limit("air.capacity-share").as_low()
    yield judged(
        "air.capacity-low",
        share,
        least,
        worst=State.REVIEW,
        decided=_steady(visit),
        also=("/equipment/rated_capacity",),
        values={"delivered": total.quantity("capacity")},
    )


def _assumptions(values: AirValues) -> Iterator[Assumption]:
    if values.total_capacity is not None and values.airflow_read:
        yield Assumption("air.standard-air", "/air/airflow")
    if values.airflow is not None and not values.airflow_read:
        yield Assumption("air.heat-balance", "/air/airflow")


def _missing(visit: Visit, values: AirValues) -> Iterator[Missing]:
    air = visit.air
    if (air.return_dry_bulb is None) != (air.supply_dry_bulb is None):
        name = "return_dry_bulb" if air.return_dry_bulb is None else "supply_dry_bulb"
        yield Missing(f"/air/{name}", "air.split")
    if (
        values.temperature_split is not None
        and air.return_wet_bulb is None
        and air.return_relative_humidity is None
    ):
        yield Missing("/air/return_wet_bulb", "air.target-split")
    if values.return_enthalpy is not None and values.supply_enthalpy is None:
        yield Missing("/air/supply_wet_bulb", "air.capacity")
    if values.supply_enthalpy is not None and air.airflow is None:
        yield Missing("/air/airflow", "air.capacity")
    if (air.static_return is None) != (air.static_supply is None):
        name = "static_return" if air.static_return is None else "static_supply"
        yield Missing(f"/air/{name}", "air.static")
