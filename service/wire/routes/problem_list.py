"""GET /v1/problems and /v1/problems/{code}: what the `type` of a problem document resolves to."""

from __future__ import annotations

from dataclasses import asdict

from flask import Blueprint, Response

from service.knowledge.problem_types import error_codes, problem_types
from service.wire.problems import ProblemError
from service.wire.responding import catalogue

BLUEPRINT = Blueprint("problem_list", __name__)


@BLUEPRINT.get("/v1/problems")
def list_problems() -> Response:
    """Every problem type and every error code of the HTTP layer."""
    return catalogue(
        {
            "problems": [asdict(kind) for kind in problem_types().values()],
            "errors": [asdict(code) for code in error_codes().values()],
        }
    )


@BLUEPRINT.get("/v1/problems/<code>")
def show_problem(code: str) -> Response:
    """One problem type."""
    kind = problem_types().get(code)
    if kind is None:
        raise ProblemError("request.not-found", "No problem has this code. GET /v1/problems lists them all.")
    return catalogue(asdict(kind))
