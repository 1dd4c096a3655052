"""GET /v1/findings, causes, steps, readings, parts ...: the code lists, in the caller's language."""

from collections.abc import Callable, Mapping
from typing import Any

from flask import Blueprint, Response

from service.knowledge import catalogues
from service.knowledge.limits import all_limits
from service.knowledge.questions import question_rows
from service.knowledge.rule_book import book
from service.library.provenance import provenance
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.schemas import list_shapes
from service.schemas.question_list import question_answers
from service.schemas.reading_list import reading_list
from service.wire.described import Example, View, described
from service.wire.reading import language
from service.wire.responding import catalogue
from service.words.locale import texts
from service.words.say import Speaker

BLUEPRINT = Blueprint("catalogues", __name__)
CERTIFICATE = "certificate."


def code_list(operation_id: str, answer: type, *, spoken: bool = True) -> Callable[[View], View]:
    """Describe a code list; one in words is shown in Spanish, too."""
    spanish = (Example("spanish", "The list in Spanish", language="es"),) if spoken else ()
    examples = (Example("all", "The list"), *spanish)
    return described(operation_id, "Code lists", answer=answer, spoken=spoken, examples=examples)


def _answer(name: str, rows: list[dict[str, Any]], spoken: str) -> Response:
    return catalogue({name: rows, "provenance": provenance()}, language=spoken)


def _speaker() -> Speaker:
    return Speaker(Units(), STANDARD_ATMOSPHERE, language())


def _cited(basis: str, source: str) -> str:
    return f"{source} ({basis})" if source and basis not in ("published", "restated") else source or basis


def _judged(say: Speaker, folder: str, row: catalogues.FindingRow | catalogues.CautionRow) -> dict[str, Any]:
    """A row whose severity and source stand in its own file."""
    return {
        "code": row.code,
        "title": say.title(folder, row.code),
        "severity": str(row.severity),
        "source": _cited(row.basis, row.source),
        "since": row.since,
    }


@BLUEPRINT.get("/v1/findings")
@code_list("listFindings", list_shapes.FINDINGS)
def list_findings() -> Response:
    """The list of findings.

    Every finding code with what it rests on.
    """
    say = _speaker()
    rows = [_judged(say, "findings", row) for row in catalogues.findings().values()]
    return _answer("findings", rows, say.language)


@BLUEPRINT.get("/v1/causes")
@code_list("listCauses", list_shapes.CAUSES)
def list_causes() -> Response:
    """The list of causes.

    Every cause code, how often it is met and how it is confirmed.
    """
    say = _speaker()
    rows = [
        {
            "code": row.code,
            "title": say.title("causes", row.code),
            "severity": "critical" if row.condemns else "warning",
            "prior": row.prior,
            "confirm_by": list(row.confirm_by),
            "source": row.basis,
            "since": row.since,
        }
        for row in catalogues.causes().values()
    ]
    return _answer("causes", rows, say.language)


@BLUEPRINT.get("/v1/steps")
@code_list("listSteps", list_shapes.STEPS)
def list_steps() -> Response:
    """The list of steps.

    Every step code with its hazards, certificates and minutes.
    """
    say = _speaker()
    rows = [
        {
            "code": row.code,
            "title": say.title("steps", row.code),
            "severity": "info",
            "power": row.power,
            "certificates": list(row.certificates),
            "hazards": list(row.hazards),
            "minutes": {"low": row.low, "high": row.high},
            "source": "common practice",
            "since": row.since,
        }
        for row in catalogues.steps().values()
    ]
    return _answer("steps", rows, say.language)


@BLUEPRINT.get("/v1/hazards")
@code_list("listHazards", list_shapes.HAZARDS)
def list_hazards() -> Response:
    """The list of hazards.

    Every hold, gravest first, then every caution.
    """
    say = _speaker()
    cautions = [_judged(say, "cautions", row) for row in catalogues.cautions().values()]
    holds = [
        {
            "code": row.code,
            "title": say.title("holds", row.code),
            "severity": "critical" if row.unsafe else "warning",
            "source": "common practice",
            "since": row.since,
        }
        for row in catalogues.holds().values()
    ]
    return _answer("hazards", holds + cautions, say.language)


@BLUEPRINT.get("/v1/sources")
@code_list("listSources", list_shapes.SOURCES, spoken=False)
def list_sources() -> Response:
    """The list of sources.

    Every limit with its value in SI and who says so.
    """
    rows = [
        {
            "code": row.code,
            "title": row.code.replace(".", ": ").replace("-", " "),
            "severity": "info",
            "value": row.value,
            "kind": row.kind,
            "source": row.cited,
            "since": "1.0.0",
        }
        for row in all_limits().values()
    ]
    return _answer("sources", rows, "en")


def _users(rows: Mapping[str, Any], member: str) -> dict[str, list[str]]:
    """Code of a part, tool or certificate -> codes of the rows that name it in a member."""
    found: dict[str, list[str]] = {}
    for code, row in rows.items():
        for used in getattr(row, member):
            found.setdefault(used, []).append(code)
    return found


@BLUEPRINT.get("/v1/readings")
@code_list("listReadings", list_shapes.READINGS)
def list_readings() -> Response:
    """The list of readings.

    Every member of the visit document: what it is, how it is taken, what is accepted in each unit, power and
    instrument, and which findings rest on it. A form can be built from this list alone.
    """
    spoken = language()
    return _answer("readings", list(reading_list(spoken)), spoken)


@BLUEPRINT.get("/v1/parts")
@code_list("listParts", list_shapes.PARTS)
def list_parts() -> Response:
    """The list of parts.

    Every part that an answer may name.
    """
    say = _speaker()
    steps, causes = _users(catalogues.steps(), "parts"), _users(catalogues.causes(), "parts")
    rows = [
        {
            "code": code,
            "title": say.title("parts", code),
            "steps": steps.get(code, []),
            "causes": causes.get(code, []),
            "since": "1.0.0",
        }
        for code in texts("en", "parts")
    ]
    return _answer("parts", rows, say.language)


@BLUEPRINT.get("/v1/tools")
@code_list("listTools", list_shapes.TOOLS)
def list_tools() -> Response:
    """The list of tools.

    Every tool and instrument that an answer may name.
    """
    say, steps = _speaker(), _users(catalogues.steps(), "tools")
    rows = [
        {"code": code, "title": say.title("tools", code), "steps": steps.get(code, []), "since": "1.0.0"}
        for code in texts("en", "tools")
    ]
    return _answer("tools", rows, say.language)


def _roles() -> list[str]:
    return [name.removeprefix(CERTIFICATE) for name in texts("en", "report") if name.startswith(CERTIFICATE)]


def _named_certificates() -> list[str]:
    """Certificates by which the rules of places name a role."""
    rules = (rule for rule in book().rules.values() if rule.topic == "certificate")
    return list(dict.fromkeys(rule.thresholds["certificate"] for rule in rules))


@BLUEPRINT.get("/v1/certificates")
@code_list("listCertificates", list_shapes.CERTIFICATES)
def list_certificates() -> Response:
    """The list of certificates.

    Every certificate that a step may ask for.
    """
    say, steps = _speaker(), _users(catalogues.steps(), "certificates")
    rows = [
        {
            "code": code,
            "title": say.title("report", f"{CERTIFICATE}{code}"),
            "steps": steps.get(code, []),
            "since": "1.0.0",
        }
        for code in (*_roles(), *_named_certificates())
    ]
    return _answer("certificates", rows, say.language)


@BLUEPRINT.get("/v1/questions")
@code_list("listQuestions", list_shapes.QUESTIONS)
def list_questions() -> Response:
    """The list of questions.

    Every question that the intake may ask.
    """
    say = _speaker()
    answers = question_answers(say.language)
    rows = [
        {
            "code": row.code,
            "title": say.text("questions", row.code)["text"],
            "why": say.text("questions", row.code)["why"],
            "safety": row.safety,
            **answers[row.code],
            "since": "1.0.0",
        }
        for row in question_rows().values()
    ]
    return _answer("questions", rows, say.language)


@BLUEPRINT.get("/v1/assumptions")
@code_list("listAssumptions", list_shapes.ASSUMPTIONS)
def list_assumptions() -> Response:
    """The list of assumptions.

    Every assumption that an answer may make.
    """
    spoken = language()
    rows = [{"code": code, "title": say, "since": "1.0.0"} for code, say in texts(spoken, "assumptions").items()]
    return _answer("assumptions", rows, spoken)
