"""GET /v1/problems and /v1/problems/{code}: what the `type` of a problem document resolves to."""

from __future__ import annotations

from flask import Blueprint, Response

from service.knowledge import problem_types as held
from service.knowledge.problem_types import error_codes, problem_types
from service.results.refusal import phrase
from service.schemas.lists.problems import ErrorCode, ProblemList, ProblemType
from service.wire.described import Example, Parameter, described
from service.wire.listing import code_list, listed, sent
from service.wire.problems import ProblemError
from service.wire.reading import language
from service.words.refusing import error_title, problem_detail, problem_title

BLUEPRINT = Blueprint("problem_list", __name__)
CODE = Parameter(
    "code",
    "Code of the problem, as in `code` of a problem document.",
    (("type", "string"), ("minLength", 1), ("maxLength", 64)),
    "request.not-json",
)


@BLUEPRINT.get("/v1/problems")
@code_list("listProblems", ProblemList)
def list_problems() -> Response:
    """The list of problems.

    Every type of problem and every error code.
    """
    return listed(_problems, language())


def _problems(spoken: str) -> ProblemList:
    problems = tuple(_described(kind, spoken) for kind in problem_types().values())
    errors = (
        ErrorCode(row.code, error_title(row.code, spoken), row.severity, row.source, row.since)
        for row in error_codes().values()
    )
    return ProblemList(problems, tuple(errors))


@BLUEPRINT.get("/v1/problems/<code>")
@described(
    "getProblem",
    "Code lists",
    answer=ProblemType,
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
    return sent(_described(kind, spoken), spoken)


def _described(kind: held.ProblemType, spoken: str) -> ProblemType:
    return ProblemType(
        code=kind.code,
        title=problem_title(kind.code, spoken),
        severity=kind.severity,
        source=kind.source,
        since=kind.since,
        status=kind.status,
        detail=problem_detail(kind.code, spoken),
    )
