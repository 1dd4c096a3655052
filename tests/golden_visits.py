"""What a golden visit may expect of a whole answer: each member of `expect` is one small function here.

Each takes what is expected and the body, and gives a line for every difference. A member that stands in no table
is an error of the case, not a check that silently passes.
"""

from collections.abc import Callable, Iterable
from typing import Any

PERMISSIONS = ("may_run", "may_run_watched", "unknown", "keep_off")
Check = Callable[[Any, dict[str, Any]], list[str]]


def _outcome(body: dict[str, Any]) -> dict[str, Any]:
    return body.get("outcome", {})


def _steps(body: dict[str, Any]) -> list[str]:
    return [step["code"] for step in body["next_steps"]]


def _part_codes(parts: Iterable[dict[str, Any]]) -> set[str]:
    return {part["code"] for part in parts}


def needed_parts(body: dict[str, Any]) -> set[str]:
    """Parts the outcome says are needed."""
    return _part_codes(_outcome(body).get("parts", []))


def parts_along(body: dict[str, Any]) -> set[str]:
    """Parts that only go along: of the outcome, or of the load list before anybody is sent."""
    return _part_codes(_outcome(body).get("take_along", [])) | _part_codes(
        body.get("load_list", {}).get("parts", [])
    )


def parts_in_steps(body: dict[str, Any]) -> set[str]:
    """Parts that a step asks for."""
    return {part["code"] for step in body["next_steps"] for part in step["parts"]}


def sold(body: dict[str, Any]) -> set[str]:
    """Every part that the answer puts on the truck, wherever it says so."""
    return needed_parts(body) | parts_along(body) | parts_in_steps(body)


def readings(body: dict[str, Any]) -> list[str]:
    """Pointers of the next readings, best first."""
    return [reading["pointer"] for reading in body["next_readings"]]


def covers(prefix: str, pointers: Iterable[str]) -> bool:
    """Whether a pointer is among those named, or lies under it."""
    return any(pointer == prefix or pointer.startswith(f"{prefix}/") for pointer in pointers)


def words(body: dict[str, Any]) -> str:
    """Every text that is read out at the unit, in lower case."""
    texts: list[str] = []
    for item in (*body.get("findings", []), *body["next_steps"]):
        texts += [value for key, value in item.items() if key in ("title", "headline", "detail", "text")]
    for name in ("summary", "customer_note", "technician_note"):
        texts.append(str(_outcome(body).get(name, "")))
    return " ".join(map(str, texts)).lower()


def _within(wanted: Iterable[str], there: Iterable[str], where: str) -> list[str]:
    there = list(there)
    return [f"{where}: {code} is missing from {there}" for code in wanted if code not in there]


def _without(unwanted: Iterable[str], there: Iterable[str], where: str) -> list[str]:
    there = list(there)
    return [f"{where}: {code} is there" for code in unwanted if code in there]


def _nothing(wanted: Any, there: Iterable[str], where: str) -> list[str]:
    assert wanted is True
    there = sorted(there)
    return [f"{where}: {there} instead of nothing"] if there else []


def _one_of(wanted: list[str], got: str, where: str) -> list[str]:
    return [] if got in wanted else [f"{where}: {got} instead of one of {wanted}"]


def _strictness(body: dict[str, Any]) -> int:
    return PERMISSIONS.index(_outcome(body)["run_permission"])


def _at_least(wanted: str, body: dict[str, Any]) -> list[str]:
    got = _outcome(body)["run_permission"]
    return (
        [] if _strictness(body) >= PERMISSIONS.index(wanted) else [f"permission {got}: less strict than {wanted}"]
    )


def _not_permission(unwanted: str, body: dict[str, Any]) -> list[str]:
    return [f"permission is {unwanted}"] if _outcome(body)["run_permission"] == unwanted else []


def _power_on(wanted: str, body: dict[str, Any]) -> list[str]:
    """`none`: no step has power on; `after_repair`: only what reads the repaired unit."""
    allowed = {"none": (), "after_repair": ("step.read-after-start", "step.full-running-set")}[wanted]
    powered = [step["code"] for step in body["next_steps"] if step["power"] == "on"]
    return [f"power is on in {code}" for code in powered if code not in allowed]


def _asks_for(any_of: list[str], body: dict[str, Any]) -> list[str]:
    """At least one of these is the way on, be it a step or a reading."""
    there = [*_steps(body), *readings(body)]
    return [] if any(covers(item, there) for item in any_of) else [f"asks for none of {any_of}: {there}"]


def _corrected_by(wanted: dict[str, str], body: dict[str, Any]) -> list[str]:
    """What corrects a finding that was established: part, adjustment, or `absent` where readings must tell yet."""
    said = {item["finding"]: item.get("corrected_by", "absent") for item in _outcome(body).get("found", [])}
    differ = ((code, by) for code, by in wanted.items() if said.get(code) != by)
    return [f"{code}: corrected by {said.get(code)} instead of {by}" for code, by in differ]


def _found(body: dict[str, Any]) -> dict[str, bool]:
    return {item["finding"]: item["explains_complaint"] for item in _outcome(body).get("found", [])}


def _beside(codes: list[str], body: dict[str, Any]) -> list[str]:
    """A defect that was found and explains no complaint."""
    found = _found(body)
    return [
        f"found: {code} is {found.get(code)} instead of beside the complaint"
        for code in codes
        if found.get(code) is not False
    ]


def _says(phrases: list[str], body: dict[str, Any]) -> list[str]:
    text = words(body)
    return [f"nowhere says {phrase!r}" for phrase in phrases if phrase not in text]


def _next_readings(wanted: list[str], body: dict[str, Any]) -> list[str]:
    return [
        f"next reading {item} is missing from {readings(body)}"
        for item in wanted
        if not covers(item, readings(body))
    ]


def _not_next_readings(unwanted: list[str], body: dict[str, Any]) -> list[str]:
    return [f"next reading {item} is there" for item in unwanted if covers(item, readings(body))]


def _first_step(body: dict[str, Any]) -> str:
    return next(iter(_steps(body)), "nothing")


CHECKS: dict[str, Check] = {
    "permission_at_least": _at_least,
    "not_permission": _not_permission,
    "power_on": _power_on,
    "asks_for": _asks_for,
    "beside": _beside,
    "says": _says,
    "next_readings": _next_readings,
    "not_next_readings": _not_next_readings,
    "no_readings": lambda wanted, body: _nothing(wanted, readings(body), "next readings"),
    "needed": lambda wanted, body: _within(wanted, needed_parts(body), "needed"),
    "not_needed": lambda wanted, body: _without(wanted, needed_parts(body), "needed"),
    "nothing_needed": lambda wanted, body: _nothing(wanted, needed_parts(body), "needed"),
    "take_along": lambda wanted, body: _within(wanted, parts_along(body), "take along"),
    "not_take_along": lambda wanted, body: _without(wanted, parts_along(body), "take along"),
    "not_sold": lambda wanted, body: _without(wanted, sold(body), "sold"),
    "nothing_sold": lambda wanted, body: _nothing(wanted, sold(body), "sold"),
    "found": lambda wanted, body: _within(wanted, _found(body), "found"),
    "corrected_by": _corrected_by,
    "not_found": lambda wanted, body: _without(wanted, _found(body), "found"),
    "first_reading": lambda wanted, body: _one_of(
        [wanted], next(iter(readings(body)), "nothing"), "first reading"
    ),
    "first_step": lambda wanted, body: _one_of([wanted], _first_step(body), "first step"),
    "first_step_in": lambda wanted, body: _one_of(wanted, _first_step(body), "first step"),
    "causes_first_in": lambda wanted, body: _one_of(wanted, body["causes"][0]["code"], "first cause"),
    "not_causes_first": lambda wanted, body: _without(wanted, [body["causes"][0]["code"]], "first cause"),
}


def visit_differences(expected: dict[str, Any], body: dict[str, Any]) -> list[str]:
    """What the whole answer has otherwise than the visit expects."""
    return [line for name, check in CHECKS.items() if name in expected for line in check(expected[name], body)]
