"""GET /v1/findings, causes, steps, readings, parts ...: the code lists, in the caller's language."""

from collections.abc import Mapping
from typing import Any, TypeVar

from flask import Blueprint, Response

from service.knowledge import catalogues
from service.knowledge.limits import all_limits
from service.knowledge.rule_book import book
from service.library.provenance import provenance
from service.results.planned import Minutes
from service.results.units import inside_code
from service.schemas.lists import codes
from service.schemas.lists.readings import QuestionList, ReadingList
from service.schemas.question_list import question_list
from service.schemas.reading_list import reading_list
from service.wire.listing import code_list, listed
from service.wire.reading import language
from service.words.locale import texts
from service.words.say import Speaker, plain_speaker

BLUEPRINT = Blueprint("catalogues", __name__)
CERTIFICATE = "certificate."
FIRST = "1.0.0"
"""The contract that brought what has no row of its own."""
Judged = TypeVar("Judged", bound=codes.CodeRow)


def _cited(basis: str, source: str) -> str:
    return f"{source} ({basis})" if source and basis not in ("published", "restated") else source or basis


def _judged(
    of: type[Judged], say: Speaker, kind: str, row: catalogues.FindingRow | catalogues.CautionRow
) -> Judged:
    """A row whose severity and source stand in its own file."""
    title = say.title(kind, row.code)
    return of(row.code, title, str(row.severity), _cited(row.basis, row.source), row.since)


@BLUEPRINT.get("/v1/findings")
@code_list("listFindings", codes.FindingList)
def list_findings() -> Response:
    """The list of findings.

    Every finding code with what it rests on.
    """
    return listed(_findings, language())


def _findings(spoken: str) -> codes.FindingList:
    say = plain_speaker(spoken)
    rows = (_judged(codes.FindingRow, say, "findings", row) for row in catalogues.findings().values())
    return codes.FindingList(tuple(rows), provenance())


@BLUEPRINT.get("/v1/causes")
@code_list("listCauses", codes.CauseList)
def list_causes() -> Response:
    """The list of causes.

    Every cause code, how often it is met and how it is confirmed.
    """
    return listed(_causes, language())


def _causes(spoken: str) -> codes.CauseList:
    say = plain_speaker(spoken)
    rows = (
        codes.CauseRow(
            code=row.code,
            title=say.title("causes", row.code),
            severity="critical" if row.condemns else "warning",
            source=row.basis,
            since=row.since,
            prior=row.prior,
            confirm_by=row.confirm_by,
        )
        for row in catalogues.causes().values()
    )
    return codes.CauseList(tuple(rows), provenance())


@BLUEPRINT.get("/v1/steps")
@code_list("listSteps", codes.StepList)
def list_steps() -> Response:
    """The list of steps.

    Every step code with its hazards, certificates and minutes.
    """
    return listed(_steps, language())


def _steps(spoken: str) -> codes.StepList:
    say = plain_speaker(spoken)
    rows = (
        codes.StepRow(
            code=row.code,
            title=say.title("steps", row.code),
            severity="info",
            source="common practice",
            since=row.since,
            power=row.power,
            certificates=row.certificates,
            hazards=row.hazards,
            minutes=Minutes(row.low, row.high),
        )
        for row in catalogues.steps().values()
    )
    return codes.StepList(tuple(rows), provenance())


@BLUEPRINT.get("/v1/hazards")
@code_list("listHazards", codes.HazardList)
def list_hazards() -> Response:
    """The list of hazards.

    Every hold, most serious first, then every caution.
    """
    return listed(_hazards, language())


def _hazards(spoken: str) -> codes.HazardList:
    say = plain_speaker(spoken)
    holds = (
        codes.HazardRow(
            code=row.code,
            title=say.title("holds", row.code),
            severity="critical" if row.unsafe else "warning",
            source="common practice",
            since=row.since,
        )
        for row in catalogues.holds().values()
    )
    cautions = (_judged(codes.HazardRow, say, "cautions", row) for row in catalogues.cautions().values())
    return codes.HazardList((*holds, *cautions), provenance())


@BLUEPRINT.get("/v1/sources")
@code_list("listSources", codes.SourceList, spoken=False)
def list_sources() -> Response:
    """The list of sources.

    Every limit with its value in SI and who says so.
    """
    return listed(_sources)


def _sources(_: str) -> codes.SourceList:
    rows = (
        codes.SourceRow(
            code=row.code,
            title=row.code.replace(".", ": ").replace("-", " "),
            severity="info",
            source=row.cited,
            since=FIRST,
            value=row.value,
            quantity=row.kind,
            unit=inside_code(row.kind),
        )
        for row in all_limits().values()
    )
    return codes.SourceList(tuple(rows), provenance())


def _users(rows: Mapping[str, Any], member: str) -> dict[str, tuple[str, ...]]:
    """Code of a part, tool or certificate -> codes of the rows that name it in a member."""
    found: dict[str, list[str]] = {}
    for code, row in rows.items():
        for used in getattr(row, member):
            found.setdefault(used, []).append(code)
    return {used: tuple(naming) for used, naming in found.items()}


@BLUEPRINT.get("/v1/readings")
@code_list("listReadings", ReadingList)
def list_readings() -> Response:
    """The list of readings.

    Every member of the visit document: what it is, how it is taken, what is accepted in each unit, power and
    instrument, and which findings rest on it. A form can be built from this list alone.
    """
    return listed(_readings, language())


def _readings(spoken: str) -> ReadingList:
    return ReadingList(reading_list(spoken), provenance())


@BLUEPRINT.get("/v1/parts")
@code_list("listParts", codes.PartList)
def list_parts() -> Response:
    """The list of parts.

    Every part that an answer may name.
    """
    return listed(_parts, language())


def _parts(spoken: str) -> codes.PartList:
    say = plain_speaker(spoken)
    steps, causes = _users(catalogues.steps(), "parts"), _users(catalogues.causes(), "parts")
    rows = (
        codes.PartRow(
            row.code, say.title("parts", row.code), row.since, steps.get(row.code, ()), causes.get(row.code, ())
        )
        for row in catalogues.parts().values()
    )
    return codes.PartList(tuple(rows), provenance())


@BLUEPRINT.get("/v1/tools")
@code_list("listTools", codes.ToolList)
def list_tools() -> Response:
    """The list of tools.

    Every tool and instrument that an answer may name.
    """
    return listed(_tools, language())


def _tools(spoken: str) -> codes.ToolList:
    say, steps = plain_speaker(spoken), _users(catalogues.steps(), "tools")
    rows = (
        codes.ToolRow(code, say.title("tools", code), FIRST, steps.get(code, ())) for code in texts("en", "tools")
    )
    return codes.ToolList(tuple(rows), provenance())


def _roles() -> list[str]:
    return [name.removeprefix(CERTIFICATE) for name in texts("en", "report") if name.startswith(CERTIFICATE)]


def _named_certificates() -> list[str]:
    """Certificates by which the rules of places name a role."""
    rules = (rule for rule in book().rules.values() if rule.topic == "certificate")
    return list(dict.fromkeys(rule.thresholds["certificate"] for rule in rules))


@BLUEPRINT.get("/v1/certificates")
@code_list("listCertificates", codes.CertificateList)
def list_certificates() -> Response:
    """The list of certificates.

    Every certificate that a step may ask for.
    """
    return listed(_certificates, language())


def _certificates(spoken: str) -> codes.CertificateList:
    say, steps = plain_speaker(spoken), _users(catalogues.steps(), "certificates")
    rows = (
        codes.CertificateRow(code, say.title("report", f"{CERTIFICATE}{code}"), FIRST, steps.get(code, ()))
        for code in (*_roles(), *_named_certificates())
    )
    return codes.CertificateList(tuple(rows), provenance())


@BLUEPRINT.get("/v1/questions")
@code_list("listQuestions", QuestionList)
def list_questions() -> Response:
    """The list of questions.

    Every question that the intake may ask.
    """
    return listed(_questions, language())


def _questions(spoken: str) -> QuestionList:
    return QuestionList(question_list(spoken), provenance())


@BLUEPRINT.get("/v1/assumptions")
@code_list("listAssumptions", codes.AssumptionList)
def list_assumptions() -> Response:
    """The list of assumptions.

    Every assumption that an answer may make.
    """
    return listed(_assumptions, language())


def _assumptions(spoken: str) -> codes.AssumptionList:
    rows = (codes.AssumptionRow(code, said, FIRST) for code, said in texts(spoken, "assumptions").items())
    return codes.AssumptionList(tuple(rows), provenance())
