"""The golden cases of tests/cases/electrical, at the checks themselves; over HTTP they run elsewhere."""

import pytest

from service.checks.electrical.bench import check_electrical
from service.knowledge.catalogues import findings as rows
from service.results.declare import declared_members
from service.results.quantity import Quantity
from service.results.units import Units, written
from service.results.visit import Visit
from service.schemas.documents import load
from tests.golden import ABSENT, differences, golden_cases

CASES = {name: case for name, case in golden_cases() if name.startswith("electrical/")}
OF_OTHERS = {code for code in rows() if code.startswith("refrigerant.")}


def plain(value):
    """Computed members as the golden cases write them: numbers in degC and megohms, absent members left out."""
    if isinstance(value, Quantity):
        return written(value.value, value.kind, Units(temperature="degC"), 0.0)
    if isinstance(value, tuple):
        return [plain(item) for item in value]
    if value is None or isinstance(value, str):
        return value
    return {
        name: plain(item)
        for name, _ in declared_members(type(value))
        if (item := getattr(value, name)) is not None
    }


@pytest.mark.parametrize("name", CASES)
def test_case(name):
    case = CASES[name]
    checked = check_electrical(load(Visit, case["request"]))
    expect = case["expect"]
    own = {code: state for code, state in expect.get("findings", {}).items() if code not in OF_OTHERS}
    wanted = {
        "findings": own,
        "computed": expect.get("computed", {}),
        "assumptions": expect.get("assumptions", []),
    }
    body = {
        "findings": [{"code": item.code, "state": str(item.state)} for item in checked.findings],
        "computed": {"electrical": plain(checked.computed)},
        "assumptions": [{"code": item.code} for item in checked.assumptions],
    }
    assert differences({**case, "expect": wanted}, 200, body) == []


def test_absent_is_what_the_cases_write():
    assert any(ABSENT in case["expect"].get("findings", {}).values() for case in CASES.values())
