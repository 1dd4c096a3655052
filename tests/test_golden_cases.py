"""Every golden case, in-process; tests/wire runs them over HTTP."""

import pytest

from service.app import create_app
from tests.golden import differences, golden_cases, golden_reads, to_run

CASES = dict(golden_cases())
READS = dict(golden_reads())


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


@pytest.mark.parametrize("identifier", to_run(CASES))
def test_golden_case(client, identifier):
    case = CASES[identifier]
    response = client.post(case["endpoint"], json=case["request"])
    assert differences(case, response.status_code, response.get_json(force=True)) == []


@pytest.mark.parametrize("identifier", READS)
def test_golden_read(client, identifier):
    case = READS[identifier]
    response = client.get(case["read"])
    assert differences(case, response.status_code, response.get_json()) == []


@pytest.mark.parametrize("identifier", CASES | READS)
def test_golden_case_says_where_it_comes_from(identifier):
    case = (CASES | READS)[identifier]
    assert case["source"]
    assert case["tolerance_reason"]
