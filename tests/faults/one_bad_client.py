"""What one bad client must not change: broken bodies, drawing without end, blank lines, batches.

Marks on response times are judged in the long form only, as in `rows`; what is lost or counted wrongly fails in
both.
"""

from __future__ import annotations

import asyncio
import json
import time
from collections import Counter
from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from typing import Any

from service.wire.warm import typical_visit
from tests.faults.load import Connection, Request, Tally, open_loop
from tests.faults.rows import Form, Row
from tests.hostile.broken_bodies import BROKEN, LENGTH, Broken, send
from tests.hostile.test_broken_bodies import ROUTES, media_type
from tests.wire.serving import Served, reserved_port

VISIT = Request("POST", "/v1/assessment", json.dumps(typical_visit()).encode())
NDJSON = {"Content-Type": "application/x-ndjson"}
PAGE = {"Content-Type": "application/json", "Accept": "text/html"}
BLANK = b"{}" + b"\n" * (8 * 1024 * 1024 - 2)
READY_MARK, SERVED_MARK = 0.2, 0.95


async def broken_bodies(form: Form) -> Row:
    """Every way of breaking a body on every route that reads one: the client's mistake, never ours."""
    chosen = BROKEN if form.long else BROKEN[::3]
    with form.served(WEB_CONCURRENCY="2", BODY_SECONDS="60") as server:
        answers: Counter[int] = Counter()
        for broken in chosen:
            for route in ROUTES:
                found = await asyncio.to_thread(send, server.port, route, media_type(route), broken, "broken")
                answers[int(found[9:12]) if found else 0] += 1
        ours, log = _counted_5xx(server), _log(server)
    return Row(
        f"broken bodies, {len(chosen)} on {len(ROUTES)} routes",
        f"answered {dict(sorted(answers.items()))} (0: nobody there); {ours} counted as 5xx; {log.said}",
        not set(answers) - {0, 400, 415} and ours == 0 and log.good,
    )


async def resets(form: Form) -> Row:
    """Phones that vanish in mid-body while others are served."""
    number = int(form.pick(100, 1000))
    vanishing = Broken("reset", LENGTH, b'{"refrigerant":"R-4', reset=True)
    with form.served(WEB_CONCURRENCY="2") as server:
        load = asyncio.create_task(open_loop(server.port, VISIT, 10, form.pick(3, 20), 64))
        for index in range(number):
            route = ROUTES[index % len(ROUTES)]
            await asyncio.to_thread(send, server.port, route, media_type(route), vanishing, "gone")
        tally = await load
        ours, log = _counted_5xx(server), _log(server)
    return Row(
        f"{number} resets in mid-body",
        f"{ours} counted as 5xx; {tally.statuses[200]} visits served, {tally.failed} failed; {log.said}",
        ours == 0 and not tally.failed and not set(tally.statuses) - {200, 503} and log.good,
    )


async def two_note_callers(form: Form) -> Row:
    """Two callers who print without end, each page another one."""

    def page(server: Served, number: int) -> int:
        body = json.dumps(typical_visit() | {"reference": f"page-{number}"}).encode()
        return server.request("POST", "/v1/assessment", body, PAGE).status

    return await _beside(form, "two callers of job notes", [page, page])


async def blank_lines(form: Form) -> Row:
    """Eight megabytes of line ends, again and again."""

    def batch(server: Served, _: int) -> int:
        return server.request("POST", "/v1/batch", BLANK, NDJSON).status

    return await _beside(form, "8 MB of blank lines", [batch])


async def ten_batches(form: Form) -> Row:
    """Ten batches at the same time, each whole."""
    lines = int(form.pick(20, 400))
    body = b"\n".join([VISIT.body] * lines)
    short = []

    def batch(server: Served, _: int) -> int:
        answer = server.request("POST", "/v1/batch", body, NDJSON)
        content: bytes = answer.content  # type: ignore[attr-defined]
        if answer.status == 200 and content.count(b'"status":200') != lines:
            short.append(len(content))
        return answer.status

    row = await _beside(form, f"ten batches of {lines} visits", [batch] * 10)
    return Row(row.name, f"{row.figures}; {len(short)} came short", row.passed and not short)


@dataclass
class _Log:
    good: bool
    said: str


@dataclass
class _Beside:
    """What the others saw meanwhile."""

    ready: list[float] = field(default_factory=list)
    unready: int = 0
    bad: Counter[int] = field(default_factory=Counter)


async def _beside(form: Form, name: str, bad_clients: list[Callable[[Served, int], int]]) -> Row:
    """Ordinary visits at a calm rate and the readiness probe, while the bad clients go on."""
    seconds, seen = form.pick(5, 30), _Beside()
    with (
        reserved_port() as port,
        form.served(WEB_CONCURRENCY="2", OPERATIONS_BIND=f"127.0.0.1:{port}") as server,
    ):
        await open_loop(server.port, VISIT, 10, 1, 64)
        end = time.monotonic() + seconds
        tasks = [
            asyncio.create_task(_go_on(server, client, number, end, seen.bad))
            for number, client in enumerate(bad_clients)
        ]
        tasks.append(asyncio.create_task(_probe(port, end, seen)))
        tally = await open_loop(server.port, VISIT, 20, seconds, 64)
        await asyncio.gather(*tasks)
        ours, log = _counted_5xx(server, port), _log(server)
    share = tally.statuses[200] / max(1, sum(tally.statuses.values()) + tally.failed)
    worst = max(seen.ready)
    return Row(
        f"{name}, {seconds:.0f} s",
        f"readiness worst {worst * 1000:.0f} ms of {len(seen.ready)} (mark < 200), {seen.unready} not 200; "
        f"{share:.1%} of {sum(tally.statuses.values())} ordinary visits 200 (mark >= 95 %), p99 "
        f"{tally.p(0.99) * 1000:.0f} ms; the bad client was answered {dict(sorted(seen.bad.items()))}; "
        f"{ours} counted as 5xx; {log.said}",
        not tally.failed and not seen.unready and ours == 0 and log.good
        and form.judged(worst < READY_MARK and share >= SERVED_MARK),
    )  # fmt: skip


async def _go_on(
    server: Served, client: Callable[[Served, int], int], number: int, end: float, answers: Counter[int]
) -> None:
    index = 0
    while time.monotonic() < end:
        status = await asyncio.to_thread(client, server, number * 1_000_000 + index)
        answers[status] += 1
        index += 1
        if status == 503:
            await asyncio.sleep(0.2)  # less patient than it was told to be


async def _probe(port: int, end: float, seen: _Beside) -> None:
    connection, tally = Connection(port), Tally()
    while time.monotonic() < end:
        started = time.perf_counter()
        await connection.ask(Request("GET", "/readyz").raw(), tally)
        seen.ready.append(time.perf_counter() - started)
        await asyncio.sleep(0.05)
    connection.close()
    seen.unready = sum(tally.statuses.values()) - tally.statuses[200] + tally.failed


def _counted_5xx(server: Served, port: int | None = None) -> int:
    """Answers that were counted as the service's own mistakes; 503 is none."""
    text: str = server.get("/metrics", port=port).content.decode()  # type: ignore[attr-defined]
    lines = [line for line in text.splitlines() if line.startswith("http_requests_total{")]
    return int(sum(float(line.split()[-1]) for line in lines if 'code="5' in line and 'code="503"' not in line))


def _log(server: Served) -> _Log:
    """Whether every line of the real log is JSON, and none tells of an error."""
    broken = errors = 0
    lines: list[dict[str, Any]] = []
    for line in server.log.read_text().splitlines():
        try:
            lines.append(json.loads(line))
        except ValueError:
            broken += 1
    errors = sum(line.get("level") not in ("info", "warning") or "trace" in line for line in lines)
    return _Log(not broken and not errors, f"{len(lines)} log lines, {broken} not JSON, {errors} errors")


ONE_BAD_CLIENT: tuple[Callable[[Form], Awaitable[Row]], ...] = (
    broken_bodies,
    resets,
    two_note_callers,
    blank_lines,
    ten_batches,
)
