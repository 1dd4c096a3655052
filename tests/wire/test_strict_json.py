"""Strict JSON: what RFC 8259 and RFC 7493 (I-JSON) demand, text by text.

Sources: RFC 8259 sections 2 to 8 (grammar, numbers, strings, UTF-8, no byte order mark) and RFC 7493 sections
2.1 to 2.4 (no surrogates, unique names, numbers within a float). The texts were written for this project.
"""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.wire import strict_json
from service.wire.problems import ProblemError

ACCEPTED = {
    b"{}": {},
    b' \t\r\n{ "a" : 1 } \n': {"a": 1},
    b'{"a":-0}': {"a": 0},
    b'{"a":0.5e+3}': {"a": 500.0},
    b'{"a":1E-7}': {"a": 1e-7},
    b'{"a":-12.25}': {"a": -12.25},
    b'{"a":true,"b":false,"c":null}': {"a": True, "b": False, "c": None},
    b'{"":0}': {"": 0},
    b'{"a":"\\"\\\\\\/\\b\\f\\n\\r\\t"}': {"a": '"\\/\b\f\n\r\t'},
    b'{"a":"\\u00e9\\ud83d\\ude00"}': {"a": "\u00e9\U0001f600"},
    '{"a":"é😀"}'.encode(): {"a": "\u00e9\U0001f600"},
    b'{"a":"\x7f"}': {"a": "\x7f"},
    b'{"a":"\\\\ud800"}': {"a": "\\ud800"},
    b'{"a":[],"b":{},"c":[[],[{}]]}': {"a": [], "b": {}, "c": [[], [{}]]},
    b'{"a":{"x":1},"b":{"x":1}}': {"a": {"x": 1}, "b": {"x": 1}},
    b'{"a":"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[["}': {"a": "[" * 40},
    b'{"a":' + b"9" * 300 + b"}": {"a": int("9" * 300)},
    b'{"a":1e-999}': {"a": 0.0},
}

SYNTAX = [
    b"{", b"}", b"[", b'{"a"}', b'{"a":}', b'{"a":1,}', b'{,"a":1}', b'{"a" 1}', b'{"a":1 "b":2}', b"{a:1}",
    b"{'a':1}", b'{"a":01}', b'{"a":+1}', b'{"a":.5}', b'{"a":5.}', b'{"a":1e}', b'{"a":0x1}', b'{"a":1_000}',
    b'{"a":-}', b'{"a":- 1}', b'{"a":tru}', b'{"a":True}', b'{"a":None}', b'{"a":"x}', b'{"a":"\\x41"}',
    b'{"a":"\\u12"}', b'{"a":"\t"}', b'{"a":"\n"}', b'{"a":"\x00"}', b'{"a":1}{"b":2}', b'{"a":1} x',
    b'{"a":[1,]}',
    b'{"a":[1 2]}', b'{"a":[}', b'{"a":1]', b"// c\n{}", b"{}/* c */", b"{}\x00", b'\x0c{"a":1}', b'{"a"::1}',
    '{"a":１}'.encode(), '{\u00a0"a":1}'.encode(), b'{"a":1;}', b'{"a":"a" "b"}', b'{1:1}', b'{null:1}', b"nul",
    b'{"a":1' , b'{"a":NaNs}', b'{"a":-Infinit}', b"[" * 20 + b"1",
]  # fmt: skip

FLAWS = [
    (b'{"a":1,"a":1}', "json.duplicate-name", "/a"),
    (b'{"a":1,"\\u0061":2}', "json.duplicate-name", "/a"),
    (b'{"x":[{"b":{"c":1,"c":2}}]}', "json.duplicate-name", "/x/0/b/c"),
    (b'{"x/y":{"~":1,"~":2}}', "json.duplicate-name", "/x~1y/~0"),
    (b'{"a":NaN}', "json.not-a-number", "/a"),
    (b'{"a":[1,Infinity]}', "json.not-a-number", "/a/1"),
    (b'{"a":{"b":-Infinity}}', "json.not-a-number", "/a/b"),
    (b'{"a":1e999}', "json.number-out-of-range", "/a"),
    (b'{"a":-1e999}', "json.number-out-of-range", "/a"),
    (b'{"a":' + b"9" * 5000 + b"}", "json.number-out-of-range", "/a"),
    (b'{"a":' + b"9" * 400 + b".0}", "json.number-out-of-range", "/a"),
    (b'{"a":"\\ud800"}', "json.lone-surrogate", "/a"),
    (b'{"a":["\\uDFFFx"]}', "json.lone-surrogate", "/a/0"),
    (b'{"a":"\\ude00\\ud83d"}', "json.lone-surrogate", "/a"),
    (b'{"b":{"\\ud800":1}}', "json.lone-surrogate", "/b"),
    (b'{"a":' * 32 + b"{}" + b"}" * 32, "json.too-deep", "/a" * 32),
    (b'{"a":' + b"[" * 32 + b"]" * 32 + b"}", "json.too-deep", "/a" + "/0" * 31),
    (b"[" * 60_000, "json.too-deep", ""),
    (b'{"a":' * 10_000, "json.too-deep", ""),
    (b"[" * 30_000 + b"]" * 30_000, "json.too-deep", ""),
    (b"[]", "json.not-an-object", ""),
    (b'[{"a":1}]', "json.not-an-object", ""),
    (b'"text"', "json.not-an-object", ""),
    (b"12", "json.not-an-object", ""),
    (b"null", "json.not-an-object", ""),
    (b"true", "json.not-an-object", ""),
    (b"", "json.empty", ""),
    (b" \r\n\t ", "json.empty", ""),
    (b"\xef\xbb\xbf{}", "json.byte-order-mark", ""),
    ('{"a":1}'.encode("utf-16"), "json.byte-order-mark", ""),
    (b'{"a":"\xff"}', "json.not-utf-8", ""),
    (b'{"a":"\xc0\xaf"}', "json.not-utf-8", ""),
    (b'{"a":"\xed\xa0\x80"}', "json.not-utf-8", ""),
    (b'{"a":"\xf4\x90\x80\x80"}', "json.not-utf-8", ""),
    (b'{"a":"\xe9"}', "json.not-utf-8", ""),
]


@pytest.mark.parametrize("text", ACCEPTED, ids=repr)
def test_valid_text_is_read(text: bytes) -> None:
    assert strict_json.parse(text) == ACCEPTED[text]


@pytest.mark.parametrize("text", SYNTAX, ids=repr)
def test_text_that_is_not_json_is_refused(text: bytes) -> None:
    with pytest.raises(ProblemError) as caught:
        strict_json.parse(text)
    assert [entry.code for entry in caught.value.errors] == ["json.syntax"]
    assert caught.value.kind.code == "request.not-json"


@pytest.mark.parametrize(("text", "code", "pointer"), FLAWS, ids=lambda value: repr(value)[:40])
def test_flaw_is_refused_where_it_stands(text: bytes, code: str, pointer: str) -> None:
    with pytest.raises(ProblemError) as caught:
        strict_json.parse(text)
    assert [(entry.code, entry.pointer) for entry in caught.value.errors] == [(code, pointer)]


def test_thirty_two_levels_are_read() -> None:
    text = b'{"a":' * 31 + b"{}" + b"}" * 31
    assert strict_json.parse(text) == json.loads(text)


def test_every_flaw_is_named_up_to_twenty() -> None:
    with pytest.raises(ProblemError) as caught:
        strict_json.parse(b'{"a":[NaN,1,NaN],"b":1,"b":2,"c":1e999}')
    assert [entry.pointer for entry in caught.value.errors] == ["/a/0", "/a/2", "/b", "/c"]
    with pytest.raises(ProblemError) as caught:
        strict_json.parse(b'{"a":[' + b",".join([b"NaN"] * 500) + b"]}")
    assert len(caught.value.errors) == 20


def test_a_flaw_before_broken_syntax_is_told_as_broken_syntax() -> None:
    with pytest.raises(ProblemError) as caught:
        strict_json.parse(b'{"a":NaN,"b":')
    assert caught.value.errors[0].code == "json.syntax"


TEXTS = st.text(st.characters(exclude_categories=["Cs"]))
FLOATS = st.floats(allow_nan=False, allow_infinity=False)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**30), 10**30) | FLOATS | TEXTS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXTS, inner, max_size=4),
    max_leaves=20,
)  # fmt: skip


@given(st.dictionaries(TEXTS, VALUES, max_size=5), st.booleans())
def test_what_the_standard_library_writes_is_read_back(document: dict[str, object], escaped: bool) -> None:
    assert strict_json.parse(json.dumps(document, ensure_ascii=escaped).encode()) == document


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(raw: bytes) -> None:
    refusal = None
    try:
        found = strict_json.parse(raw)
    except ProblemError as error:
        refusal = error
    assert refusal.errors if refusal else found == json.loads(raw)
