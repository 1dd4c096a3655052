"""Golden cases again, over the wire from the real server: of each operation and status one, and the largest.

What an answer says is looked at in-process; the wire can only change how it arrives. All of them: pytest -m long.
"""

import json

import pytest
import requests

from tests.golden import differences, golden_cases, to_run
from tests.wire.serving import served

CASES = dict(golden_cases())


def of_each_kind():
    """The first and the largest request of each operation that is answered with each status."""
    kinds = {}
    for identifier, case in CASES.items():
        kinds.setdefault((case["endpoint"], case["expect"].get("status", 200)), []).append(identifier)
    size = {identifier: len(json.dumps(case["request"])) for identifier, case in CASES.items()}
    chosen = {name for names in kinds.values() for name in (names[0], max(names, key=size.get))}
    return {identifier: case for identifier, case in CASES.items() if identifier in chosen}


FEW = of_each_kind()
REST = {identifier: case for identifier, case in CASES.items() if identifier not in FEW}


@pytest.fixture(scope="module")
def post(tmp_path_factory):
    with (
        served(tmp_path_factory.mktemp("golden"), WEB_CONCURRENCY="1", QUEUE_MILLISECONDS="30000") as running,
        requests.Session() as session,
    ):
        base = f"http://127.0.0.1:{running.port}"
        yield lambda case: session.post(base + case["endpoint"], json=case["request"], timeout=60)


@pytest.mark.parametrize("identifier", to_run(FEW))
def test_golden_case_over_http(post, identifier):
    response = post(CASES[identifier])
    assert differences(CASES[identifier], response.status_code, response.json()) == []


@pytest.mark.long
@pytest.mark.parametrize("identifier", to_run(REST))
def test_every_other_golden_case_over_http(post, identifier):
    test_golden_case_over_http(post, identifier)
