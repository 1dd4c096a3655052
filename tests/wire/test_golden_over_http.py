"""Every golden case again, through the real server and over the wire."""

import pytest
import requests

from tests.golden import differences, golden_cases, to_run
from tests.wire.serving import served

CASES = dict(golden_cases())


@pytest.fixture(scope="module")
def post(tmp_path_factory):
    with (
        served(tmp_path_factory.mktemp("golden"), WEB_CONCURRENCY="1", QUEUE_MILLISECONDS="30000") as running,
        requests.Session() as session,
    ):
        base = f"http://127.0.0.1:{running.port}"
        yield lambda case: session.post(base + case["endpoint"], json=case["request"], timeout=60)


@pytest.mark.parametrize("identifier", to_run(CASES))
def test_golden_case_over_http(post, identifier):
    case = CASES[identifier]
    response = post(case)
    assert differences(case, response.status_code, response.json()) == []
