"""Golden cases: data files that are posted in-process and over HTTP and compared with what they expect."""

import json
import os
import pickle
from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
import yaml

from tests.golden_visits import CHECKS, visit_differences

if TYPE_CHECKING:
    from flask.testing import FlaskClient

CASES = Path(__file__).parent / "cases"
SAMPLES = Path(__file__).parents[1] / "samples"
ABSENT = "absent"
LISTS = ("holds", "cautions", "steps", "parts", "assumptions")
MEMBERS = {"status", "computed", "body", "findings", "outcome", "causes_first", "errors", *CHECKS}
MEMBERS |= {f"{denied}{name}" for name in LISTS for denied in ("", "not_")}


def golden_cases() -> Iterator[tuple[str, dict[str, Any]]]:
    """(identifier, case) of every case that posts to an endpoint; `sample` names a file of samples/ to post."""
    yield from ((name, case) for name, case in _every_case() if "endpoint" in case)


def golden_reads() -> Iterator[tuple[str, dict[str, Any]]]:
    """(identifier, case) of every case that is a GET: `read` is its path with its query."""
    yield from ((name, case) for name, case in _every_case() if "read" in case)


def _every_case() -> list[tuple[str, dict[str, Any]]]:
    """A copy of its own for everybody who asks."""
    cases: list[tuple[str, dict[str, Any]]] = pickle.loads(_parsed())
    return cases


@cache
def _parsed() -> bytes:
    """The files are parsed once in a process: a dozen test modules ask for them, and each time costs seconds."""
    found = []
    for file in sorted(CASES.rglob("*.yaml")):
        for case in yaml.load(file.read_bytes(), yaml.CSafeLoader):
            if "sample" in case:
                case["request"] = json.loads((SAMPLES / case["sample"]).read_text(encoding="utf-8"))
            found.append((f"{file.relative_to(CASES).with_suffix('')}:{case['name']}", case))
    return pickle.dumps(found)


class GoldenAnswers:
    """Answers to golden cases, by identifier: each is asked for once in a run of the tests, whoever looks at it.

    A file for each lies in a folder that the processes of one run share. Every look gives an answer of its own.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def __call__(self, identifier: str) -> tuple[int, dict[str, Any]]:
        """Status and body."""
        file = self._folder / f"{sha256(identifier.encode()).hexdigest()}.json"
        if not file.exists():
            case = _cases()[identifier]
            response = _client().post(case["endpoint"], json=case["request"])
            written = file.with_suffix(f".{os.getpid()}")
            written.write_bytes(b"%d\n%s" % (response.status_code, response.get_data()))
            written.replace(file)
        status, _, body = file.read_bytes().partition(b"\n")
        return int(status), json.loads(body)


@cache
def _cases() -> dict[str, dict[str, Any]]:
    return dict(golden_cases())


@cache
def _client() -> "FlaskClient":
    from service.app import create_app  # here, since most tests of an area need neither it nor its second

    return create_app().test_client()


def to_run(cases: dict[str, dict[str, Any]]) -> list[Any]:
    """Identifiers as parameters; a case marked `pending` waits for the reasoning, and may pass before."""
    waits = pytest.mark.xfail(reason="pending: the trade says otherwise than the answer", strict=False)
    return [pytest.param(name, marks=waits if case.get("pending") else ()) for name, case in cases.items()]


def differences(case: dict[str, Any], status: int, body: dict[str, Any]) -> list[str]:
    """What an answer has otherwise than the case expects; empty when all is as expected."""
    expected = case["expect"]
    unknown = set(expected) - MEMBERS
    assert not unknown, f"a case expects what nothing checks: {sorted(unknown)}"
    wanted_status = expected.get("status", 200)
    if status != wanted_status:
        return [f"status {status} instead of {wanted_status}: {body}"]
    found = [
        *_numbers(expected.get("computed", {}), body.get("computed", {}), float(case["tolerance"]), "computed")
    ]
    found += _numbers(expected.get("body", {}), body, float(case["tolerance"]), "body")
    found += _findings(expected.get("findings", {}), body)
    found += _outcome(expected.get("outcome", {}), body)
    if "causes_first" in expected and body["causes"][0]["code"] != expected["causes_first"]:
        found.append(f"first cause {body['causes'][0]} instead of {expected['causes_first']}")
    for error in expected.get("errors", []):
        if error not in [(item["pointer"]) for item in body["errors"]]:
            found.append(f"no error at {error}: {body['errors']}")
    return [*found, *_lists(expected, body), *visit_differences(expected, body)]


def _numbers(expected: Any, actual: Any, tolerance: float, where: str) -> list[str]:
    if expected == ABSENT:
        return []
    if isinstance(expected, dict):
        found = []
        for name, value in expected.items():
            if _is_choice(value):
                got = actual.get(name, ABSENT) if isinstance(actual, dict) else ABSENT
                found += [] if got in value else [f"{where}.{name}: {got!r} instead of one of {value}"]
            elif value == ABSENT:
                found += [f"{where}.{name} is there"] if isinstance(actual, dict) and name in actual else []
            elif isinstance(value, dict) and isinstance(actual, dict) and name not in actual and _may_lack(value):
                continue
            elif not isinstance(actual, dict) or name not in actual:
                found.append(f"{where}.{name} is missing")
            else:
                found += _numbers(value, actual[name], tolerance, f"{where}.{name}")
        return found
    if isinstance(expected, list):
        if not isinstance(actual, list) or len(actual) != len(expected):
            return [f"{where}: {actual} instead of {expected}"]
        return [
            line
            for index, item in enumerate(expected)
            for line in _numbers(item, actual[index], tolerance, f"{where}[{index}]")
        ]
    value = actual["value"] if isinstance(actual, dict) and "value" in actual else actual
    if isinstance(expected, bool | str) or isinstance(value, str):
        return [] if value == expected else [f"{where}: {value!r} instead of {expected!r}"]
    return (
        []
        if abs(value - expected) <= tolerance * (1 + 1e-12)
        else [f"{where}: {value} instead of {expected} ± {tolerance}"]
    )


def _is_choice(expected: Any) -> bool:
    """Whether a list names texts of which one must be there (`absent` among them)."""
    return isinstance(expected, list) and bool(expected) and all(isinstance(item, str) for item in expected)


def _may_lack(expected: dict[str, Any]) -> bool:
    """Whether a group of members need not be there at all."""
    return all(value == ABSENT or (_is_choice(value) and ABSENT in value) for value in expected.values())


def _findings(expected: dict[str, str], body: dict[str, Any]) -> list[str]:
    states: dict[str, list[str]] = {}
    for finding in body.get("findings", []):
        states.setdefault(finding["code"], []).append(finding["state"])
    found = []
    for code, state in expected.items():
        if state == ABSENT:
            found += [f"finding {code} is there"] if code in states else []
        elif state not in states.get(code, []):
            found.append(f"finding {code}: {states.get(code)} instead of {state}; there are {sorted(states)}")
    return found


def _outcome(expected: dict[str, Any], body: dict[str, Any]) -> list[str]:
    outcome = body.get("outcome", {})
    return [
        f"outcome.{name}: {outcome.get(name)} instead of {value}"
        for name, value in expected.items()
        if (outcome.get(name) not in value if _is_choice(value) else outcome.get(name) != value)
    ]


def _codes(body: dict[str, Any], name: str) -> set[str]:
    if name == "parts":
        return {part["code"] for step in body["next_steps"] for part in step["parts"]}
    return {item["code"] for item in body["next_steps" if name == "steps" else name]}


def _lists(expected: dict[str, Any], body: dict[str, Any]) -> list[str]:
    found = []
    for name in LISTS:
        for code in expected.get(name, []):
            found += (
                []
                if code in _codes(body, name)
                else [f"{name}: {code} is missing from {sorted(_codes(body, name))}"]
            )
        for code in expected.get(f"not_{name}", []):
            found += [f"{name}: {code} is there"] if code in _codes(body, name) else []
    return found
