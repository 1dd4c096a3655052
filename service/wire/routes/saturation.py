"""POST /v1/saturation: pressure to temperature and back, one point or up to a thousand."""

from flask import Blueprint, Response

from service.checks.refrigerant.saturation_points import saturate
from service.library.provenance import written_provenance
from service.results.saturation import SaturationRequest
from service.results.units import Units
from service.schemas.documents import load
from service.schemas.dump import dump_units
from service.schemas.saturation_shapes import SaturationAnswer
from service.wire.described import Example, described
from service.wire.reading import read_document
from service.wire.responding import JSON, encode, send

BLUEPRINT = Blueprint("saturation", __name__)
EXAMPLES = (
    Example("pressures", "R-454B, temperatures at pressures", "requests/saturation-pressures.json"),
    Example("temperatures", "R-410A at altitude", "requests/saturation-temperatures.json"),
)
MOST_RESTS = 256
_RESTS: dict[int, tuple[Units, bytes]] = {}
"""By the identity of the units, which stand in it as well, so that no other object takes their place."""


@BLUEPRINT.post("/v1/saturation")
@described(
    "findSaturation",
    "Properties",
    request=SaturationRequest,
    answer=SaturationAnswer,
    spoken=False,
    examples=EXAMPLES,
)
def post_saturation() -> Response:
    """Saturation pressures and temperatures.

    Bubble and dew temperatures at pressures, bubble and dew pressures at temperatures, 1 to 1000 points of one
    refrigerant. Each point has exactly one of `pressure` and `temperature`; outside the refrigerant's range it is
    refused, never extrapolated.
    """
    request = load(SaturationRequest, read_document())
    designation, points = saturate(request)
    head = encode({"refrigerant": designation, "points": points})
    return send(head[:-1] + _rest(request.units), JSON)


def _rest(units: Units) -> bytes:
    """What follows the points: the same bytes in every answer in the same units, found by the object itself.

    Looking it up by value would read all thirteen codes.
    """
    found = _RESTS.get(id(units))
    if found is None:
        if len(_RESTS) >= MOST_RESTS:
            _RESTS.clear()
        rest = encode({"units": dump_units(units), "provenance": written_provenance()})
        found = _RESTS[id(units)] = (units, b"," + rest[1:])
    return found[1]
