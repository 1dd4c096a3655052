"""The closed list of readings that cannot be, refused with their pointers before anything is judged.

Unknown refrigerant, absolute pressure not above zero or outside the refrigerant's range, wet bulb above dry bulb
by more than both accuracies, shares of causes that were learnt on another model. (Humidity outside 0 to 100 % is
refused where the document is read.)
"""

from collections.abc import Iterator
from functools import cache
from typing import Any

from service.checks.plausible.priors import prior_errors
from service.knowledge.refrigerant import Refrigerant
from service.results.declare import declared_members
from service.results.out_of_range import OutOfRange
from service.results.refusal import FieldError, Refusal, phrase
from service.results.units import shown
from service.results.visit import Visit
from service.results.visit.document import visit_of_baseline
from service.results.visit.kept import kept
from service.verdicts.instruments import accuracy
from service.verdicts.refrigerant_refusals import below_absolute_zero, known_refrigerant, range_error

# Pressures that may lie outside the saturation range without being wrong: a pumped-down suction side.
ABOVE_ZERO_ONLY = frozenset({"pump_down_suction_pressure"})


@kept
def refrigerant_in(visit: Visit) -> Refrigerant | None:
    """What is in the unit: as stated, else what the nameplate says; None when neither is known.

    Raises: Refusal for a name that is not known.
    """
    stated = visit.equipment.refrigerant
    if stated is not None:
        return known_refrigerant(stated, "/equipment/refrigerant")
    nameplate = visit.equipment.nameplate_refrigerant
    return known_refrigerant(nameplate, "/equipment/nameplate_refrigerant") if nameplate is not None else None


@kept
def refuse_impossible(visit: Visit) -> None:
    """Raise a Refusal that names every reading of the closed list, in the baseline too."""
    refrigerant = refrigerant_in(visit)
    if visit.equipment.nameplate_refrigerant is not None:
        known_refrigerant(visit.equipment.nameplate_refrigerant, "/equipment/nameplate_refrigerant")
    errors = [*_pressures(visit, refrigerant, ""), *_design_pressures(visit), *_wet_bulbs(visit, "")]
    errors += prior_errors(visit.priors)
    if visit.baseline is not None:
        base = visit_of_baseline(visit, visit.baseline)
        errors += [*_pressures(base, refrigerant, "/baseline"), *_wet_bulbs(base, "/baseline")]
    if errors:
        raise Refusal(tuple(errors))


def _given_pressures(part: Any) -> Iterator[tuple[str, float]]:
    for name in _pressure_names(part.__class__):
        value = getattr(part, name)
        if value is not None:
            yield name, value


@cache
def _pressure_names(part: type) -> tuple[str, ...]:
    return tuple(name for name, member in declared_members(part) if member.kind == "pressure")


def _pressures(visit: Visit, refrigerant: Refrigerant | None, prefix: str) -> Iterator[FieldError]:
    for part in ("standing", "start_up", "running", "printed_normals"):
        for name, value in _given_pressures(getattr(visit, part)):
            known = None if name in ABOVE_ZERO_ONLY else refrigerant
            yield from _pressure(visit, known, f"{prefix}/{part}/{name}", value)


def _design_pressures(visit: Visit) -> Iterator[FieldError]:
    for name, value in _given_pressures(visit.equipment):
        yield from _pressure(visit, None, f"/equipment/{name}", value)


def _pressure(visit: Visit, refrigerant: Refrigerant | None, pointer: str, value: float) -> Iterator[FieldError]:
    units, site = visit.units, visit.site_pressure
    if value <= 0.0:
        yield below_absolute_zero(pointer, units, site)
    elif refrigerant is not None:
        low, high = refrigerant.saturation.lowest_pressure, refrigerant.saturation.highest_pressure
        if not low <= value <= high:
            error = OutOfRange("pressure", value, low, high)
            yield range_error(error, pointer, "pressure", refrigerant.designation, units, site)


def _wet_bulbs(visit: Visit, prefix: str) -> Iterator[FieldError]:
    both = 2.0 * accuracy(visit).temperature
    for part, side in (("air", "return"), ("air", "supply"), ("printed_normals", "return")):
        dry = getattr(getattr(visit, part), f"{side}_dry_bulb")
        wet = getattr(getattr(visit, part), f"{side}_wet_bulb")
        if dry is not None and wet is not None and wet - dry > both:
            dry_bulb = shown(dry, "temperature", visit.units, visit.site_pressure)
            detail, allowed = phrase("wet-bulb.above", dry_bulb=dry_bulb), phrase("range.at-most", high=dry_bulb)
            yield FieldError(f"{prefix}/{part}/{side}_wet_bulb", "wet-bulb.above-dry-bulb", detail, (allowed,))
