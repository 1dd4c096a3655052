"""Each example of the contract is a golden case: a stranger copies only what is held by a test with its source."""

import json
from typing import Any
from urllib.parse import urlencode

import pytest

from service.app import create_app
from service.workshop.specification.asking import request_of
from service.workshop.specification.operation import NDJSON, operations
from tests.golden import golden_cases, golden_reads
from tests.guard import nothing_found

POSTED = [(case["endpoint"], case["request"]) for _, case in golden_cases()]
READ = {case["read"] for _, case in golden_reads()}
VISITS = [request for endpoint, request in POSTED if endpoint == "/v1/assessment"]
EXAMPLES = [
    pytest.param(operation, example, id=f"{operation.operation_id}-{example.name}")
    for operation in operations()
    for example in operation.examples
]


SHOWING = ("/v1/chart", "/v1/note", "/v1/customer-page")


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


def _as_lines(operation, example):
    """The same example as newline-delimited JSON."""
    return next(item for item in operation.described.other_examples if item.name == example.name)


def held(path: str, request: Any) -> bool:
    """A chart or a page shows a visit; the visit is held where it is judged."""
    return (path, request) in POSTED or (path in SHOWING and any(request == held for _, held in POSTED))


@pytest.mark.parametrize(("operation", "example"), EXAMPLES)
def test_an_example_is_a_golden_case(client, operation, example):
    if operation.method == "GET":
        path = operation.template.format(**dict(example.path))
        query = f"?{urlencode(example.query)}" if example.query else ""
        assert not (example.path or example.query) or path + query in READ
    elif operation.described.other_request_media == NDJSON:
        lines = [json.loads(line) for line in filter(None, request_of(_as_lines(operation, example)).splitlines())]
        assert request_of(example) == {"visits": lines}
        for document in lines:
            assert document in VISITS or client.post("/v1/assessment", json=document).status_code == 422
    else:
        unheld = [] if held(operation.path, request_of(example)) else [f"samples/{example.body}: {operation.path}"]
        mend = "write it as a golden case with its source in tests/cases/samples (`sample:` names the file)"
        nothing_found(unheld, mend, "contract/test_examples.py")
