"""GET /docs, /docs/guide and their files: pages for people, which need nothing from elsewhere."""

from functools import cache

from flask import Blueprint, Response

from service.wire.described import described
from service.wire.gate import produces, without_key
from service.wire.pages import page_file
from service.wire.pages.guide import Guide
from service.wire.problems import ProblemError
from service.wire.reading import language
from service.wire.responding import catalogue

BLUEPRINT = Blueprint("docs", __name__)
HTML = "text/html; charset=utf-8"
FILES = {
    "docs.css": "text/css; charset=utf-8",
    "docs.js": "text/javascript; charset=utf-8",
    "element.js": "text/javascript; charset=utf-8",
    "schema.js": "text/javascript; charset=utf-8",
    "trial.js": "text/javascript; charset=utf-8",
}
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; base-uri 'none'; "
    "form-action 'none'; frame-ancestors 'none'"
)


def _page(body: bytes, media_type: str, spoken: str | None = None) -> Response:
    response = catalogue(body, media_type, language=spoken)
    response.headers["Content-Security-Policy"] = POLICY
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "no-referrer"
    return response


@cache
def _guide(spoken: str) -> bytes:
    return Guide(spoken).page()


@BLUEPRINT.get("/docs")
@described("showReference", "Contract", spoken=False)
@without_key
@produces("text/html")
def show_docs() -> Response:
    """The API reference as a page.

    Made from this document, with every operation to be tried; needs nothing from elsewhere.
    """
    return _page(page_file("docs.html"), HTML)


@BLUEPRINT.get("/docs/guide")
@described("showGuide", "Contract")
@without_key
@produces("text/html")
def show_guide() -> Response:
    """The guide to verdicts and steps as a page.

    Holds, findings with what follows from each verdict, causes, steps and cautions.
    """
    spoken = language()
    return _page(_guide(spoken), HTML, spoken)


@BLUEPRINT.get("/docs/files/<name>")
@without_key
@produces("text/css", "text/javascript")
def show_file(name: str) -> Response:
    """A style sheet or script of the pages."""
    if name not in FILES:
        raise ProblemError("request.not-found")
    return _page(page_file(name), FILES[name])
