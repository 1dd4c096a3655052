"""Many points by arrays give, to the last digit, what each gives alone."""

import random

import pytest

from service.checks.refrigerant import saturation_points
from service.checks.refrigerant.saturation_arrays import saturate_arrays
from service.checks.refrigerant.saturation_points import MANY, saturate
from service.knowledge.refrigerants import all_refrigerants
from service.results.refusal import Refusal
from service.results.saturation import SaturationPoint, SaturationRequest
from service.results.units import TABLE, Units, to_si

SITE = 93_000.0  # Pa
NUMBER = 400


def requested(refrigerant, points, **units):
    return SaturationRequest(Units(**units), SITE, refrigerant=refrigerant, points=tuple(points))


def singly(request):
    return [saturate(requested_one)[1][0] for requested_one in alone(request)]


def alone(request):
    for point in request.points:
        yield SaturationRequest(request.units, SITE, refrigerant=request.refrigerant, points=(point,))


def spread(curve, kind, units, chance):
    """Values over the whole range, many as a person types them, some in the middle between two decimals."""
    low, high = (getattr(curve, f"{end}_{kind}") for end in ("lowest", "highest"))
    values = [chance.uniform(low, high) for _ in range(NUMBER)]
    for at in range(0, NUMBER, 2):
        wire = round((values[at] - to_si(0.0, kind, units, SITE)) / units.unit(kind).scale, 1)
        half = 0.5 * 10.0 ** -units.unit(kind).decimals if at % 4 == 0 else 0.0
        values[at] = min(max(to_si(wire + half, kind, units, SITE), low), high)
    return [low, *values, high]


@pytest.mark.parametrize("refrigerant", all_refrigerants(), ids=lambda found: found.designation)
@pytest.mark.parametrize("pressure_unit", TABLE["pressure"])
def test_arrays_give_the_numbers_of_the_single_points(refrigerant, pressure_unit):
    chance = random.Random(refrigerant.designation + pressure_unit)
    chosen = {"pressure": pressure_unit, "temperature": chance.choice(["degF", "degC"])}
    for kind in ("pressure", "temperature"):
        values = spread(refrigerant.saturation, kind, Units(**chosen), chance)
        request = requested(refrigerant.designation, (SaturationPoint(**{kind: v}) for v in values), **chosen)
        assert saturate_arrays(request, refrigerant.saturation) == singly(request)


def test_the_arrays_are_taken_from_many_points_on(monkeypatch):
    asked = []
    monkeypatch.setattr(saturation_points, "saturate_arrays", lambda request, _: asked.append(request))
    for number in (MANY - 1, MANY):
        saturate(requested("R-410A", [SaturationPoint(pressure=900_000.0 + n) for n in range(number)]))
    assert [len(request.points) for request in asked] == [MANY]


def test_points_of_both_kinds_are_answered_one_by_one():
    points = [SaturationPoint(pressure=900_000.0 + n) for n in range(MANY)] + [SaturationPoint(temperature=280.0)]
    request = requested("R-410A", points)
    assert saturate(request)[1] == singly(request)


@pytest.mark.parametrize(
    ("wrong", "pointer"),
    [
        (SaturationPoint(pressure=1e9), "/points/30/pressure"),
        (SaturationPoint(), "/points/30"),
        (SaturationPoint(pressure=900_000.0, temperature=280.0), "/points/30"),
    ],
)
def test_a_wrong_point_among_many_is_named(wrong, pointer):
    points = [SaturationPoint(pressure=900_000.0)] * 30 + [wrong]
    with pytest.raises(Refusal) as refused:
        saturate(requested("R-410A", points))
    assert [error.pointer for error in refused.value.errors] == [pointer]
