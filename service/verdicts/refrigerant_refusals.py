"""The closed list's refusals about a refrigerant: an unknown name, a pressure or temperature out of its range."""

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerants import UnknownRefrigerant, find
from service.results.out_of_range import OutOfRange
from service.results.refusal import FieldError, Refusal, phrase
from service.results.units import Units, shown, shown_limit


def known_refrigerant(name: str, pointer: str) -> Refrigerant:
    """The refrigerant of that name. Raises: Refusal that says why it is not known."""
    try:
        return find(name)
    except UnknownRefrigerant as unknown:
        detail = phrase("refrigerant.unknown", name=unknown.name, reason=phrase(unknown.reason))
        raise Refusal((FieldError(pointer, "refrigerant.unknown", detail),)) from None


def range_error(
    error: OutOfRange, pointer: str, kind: str, designation: str, units: Units, site_pressure: float
) -> FieldError:
    """What to tell about a value outside a refrigerant's range, with the range in the caller's units."""
    low = shown_limit(error.low, kind, units, site_pressure, lowest=True)
    high = shown_limit(error.high, kind, units, site_pressure, lowest=False)
    value, allowed = shown(error.value, kind, units, site_pressure), phrase("range.between", low=low, high=high)
    detail = phrase("refrigerant.outside-range", value=value, designation=designation, range=allowed)
    return FieldError(pointer, f"{kind}.outside-refrigerant-range", detail, (allowed,))


def below_absolute_zero(pointer: str, units: Units, site_pressure: float) -> FieldError:
    """A pressure at or below absolute zero: the gauge or the unit is wrong."""
    low = shown_limit(0.0, "pressure", units, site_pressure, lowest=True)
    detail, allowed = phrase("pressure.absolute-zero", low=low), phrase("range.above", low=low)
    return FieldError(pointer, "pressure.not-above-absolute-zero", detail, (allowed,))
