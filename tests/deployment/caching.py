"""A cache is switched on in the shipped nginx: nobody gets what another one asked for, nothing with a key is kept.

Real requests through a real cache, which keeps what the answers themselves say may be kept (RFC 9111).
"""

from __future__ import annotations

import asyncio
import gzip
import http.client
import json
import tempfile
from pathlib import Path

from tests.deployment.proxy import digest_line, proxied, until_answered
from tests.deployment.tools import check, require
from tests.wire.serving import free_port, served

KEY, OTHER = "first-key", "second-key"
ORIGIN = "https://dispatch.example"
LIST = "/v1/tools"
WARM = 3
"""nginx looks for a further variant of a kept answer from the third time on."""
VARY = "Accept, Accept-Encoding, Accept-Language, Origin"
Answer = tuple[int, dict[str, str], bytes]


class Asking:
    """A caller of nginx."""

    def __init__(self, port: int) -> None:
        self._port = port

    def ask(self, path: str, method: str = "GET", body: str | None = None, **headers: str) -> Answer:
        """Status, headers by their names in small letters, and body."""
        connection = http.client.HTTPConnection("127.0.0.1", self._port, timeout=30)
        try:
            named = {name.replace("_", "-"): value for name, value in headers.items()}
            connection.request(method, path, body, named)
            answer = connection.getresponse()
            return answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read()
        finally:
            connection.close()


def main() -> int:
    """First without keys, then with them."""
    require("nginx")
    with tempfile.TemporaryDirectory(prefix="caching-") as name:
        folder, port = Path(name), free_port()
        with (
            served(folder, WEB_CONCURRENCY="1", CORS_ORIGINS=ORIGIN) as instance,
            proxied(folder, port, instance.port, instance.port, cache=True),
        ):
            asyncio.run(until_answered(port))
            _negotiated(Asking(port))
            _never_kept(Asking(port))
    with tempfile.TemporaryDirectory(prefix="caching-") as name:
        folder, port = Path(name), free_port()
        keys = folder / "keys"
        keys.write_text(digest_line("first", KEY) + digest_line("second", OTHER))
        with (
            served(folder, WEB_CONCURRENCY="1", CORS_ORIGINS=ORIGIN, API_KEYS_FILE=str(keys)) as instance,
            proxied(folder, port, instance.port, instance.port, keys=keys, cache=True),
        ):
            asyncio.run(until_answered(port))
            _with_keys(Asking(port))
    return 0


def _state(answer: Answer) -> str:
    return answer[1].get("x-cache-status", "")


def _negotiated(caller: Asking) -> None:
    first, again = caller.ask(LIST), caller.ask(LIST)
    check(_state(again) == "HIT" and again[2] == first[2], "a list is kept: the second one comes from the cache")
    check(first[1]["vary"] == VARY, f"and says all that it depends on: {VARY}")
    for _ in range(WARM):
        spanish = caller.ask(LIST, Accept_Language="es")
    check(
        spanish[1]["content-language"] == "es" and spanish[2] != first[2] and _state(spanish) == "HIT",
        "each language has a copy of its own",
    )
    for _ in range(WARM):
        small = caller.ask(LIST, Accept_Encoding="gzip")
    check(
        small[1]["content-encoding"] == "gzip"
        and gzip.decompress(small[2]) == first[2]
        and _state(small) == "HIT",
        "and so has the compressed one",
    )
    check("content-encoding" not in caller.ask(LIST)[1], "whoever takes no gzip still gets none")
    same = caller.ask(LIST, If_None_Match=first[1]["etag"])
    check((same[0], same[2]) == (304, b""), "whoever has the copy gets 304 from the cache")
    table = "/v1/refrigerants/R-32/saturation-table"
    media = [
        caller.ask(table, Accept=media)[1]["content-type"] for media in ("text/csv", "application/json") * WARM
    ]
    check(
        media == ["text/csv; charset=utf-8", "application/json"] * WARM,
        "JSON and CSV of one table are not mixed up",
    )
    head = caller.ask(LIST, "HEAD")
    check(
        (head[0], head[2]) == (200, b"") and head[1]["etag"] == first[1]["etag"], "HEAD is that of GET, without it"
    )
    origins = [caller.ask(LIST, Origin=origin)[1] for origin in (ORIGIN, "https://other.example") * WARM]
    allowed = [headers.get("access-control-allow-origin") for headers in origins]
    check(allowed == [ORIGIN, None] * WARM, "what one origin may read is not handed to another")


def _never_kept(caller: Asking) -> None:
    for path, method in (("/nowhere", "GET"), ("/v1/assessment", "GET"), ("/v1/tools?page=2", "GET")):
        found = [caller.ask(path, method, Accept_Language=spoken) for spoken in ("en", "es", "en")]
        check(
            "HIT" not in map(_state, found) and found[0][2] != found[1][2],
            f"a refusal is never kept: {found[0][0]} of {path}",
        )
    visit = {"Content-Type": "application/json"}
    answers = [caller.ask("/v1/assessment", "POST", "{}", **visit) for _ in range(2)]
    check("HIT" not in map(_state, answers) and answers[0][0] == 200, "nor is an answer to a posted visit")


def _with_keys(caller: Asking) -> None:
    mine = [caller.ask(LIST, X_Api_Key=KEY) for _ in range(2)]
    check(
        all(
            "private" in answer[1]["cache-control"] and "public" not in answer[1]["cache-control"]
            for answer in mine
        ),
        "with keys a list is private",
    )
    check("HIT" not in map(_state, mine), "and no shared cache keeps it")
    check(mine[0][1]["vary"] == f"{VARY}, X-Api-Key", f"it depends on the key as well: {mine[0][1]['vary']}")
    for given in ({}, {"X_Api_Key": "guessed"}):
        refused = caller.ask(LIST, **given)
        check(
            refused[0] == 401 and json.loads(refused[2])["code"] == "request.key-required",
            f"whoever comes after {'without a key' if not given else 'with another one'} is refused",
        )
    check(
        caller.ask(LIST, "HEAD")[0] == 401 and caller.ask(LIST, "HEAD", X_Api_Key=OTHER)[0] == 200, "HEAD as GET"
    )
    options = caller.ask(LIST, "OPTIONS")
    check((options[0], "GET" in options[1]["allow"]) == (204, True), "OPTIONS asks for no key")
    asked = {"Origin": ORIGIN, "Access_Control_Request_Method": "POST"}
    preflight = caller.ask("/v1/assessment", "OPTIONS", **asked)
    check(
        preflight[0] == 204 and "X-Api-Key" in preflight[1]["access-control-allow-headers"],
        "a browser's preflight asks for no key and learns that it may send one",
    )
    known = [caller.ask("/openapi.json") for _ in range(2)]
    check(
        {answer[0] for answer in known} == {200} and "private" in known[1][1]["cache-control"],
        "the contract asks for no key and is private all the same",
    )


if __name__ == "__main__":
    raise SystemExit(main())
