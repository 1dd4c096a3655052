"""Compression, Vary, private answers and other origins, by RFC 9110, RFC 9111 and the Fetch standard."""

import gzip
import hashlib
import json
import zlib
from pathlib import Path

import pytest

from service.app import create_app
from service.settings import Settings, SettingsError, from_environment
from service.wire.negotiated import accepts_gzip

ROOT = Path(__file__).parents[2]
VISIT = json.loads((ROOT / "samples/visits/low-charge-valve.json").read_text())
KEY = "a key"
DIGEST = hashlib.sha256(KEY.encode()).hexdigest()
ORIGIN = "https://dispatch.example"
LISTS = [
    "/v1/findings",
    "/v1/readings",
    "/v1/refrigerants",
    "/v1/problems",
    "/openapi.json",
    "/docs",
    "/docs/guide",
]


ASKED_BY = {"Accept", "Accept-Language", "Accept-Encoding"}
WITHOUT_KEY = ("/openapi.json", "/docs", "/docs/guide")


def varies(answer):
    (named,) = answer.headers.getlist("Vary")
    return set(named.split(", "))


def client(**settings):
    return create_app(Settings(**settings)).test_client()


@pytest.fixture(scope="module")
def plain():
    return client()


@pytest.fixture(scope="module")
def keyed():
    return client(api_keys=frozenset({f"office:{DIGEST}"}), cors_origins=frozenset({ORIGIN}))


@pytest.mark.parametrize("path", LISTS)
def test_every_kept_answer_names_all_that_it_depends_on(plain, keyed, path):
    """RFC 9110, section 12.5.5: Vary lists the parts of a request that might have chosen the answer."""
    answer = plain.get(path)
    assert varies(answer) == ASKED_BY
    assert answer.headers["Cache-Control"].startswith("public")
    answer = keyed.get(path, headers={"X-Api-Key": KEY})
    assert answer.status_code == 200
    named = set() if path in WITHOUT_KEY else {"X-Api-Key"}
    assert varies(answer) == ASKED_BY | named | {"Origin"}
    assert "public" not in answer.headers["Cache-Control"]


@pytest.mark.parametrize("path", [path for path in LISTS if path != "/docs"])  # that one is a short page
def test_a_compressed_answer_is_the_same_text_under_another_tag(plain, path):
    whole = plain.get(path)
    small = plain.get(path, headers={"Accept-Encoding": "gzip"})
    assert small.headers["Content-Encoding"] == "gzip"
    assert int(small.headers["Content-Length"]) == len(small.data) < 0.6 * len(whole.data)
    assert gzip.decompress(small.data) == whole.data
    assert small.headers["ETag"] != whole.headers["ETag"]
    assert plain.get(path, headers={"Accept-Encoding": "gzip"}).data == small.data


def test_each_copy_is_confirmed_by_its_own_tag(plain):
    for encoding in ("identity", "gzip"):
        headers = {"Accept-Encoding": encoding}
        tag = plain.get("/v1/findings", headers=headers).headers["ETag"]
        again = plain.get("/v1/findings", headers={**headers, "If-None-Match": tag})
        assert (again.status_code, again.headers["ETag"], again.data) == (304, tag, b"")
        assert varies(again) == ASKED_BY


@pytest.mark.parametrize(
    ("given", "compressed"),
    [
        ("gzip", True),
        ("gzip, br", True),
        ("*", True),
        ("gzip;q=0", False),
        ("br", False),
        ("identity", False),
        ("*;q=0", False),
        ("gzip;q=0.1, identity", True),
        ("", False),
        ("GZIP", True),
    ],
)
def test_compressed_only_where_accepted(given, compressed):
    """RFC 9110, section 12.5.3."""
    assert accepts_gzip(given) is compressed


def test_a_short_answer_and_a_probe_are_sent_as_they_are(plain):
    headers = {"Accept-Encoding": "gzip"}
    assert "Content-Encoding" not in plain.get("/v1/problems/request.not-json", headers=headers).headers
    assert "Content-Encoding" not in plain.get("/metrics", headers=headers).headers


def test_an_assessment_and_a_refusal_are_compressed_too(plain):
    whole = plain.post("/v1/assessment", json=VISIT)
    small = plain.post("/v1/assessment", json=VISIT, headers={"Accept-Encoding": "gzip"})
    assert gzip.decompress(small.data) == whole.data
    assert len(small.data) < 0.4 * len(whole.data)
    refused = {"running": {f"member_{number}": 1 for number in range(40)}}
    small = plain.post("/v1/assessment", json=refused, headers={"Accept-Encoding": "gzip"})
    assert small.status_code == 422
    assert json.loads(gzip.decompress(small.data))["code"] == "request.not-valid"


def test_a_batch_is_compressed_piece_by_piece(plain):
    body = "\n".join([json.dumps(VISIT)] * 3)
    headers = {"Accept-Encoding": "gzip", "Content-Type": "application/x-ndjson"}
    answer = plain.post("/v1/batch", data=body, headers=headers, buffered=False)
    reader, lines = zlib.decompressobj(zlib.MAX_WBITS | 16), []
    for piece in answer.iter_encoded():
        lines.append(reader.decompress(piece))
    assert [json.loads(line)["line"] for line in b"".join(lines).splitlines()] == [1, 2, 3]
    assert reader.eof


@pytest.mark.parametrize("encoding", ["identity", "gzip"])
@pytest.mark.parametrize("path", ["/v1/findings", "/docs", "/version"])
def test_head_has_the_head_of_get_and_no_body(plain, path, encoding):
    """RFC 9110, section 9.3.2; a length that only the making of the body would tell may be left out."""
    headers = {"Accept-Encoding": encoding}
    got, head = plain.get(path, headers=headers), plain.head(path, headers=headers)
    assert (head.status_code, head.data) == (200, b"")
    for name in ("Content-Type", "Content-Encoding", "ETag", "Vary", "Cache-Control", "X-Edition"):
        assert head.headers.get(name) == got.headers.get(name), name
    assert head.headers.get("Content-Length") in (None, got.headers["Content-Length"])


def test_options_tells_the_methods_without_a_key(keyed):
    answer = keyed.options("/v1/assessment")
    assert (answer.status_code, answer.data) == (204, b"")
    assert {"POST", "OPTIONS"} <= set(answer.headers["Allow"].split(", "))
    assert "Access-Control-Allow-Origin" not in answer.headers


def test_a_page_of_a_stated_origin_may_call_with_its_key(keyed):
    """Fetch standard: the preflight carries no key and is answered without one."""
    asked = {
        "Origin": ORIGIN,
        "Access-Control-Request-Method": "POST",
        "Access-Control-Request-Headers": "content-type,x-api-key",
    }
    before = keyed.options("/v1/assessment", headers=asked)
    assert before.status_code == 204
    assert before.headers["Access-Control-Allow-Origin"] == ORIGIN
    assert "POST" in before.headers["Access-Control-Allow-Methods"]
    allowed = {name.strip().lower() for name in before.headers["Access-Control-Allow-Headers"].split(",")}
    assert {"content-type", "x-api-key"} <= allowed
    answer = keyed.post("/v1/assessment", json=VISIT, headers={"Origin": ORIGIN, "X-Api-Key": KEY})
    assert answer.status_code == 200
    assert answer.headers["Access-Control-Allow-Origin"] == ORIGIN
    assert "X-Request-Id" in answer.headers["Access-Control-Expose-Headers"]
    refused = keyed.post("/v1/assessment", json=VISIT, headers={"Origin": ORIGIN})
    assert (refused.status_code, refused.headers["Access-Control-Allow-Origin"]) == (401, ORIGIN)


@pytest.mark.parametrize(
    "origin", ["https://elsewhere.example", "null", f"{ORIGIN}.evil.example", "http://dispatch.example"]
)
def test_a_page_of_any_other_origin_may_not(keyed, origin):
    asked = {"Origin": origin, "Access-Control-Request-Method": "POST"}
    for answer in (
        keyed.options("/v1/assessment", headers=asked),
        keyed.get("/v1/findings", headers={"Origin": origin, "X-Api-Key": KEY}),
    ):
        assert not [name for name, _ in answer.headers if name.startswith("Access-Control")]


@pytest.mark.parametrize("given", ["*", "https://a.example/path", "a.example", "https://", "https://a b", ","])
def test_an_origin_that_is_none_stops_the_start(given):
    with pytest.raises(SettingsError, match="CORS_ORIGINS"):
        from_environment({"CORS_ORIGINS": given})


def test_origins_come_from_the_environment():
    found = from_environment({"CORS_ORIGINS": "https://a.example, http://localhost:8651"})
    assert found.cors_origins == {"https://a.example", "http://localhost:8651"}
