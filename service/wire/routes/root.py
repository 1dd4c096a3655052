"""GET /: where everything is."""

from flask import Blueprint, Response, redirect

from service.library import provenance
from service.schemas.lists.service import Root
from service.wire.described import Example, described
from service.wire.gate import produces, without_key
from service.wire.job_note import HTML
from service.wire.listing import sent
from service.wire.reading import representation
from service.wire.responding import JSON

BLUEPRINT = Blueprint("root", __name__)
LINKS = {
    "documentation": "/docs",
    "guide": "/docs/guide",
    "contract": "/openapi.json",
    "readings": "/v1/readings",
    "assessment": "/v1/assessment",
    "version": "/version",
}


@BLUEPRINT.get("/")
@described(
    "showRoot",
    "Contract",
    answer=Root,
    shows=(JSON,),
    spoken=False,
    leads="A caller that asks for text/html is led to /docs.",
    examples=(Example("links", "The links"),),
)
@without_key
@produces(JSON, HTML)
def show_root() -> Response:
    """Where everything is.

    Links to the documentation, the contract and the first resources; a browser is led to /docs.
    """
    if representation(JSON, HTML) == HTML:
        led: Response = redirect(LINKS["documentation"], Response=Response)  # type: ignore[assignment]
        led.headers["Cache-Control"] = "no-store"
        return led
    return sent(Root(**LINKS, provenance=provenance()))
