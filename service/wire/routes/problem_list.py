"""GET /v1/problems and /v1/problems/{code}: what the `type` of a problem document resolves to."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from flask import Blueprint, Response

from service.knowledge.problem_types import ProblemType, error_codes, problem_types
from service.results.refusal import phrase
from service.schemas import list_shapes
from service.wire.described import Example, Parameter, described
from service.wire.problems import ProblemError
from service.wire.reading import language
from service.wire.responding import catalogue
from service.wire.routes.catalogues import code_list
from service.words.refusing import error_title, problem_detail, problem_title

BLUEPRINT = Blueprint("problem_list", __name__)
CODE = Parameter(
    "code",
    "Code of the problem, as in `code` of a problem document.",
    (("type", "string"), ("minLength", 1), ("maxLength", 64)),
    "request.not-json",
)


@BLUEPRINT.get("/v1/problems")
@code_list("listProblems", list_shapes.PROBLEMS)
def list_problems() -> Response:
    """The list of problems.

    Every type of problem and every error code.
    """
    spoken = language()
    problems = [_described(kind, spoken) for kind in problem_types().values()]
    errors = [
        {"code": row.code, "title": error_title(row.code, spoken), **_rest(row)} for row in error_codes().values()
    ]
    return catalogue({"problems": problems, "errors": errors}, language=spoken)


@BLUEPRINT.get("/v1/problems/<code>")
@described(
    "getProblem",
    "Code lists",
    answer=list_shapes.ProblemType,
    path=(CODE,),
    examples=(
        Example("not-json", "The body is not JSON", path=(("code", "request.not-json"),)),
        Example("not-valid", "A value cannot be used", path=(("code", "request.not-valid"),)),
    ),
)
def show_problem(code: str) -> Response:
    """One type of problem.

    What the `type` of a problem document resolves to.
    """
    kind, spoken = problem_types().get(code), language()
    if kind is None:
        raise ProblemError("request.not-found", phrase("path.problem"))
    return catalogue(_described(kind, spoken), language=spoken)


def _described(kind: ProblemType, spoken: str) -> dict[str, Any]:
    words = {"title": problem_title(kind.code, spoken), "detail": problem_detail(kind.code, spoken)}
    return {"code": kind.code, "status": kind.status, **words, **_rest(kind)}


def _rest(row: Any) -> dict[str, Any]:
    """What stands behind the words, as the table has it."""
    return {name: value for name, value in asdict(row).items() if name not in ("code", "status")}
