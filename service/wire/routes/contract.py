"""GET /openapi.json: the contract."""

from flask import Blueprint, Response

from service.wire.gate import without_key
from service.wire.pages import page_file
from service.wire.responding import catalogue

BLUEPRINT = Blueprint("contract", __name__)


@BLUEPRINT.get("/openapi.json")
@without_key
def show_contract() -> Response:
    """The OpenAPI document, byte for byte as it is committed."""
    return catalogue(page_file("openapi.json"))
