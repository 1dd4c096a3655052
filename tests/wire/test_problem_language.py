"""A refusal is said in the caller's language (RFC 9110, 12.5.4), as answers are; codes and pointers stay."""

from __future__ import annotations

import ast
import json
import re
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient

import service
from service.app import create_app
from service.knowledge.problem_types import error_codes, problem_types
from service.knowledge.refrigerants import known_but_not_computed
from service.results.comparison import ComparisonRequest
from service.results.declare import declared_members
from service.results.procedures.evacuation import EvacuationRequest
from service.results.procedures.leak_rate import LeakRateRequest
from service.results.procedures.pressure_test import PressureTestRequest
from service.results.procedures.recovery import RecoveryRequest
from service.results.procedures.weighed_charge import WeighedChargeRequest
from service.results.refusal import phrase
from service.results.saturation import SaturationRequest
from service.results.units import TABLE
from service.settings import Settings
from service.words.locale import LANGUAGES, texts
from service.words.members import label_of
from service.words.refusing import said

SPANISH = {"Accept-Language": "es-MX, en;q=0.5"}
JSON = {"Content-Type": "application/json"}
SAME = ("pointer", "code", "parameter")
REQUESTS = (
    EvacuationRequest, LeakRateRequest, PressureTestRequest, RecoveryRequest, WeighedChargeRequest,
    ComparisonRequest, SaturationRequest,
)  # fmt: skip
ASKED: list[tuple[str, str, str, dict[str, Any]]] = [
    ("POST", "/v1/assessment", "Aquí va un número en psig, sin comillas. Presión de succión en la válvula",
     {"json": {"running": {"suction_pressure": "118"}}}),
    ("POST", "/v1/assessment", "Fuera de lo que se acepta, hasta 2886 psig: revise el punto decimal y la unidad.",
     {"json": {"running": {"suction_pressure": 11800}}}),
    ("POST", "/v1/assessment", '¿Quiso decir not_cooling con "no cooling"? Lo que reporta el cliente.',
     {"json": {"complaint": {"symptoms": ["no cooling"]}}}),
    ("POST", "/v1/assessment", "¿Quiso decir suction_pressure?", {"json": {"running": {"suction_presure": 118}}}),
    ("POST", "/v1/assessment", "no tiene este dato aquí. Va en running.", {"json": {"suction_pressure": 118}}),
    ("POST", "/v1/assessment", "Refrigerante R-438A: la biblioteca de propiedades no trae datos",
     {"json": {"equipment": {"refrigerant": "R-438A"}}}),
    ("POST", "/v1/assessment", "1 más en `errors`.", {"json": {"equipment": {"phases": 2}, "visit_date": "hoy"}}),
    ("POST", "/v1/assessment", "línea 1, columna 38",
     {"data": b'{"running": {"suction_pressure": 118,5}}', "headers": JSON}),
    ("POST", "/v1/saturation", "Dé una presión o una temperatura",
     {"json": {"refrigerant": "R-32", "points": [{}]}}),
    ("POST", "/v1/batch", "`visits`, una lista de 1 a 1000", {"json": {}}),
    ("POST", "/v1/note", "Aquí va true o false", {"json": {"isolation": {"disconnect_locked": "yes"}}}),
    ("POST", "/v1/assessment", "Envíe el cuerpo como application/json en UTF-8.", {"data": b"{}"}),
    ("GET", "/v1/findings?page=2", "page: Este recurso no conoce este parámetro de consulta. No lleva", {}),
    ("GET", "/v1/assessment", "Envíe POST a esta ruta.", {}),
    ("GET", "/nowhere", "Ningún recurso tiene esta ruta.", {}),
]  # fmt: skip


@pytest.fixture(scope="module")
def asking() -> FlaskClient:
    return create_app().test_client()


def answered(client: FlaskClient, method: str, path: str, options: dict[str, Any], **more: str) -> Any:
    return client.open(path, method=method, **{**options, "headers": {**options.get("headers", {}), **more}})


@pytest.mark.parametrize(("method", "path", "spanish", "options"), ASKED)
def test_what_is_wrong_is_said_in_spanish_and_what_it_is_stays(
    asking: FlaskClient, method: str, path: str, spanish: str, options: dict[str, Any]
) -> None:
    other, english = answered(asking, method, path, options, **SPANISH), answered(asking, method, path, options)
    assert (other.headers["Content-Language"], english.headers["Content-Language"]) == ("es", "en")
    assert "Accept-Language" in other.headers["Vary"].split(", ")
    first, second = json.loads(other.data), json.loads(english.data)
    assert spanish.lower() in first["detail"].lower()
    assert first["title"] != second["title"]
    assert first["detail"] != second["detail"]
    for name in ("type", "status", "code"):
        assert first[name] == second[name]
    pairs = list(zip(first["errors"], second["errors"], strict=True))
    for one, two in pairs:
        assert (one["pointer"], one["code"], one.get("parameter")) == (
            two["pointer"],
            two["code"],
            two.get("parameter"),
        )
        assert one["detail"] != two["detail"]


def test_a_line_of_a_batch_is_refused_in_spanish(asking: FlaskClient) -> None:
    body = b'{"running": {"suction_pressure": "118"}}\n'
    answer = asking.post("/v1/batch", data=body, headers={"Content-Type": "application/x-ndjson", **SPANISH})
    problem = json.loads(answer.data)["problem"]
    assert problem["title"] == "Valor no válido en la petición"
    assert "Aquí va un número" in problem["errors"][0]["detail"]


def test_whoever_has_no_key_is_told_in_spanish() -> None:
    client = create_app(Settings(api_keys=frozenset({"example:" + "0" * 64}))).test_client()
    refused = client.get("/v1/readings", headers=SPANISH)
    assert refused.status_code == 401
    assert json.loads(refused.data)["title"] == "Se necesita una clave de API"


def test_the_lists_of_problems_and_refused_refrigerants_are_in_spanish(asking: FlaskClient) -> None:
    listed = asking.get("/v1/problems", headers=SPANISH)
    assert listed.headers["Content-Language"] == "es"
    assert [row["title"] for row in listed.json["problems"]][3] == "No existe ese recurso"
    assert listed.json["errors"][-1]["title"].startswith("No se puede leer")
    one = asking.get("/v1/problems/request.not-valid", headers=SPANISH)
    assert one.json["detail"].endswith("No se adivinó ningún valor.")
    refused = asking.get("/v1/refrigerants", headers=SPANISH).json["not_computed"]
    assert all(row["reason"].startswith("la biblioteca de propiedades") for row in refused)


def phrases_of_the_code() -> set[str]:
    """Codes that the source gives to `phrase`, or to tables whose codes it gives to it."""
    found: set[str] = set()
    for file in Path(service.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text())):
            if (
                isinstance(node, ast.Constant)
                and isinstance(node.value, str)
                and node.value in texts("en", "refusals")
            ):
                found.add(node.value)
            elif isinstance(node, ast.Call) and getattr(node.func, "id", "") == "phrase" and node.args:
                first = node.args[0]
                if isinstance(first, ast.Constant):
                    found.add(first.value)
    return found | {row.reason for row in known_but_not_computed()}


def test_every_phrase_of_the_code_has_a_text_and_every_text_is_used() -> None:
    flaws = {"json.duplicate-name", "json.not-a-number", "json.number-out-of-range", "json.lone-surrogate"}
    assert flaws <= phrases_of_the_code()
    assert phrases_of_the_code() == set(texts("en", "refusals"))


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_problem_and_every_code_of_an_error_has_its_words(language: str) -> None:
    assert set(texts(language, "problems")) == set(problem_types())
    assert set(texts(language, "error_codes")) == set(error_codes())


def _parts(of: type, seen: set[type]) -> set[type]:
    if of not in seen:
        seen.add(of)
        for _, declared in declared_members(of):
            if declared.part is not None:
                _parts(declared.part, seen)
    return seen


def test_every_member_of_every_request_has_its_meaning_in_spanish() -> None:
    parts: set[type] = set()
    for request in REQUESTS:
        _parts(request, parts)
    without = [
        f"{of.__name__}.{name}"
        for of in parts
        for name, _ in declared_members(of)
        if not label_of("es", of.__name__, name)
    ]
    without += [name for name in TABLE if not label_of("es", "Units", name)]
    assert without == []


def test_a_number_is_written_alike_in_both_languages() -> None:
    allowed = phrase("range.between", low="-60 degC", high="250 degC")
    assert said(allowed, "en") == "-60 degC to 250 degC"
    assert re.fullmatch(r"-60 degC a 250 degC", said(allowed, "es"))
