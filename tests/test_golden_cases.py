"""Every golden case, in-process; tests/wire runs them over HTTP."""

import pytest

from service.app import create_app
from tests.golden import differences, golden_cases

CASES = dict(golden_cases())


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


@pytest.mark.parametrize("identifier", CASES)
def test_golden_case(client, identifier):
    case = CASES[identifier]
    response = client.post(case["endpoint"], json=case["request"])
    assert differences(case, response.status_code, response.get_json(force=True)) == []


@pytest.mark.parametrize("identifier", CASES)
def test_golden_case_says_where_it_comes_from(identifier):
    case = CASES[identifier]
    assert case["source"]
    assert case["tolerance_reason"]
