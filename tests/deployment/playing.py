"""Every alert is seen firing and clearing by a real Prometheus, on a target that plays what the alert is for.

Rules and configuration are the shipped ones; only addresses and times are shortened, so that a day takes a minute.
"""

from __future__ import annotations

import re
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import yaml

from tests.deployment.tools import TOP, check

RULES = TOP / "docker/prometheus/alerts.yml"
TICK = 0.25
Change = Callable[["Target"], None]


def shortened(rules: str) -> str:
    """The rules with every time a quarter of a minute, and yesterday twenty seconds ago."""
    rules = re.sub(r"for: \w+", "for: 2s", rules)
    return re.sub(r"offset \w+", "offset 20s", re.sub(r"\[\d+m\]", "[15s]", rules))


class Target:
    """What a replica would expose: values now, and how fast the counters grow [1/s]."""

    def __init__(self) -> None:
        self.values: dict[str, float] = {
            "service_draining": 0,
            'http_requests_total{code="200"}': 0,
            'http_requests_total{code="500"}': 0,
            'http_request_duration_seconds_bucket{route="/v1/assessment",le="1.0"}': 0,
            'http_request_duration_seconds_bucket{route="/v1/assessment",le="5.0"}': 0,
            'http_request_duration_seconds_bucket{route="/v1/assessment",le="+Inf"}': 0,
            'http_request_duration_seconds_count{route="/v1/assessment"}': 0,
            'problems_total{code="server.full"}': 0,
            "http_requests_in_flight": 3,
            "http_requests_in_flight_limit": 512,
            "workers_started_total": 2,
            'refused_members_total{code="document.unknown-member"}': 0,
        }
        self.rates: dict[str, float] = {}
        self.calm()

    def calm(self) -> None:
        """Twenty requests a second, all well and fast."""
        self.values["service_draining"], self.values["http_requests_in_flight"] = 0, 3
        self.values["http_requests_in_flight_limit"] = 512
        self.rates = {name: 20.0 for name in self.values if "duration" in name or 'code="200"' in name}

    def grow(self, seconds: float) -> None:
        """Let time pass."""
        for name, rate in self.rates.items():
            if name in self.values:
                self.values[name] += rate * seconds

    def text(self) -> str:
        """The exposition."""
        return "".join(f"{name} {value}\n" for name, value in list(self.values.items()))


def _rate(name: str, rate: float) -> Change:
    def change(target: Target) -> None:
        (series,) = [series for series in target.values if series.startswith(name)]
        target.rates[series] = rate

    return change


def _value(name: str, value: float) -> Change:
    return lambda target: target.values.__setitem__(name, value)


PLAYED: dict[str, Change] = {
    "ReplicaDrainingTooLong": _value("service_draining", 1),
    "ServerErrors": _rate('http_requests_total{code="500"}', 1.0),
    "SlowAnswers": _rate('http_request_duration_seconds_bucket{route="/v1/assessment",le="1.0"}', 15.0),
    "TurningWorkAway": _rate("problems_total", 3.0),
    "InFlightNearTheCap": _value("http_requests_in_flight", 500),
    "WorkersRestarting": _rate("workers_started_total", 2.0),
    "RefusedInputRising": _rate("refused_members_total", 8.0),
    "NoMetrics": lambda target: target.values.pop("http_requests_in_flight_limit") and None,
}
"""What makes each alert fire; those of `up` are tried on a real instance, and by taking the target away."""
BY_UP = frozenset({"ReplicaDown", "NoReplica", "NoTarget"})


def all_alerts() -> set[str]:
    """The names of the shipped alerts."""
    return {rule["alert"] for group in yaml.safe_load(RULES.read_text())["groups"] for rule in group["rules"]}


@contextmanager
def exposed(target: Target, port: int) -> Iterator[None]:
    """Serve a target's exposition, and let its counters grow."""

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            body = target.text().encode()
            self.send_response(200)
            self.send_header("Content-Type", "text/plain; version=0.0.4")
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, *_: object) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", port), Handler)
    stop = threading.Event()

    def grow() -> None:
        last = time.monotonic()
        while not stop.wait(TICK):
            now = time.monotonic()
            target.grow(now - last)
            last = now

    threads = [threading.Thread(target=server.serve_forever), threading.Thread(target=grow)]
    for thread in threads:
        thread.start()
    try:
        yield
    finally:
        stop.set()
        server.shutdown()
        for thread in threads:
            thread.join()
        server.server_close()


def play(firing: Callable[[str, bool], None], target: Target, aim: Callable[[bool], None]) -> None:
    """Make each alert fire and clear.

    firing: waits until an alert fires, or no longer does. aim: lets Prometheus know the target, or no target.
    """
    check(set(PLAYED) | BY_UP == all_alerts(), "every alert is tried")
    time.sleep(20)  # so that rates and what was twenty seconds ago are known
    for name, change in PLAYED.items():
        change(target)
        firing(name, True)
        target.calm()
        firing(name, False)
        check(True, f"{name} fires, and clears")
    aim(False)
    firing("NoTarget", True)
    aim(True)
    firing("NoTarget", False)
    check(True, "NoTarget fires when the target is gone from the scrape, and clears")
