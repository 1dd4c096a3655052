"""GET /v1/problems and /v1/problems/{code}: what the `type` of a problem document resolves to."""

from __future__ import annotations

from dataclasses import asdict

from flask import Blueprint, Response

from service.knowledge.problem_types import error_codes, problem_types
from service.schemas.list_shapes import PROBLEMS, ProblemType
from service.wire.described import Example, Parameter, described
from service.wire.problems import ProblemError
from service.wire.responding import catalogue
from service.wire.routes.catalogues import code_list

BLUEPRINT = Blueprint("problem_list", __name__)
CODE = Parameter(
    "code",
    "Code of the problem, as in `code` of a problem document.",
    (("type", "string"), ("minLength", 1), ("maxLength", 64)),
    "request.not-json",
)


@BLUEPRINT.get("/v1/problems")
@code_list("listProblems", PROBLEMS, spoken=False)
def list_problems() -> Response:
    """The list of problems.

    Every type of problem and every error code.
    """
    return catalogue(
        {
            "problems": [asdict(kind) for kind in problem_types().values()],
            "errors": [asdict(code) for code in error_codes().values()],
        }
    )


@BLUEPRINT.get("/v1/problems/<code>")
@described(
    "getProblem",
    "Code lists",
    answer=ProblemType,
    path=(CODE,),
    spoken=False,
    examples=(
        Example("not-json", "The body is not JSON", path=(("code", "request.not-json"),)),
        Example("not-valid", "A value cannot be used", path=(("code", "request.not-valid"),)),
    ),
)
def show_problem(code: str) -> Response:
    """One type of problem.

    What the `type` of a problem document resolves to.
    """
    kind = problem_types().get(code)
    if kind is None:
        raise ProblemError("request.not-found", "No problem has this code. GET /v1/problems lists them all.")
    return catalogue(asdict(kind))
