"""What the line set holds, per length, from tube sizes and densities."""

from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.knowledge.procedure_tables import tube_size
from service.knowledge.refrigerant import Refrigerant
from service.physics.tube_charge import bore_area, charge_per_length
from service.results.finding import Assumption, Missing
from service.results.out_of_range import OutOfRange
from service.results.procedures.weighed_charge import WeighedChargeRequest
from service.results.quantity import Quantity
from service.results.record import Record
from service.results.refusal import Refusal
from service.verdicts.refrigerant_refusals import range_error


class LineSet(Record):
    """per_length: [kg/m], None when a size is missing or unknown; liquid_density: [kg/m3]."""

    per_length: float | None
    liquid_density: float
    missing: tuple[Missing, ...] = ()
    assumptions: tuple[Assumption, ...] = ()


def line_set(request: WeighedChargeRequest, refrigerant: Refrigerant) -> LineSet:
    """The line set's charge per length.

    Raises: Refusal for a temperature outside the refrigerant's range.
    """
    liquid, vapour, assumptions = _densities(request, refrigerant)
    liquid_bore, liquid_missing = _bore(request, "liquid")
    suction_bore, suction_missing = _bore(request, "suction")
    missing = (*liquid_missing, *suction_missing)
    if liquid_bore is None:
        return LineSet(None, liquid, missing, assumptions)
    if suction_bore is None:
        left_out = Assumption(
            "assumption.weighed-charge-suction-line-left-out", "/equipment/suction_line_diameter"
        )
        assumptions = (*assumptions, left_out)
    per_length = charge_per_length(liquid_bore, liquid, suction_bore or 0.0, vapour)
    return LineSet(per_length, liquid, missing, assumptions)


def _densities(
    request: WeighedChargeRequest, refrigerant: Refrigerant
) -> tuple[float, float, tuple[Assumption, ...]]:
    """Liquid and vapour density [kg/m3] at the temperatures given or assumed."""
    warm, first = _temperature(request, "liquid_temperature", "procedures.liquid-line-temperature")
    cold, second = _temperature(
        request, "suction_saturation_temperature", "procedures.suction-saturation-temperature"
    )
    name = "liquid_temperature"
    try:
        liquid = refrigerant.properties.saturated.liquid_density(warm)
        name = "suction_saturation_temperature"
        vapour = refrigerant.properties.saturated.vapour_density(refrigerant.saturation.dew_pressure(cold))
    except OutOfRange as error:
        place = (request.units, request.site_pressure)
        raise Refusal((range_error(error, f"/{name}", "temperature", refrigerant.designation, *place),)) from None
    return liquid, vapour, (*first, *second)


def _temperature(
    request: WeighedChargeRequest, name: str, code: LimitCode
) -> tuple[float, tuple[Assumption, ...]]:
    given: float | None = getattr(request, name)
    if given is not None:
        return given, ()
    value = limit(code).value
    used = {"temperature": Quantity(value, "temperature")}
    return value, (Assumption(f"assumption.weighed-charge-{name.replace('_', '-')}", f"/{name}", used),)


def _bore(request: WeighedChargeRequest, line: str) -> tuple[float | None, tuple[Missing, ...]]:
    """Bore of a line [m2], or what is missing to know it."""
    outside: float | None = getattr(request.equipment, f"{line}_line_diameter")
    if outside is None:
        return None, (Missing(f"/equipment/{line}_line_diameter", "missing.weighed-charge-line-size"),)
    wall: float | None = getattr(request, f"{line}_line_wall")
    if wall is None:
        size = tube_size(request.tube_type or "annealed_coil", outside)
        if size is None:
            return None, (Missing(f"/{line}_line_wall", "missing.weighed-charge-wall"),)
        outside, wall = size.outside_diameter, size.wall
    try:
        return bore_area(outside, wall), ()
    except ValueError:
        return None, (Missing(f"/{line}_line_wall", "missing.weighed-charge-wall-too-thick"),)
