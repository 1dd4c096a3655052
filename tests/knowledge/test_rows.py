"""The loader refuses knowledge that does not say where it comes from."""

import subprocess
import sys
from pathlib import Path
from typing import Literal

import pytest

from service.knowledge import catalogues, limits, readings, row_files, rows
from service.knowledge.complaint_checks import checks_called_for
from service.knowledge.exclusions import exclusions, states
from service.knowledge.row_types import catalogue
from service.knowledge.rows import KnowledgeError, check_basis
from service.workshop.specification import limit_codes

GOOD = {"code": "a.b", "value": 1, "unit": "V", "kind": "volts", "basis": "common practice"}


def with_rows(monkeypatch, content):
    monkeypatch.setattr(rows, "rows", lambda _folder: iter(content))
    for made in (limits.file_rows, limits.limit_tables):
        made.cache_clear()


@pytest.fixture(autouse=True)
def read_again():
    """What a test put in the place of the rows is not kept."""
    yield
    for made in (limits.file_rows, limits.limit_tables):
        made.cache_clear()


@pytest.mark.parametrize(
    "change",
    [
        {"basis": None},
        {"basis": "hearsay"},
        {"basis": "published"},
        {"basis": "from memory"},
        {"kind": "furlongs"},
        {"unit": "kV"},
        {"value": None},
        {"surprise": 1},
        {"code": None},
    ],
)
def test_a_limit_without_source_or_with_unknown_members_is_refused(monkeypatch, change):
    with_rows(monkeypatch, [GOOD | change])
    with pytest.raises(KnowledgeError):
        limits.all_limits.__wrapped__()


def test_a_temperature_limit_in_a_pressure_unit_is_refused(monkeypatch):
    with_rows(monkeypatch, [GOOD | {"kind": "temperature", "unit": "psig"}])
    with pytest.raises(KnowledgeError):
        limits.all_limits.__wrapped__()


def test_a_code_given_twice_is_refused(monkeypatch):
    with_rows(monkeypatch, [GOOD, GOOD])
    with pytest.raises(KnowledgeError):
        limits.all_limits.__wrapped__()


def test_a_limit_is_in_si_and_says_who_says_so(monkeypatch):
    with_rows(
        monkeypatch,
        [
            GOOD | {"kind": "temperature_difference", "unit": "degF", "value": 9},
            GOOD | {"code": "a.c", "basis": "published", "source": "Book", "edition": "2020"},
            GOOD | {"code": "a.d", "basis": "from memory", "source": "Book"},
        ],
    )
    found = limits.all_limits.__wrapped__()
    assert found["a.b"].value == pytest.approx(5.0)
    assert (found["a.b"].cited, found["a.b"].origin) == ("common practice, no source", "default")
    assert (found["a.c"].cited, found["a.c"].origin) == ("Book, 2020", "table")
    assert found["a.d"].cited == "Book (from memory)"
    assert found["a.b"].as_low().low == found["a.b"].as_high().high


def test_files_must_be_lists_of_rows():
    with pytest.raises(KnowledgeError):
        list(row_files.checked({"code": 1}, "x.yaml"))
    with pytest.raises(KnowledgeError):
        list(row_files.checked([1], "x.yaml"))


def test_published_needs_a_source():
    with pytest.raises(KnowledgeError):
        check_basis({"code": "x", "basis": "published"})


FINDING = {"code": "x", "severity": "info", "basis": "physics", "since": "1"}
STEP = {"code": "x", "stage": 1, "power": "on", "hazards": [], "minutes": [1, 2], "since": "1"}


@pytest.mark.parametrize(
    ("kind", "row"),
    [
        (catalogues.FindingRow, FINDING | {"raises": {"maybe": []}}),
        (catalogues.FindingRow, FINDING | {"speaks": {"maybe": {}}}),
        (catalogues.FindingRow, FINDING | {"stands": "yes"}),
        (catalogues.FindingRow, FINDING | {"severity": "grave"}),
        (catalogues.FindingRow, FINDING | {"steps": {"fail": "step.prove-dead"}}),
        (catalogues.StepRow, STEP | {"minutes": [1]}),
        (catalogues.StepRow, STEP | {"stage": "first"}),
        (catalogues.StepRow, STEP | {"colour": "red"}),
        (catalogues.StepRow, {key: value for key, value in STEP.items() if key != "minutes"}),
    ],
)
def test_a_row_of_another_shape_is_refused(monkeypatch, kind, row):
    monkeypatch.setattr(rows, "rows", lambda _: iter([row]))
    with pytest.raises(KnowledgeError):
        catalogue("findings", kind)


def test_a_chance_lies_between_0_and_1(monkeypatch):
    row = {"code": "x", "pointers": [], "minutes": 1, "power": "on", "feeds": [], "otherwise": 0.0, "abnormal": {}}
    monkeypatch.setattr(rows, "rows", lambda _: iter([row | {"since": "1"}]))
    with pytest.raises(KnowledgeError):
        readings.reading_rows.__wrapped__()


def test_every_code_that_a_row_names_exists():
    holds, causes, steps, cautions = (
        catalogues.holds(),
        catalogues.causes(),
        catalogues.steps(),
        catalogues.cautions(),
    )
    named = []
    for finding in catalogues.findings().values():
        named += [(finding.code, code, holds) for codes in finding.raises.values() for code in codes]
        named += [(finding.code, code, causes) for said in finding.speaks.values() for code in said]
        named += [(finding.code, code, steps) for codes in finding.steps.values() for code in codes]
        named += [(finding.code, code, cautions) for codes in finding.cautions.values() for code in codes]
    for hold in holds.values():
        named += [(hold.code, code, steps) for code in hold.steps]
        named += [(hold.code, code, cautions) for code in hold.cautions]
    for cause in causes.values():
        named += [(cause.code, code, steps) for code in (*cause.confirm_by, *cause.repair)]
    for step in steps.values():
        named += [(step.code, code, cautions) for code in step.hazards]
    for reading in readings.reading_rows().values():
        named += [(reading.code, code, causes) for code in reading.abnormal]
    assert [(row, code) for row, code, catalogue in named if code not in catalogue] == []


def test_checks_that_complaints_call_for_are_findings():
    known = catalogues.findings()
    symptoms = (
        "no_start",
        "hums_no_start",
        "breaker_trips",
        "burnt_smell",
        "outdoor_fan_stopped",
        "indoor_fan_stopped",
    )
    assert [code for group in checks_called_for(symptoms) for code in group.passed if code not in known] == []


def test_a_table_of_limits_has_a_row_for_each_key(monkeypatch):
    table = {name: value for name, value in GOOD.items() if name != "value"} | {"code": "a.by"}
    own = {"value": 3, "basis": "published", "source": "Book"}
    with_rows(monkeypatch, [table | {"values": {"low": 2, "1/0": own}}])
    found = limits.all_limits.__wrapped__()
    assert [(code, row.value, row.cited) for code, row in found.items()] == [
        ("a.by-low", 2.0, "common practice, no source"),
        ("a.by-1/0", 3.0, "Book"),
    ]


@pytest.mark.parametrize("change", [{"values": {"low": 2}}, {"value": True}, {"value": "2"}])
def test_a_limit_has_a_number_or_a_table_of_numbers(monkeypatch, change):
    with_rows(monkeypatch, [GOOD | change])
    with pytest.raises(KnowledgeError):
        limits.all_limits.__wrapped__()


def test_the_codes_that_the_type_checker_knows_are_those_of_the_rows(monkeypatch):
    assert limit_codes.FILE.read_text("utf-8") == limit_codes.codes_text(), (
        f"{limit_codes.FILE}: run python -m service spec"
    )
    limits.require_known_codes()
    monkeypatch.setattr(limits, "LimitCode", Literal["air.static-usul"])
    with pytest.raises(KnowledgeError, match=r"limit_codes\.py: air\..*`python -m service spec`"):
        limits.require_known_codes()


def test_the_type_checker_refuses_a_code_that_no_row_has(tmp_path):
    """The guard itself, tried: a typo is told with its file and line before anything runs."""
    wrong = tmp_path / "wrong.py"
    wrong.write_text('from service.knowledge.limits import limit\nlimit("air.static-usul")\n', encoding="utf-8")
    found = subprocess.run(
        [sys.executable, "-m", "mypy", "--follow-imports=silent", str(wrong)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert found.returncode == 1
    assert "wrong.py:2" in found.stdout
    assert "air.static-usul" in found.stdout


TOPICS = Path(limits.__file__).parent / "topics"


def test_every_limit_is_asked_for():
    """A limit that no code asks for decides nothing, and `/v1/sources` would say that it does."""
    house = Path(limits.__file__).parents[1]
    code = "".join(file.read_text("utf-8") for file in house.rglob("*.py") if file.name != limit_codes.FILE.name)
    by_rows = {name for row in states().values() for name in row.limits}
    unused = [name for name in limits.file_rows() if f'"{name}"' not in code and name not in by_rows]
    assert not unused, f"{TOPICS}: {unused}: delete the row, or ask for it"


def test_a_wrong_row_is_told_with_its_file_and_what_is_near(monkeypatch):
    row = {"code": "supply.voltage-low", "severity": "warning", "basis": "physics", "since": "1", "step": {}}
    monkeypatch.setattr(rows, "rows", lambda _: iter([row]))
    with pytest.raises(
        KnowledgeError, match=r"^service/knowledge/topics/supply\.yaml: .*'step'\]; near: \['steps'\]$"
    ):
        catalogue("findings", catalogues.FindingRow)


def test_what_raises_the_hold_of_contradicting_readings_names_them_as_contradicted():
    """Else they are judged on, and something else is asked for first."""
    contradicting = {hold.code for hold in catalogues.holds().values() if hold.contradiction}
    silent = [
        f"{row.code}: {state}"
        for row in catalogues.findings().values()
        for state, raised in row.raises.items()
        if contradicting.intersection(raised) and state.split("/")[0] not in row.contradicts
    ]
    assert not silent, f"{silent}: name the state under contradicts, or raise another hold"


def test_every_reading_that_a_state_looks_at_can_be_asked_for_again():
    asked = {pointer for row in readings.reading_rows().values() for pointer in row.pointers}
    taken = {
        pointer
        for pair in exclusions().values()
        for code in (pair.seen, pair.read)
        for pointer in states()[code].pointers
    }
    unasked = sorted(pointer for pointer in taken - asked if not pointer.startswith("/equipment/"))
    assert not unasked, f"{unasked}: a row of data/readings asks for each"
