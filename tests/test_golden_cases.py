"""Every golden case, in-process; tests/wire runs them over HTTP."""

import pytest

from service.app import create_app
from tests.golden import differences, golden_cases, golden_reads, to_run
from tests.guard import nothing_found

CASES = dict(golden_cases())
READS = dict(golden_reads())


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


@pytest.mark.parametrize("identifier", to_run(CASES))
def test_golden_case(golden_answer, identifier):
    assert differences(CASES[identifier], *golden_answer(identifier)) == []


@pytest.mark.parametrize("identifier", READS)
def test_golden_read(client, identifier):
    case = READS[identifier]
    response = client.get(case["read"])
    assert differences(case, response.status_code, response.get_json()) == []


def test_golden_cases_say_where_they_come_from():
    silent = [
        f"tests/cases/{identifier}: no {member}"
        for identifier, case in (CASES | READS).items()
        for member in ("source", "tolerance_reason")
        if not case[member]
    ]
    nothing_found(silent, "name the source; what is common practice says so", "test_golden_cases.py")
