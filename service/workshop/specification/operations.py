"""The table of operations: one entry an endpoint. A test holds it against the routes of the application."""

from __future__ import annotations

from service.results.saturation import SaturationRequest
from service.schemas import list_shapes, refrigerant_shapes, rule_shapes
from service.workshop.specification.operation import Example, Operation, Parameter, listed, posted, probed
from service.workshop.specification.probe_shapes import AliveShape, ReadyShape, RootShape, VersionShape
from service.workshop.specification.procedure_operations import PROCEDURES
from service.workshop.specification.visit_operations import VISITS

DESIGNATION = Parameter(
    "designation",
    "path",
    "ASHRAE 34 designation; R-410A, R410A and 410a all read.",
    (("type", "string"), ("minLength", 1), ("maxLength", 24)),
    "R-410A",
)
_NUMBER = (("type", "number"), ("format", "double"))
TABLE_QUERY = (
    Parameter("lowest", "query", "Lowest temperature, in the temperature unit.", _NUMBER, 40),
    Parameter("highest", "query", "Highest temperature, in the temperature unit.", _NUMBER, 60),
    Parameter(
        "step",
        "query",
        "Step between two rows, 0.01 to 1000 in the temperature unit; the table has at most 1000 rows.",
        (*_NUMBER, ("minimum", 0.01), ("maximum", 1000), ("default", 5)),
        10,
    ),
    Parameter(
        "temperature_unit",
        "query",
        "Unit of the temperatures.",
        (("type", "string"), ("enum", ["degF", "degC"]), ("default", "degF")),
        "degF",
    ),
    Parameter(
        "pressure_unit",
        "query",
        "Unit of the pressures; gauge pressures at standard sea-level pressure.",
        (
            ("type", "string"),
            ("enum", ["psig", "kPag", "barg", "MPag", "psia", "kPa", "bar"]),
            ("default", "psig"),
        ),
        "psig",
    ),
)
PROBLEM_CODE = Parameter(
    "code",
    "path",
    "Code of the problem, as in `code` of a problem document.",
    (("type", "string"), ("minLength", 1), ("maxLength", 64)),
    "request.not-json",
)

PROPERTIES: tuple[Operation, ...] = (
    posted(
        "/v1/saturation",
        "findSaturation",
        "Properties",
        "Saturation pressures and temperatures",
        "Bubble and dew temperatures at pressures, bubble and dew pressures at temperatures, 1 to 1000 points "
        "of one refrigerant. Each point has exactly one of `pressure` and `temperature`; outside the "
        "refrigerant's range it is refused, never extrapolated.",
        request=SaturationRequest,
        answer=refrigerant_shapes.SaturationAnswer,
        spoken=False,
        examples=(
            Example("pressures", "R-454B, temperatures at pressures", "requests/saturation-pressures.json"),
            Example("temperatures", "R-410A at altitude", "requests/saturation-temperatures.json"),
        ),
    ),
    listed(
        "/v1/refrigerants",
        "listRefrigerants",
        "Properties",
        "Refrigerants",
        "Every refrigerant that can be computed, and those that are refused by name with the reason.",
        answer=refrigerant_shapes.RefrigerantListShape,
        examples=(Example("all", "The list"),),
    ),
    listed(
        "/v1/refrigerants/<designation>",
        "getRefrigerant",
        "Properties",
        "One refrigerant",
        "Composition, safety class, glide, critical point and the range that can be computed.",
        answer=refrigerant_shapes.Refrigerant,
        parameters=(DESIGNATION,),
        problems=(401, 404, 405, 406, 422, 500, 503),
        examples=(
            Example("blend", "R-410A", path=(("designation", "R-410A"),)),
            Example("pure", "R-32, written without a dash", path=(("designation", "r32"),)),
        ),
    ),
    listed(
        "/v1/refrigerants/<designation>/saturation-table",
        "getSaturationTable",
        "Properties",
        "Saturation table of a refrigerant",
        "Bubble and dew pressure by temperature, as JSON or CSV (Accept: text/csv).",
        answer=refrigerant_shapes.SaturationTableShape,
        others=("text/csv",),
        parameters=(DESIGNATION, *TABLE_QUERY),
        problems=(401, 404, 405, 406, 422, 500, 503),
        examples=(
            Example(
                "gauge",
                "R-410A in psig",
                path=(("designation", "R-410A"),),
                query=(("lowest", "40"), ("highest", "60"), ("step", "10")),
            ),
            Example(
                "absolute",
                "R-454B in kPa absolute",
                path=(("designation", "R-454B"),),
                query=(
                    ("lowest", "0"),
                    ("highest", "40"),
                    ("step", "20"),
                    ("temperature_unit", "degC"),
                    ("pressure_unit", "kPa"),
                ),
            ),
        ),
    ),
)


def _code_list(name: str, operation_id: str, answer: type, said: str) -> Operation:
    spoken = name not in ("sources", "problems")
    spanish = (Example("spanish", "The list in Spanish", language="es"),) if spoken else ()
    return listed(
        f"/v1/{name}",
        operation_id,
        "Code lists",
        f"The list of {name}",
        said,
        answer=answer,
        spoken=spoken,
        examples=(Example("all", "The list"), *spanish),
    )


CODE_LISTS: tuple[Operation, ...] = (
    _code_list("findings", "listFindings", list_shapes.FINDINGS, "Every finding code with what it rests on."),
    _code_list(
        "causes",
        "listCauses",
        list_shapes.CAUSES,
        "Every cause code, how often it is met and how it is confirmed.",
    ),
    _code_list(
        "steps", "listSteps", list_shapes.STEPS, "Every step code with its hazards, certificates and minutes."
    ),
    _code_list(
        "readings",
        "listReadings",
        list_shapes.READINGS,
        "Every member of the visit document: what it is, how it is taken, what is accepted in each unit, power "
        "and instrument, and which findings rest on it. A form can be built from this list alone.",
    ),
    _code_list("parts", "listParts", list_shapes.PARTS, "Every part that an answer may name."),
    _code_list("tools", "listTools", list_shapes.TOOLS, "Every tool and instrument that an answer may name."),
    _code_list(
        "certificates", "listCertificates", list_shapes.CERTIFICATES, "Every certificate that a step may ask for."
    ),
    _code_list("questions", "listQuestions", list_shapes.QUESTIONS, "Every question that the intake may ask."),
    _code_list(
        "assumptions", "listAssumptions", list_shapes.ASSUMPTIONS, "Every assumption that an answer may make."
    ),
    _code_list("hazards", "listHazards", list_shapes.HAZARDS, "Every hold, gravest first, then every caution."),
    _code_list("sources", "listSources", list_shapes.SOURCES, "Every limit with its value in SI and who says so."),
    listed(
        "/v1/rules",
        "listRules",
        "Code lists",
        "The list of rules",
        "Every rule held, by place: clause, edition, dates, how it was read and when it is to be read again.",
        answer=rule_shapes.RuleList,
        spoken=True,
        examples=(Example("all", "The list"), Example("spanish", "The list in Spanish", language="es")),
    ),
    _code_list("problems", "listProblems", list_shapes.PROBLEMS, "Every type of problem and every error code."),
    listed(
        "/v1/problems/<code>",
        "getProblem",
        "Code lists",
        "One type of problem",
        "What the `type` of a problem document resolves to.",
        answer=list_shapes.ProblemType,
        parameters=(PROBLEM_CODE,),
        problems=(401, 404, 405, 406, 422, 500, 503),
        examples=(
            Example("not-json", "The body is not JSON", path=(("code", "request.not-json"),)),
            Example("not-valid", "A value cannot be used", path=(("code", "request.not-valid"),)),
        ),
    ),
)
OPERATING: tuple[Operation, ...] = (
    probed(
        "/livez",
        "showAlive",
        "The process answers",
        "Does no work.",
        answer=AliveShape,
        examples=(Example("alive", "Alive"),),
    ),
    probed(
        "/readyz",
        "showReady",
        "The service can give correct answers",
        "One known sum; 503 while stopping.",
        answer=ReadyShape,
        problems=(405, 500, 503),
        examples=(Example("ready", "Ready"),),
    ),
    probed(
        "/version",
        "showVersion",
        "What is running",
        "Service, commit, edition of the knowledge, origin of the property tables.",
        answer=VersionShape,
        examples=(Example("version", "Versions"),),
    ),
    probed(
        "/metrics",
        "showMetrics",
        "Counters of all workers",
        "In the text format that Prometheus reads.",
        media="text/plain",
    ),
)
CONTRACT: tuple[Operation, ...] = (
    listed(
        "/",
        "showRoot",
        "Contract",
        "Where everything is",
        "Links to the documentation, the contract and the first resources; a browser is led to /docs (302).",
        answer=RootShape,
        problems=(405, 406, 422, 500, 503),
        without_key=True,
        examples=(Example("links", "The links"),),
    ),
    listed(
        "/openapi.json",
        "showContract",
        "Contract",
        "This document",
        "The OpenAPI document, byte for byte as it is released.",
        problems=(405, 406, 422, 500, 503),
        without_key=True,
    ),
    listed(
        "/docs",
        "showReference",
        "Contract",
        "The API reference as a page",
        "Made from this document, with every operation to be tried; needs nothing from elsewhere.",
        media="text/html",
        problems=(405, 406, 422, 500, 503),
        without_key=True,
    ),
    listed(
        "/docs/guide",
        "showGuide",
        "Contract",
        "The guide to verdicts and steps as a page",
        "Holds, findings with what follows from each verdict, causes, steps and cautions.",
        media="text/html",
        problems=(405, 406, 422, 500, 503),
        spoken=True,
        without_key=True,
    ),
)
OPERATIONS: tuple[Operation, ...] = (*VISITS, *PROCEDURES, *PROPERTIES, *CODE_LISTS, *CONTRACT, *OPERATING)
