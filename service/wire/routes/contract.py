"""GET /openapi.json: the contract."""

from flask import Blueprint, Response

from service.wire.described import described
from service.wire.gate import without_key
from service.wire.pages import page_file
from service.wire.responding import catalogue

BLUEPRINT = Blueprint("contract", __name__)


@BLUEPRINT.get("/openapi.json")
@described("showContract", "Contract", spoken=False)
@without_key
def show_contract() -> Response:
    """This document.

    The OpenAPI document, byte for byte as it is released.
    """
    return catalogue(page_file("openapi.json"))
