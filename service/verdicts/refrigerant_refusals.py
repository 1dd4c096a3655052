"""The closed list's refusals about a refrigerant: an unknown name, a pressure or temperature out of its range."""

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerants import UnknownRefrigerant, find
from service.results.out_of_range import OutOfRange
from service.results.refusal import FieldError, Refusal
from service.results.units import Units, shown, shown_limit


def known_refrigerant(name: str, pointer: str) -> Refrigerant:
    """The refrigerant of that name. Raises: Refusal that says why it is not known."""
    try:
        return find(name)
    except UnknownRefrigerant as unknown:
        detail = f"Refrigerant {unknown.name}: {unknown.reason}. GET /v1/refrigerants lists what is known."
        raise Refusal((FieldError(pointer, "refrigerant.unknown", detail),)) from None


def range_error(
    error: OutOfRange, pointer: str, kind: str, designation: str, units: Units, site_pressure: float
) -> FieldError:
    """What to tell about a value outside a refrigerant's range, with the range in the caller's units."""
    low = shown_limit(error.low, kind, units, site_pressure, lowest=True)
    high = shown_limit(error.high, kind, units, site_pressure, lowest=False)
    detail = (
        f"{shown(error.value, kind, units, site_pressure)} lies outside {designation}'s saturation range, "
        f"{low} to {high}. Check the reading, its unit and the refrigerant."
    )
    return FieldError(pointer, f"{kind}.outside-refrigerant-range", detail, (f"{low} to {high}",))


def below_absolute_zero(pointer: str, units: Units, site_pressure: float) -> FieldError:
    """A pressure at or below absolute zero: the gauge or the unit is wrong."""
    low = shown_limit(0.0, "pressure", units, site_pressure, lowest=True)
    detail = f"No pressure is as low as {low} at this site. Check the sign, the unit and the site."
    return FieldError(pointer, "pressure.not-above-absolute-zero", detail, (f"above {low}",))
