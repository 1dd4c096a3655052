"""Many saturation points at once: the same numbers as one by one, by whole arrays."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from service.physics.cubic_table import FloatArray
from service.physics.saturation import SaturationCurve
from service.results.out_of_range import OutOfRange
from service.results.saturation import SaturationRequest
from service.results.units import writer

_NEAR_A_TIE = 1e-4
"""In units of the last decimal: how close to the middle between two decimals an array is not trusted to round."""


def saturate_arrays(request: SaturationRequest, curve: SaturationCurve) -> list[dict[str, float]] | None:
    """The points of a request, all pressures or all temperatures and all in range.

    Returns
    -------
    [unit of the request] of pressure and of temperature; None for any other request

    References
    ----------
    The tables built from CoolProp.
    """
    given = {(point.pressure is not None, point.temperature is not None) for point in request.points}
    if given == {(True, False)}:
        asked, found = "pressure", "temperature"
    elif given == {(False, True)}:
        asked, found = "temperature", "pressure"
    else:
        return None
    values: list[float] = [getattr(point, asked) for point in request.points]
    array = np.array(values)
    columns = {asked: _column(array, values.__getitem__, asked, request)}
    try:
        for name in (f"bubble_{found}", f"dew_{found}"):
            single: Callable[[float], float] = getattr(curve, name)
            inside: FloatArray = getattr(curve, f"{name}_array")(array)
            columns[name] = _column(inside, lambda at, of=single: of(values[at]), found, request)  # type: ignore[misc]
    except OutOfRange:
        return None
    first, second, third = columns  # written out, because a dictionary made of pairs takes three times as long
    return [{first: a, second: b, third: c} for a, b, c in zip(*columns.values(), strict=True)]


def _column(
    inside: FloatArray, single: Callable[[int], float], kind: str, request: SaturationRequest
) -> list[float]:
    """SI values as an answer writes them; `single` gives one of them anew where rounding hangs on its last bit."""
    unit = request.units.unit(kind)
    zero = request.site_pressure if unit.gauge else 0.0
    power = 10.0**unit.decimals
    scaled = (inside - unit.offset - zero) / unit.scale * power
    whole = np.rint(scaled)
    column: list[float] = (whole / power + 0.0).tolist()
    write = writer(kind, request.units, request.site_pressure)
    for at in np.flatnonzero(np.abs(scaled - whole) > 0.5 - _NEAR_A_TIE).tolist():
        column[at] = write(single(at))
    return column
