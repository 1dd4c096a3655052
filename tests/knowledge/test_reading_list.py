"""The catalogue of readings against its document: every member once, every limit and word accepted."""

from itertools import pairwise

import pytest

from service.app import create_app
from service.knowledge import catalogues
from service.knowledge.readings import reading_rows
from service.knowledge.taking import taking_of, taking_rows
from service.results.declare import declared_members
from service.results.refusal import Refusal
from service.results.units import TABLE
from service.results.visit import Visit
from service.schemas.documents import load
from service.schemas.reading_list import places, reading_list
from service.schemas.writing import written
from service.words.locale import LANGUAGES, texts
from service.words.members import member_label
from service.words.say import plain_speaker
from tests.golden import golden_cases
from tests.wire.test_problem_language import REQUESTS


def rows_in(language):
    """The rows as they are sent, by pointer."""
    return {row.pointer: written(row, plain_speaker(language)) for row in reading_list(language)}


ROWS = rows_in("en")
NUMBERS = [row for row in ROWS.values() if row["answer"] == "number" and row["pointer"] != "/equipment/circuit"]
ONE_VISIT = ("assessment", "electrical", "charge", "air", "compressor", "intake")


def document(pointer, value, units=None):
    """A visit document with one member, as a form would post it."""
    names = pointer.split("/")[1:]
    made = value
    for name in reversed(names):
        made = [made] if name == "0" else {name: made}
    return {**made, "units": units} if units else made


def accepted(pointer, value, units=None):
    try:
        load(Visit, document(pointer, value, units))
    except Refusal:
        return False
    return True


def test_every_member_stands_in_it_once():
    assert len(ROWS) == len(reading_list("en"))
    parts = {name for name, declared in declared_members(Visit) if declared.kind == "part"}
    assert parts - {"priors"} == {row["part"] for row in ROWS.values() if row["part"] in parts}
    assert not any(pointer.startswith("/baseline") for pointer in ROWS)


def test_every_row_of_taking_is_used_and_its_instrument_known():
    used = {taking_of(place.pointer).code for place in places()}
    assert used == set(taking_rows())
    assert {row.instrument for row in taking_rows().values() if row.instrument} <= set(texts("en", "tools"))


@pytest.mark.parametrize("row", NUMBERS, ids=lambda row: row["pointer"])
def test_its_limits_are_accepted_and_what_lies_beyond_is_not(row):
    for limits in row["ranges"]:
        units = {row["unit_chosen_by"]: limits["unit"]} if _is_code(row, limits) else None
        if units is None and "unit_chosen_by" in row:
            continue  # an absolute or squared unit follows the code of its kind; the first one is tried below
        for end, beyond in (("low", -1.0), ("high", 1.0)):
            if end not in limits:
                continue
            assert accepted(row["pointer"], limits[end], units), (limits, end)
            step = beyond * max(1.0, abs(limits[end])) * 0.01
            if not (row.get("quantity") == "pressure" and end == "low"):  # a closed list of refusals of its own
                assert not accepted(row["pointer"], limits[end] + step, units), (limits, end)


def _is_code(row, limits):
    return limits["unit"] in TABLE.get(row.get("unit_chosen_by", ""), ())


@pytest.mark.parametrize("row", [row for row in ROWS.values() if "words" in row], ids=lambda row: row["pointer"])
def test_every_word_is_accepted_and_no_other(row):
    for word in row["words"]:
        given = int(word["word"]) if row["answer"] == "whole_number" else word["word"]
        assert accepted(row["pointer"], [given] if row["answer"] == "choices" else given), word
    assert not accepted(row["pointer"], "no such word")


def test_spanish_says_everything_of_its_own():
    spanish = rows_in("es")
    assert list(spanish) == list(ROWS)
    same = [p for p, row in spanish.items() if row["label"] == ROWS[p]["label"]]
    assert same == []
    words = [(p, w["word"]) for p, row in spanish.items() for w in row.get("words", ()) if not w["title"].strip()]
    assert words == []
    left = [
        (p, word["word"])
        for p, row in spanish.items()
        for word in row.get("words", ())
        if word["title"] == word["word"] and not word["word"][0].isdigit() and word["word"] != "scroll"
    ]
    assert left == []


def test_no_spanish_label_is_left_over():
    from service.words.members import _labels

    known = {(place.of.__name__, place.name) for place in places()}
    documents = (of for request in (Visit, *REQUESTS) for of in _documents(request))
    declared = {(of.__name__, name) for of in documents for name, _ in declared_members(of)}
    declared |= {("Units", name) for name in TABLE}
    assert {(of, name) for of, names in _labels("es").items() for name in names} - declared - known == set()
    assert all(member_label("es", place.of, place.name, place.declared) for place in places())


def _documents(of):
    yield of
    for _, declared in declared_members(of):
        if declared.part is not None:
            yield from _documents(declared.part)


def test_the_findings_of_a_reading_are_codes():
    codes = {code for row in ROWS.values() for code in row["findings"]}
    assert codes <= set(catalogues.findings())
    assert "supply.sag" in codes or len(codes) > 100


def test_what_a_golden_case_names_as_evidence_stands_in_the_list(golden_answer):
    """The file is made by `python -m service spec`; a case that it does not know says that it must be run."""
    unlisted = set()
    for name, case in golden_cases():
        if case["endpoint"].removeprefix("/v1/") not in ONE_VISIT or case["expect"].get("status", 200) != 200:
            continue
        _, answer = golden_answer(name)
        asked = {item["pointer"] for item in answer["next_readings"]}
        assert asked <= set(ROWS), name
        for finding in answer["findings"]:
            for pointer in finding["evidence"]:
                row = ROWS.get(_first_place(pointer))
                if row is not None and finding["code"] not in row["findings"]:
                    unlisted.add((pointer, finding["code"]))
    assert unlisted == set(), "run python -m service spec"


def _first_place(pointer):
    return "/".join("0" if token.isdecimal() else token for token in pointer.split("/"))


@pytest.fixture(scope="module")
def client():
    return create_app().test_client()


def test_a_reading_that_is_asked_for_is_taken_with_the_power_that_the_list_says():
    unlike = {
        (row.code, pointer)
        for row in reading_rows().values()
        for pointer in row.pointers
        if row.power != "either" and ROWS[pointer]["power"] not in (row.power, "either")
    }
    assert unlike == set()


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", ["readings", "parts", "tools", "certificates", "questions", "assumptions"])
def test_the_lists_are_served_in_both_languages(client, name, language):
    answer = client.get(f"/v1/{name}", headers={"Accept-Language": language})
    body = answer.get_json()
    assert answer.headers["Content-Language"] == language
    assert len(body[name]) > 5
    assert body["provenance"]["edition"] == answer.headers["X-Edition"]
    keys = [row["pointer" if name == "readings" else "code"] for row in body[name]]
    assert len(keys) == len(set(keys))


def test_every_part_tool_and_certificate_of_a_step_is_listed(client):
    for name in ("parts", "tools", "certificates"):
        listed = {row["code"] for row in client.get(f"/v1/{name}").get_json()[name]}
        used = {code for row in catalogues.steps().values() for code in getattr(row, name)}
        assert used <= listed


def test_a_range_is_the_same_in_every_unit():
    """0 to 250 C is 32 to 482 F by definition; the ends of one member must be one temperature."""
    row = ROWS["/running/suction_line_temperature"]
    fahrenheit, celsius = row["ranges"]
    assert [limits["unit"] for limits in row["ranges"]] == ["degF", "degC"]
    for end in ("low", "high"):
        assert fahrenheit[end] == pytest.approx(celsius[end] * 1.8 + 32.0, abs=1e-3)
    highs = [limits["high"] for limits in ROWS["/running/suction_pressure"]["ranges"]]
    assert all(first != second for first, second in pairwise(highs))
