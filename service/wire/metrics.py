"""What Prometheus may ask. Label sets are closed: routes are templates, methods and codes come from lists.

Under several workers the client library keeps every value in a file a process, in the folder that
PROMETHEUS_MULTIPROC_DIR names before this module is imported; a scrape adds them up.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from functools import cache

from prometheus_client import (
    CollectorRegistry,
    Counter,
    Gauge,
    Histogram,
    disable_created_metrics,
    generate_latest,
)
from prometheus_client.metrics_core import GaugeMetricFamily
from prometheus_client.multiprocess import MultiProcessCollector, mark_process_dead

from service.knowledge.rule_book import book, overdue
from service.results.provenance import Provenance
from service.wire import readiness
from service.wire.load import requests_at_work
from service.wire.metrics_folder import VARIABLE

METHODS = frozenset({"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"})
REGISTRY = CollectorRegistry()
disable_created_metrics()  # type: ignore[no-untyped-call]
_SECONDS = (0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 1.0, 5.0)

_REQUESTS = Counter("http_requests", "Requests answered.", ("route", "method", "code"), registry=REGISTRY)
_DURATION = Histogram(
    "http_request_duration_seconds",
    "Time from the request's headers to the end of its answer, without the time in which its body arrived.",
    ("route",),
    buckets=_SECONDS,
    registry=REGISTRY,
)
_IN_FLIGHT = Gauge(
    "http_requests_in_flight", "Requests at work or waiting.", registry=REGISTRY, multiprocess_mode="livesum"
)
_IN_FLIGHT_LIMIT = Gauge(
    "http_requests_in_flight_limit",
    "Requests that all workers take before they answer 503.",
    registry=REGISTRY,
    multiprocess_mode="livesum",
)
_CALLERS = Counter(
    "caller_requests", "Requests answered, by the name of the key.", ("caller", "code"), registry=REGISTRY
)
_COST = Counter(
    "caller_processor_seconds",
    "Processor time of answers, by the name of the key.",
    ("caller",),
    registry=REGISTRY,
)
_UPLOAD = Histogram(
    "http_request_upload_seconds",
    "Time in which bodies arrived; not part of http_request_duration_seconds.",
    ("route",),
    buckets=(0.01, 0.1, 0.5, 1.0, 5.0, 30.0),
    registry=REGISTRY,
)
_GONE = Counter(
    "clients_gone", "Requests whose client vanished before they were whole.", ("route",), registry=REGISTRY
)
_FINDINGS = Counter("findings", "Findings answered that failed or are for review.", ("code",), registry=REGISTRY)
_PROBLEMS = Counter("problems", "Problem documents answered.", ("code",), registry=REGISTRY)
_REFUSED = Counter("refused_members", "Members of requests that were refused.", ("code",), registry=REGISTRY)
_WORKERS = Counter("workers_started", "Worker processes started.", registry=REGISTRY)
_BUILD = Gauge(
    "build_info",
    "Version and build.",
    ("service", "commit", "contract", "edition", "knowledge"),
    registry=REGISTRY,
    multiprocess_mode="max",
)


class _Draining:
    """Whether this instance is about to stop, asked at scrape time because the flag is shared already."""

    def collect(self) -> Iterator[GaugeMetricFamily]:
        """One gauge, 1 while draining."""
        yield GaugeMetricFamily("service_draining", "1 while stopping.", value=float(readiness.draining()))


def count_request(route: str, method: str, status: str, seconds: float) -> None:
    """Count one answered request."""
    requests, duration = _series(route, method if method in METHODS else "other", status)
    requests.inc()
    duration.observe(seconds)


@cache
def _series(route: str, method: str, status: str) -> tuple[Counter, Histogram]:
    return _REQUESTS.labels(route, method, status), _DURATION.labels(route)


def count_caller(caller: str | None, status: str, processor_seconds: float) -> None:
    """Count one answer of a caller; `none` where no key is asked for. The names come from the keys' file."""
    requests, cost = _caller_series(caller or "none", status)
    requests.inc()
    cost.inc(processor_seconds)


@cache
def _caller_series(caller: str, status: str) -> tuple[Counter, Counter]:
    return _CALLERS.labels(caller, status), _COST.labels(caller)


def count_upload(route: str, seconds: float) -> None:
    """Count one body that has arrived."""
    _upload_series(route).observe(seconds)


@cache
def _upload_series(route: str) -> Histogram:
    return _UPLOAD.labels(route)


def count_gone(route: str) -> None:
    """Count one client that vanished; no answer is counted for it."""
    _GONE.labels(route).inc()


def count_findings(codes: Iterable[str]) -> None:
    """Count findings by code; the codes come from the catalogue, so the set is closed."""
    for code in codes:
        _FINDINGS.labels(code).inc()


def count_refusal(problem: str, members: Iterable[str]) -> None:
    """Count a problem document and the codes of its `errors`."""
    _PROBLEMS.labels(problem).inc()
    for code in members:
        _REFUSED.labels(code).inc()


def state_load() -> None:
    """State the requests at work in this process; done at every heartbeat, at every request it costs 3 %."""
    _IN_FLIGHT.set(requests_at_work())


def worker_started(in_flight_limit: int) -> None:
    """State that this process has begun to serve."""
    _WORKERS.inc()
    _IN_FLIGHT_LIMIT.set(in_flight_limit)


def worker_ended(pid: int) -> None:
    """Forget the live gauges of a process that is gone."""
    mark_process_dead(pid)  # type: ignore[no-untyped-call]


def describe_build(commit: str, versions: Provenance) -> None:
    """State what is running; versions: as every answer carries them."""
    _BUILD.labels(versions.service, commit, versions.contract, versions.edition, versions.knowledge).set(1)


class _Rules:
    """How many rules are held and how many are past their day of review, by the clock at scrape time."""

    def collect(self) -> Iterator[GaugeMetricFamily]:
        """Two gauges."""
        late = overdue(datetime.now(UTC).date())
        yield GaugeMetricFamily("rules_held", "Rules of law and standards held.", value=float(len(book().rules)))
        yield GaugeMetricFamily("rules_review_overdue", "Rules past their day of review.", value=float(len(late)))


def exposition() -> bytes:
    """Everything in Prometheus' text format, summed over the workers."""
    state_load()
    registry = REGISTRY
    if os.environ.get(VARIABLE):
        registry = CollectorRegistry()
        MultiProcessCollector(registry)  # type: ignore[no-untyped-call]
    return generate_latest(registry) + _asked_text()


def _asked_text() -> bytes:
    """What is asked at scrape time, the same in every worker."""
    registry = CollectorRegistry()
    registry.register(_Draining())
    registry.register(_Rules())
    return generate_latest(registry)
