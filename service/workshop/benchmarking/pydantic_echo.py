"""What a user would pick instead: the visit document as pydantic models, echoed by FastAPI under uvicorn.

The models are made from the same declarations as the service's own schemas: members, ranges and closed lists, with
unknown members refused. Nothing is judged and no unit is converted.
"""

from collections.abc import Callable
from typing import Annotated, Any, Literal

import uvicorn
from fastapi import FastAPI
from pydantic import BaseModel, ConfigDict, Field, create_model

from service.results.declare import Member, declared_members
from service.results.record import names_of
from service.results.units import TABLE
from service.results.visit import Visit
from service.workshop.benchmarking.processes import HOST

_STRICT = ConfigDict(extra="forbid", strict=True)
_PLAIN: dict[str, Any] = {"boolean": bool, "integer": int, "text": str, "label": int | str, "date": str}


def visit_model() -> type[BaseModel]:
    """The visit document."""
    return _model(Visit)


def serve(port: int) -> None:
    """Serve POST /v1/assessment as an echo until stopped."""
    app = FastAPI(docs_url=None, redoc_url=None, openapi_url=None)
    model = visit_model()

    @app.post("/v1/assessment", response_model_exclude_unset=True)
    def echo(visit: model) -> model:  # type: ignore[valid-type]
        return visit

    uvicorn.run(app, host=HOST, port=port, access_log=False, log_level="error")


def _model(document: type) -> type[BaseModel]:
    members: dict[str, Any] = {
        name: (_type(declared), ...) if declared.required else (_type(declared) | None, None)
        for name, declared in declared_members(document)
    }
    if "units" in names_of(document):
        members["units"] = (dict[Literal[*TABLE], str] | None, None)  # type: ignore[valid-type]
    made: type[BaseModel] = create_model(document.__name__, __config__=_STRICT, **members)
    return made


def _type(declared: Member) -> Any:
    made = _MADE.get(declared.kind)
    return _PLAIN.get(declared.kind, float) if made is None else made(declared)


def _part(declared: Member) -> type:
    assert declared.part is not None
    return declared.part


def _choice(declared: Member) -> Any:
    return Literal[*declared.choices]


def _nested(declared: Member) -> Any:
    return _model(_part(declared))


def _list(of: Callable[[Member], Any]) -> Callable[[Member], Any]:
    return lambda declared: Annotated[list[of(declared)], Field(max_length=declared.length)]  # type: ignore[misc]


_RESISTANCE = create_model(
    "Resistance", __config__=_STRICT, ohms=(float | None, None), over_limit=(bool | None, None)
)
_MADE: dict[str, Callable[[Member], Any]] = {
    "part": _nested,
    "baseline": _nested,
    "insulation": _nested,
    "parts": _list(_nested),
    "resistance": lambda _: _RESISTANCE,
    "resistance_or_number": lambda _: _RESISTANCE | float,
    "numbers": _list(lambda _: float),
    "choice": _choice,
    "choices": _list(_choice),
}
