"""What follows from the air readings: states, split, airflow, capacity, static, each with its uncertainty."""

from functools import cache

from service.checks.refrigerant.charge_conditions import TON
from service.checks.refrigerant.rated_compressor import refrigerant_capacity
from service.checks.refrigerant.running_state import RunningState
from service.knowledge.limits import limit
from service.knowledge.target_tables import target_table
from service.physics.air_cooling import air_mass_flow, moist_specific_heat
from service.physics.moist_air import SPECIFIC_HEAT_VAPOUR
from service.physics.uncertainty import Uncertain, combine, propagate, read
from service.results.computed import AirComputed
from service.results.declare import declared_members
from service.results.record import Record, fields, replace
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.measured import measured, measured_air, return_wet_bulb
from service.verdicts.mode import judges_cooling


class AirValues(Record):
    """Values in SI, None where a reading is missing; airflow_read: the airflow was measured, not computed."""

    return_enthalpy: Uncertain | None = None
    supply_enthalpy: Uncertain | None = None
    return_humidity_ratio: Uncertain | None = None
    supply_humidity_ratio: Uncertain | None = None
    return_wet_bulb: Uncertain | None = None
    temperature_split: Uncertain | None = None
    target_temperature_split: Uncertain | None = None
    airflow: Uncertain | None = None
    airflow_per_ton: Uncertain | None = None
    total_capacity: Uncertain | None = None
    sensible_capacity: Uncertain | None = None
    latent_capacity: Uncertain | None = None
    sensible_heat_ratio: Uncertain | None = None
    total_static: Uncertain | None = None
    airflow_read: bool = False


@kept
def air_values(visit: Visit, state: RunningState) -> AirValues:
    """Compute what the readings allow."""
    back, supply = measured_air(visit, "return"), measured_air(visit, "supply")
    return_enthalpy, return_humidity_ratio = back.heat_and_moisture() if back else (None, None)
    supply_enthalpy, supply_humidity_ratio = supply.heat_and_moisture() if supply else (None, None)
    values = AirValues(
        return_enthalpy=return_enthalpy,
        return_humidity_ratio=return_humidity_ratio,
        supply_enthalpy=supply_enthalpy,
        supply_humidity_ratio=supply_humidity_ratio,
        return_wet_bulb=return_wet_bulb(visit),
        temperature_split=_split(visit),
        target_temperature_split=_target_split(visit),
        airflow=measured(visit, "/air/airflow"),
        total_static=_static(visit),
        airflow_read=visit.air.airflow is not None,
    )
    return _per_ton(visit, _with_capacity(visit, values, state))


def computed_of(values: AirValues) -> AirComputed:
    """As members of an answer, each with its kind from the declaration."""
    read = ((name, kind, getattr(values, name)) for name, kind in _kinds())
    return AirComputed(**{name: value.quantity(kind) for name, kind, value in read if value is not None})


@cache
def _kinds() -> tuple[tuple[str, str], ...]:
    """Names and kinds of the members that are computed here."""
    ours = {item.name for item in fields(AirValues)}
    return tuple((name, str(member.choices[0])) for name, member in declared_members(AirComputed) if name in ours)


def _split(visit: Visit) -> Uncertain | None:
    back, supply = measured(visit, "/air/return_dry_bulb"), measured(visit, "/air/supply_dry_bulb")
    return back - supply if back is not None and supply is not None else None


def _target_split(visit: Visit) -> Uncertain | None:
    dry, wet = measured(visit, "/air/return_dry_bulb"), return_wet_bulb(visit)
    if dry is None or wet is None or not judges_cooling(visit):
        return None
    try:
        return propagate(target_table("target-temperature-split").target, dry, wet)
    except ValueError:
        return None


def _static(visit: Visit) -> Uncertain | None:
    """Total external static: supply less return, whichever sign the return was written with."""
    back, supply = measured(visit, "/air/static_return"), measured(visit, "/air/static_supply")
    if back is None or supply is None:
        return None
    return supply - back if back.value <= 0.0 else supply + back


def _with_capacity(visit: Visit, values: AirValues, state: RunningState) -> AirValues:
    """Capacity by the airflow that was read; else the airflow by the capacity that the refrigerant carries."""
    if values.return_enthalpy is None or values.supply_enthalpy is None:
        return values
    whole, dry = values.return_enthalpy - values.supply_enthalpy, _sensible(values)
    standard = air_mass_flow(1.0, visit.site_pressure)
    density = read("air density", standard, standard * limit("air.density-accuracy").value)
    airflow = values.airflow or _by_heat_balance(visit, state, whole, density)
    if airflow is None or dry is None:
        return values
    mass_flow = airflow * density
    total, sensible = mass_flow * whole, mass_flow * dry
    return replace(
        values,
        airflow=airflow,
        total_capacity=total,
        sensible_capacity=sensible,
        latent_capacity=total - sensible,
        sensible_heat_ratio=dry / whole if whole.value > 0.0 else None,
    )


def _sensible(values: AirValues) -> Uncertain | None:
    """Sensible part of the enthalpy difference [J/kg]; with the latent part it makes the whole exactly."""
    moisture, split = values.supply_humidity_ratio, values.temperature_split
    if moisture is None or split is None:
        return None
    return combine(moist_specific_heat(moisture.value), (SPECIFIC_HEAT_VAPOUR,), moisture) * split


def _by_heat_balance(
    visit: Visit, state: RunningState, enthalpy_drop: Uncertain, density: Uncertain
) -> Uncertain | None:
    """Airflow [m3/s] that takes up what the refrigerant carries by the compressor's rating."""
    capacity = refrigerant_capacity(visit, state)
    if capacity is None or enthalpy_drop.value <= enthalpy_drop.half_width:
        return None
    return capacity / (enthalpy_drop * density)


def _per_ton(visit: Visit, values: AirValues) -> AirValues:
    rated = visit.equipment.rated_capacity
    if values.airflow is None or rated is None:
        return values
    return replace(values, airflow_per_ton=values.airflow * (TON / rated))
