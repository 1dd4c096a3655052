"""What the service must survive, one function a row; each returns what was measured and whether it passed.

The pass marks are this project's own (see tests/RESULTS.md). Marks on response times are judged in the long form
only: on a machine that others share they say more about the others.
"""

from __future__ import annotations

import asyncio
import json
import os
import signal
import time
from collections.abc import Awaitable, Callable
from contextlib import AbstractContextManager
from pathlib import Path

from service.results.record import Record
from tests.faults.load import HOST, Connection, Request, Tally, closed_loop, open_loop
from tests.wire.serving import AS_SHIPPED, PATIENCE, Served, served
from tests.wire.test_settings import WRONG
from tests.wire.test_settings import run as run_command
from tests.wire.test_strict_json import FLAWS, SYNTAX

UNITS = {"temperature": "degF", "pressure": "psig"}


def saturation(points: int) -> Request:
    """A saturation request of the given size."""
    listed = [{"pressure": 100 + 0.25 * number} for number in range(points)]
    body = {"units": UNITS, "refrigerant": "R-410A", "points": listed}
    return Request("POST", "/v1/saturation", json.dumps(body).encode())


SMALL, LARGE = saturation(1), saturation(1000)


class Row(Record):
    """One line of the printed table."""

    name: str
    figures: str
    passed: bool


class Form(Record):
    """How long and how hard: the short form for every change, the long one on demand."""

    long: bool
    folder: Path

    def pick(self, short: float, long: float) -> float:
        """The number for this form."""
        return long if self.long else short

    def judged(self, passed: bool) -> bool:
        """A mark on response times counts in the long form only."""
        return passed or not self.long

    def served(self, **environment: str) -> AbstractContextManager[Served]:
        """The server as it is shipped, but for what is named."""
        return served(self.folder, **AS_SHIPPED | environment)


async def slow_clients(form: Form) -> Row:
    """Hundreds of clients that trickle headers or bodies; everybody else is served as if they were not there."""
    number, seconds = int(form.pick(200, 400)), form.pick(6, 60)
    with form.served() as server:
        calm = await open_loop(server.port, SMALL, 100, min(seconds, 10), 64)
        tricklers = [asyncio.create_task(_trickle(server.port, index, seconds)) for index in range(number)]
        await asyncio.sleep(1)
        normal = await open_loop(server.port, SMALL, 100, seconds - 1, 64)
        for task in tricklers:
            task.cancel()
        await asyncio.gather(*tricklers, return_exceptions=True)
    ratio = normal.p(0.99) / calm.p(0.99)
    answered, full = normal.statuses[200], normal.statuses[503]
    lost = normal.failed + sum(normal.statuses.values()) - answered - full
    return Row(
        f"slow clients, {number} for {seconds:.0f} s",
        f"{lost} of {answered + lost} normal requests failed, {full} told to try again; "
        f"p99 {normal.p(0.99) * 1000:.1f} ms, calm {calm.p(0.99) * 1000:.1f} ms (x{ratio:.2f}, mark < 2)",
        lost == 0 and form.judged(ratio < 2 and not full),
    )


async def _trickle(port: int, index: int, seconds: float) -> None:
    end = time.monotonic() + seconds
    head = b"POST /v1/saturation HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    start = head + (b"Content-Length: 60000\r\n\r\n{" if index % 2 else b"X-Slow: ")
    while time.monotonic() < end:
        try:
            _, writer = await asyncio.open_connection(HOST, port)
            writer.write(start)
            while time.monotonic() < end:
                await asyncio.sleep(0.5)
                writer.write(b" ")
                await writer.drain()
        except OSError:
            await asyncio.sleep(0.2)  # cut off by the server: come again


async def stop_under_load(form: Form) -> Row:
    """SIGTERM while requests pour in: not one that was sent is lost, one-second uploads included."""
    # The drain is longer than 64 connections take to arrive on a machine with much else to do.
    with form.served(WEB_CONCURRENCY="2", DRAIN_SECONDS="3") as server:
        load = asyncio.create_task(closed_loop(server.port, SMALL, 16, 30))
        await asyncio.sleep(form.pick(2, 5))
        server.process.send_signal(signal.SIGTERM)
        await asyncio.sleep(0.6)
        uploads = await asyncio.gather(*(_upload(server.port, 1.0) for _ in range(64)))
        tally = await load
        status = await asyncio.to_thread(server.process.wait, 20)
    answered, full, uploaded = tally.statuses[200], tally.statuses[503], uploads.count(200)
    lost = tally.failed + sum(tally.statuses.values()) - answered - full
    return Row(
        "SIGTERM under load",
        f"{lost} of {answered + lost} requests lost, {full} told to try again; {uploaded} of 64 one-second "
        f"uploads in flight answered; exit status {status}",
        lost == 0 and answered >= form.pick(500, 3000) and uploaded == 64 and status == 0,
    )


async def _upload(port: int, seconds: float) -> int:
    """One request whose body takes its time; the status, 0 when there is no answer."""
    head, body = SMALL.raw().split(b"\r\n\r\n", 1)
    try:
        reader, writer = await asyncio.open_connection(HOST, port)
        writer.write(head + b"\r\n\r\n" + body[:10])
        await asyncio.sleep(seconds)
        writer.write(body[10:])
        return int((await reader.readuntil(b"\r\n\r\n"))[9:12])
    except (OSError, asyncio.IncompleteReadError):
        return 0


async def killed_workers(form: Form) -> Row:
    """SIGKILL a worker every two seconds: only what it had in hand is lost, and it is replaced within a second."""
    kills, slowest, connections = int(form.pick(3, 30)), 0.0, 8
    with form.served(WEB_CONCURRENCY="2") as server:
        load = asyncio.create_task(closed_loop(server.port, SMALL, connections, kills * 2 + 1))
        for _ in range(kills):
            await asyncio.sleep(1)
            slowest = max(slowest, await _kill_and_wait(server))
            await asyncio.sleep(1)
        tally = await load
    answered = tally.statuses[200]
    return Row(
        f"SIGKILL of a worker, {kills} times",
        f"{tally.failed} of {answered} requests lost (at most {connections} a kill could be in hand), "
        f"{tally.statuses[503]} told to try again; "
        f"two workers again after at most {slowest:.2f} s (mark < 1)",
        tally.failed <= connections * kills and not set(tally.statuses) - {200, 503}
        and slowest < PATIENCE and form.judged(slowest < 1),
    )  # fmt: skip


async def _kill_and_wait(server: Served) -> float:
    victim = (await _all_workers(server))[0]
    started = time.monotonic()
    os.kill(victim, signal.SIGKILL)
    while victim in await _all_workers(server):
        await asyncio.sleep(0.01)
    return time.monotonic() - started


async def _all_workers(server: Served, number: int = 2) -> list[int]:
    """The worker processes, once there are as many as there should be."""
    deadline = time.monotonic() + PATIENCE
    while len(workers := server.workers()) != number and time.monotonic() < deadline:
        await asyncio.sleep(0.01)
    return workers


async def overload(form: Form) -> Row:
    """Five times what one worker can do: it answers 200 fast or 503 with Retry-After, and recovers at once."""
    seconds = form.pick(4, 20)
    with form.served(WEB_CONCURRENCY="1") as server:
        await closed_loop(server.port, LARGE, 2, 1)
        calm = await closed_loop(server.port, LARGE, 4, 3)
        capacity = calm.statuses[200] / 3
        storm = await open_loop(server.port, LARGE, 5 * capacity, seconds, 900)
        back = await _until_calm(server, calm)
    ratio = storm.p(0.99) / calm.p(0.99)
    served_share = storm.statuses[200] / seconds / capacity
    wrong = set(storm.statuses) - {200, 503}
    return Row(
        f"overload x5 ({5 * capacity:.0f}/s for {seconds:.0f} s)",
        f"{storm.statuses[200]} x 200, {storm.statuses[503]} x 503, {storm.failed} failed; "
        f"{served_share:.0%} of what it can serve was served; p99 of the 200s "
        f"{storm.p(0.99) * 1000:.0f} ms, calm {calm.p(0.99) * 1000:.0f} ms (x{ratio:.1f}, mark < 4); "
        f"calm again after {back:.2f} s (mark < 2)",
        not wrong and not storm.failed and not storm.without_retry_after and storm.statuses[200] > 0
        and back < PATIENCE and form.judged(ratio < 4 and back < 2),
    )  # fmt: skip


async def _until_calm(server: Served, calm: Tally) -> float:
    """Seconds until ten requests in a row are answered 200 no slower than the calm 99th percentile, doubled."""
    started, in_a_row = time.monotonic(), 0
    connection, tally = Connection(server.port), Tally()
    while in_a_row < 10 and time.monotonic() - started < PATIENCE:
        before = tally.statuses[200]
        asked = time.perf_counter()
        await connection.ask(LARGE.raw(), tally)
        good = tally.statuses[200] > before and time.perf_counter() - asked < 2 * calm.p(0.99)
        in_a_row = in_a_row + 1 if good else 0
    connection.close()
    return time.monotonic() - started


async def soak(form: Form) -> Row:
    """Steady work: memory does not grow, files and threads stay as they are."""
    warm_up, seconds = form.pick(4, 60), form.pick(6, 600)
    # The same process from beginning to end: a worker is not replaced after its million of requests here.
    with form.served(WEB_CONCURRENCY="1", WORKER_REQUESTS="0") as server:
        await closed_loop(server.port, SMALL, 4, warm_up)
        worker = server.workers()[0]
        before, files, threads = _resources(worker)
        tally = await closed_loop(server.port, SMALL, 4, seconds)
        deadline = time.monotonic() + PATIENCE  # for the worker to notice that the connections are closed
        while _resources(worker)[1] > files and time.monotonic() < deadline:
            await asyncio.sleep(0.05)
        after, files_after, threads_after = _resources(worker)
    slope = (after - before) / 1024 / seconds * 3600
    return Row(
        f"soak, {seconds:.0f} s and {tally.statuses[200]} requests",
        f"memory {before / 1024:.1f} to {after / 1024:.1f} MiB ({slope:+.2f} MiB/h, mark < 1 over the long form); "
        f"files {files} to {files_after}; threads {threads} to {threads_after}",
        not set(tally.statuses) - {200, 503} and not tally.failed
        and files_after <= files and threads_after == threads
        and (after - before < 1024 if not form.long else slope < 1),
    )  # fmt: skip


def _resources(pid: int) -> tuple[int, int, int]:
    """Resident memory [KiB], open files and threads of a process."""
    status = Path(f"/proc/{pid}/status").read_text()
    resident = int(status.split("VmRSS:")[1].split()[0])
    return resident, len(os.listdir(f"/proc/{pid}/fd")), int(status.split("Threads:")[1].split()[0])


async def hostile_texts(form: Form) -> Row:
    """Every refused text of the strict JSON tests over HTTP: 400, quickly, and the workers survive."""
    texts = [text for text, _, _ in FLAWS] + SYNTAX
    with form.served(WEB_CONCURRENCY="2") as server:
        workers = await _all_workers(server)
        tally, connection = Tally(), Connection(server.port)
        for text in texts:
            await connection.ask(Request("POST", "/v1/saturation", text).raw(), tally)
        connection.close()
        survived = await _all_workers(server) == workers
    slowest = tally.p(1.0, 400) * 1000
    return Row(
        f"hostile JSON, {len(texts)} texts",
        f"{tally.statuses[400]} answered 400, slowest {slowest:.1f} ms (mark < 50); workers survived: {survived}",
        tally.statuses[400] == len(texts) and survived and form.judged(slowest < 50),
    )


async def bad_settings(form: Form) -> Row:
    """Each wrong setting ends the start within a second and is named."""
    wrong = WRONG if form.long else WRONG[::5]
    slowest, named = 0.0, 0
    for name, text in wrong:
        status, said, seconds = await asyncio.to_thread(run_command, ["serve"], **{name: text})
        slowest = max(slowest, seconds)
        named += status != 0 and f"{name}: allowed is" in said
    return Row(
        f"bad settings, {len(wrong)}",
        f"{named} refused by name, slowest {slowest:.2f} s (mark < 1)",
        named == len(wrong) and form.judged(slowest < 1),
    )


ROWS: tuple[Callable[[Form], Awaitable[Row]], ...] = (
    bad_settings,
    hostile_texts,
    slow_clients,
    stop_under_load,
    killed_workers,
    overload,
    soak,
)
