"""A refrigerant as the contract lists it."""

from __future__ import annotations

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerant_rows import Transport
from service.results.provenance import Provenance
from service.results.record import fields
from service.results.units import STANDARD_ATMOSPHERE, Units, written
from service.schemas.lists import refrigerants as declared

SI = Units(temperature="degC", pressure="kPa")


def refrigerant_row(item: Refrigerant) -> declared.RefrigerantRow:
    """What is known of it, in its own units."""
    return declared.RefrigerantRow(
        designation=item.designation,
        kind=item.kind,
        composition=tuple(
            declared.BlendComponent(each.designation, each.mass_percent) for each in item.composition
        ),
        safety_class=item.safety_class,
        gwp=declared.GlobalWarmingPotential(item.gwp_ar4, item.gwp_ar5),
        ozone_depleting=item.ozone_depleting,
        oils=tuple(item.oils),
        charging_phase=item.charging_phase,
        pressure_class=item.pressure_class,
        glide=declared.Glide(item.glide_at_dew_5_c, item.glide_at_bubble_40_c),
        critical_point=declared.CriticalPoint(
            _temperature(item.critical_temperature), _pressure(item.critical_pressure)
        ),
        valid_range=_valid_range(item),
        cautions=tuple(item.cautions),
        sources=declared.RefrigerantSources(**item.sources),
        units=declared.RefrigerantUnits(),
        lower_flammability_limit=item.lower_flammability_limit,
        room_rule_limit=item.row.room_rule_limit,
        saturation_uncertainty_percent=item.row.saturation_percent or None,
        transport=_transport(item.row.transport),
    )


def refrigerant_alone(item: Refrigerant, provenance: Provenance) -> declared.Refrigerant:
    """As `refrigerant_row`, with what gave it."""
    row = refrigerant_row(item)
    members = {each.name: getattr(row, each.name) for each in fields(row)}
    return declared.Refrigerant(**members, provenance=provenance)


def _transport(held: Transport | None) -> declared.Transport | None:
    return None if held is None else declared.Transport(held.un_number, held.name, held.division)


def _valid_range(item: Refrigerant) -> declared.ValidRange:
    curve = item.saturation
    return declared.ValidRange(
        lowest_temperature=_temperature(curve.lowest_temperature),
        highest_temperature=_temperature(curve.highest_temperature),
        lowest_pressure=_pressure(curve.lowest_pressure),
        highest_pressure=_pressure(curve.highest_pressure),
    )


def _temperature(kelvin: float) -> float:
    return written(kelvin, "temperature", SI, STANDARD_ATMOSPHERE)


def _pressure(pascal: float) -> float:
    return written(pascal, "pressure", SI, STANDARD_ATMOSPHERE)
