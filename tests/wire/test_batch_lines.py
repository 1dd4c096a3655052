"""Lines of a batch: order, numbering, refusals that stay in their line, limits."""

import json

import pytest

from service.library import lots
from service.reasoning.assessment import assess
from service.wire import batch_lines
from service.wire.batch_lines import answer_lines, require_countable
from service.wire.problems import ProblemError

BREAKS = "breaks"


@pytest.fixture(autouse=True)
def _request(client):
    """Findings are noted with the request at hand."""
    with client.application.test_request_context():
        yield


@pytest.fixture
def breaking(monkeypatch):
    """The reasoning breaks down at one reference; says which visits it was asked for, lot by lot."""
    judged = []

    def assessed(visits):
        judged.append([visit.reference for visit in visits])
        if any(visit.reference == BREAKS for visit in visits):
            raise ZeroDivisionError("division by zero")
        return [assess(visit) for visit in visits]

    monkeypatch.setattr(lots, "_assessed", assessed)
    return judged


def answers(body):
    return [json.loads(line) for line in answer_lines(body, "en", "full", "test", lambda _: None)]


def test_lines_are_answered_in_order_with_the_caller_s_reference():
    found = answers(b'{"reference": "a"}\n{}\n')
    assert [(item["line"], item.get("reference"), item["status"]) for item in found] == [
        (1, "a", 200),
        (2, None, 200),
    ]
    assert found[0]["assessment"]["reference"] == "a"


def test_bad_lines_say_what_the_single_call_would_have_said_and_the_rest_goes_on(breaking):
    lines = [
        b"{}",
        b"not json",
        b'{"running": {"suction_pressure": -1e9}, "reference": "low"}',
        b'{"reference": "1", "reference": "2"}',
        b'{"reference": "breaks"}',
        b"\xff\xfe",
        b'{"reference": "' + b"x" * 65536 + b'"}',
        b'{"reference": "last"}',
    ]
    found = answers(b"\n".join(lines))
    assert [item["status"] for item in found] == [200, 400, 422, 400, 500, 400, 413, 200]
    assert [item["line"] for item in found] == list(range(1, 9))
    assert found[2]["reference"] == "low"
    assert found[2]["problem"]["errors"][0]["pointer"] == "/running/suction_pressure"
    assert found[3]["problem"]["errors"][0]["code"] == "json.duplicate-name"
    assert found[4]["problem"]["code"] == "server.internal-error"
    assert "division" not in json.dumps(found[4])
    assert found[7]["assessment"]["reference"] == "last"
    assert all(item["problem"]["instance"] == "urn:request:test" for item in found if "problem" in item)
    assert breaking, "the reasoning was asked"


def test_a_refused_line_is_in_no_lot_and_repeats_none(breaking):
    refused = b'{"running": {"suction_pressure": "118"}, "reference": "refused"}'
    lines = [b'{"reference": "%d"}' % number for number in range(9)]
    answers(b"\n".join([*lines[:4], refused, *lines[4:]]))
    assert [name for lot in breaking for name in lot] == [str(number) for number in range(9)]


def test_one_that_breaks_takes_no_other_with_it(breaking):
    lines = [b'{"reference": "%s"}' % name.encode() for name in ("a", "b", "c", BREAKS, "d")]
    assert [item["status"] for item in answers(b"\n".join(lines))] == [200, 200, 200, 500, 200]


def test_lines_without_text_are_passed_over_and_still_counted_in_the_numbering():
    assert [item["line"] for item in answers(b"\n{}\r\n  \n\r\n{}")] == [2, 5]


@pytest.mark.parametrize("reference", ["", "x" * 65, "a\\u0007b"])
def test_what_is_no_reference_is_not_echoed(reference):
    assert "reference" not in answers(f'{{"reference": "{reference}"}}'.encode())[0]


def test_a_number_is_no_reference():
    assert "reference" not in answers(b'{"reference": 7}')[0]


def test_lines_are_judged_only_when_they_are_asked_for(breaking):
    lines = answer_lines(b"\n".join([b'{"reference": "x"}'] * 20), "en", "full", "test", lambda _: None)
    next(lines)
    assert sum(map(len, breaking)) == lots.FIRST_LOT


@pytest.mark.parametrize(
    ("body", "code"),
    [(b"", "request.not-json"), (b"\n \r\n", "request.not-json"), (b"{}\n" * 1001, "request.too-large")],
)
def test_nothing_and_too_many_are_refused_before_the_answer_begins(body, code):
    with pytest.raises(ProblemError) as raised:
        require_countable(body)
    assert raised.value.kind.code == code


@pytest.mark.parametrize("body", [b"{}\n" * 1000, b"{}\n" * 999 + b"{}", b"{}\n\n" * 500])
def test_a_thousand_lines_are_accepted(body):
    require_countable(body)


def test_lines_without_text_count():
    with pytest.raises(ProblemError) as caught:
        require_countable(b"{}\n\n" * 501)
    assert caught.value.kind.code == "request.too-large"
    assert "1002" in caught.value.said("en")


def test_once_an_answer_is_large_enough_lines_are_refused(monkeypatch):
    monkeypatch.setattr(batch_lines, "MOST_ANSWER", 1)
    lines = [b'{"reference": "%d"}' % number for number in range(40)]
    found = [json.loads(line) for line in answer_lines(b"\n".join(lines), "en", "full", "test", lambda _: None)]
    assert [line["reference"] for line in found] == [str(number) for number in range(40)]
    assert found[0]["status"] == 200
    assert {line["status"] for line in found[20:]} == {413}
    assert "another batch" in found[-1]["problem"]["detail"]
