"""Lines of a batch, with a judge of the test: order, numbering, refusals that stay in their line, limits."""

import json

import pytest

from service.results.refusal import FieldError, Refusal
from service.wire.batch_lines import answer_lines, require_countable
from service.wire.problems import ProblemError


def judge(content):
    """Echo; refuse a negative number as a schema would; break down at zero."""
    if content["number"] < 0:
        raise Refusal((FieldError("/number", "document.out-of-range", "Too low."),))
    return {"ratio": 1.0 / content["number"]}


def answers(body):
    return [json.loads(line) for line in answer_lines(body, judge, "test")]


def test_lines_are_answered_in_order_with_the_caller_s_reference():
    body = b'{"number": 2, "reference": "a"}\n{"number": 4}\n'
    assert answers(body) == [
        {"line": 1, "reference": "a", "status": 200, "assessment": {"ratio": 0.5}},
        {"line": 2, "status": 200, "assessment": {"ratio": 0.25}},
    ]


def test_bad_lines_say_what_the_single_call_would_have_said_and_the_rest_goes_on():
    lines = [
        b'{"number": 1}',
        b"not json",
        b'{"number": -1, "reference": "low"}',
        b'{"number": 1, "number": 2}',
        b'{"number": 0, "reference": "broken"}',
        b"\xff\xfe",
        b'{"number": 1, "padding": "' + b"x" * 65536 + b'"}',
        b'{"number": 8}',
    ]
    found = answers(b"\n".join(lines))
    assert [item["status"] for item in found] == [200, 400, 422, 400, 500, 400, 413, 200]
    assert [item["line"] for item in found] == list(range(1, 9))
    assert found[2]["reference"] == "low"
    assert found[2]["problem"]["errors"][0]["pointer"] == "/number"
    assert found[3]["problem"]["errors"][0]["code"] == "json.duplicate-name"
    assert found[4]["problem"]["code"] == "server.internal-error"
    assert "division" not in json.dumps(found[4])
    assert found[7]["assessment"] == {"ratio": 0.125}
    assert all(item["problem"]["instance"] == "urn:request:test" for item in found if "problem" in item)


def test_lines_without_text_are_passed_over_and_still_counted_in_the_numbering():
    assert [item["line"] for item in answers(b'\n{"number": 1}\r\n  \n\r\n{"number": 2}')] == [2, 5]


@pytest.mark.parametrize("reference", ["", "x" * 65, "a\\u0007b"])
def test_what_is_no_reference_is_not_echoed(reference):
    assert "reference" not in answers(f'{{"number": 1, "reference": "{reference}"}}'.encode())[0]


def test_a_number_is_no_reference():
    assert "reference" not in answers(b'{"number": 1, "reference": 7}')[0]


def test_lines_are_judged_only_when_they_are_asked_for():
    judged = []

    def noting(content):
        judged.append(content["number"])
        return {}

    lines = answer_lines(b'{"number": 1}\n{"number": 2}\n{"number": 3}\n', noting, "test")
    next(lines)
    assert judged == [1]


@pytest.mark.parametrize(
    ("body", "code"),
    [(b"", "request.not-json"), (b"\n \r\n", "request.not-json"), (b"{}\n" * 1001, "request.too-large")],
)
def test_nothing_and_too_many_are_refused_before_the_answer_begins(body, code):
    with pytest.raises(ProblemError) as raised:
        require_countable(body)
    assert raised.value.kind.code == code


def test_a_thousand_lines_are_accepted():
    require_countable(b"{}\n\n" * 1000)
