"""Saturation points: temperatures at a pressure, pressures at a temperature, bubble and dew kept apart."""

from collections.abc import Callable

from service.checks.refrigerant_refusals import below_absolute_zero, known_refrigerant, range_error
from service.physics.saturation import SaturationCurve
from service.results.out_of_range import OutOfRange
from service.results.refusal import FieldError, Refusal
from service.results.saturation import SaturationPoint, SaturationRequest
from service.results.units import written

Written = dict[str, float]
Write = Callable[[float, str], float]


def saturate(request: SaturationRequest) -> tuple[str, list[Written]]:
    """Designation and points as the contract writes them, in the caller's units.

    Raises: Refusal for an unknown refrigerant, a point without exactly one member, and every point outside the
    refrigerant's range, each with its pointer and the range in the caller's units.
    """
    refrigerant = known_refrigerant(request.refrigerant, "/refrigerant")
    errors: list[FieldError] = []
    points: list[Written] = []

    def write(value: float, kind: str) -> float:
        return written(value, kind, request.units, request.site_pressure)

    for index, point in enumerate(request.points):
        try:
            points.append(_point(point, refrigerant.saturation, write))
        except OutOfRange as error:
            errors.append(_refused(error, point, index, refrigerant.designation, request))
        except ValueError:
            errors.append(_one_of_two(index))
    if errors:
        raise Refusal(tuple(errors))
    return refrigerant.designation, points


def _point(point: SaturationPoint, curve: SaturationCurve, write: Write) -> Written:
    """Raises: OutOfRange, or ValueError for both members or none."""
    pressure, temperature = point.pressure, point.temperature
    if pressure is not None and temperature is None:
        return {
            "pressure": write(pressure, "pressure"),
            "bubble_temperature": write(curve.bubble_temperature(pressure), "temperature"),
            "dew_temperature": write(curve.dew_temperature(pressure), "temperature"),
        }
    if temperature is not None and pressure is None:
        return {
            "temperature": write(temperature, "temperature"),
            "bubble_pressure": write(curve.bubble_pressure(temperature), "pressure"),
            "dew_pressure": write(curve.dew_pressure(temperature), "pressure"),
        }
    raise ValueError


def _refused(
    error: OutOfRange, point: SaturationPoint, index: int, designation: str, request: SaturationRequest
) -> FieldError:
    kind = "pressure" if point.pressure is not None else "temperature"
    pointer = f"/points/{index}/{kind}"
    if kind == "pressure" and error.value <= 0.0:
        return below_absolute_zero(pointer, request.units, request.site_pressure)
    return range_error(error, pointer, kind, designation, request.units, request.site_pressure)


def _one_of_two(index: int) -> FieldError:
    detail = "Give either a pressure or a temperature: not both, and not neither."
    return FieldError(f"/points/{index}", "saturation.one-of-two", detail, ("pressure", "temperature"))
