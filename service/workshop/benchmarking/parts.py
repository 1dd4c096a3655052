"""The parts of a run: each starts what it needs, measures, and gives its figures by name."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager

from service.results.record import Record
from service.workshop.benchmarking import questions
from service.workshop.benchmarking.figures import Case, fit, ratio, spread, take_turns
from service.workshop.benchmarking.history import Figures
from service.workshop.benchmarking.library import judge_many
from service.workshop.benchmarking.load import CONNECTIONS, Question, ask, ask_at_rate
from service.workshop.benchmarking.processes import LOAD_CORE, SERVER_CORE, Process, own_memory, running
from service.workshop.benchmarking.spinning import turns

SERVERS = "service.workshop.benchmarking.servers"
MIB = 1024 * 1024
MOST_SECONDS = 0.5
"""For one stretch of waiting: twice this at half the rate."""


class Size(Record):
    """How much is measured: rounds, seconds a case and round, lines of a batch, requests for p99 and so on."""

    rounds: int
    seconds: float
    lines: int
    timed: int
    points: tuple[int, ...]
    readings: tuple[int, ...]
    visits: int


FULL = Size(15, 0.4, 200, 1000, (1, 10, 25, 100, 250, 500, 1000), (11, 14, 17, 20, 25), 5000)
TINY = Size(1, 0.02, 3, 20, (1, 30), (11, 25), 20)


@contextmanager
def service(workers: int = 1, cores: set[int] | None = None) -> Iterator[Process]:
    """The service as it is run, on the first core where none is named; patient, so that none is turned away."""
    arguments = ["service", "serve", "--bind", "127.0.0.1:{port}"]
    settings = {"WEB_CONCURRENCY": str(workers), "QUEUE_MILLISECONDS": "60000"}
    with running(arguments, cores or {SERVER_CORE}, "/readyz", **settings) as process:
        yield process


def ratios(size: Size) -> Figures:
    """Server CPU against F, the constant-answer twins, plain property calls and a pydantic framework."""
    core = {SERVER_CORE}
    with ExitStack() as stack:
        echo, properties, constant, pydantic = (
            stack.enter_context(running([SERVERS, name, "{port}"], core))
            for name in ("echo", "properties", "constant", "pydantic_echo")
        )
        ours = stack.enter_context(service())
        f = Case("F", echo, questions.ECHO)
        cases = {
            "saturation": Case("saturation", ours, questions.saturation("R-410A")),
            "saturation_twin": Case("its constant twin", constant, questions.saturation("R-410A")),
            "plain_r410a": Case("property calls R-410A", properties, questions.saturation("R-410A")),
            "blend": Case("saturation R-454B", ours, questions.saturation("R-454B")),
            "plain_r454b": Case("property calls R-454B", properties, questions.saturation("R-454B")),
            "points": Case("saturation, a point of 1,000", ours, questions.saturation("R-410A", 1000)),
            "assessment": Case("assessment", ours, questions.assessment()),
            "assessment_twin": Case("its constant twin", constant, questions.assessment()),
            "pydantic": Case("pydantic echo of a visit", pydantic, questions.assessment()),
            "batch": Case("batch, a visit", ours, questions.batch(size.lines)),
        }
        take_turns([f, *cases.values()], size.rounds, size.seconds)
    return {
        **{f"{name}_us": case.microseconds() for name, case in [("F", f), *cases.items()]},
        "saturation_over_F": ratio(cases["saturation"], f),
        "saturation_over_twin": ratio(cases["saturation"], cases["saturation_twin"]),
        "saturation_over_plain_r410a": ratio(cases["saturation"], cases["plain_r410a"]),
        "saturation_over_plain_r454b": ratio(cases["blend"], cases["plain_r454b"]),
        "points_over_single": ratio(cases["points"], cases["saturation"]),
        "thousand_points_ms": round(cases["points"].microseconds(), 3),
        "assessment_over_F": ratio(cases["assessment"], f),
        "assessment_over_twin": ratio(cases["assessment"], cases["assessment_twin"]),
        "assessment_over_pydantic": ratio(cases["assessment"], cases["pydantic"]),
        "batch_over_single": ratio(cases["batch"], cases["assessment"]),
    }


def sizes(size: Size) -> Figures:
    """Cost against the number of points, and of readings beyond those of the cycle model, as straight lines."""
    with service() as ours:
        points = [Case("", ours, questions.saturation("R-410A", number)) for number in size.points]
        readings = [Case("", ours, questions.visit_of(number)) for number in size.readings]
        take_turns([*points, *readings], size.rounds, size.seconds)
    return {"points_fit": fit(points), "readings_fit": fit(readings)}


def waiting(size: Size) -> Figures:
    """99th percentile of the answer time at half of the most requests a second, over the time of one request.

    In short stretches, F and the service in turn, because what else runs on the machine shows in the longest
    times first: what F shows as well, is not of the service. Requests come at random instants; already a server
    without any spread, alone on its core, would be at about four (queue M/D/1, half load; from memory).
    """
    found: dict[str, list[float]] = {}
    with service() as ours, running([SERVERS, "echo", "{port}"], {SERVER_CORE}) as echo:
        asked = {
            "F": (echo, questions.ECHO),
            "saturation": (ours, questions.saturation("R-410A")),
            "assessment": (ours, questions.assessment()),
        }
        for _ in range(size.rounds):
            for name, (server, question) in asked.items():
                found.setdefault(name, []).append(_tail(server, question, size))
    return {f"{name}_p99_over_service_time": spread(tails) for name, tails in found.items()}


def _tail(server: Process, question: Question, size: Size) -> float:
    """The 99th percentile of one stretch, in times of one request."""
    most = _rate(server, question, size)
    taken = sorted(ask_at_rate(server.port, question, most / 2, min(size.timed, 100 + int(most * MOST_SECONDS))))
    return taken[int(0.99 * len(taken))] * most


def starting(size: Size) -> Figures:
    """Start time, memory of two workers, what two workers give over one, and beside it what two loops give."""
    cores = {SERVER_CORE, LOAD_CORE}
    scaling: list[float] = []
    loops: list[float] = []
    with ExitStack() as stack:
        one = stack.enter_context(service(1, cores))
        two = stack.enter_context(service(2, cores))
        for question in (questions.saturation("R-454B"), questions.assessment()):
            ask(two.port, question, 50)
        memory = two.proportional_memory(two.serving())
        whole = two.proportional_memory(two.everyone())
        question = questions.saturation("R-410A", 1000)
        for _ in range(size.rounds):
            alone, both = (_rate(server, question, size) for server in (one, two))
            scaling.append(both / alone)
            alone, both = (turns(number, cores, size.seconds) for number in (1, 2))
            loops.append(both / max(alone, 1))
    return {
        "ready_seconds": round(min(one.ready_seconds, two.ready_seconds), 2),
        "two_workers_pss_mib": round(memory / MIB, 1),
        "with_their_helpers_pss_mib": round(whole / MIB, 1),
        "two_workers_over_one": spread(scaling),
        "two_loops_over_one": spread(loops),
    }


def _rate(server: Process, question: Question, size: Size) -> float:
    """Requests a second by the clock, as many as the service takes right now."""
    count = max(4, int(1000 * size.seconds / question.items**0.25))
    started = time.perf_counter()
    return ask(server.port, question, count, CONNECTIONS) / (time.perf_counter() - started)


def memory(size: Size) -> Figures:
    """Growth of the largest memory: by calls of many lines, and by many visits through the library."""
    with service() as ours:
        for lines in (size.lines // 2, size.lines):
            ask(ours.port, questions.batch(lines), 1, 1)
        before = ours.largest_memory()
        ask(ours.port, questions.batch(5 * size.lines), 3, 1)
        grown = ours.largest_memory() - before
    judge_many(size.visits // 10)
    start = own_memory()
    judge_many(size.visits)
    return {
        "batch_lines": 5 * size.lines,
        "batch_memory_growth_mib": round(grown / MIB, 2),
        "library_visits": size.visits,
        "library_memory_growth_mib": round((own_memory() - start) / MIB, 2),
    }


PARTS: dict[str, Callable[[Size], Figures]] = {
    "starting": starting,
    "ratios": ratios,
    "sizes": sizes,
    "waiting": waiting,
    "memory": memory,
}
