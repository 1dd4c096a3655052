"""POST /v1/saturation: pressure to temperature and back, one point or up to a thousand."""

from flask import Blueprint, Response

from service.checks.saturation_points import saturate
from service.results.saturation import SaturationRequest
from service.schemas.documents import load
from service.schemas.dump import dump_units
from service.wire.provenance import provenance
from service.wire.reading import read_document
from service.wire.responding import respond

BLUEPRINT = Blueprint("saturation", __name__)


@BLUEPRINT.post("/v1/saturation")
def post_saturation() -> Response:
    """Saturation temperatures at pressures, saturation pressures at temperatures."""
    request = load(SaturationRequest, read_document())
    designation, points = saturate(request)
    return respond(
        {
            "refrigerant": designation,
            "points": points,
            "units": dump_units(request.units),
            "provenance": provenance(),
        }
    )
