"""How exceptions become problem documents; the text of an exception never reaches an answer."""

from __future__ import annotations

import logging

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, MethodNotAllowed

from service.knowledge.problem_types import error_codes, problem_types
from service.results.refusal import Refusal, Said, phrase
from service.wire.negotiated import OPEN
from service.wire.preferred import preferred_language
from service.wire.problems import ProblemError, of_refusal, render
from service.words.locale import DEFAULT

LOG = logging.getLogger("service")
REQUEST_ID = "service.request_id"
GONE = "service.client_gone"
"""Set where the client has vanished before its request was whole: nobody is answered, no answer is counted."""
REFUSED = "service.refused"
"""Where the outermost layer finds the codes of a refusal for log and metrics."""

UNSAID = ("HEAD", "OPTIONS")
_BY_STATUS = {
    404: "request.not-found",
    405: "request.method-not-allowed",
    406: "request.not-acceptable",
    408: "request.too-slow",
    413: "request.too-large",
    415: "request.media-type",
}


def install(app: Flask) -> None:
    """Answer every exception with a problem document; a broken table of codes stops the start."""
    problem_types()
    error_codes()
    app.register_error_handler(ProblemError, answer)
    app.register_error_handler(Refusal, lambda refusal: answer(of_refusal(refusal)))
    app.register_error_handler(HTTPException, lambda error: answer(_of_http(error)))
    app.register_error_handler(Exception, _unexpected)


def answer(error: ProblemError) -> Response:
    """The problem document of an error as a response to the current request."""
    environ = request.environ
    language = DEFAULT if environ["PATH_INFO"] in OPEN else preferred_language(environ)
    rendered = render(error, environ.get(REQUEST_ID, "unknown"), language)
    environ[REFUSED] = (error.kind.code, *rendered.codes)
    response = Response(status=rendered.status, headers=rendered.headers)
    response.set_data(rendered.body)
    return response


def _of_http(error: HTTPException) -> ProblemError:
    status = error.code or 500
    if status >= 500:
        return ProblemError("server.internal-error")
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        methods = sorted(error.valid_methods)
        others = _either(*(name for name in methods if name not in UNSAID))
        return ProblemError(
            _BY_STATUS[status], phrase("method.others", methods=others), headers=(("Allow", ", ".join(methods)),)
        )
    return ProblemError(_BY_STATUS.get(status, "request.malformed"))


def _either(*names: str) -> Said:
    """One name, or one or the other."""
    last = names[-1] if names else ""
    return phrase("method.or", first=_either(*names[:-1]), second=last) if len(names) > 1 else last


def _unexpected(error: Exception) -> Response:
    LOG.error("unexpected exception", exc_info=error, extra={"request_id": request.environ.get(REQUEST_ID)})
    return answer(ProblemError("server.internal-error"))
