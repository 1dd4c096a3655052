"""Ids, log lines and counters: what an operator sees, and what nobody can forge or blow up."""

from __future__ import annotations

import random
import string
from collections.abc import Callable
from datetime import datetime
from typing import Any

import pytest
from flask.testing import FlaskClient

from service.wire import metrics
from tests.wire.conftest import make_app

Lines = Callable[[], list[dict[str, Any]]]
TRACE = "4bf92f3577b34da6a3ce929d0e0e4736"


def series() -> list[str]:
    """The sample lines of an exposition."""
    return [line for line in metrics.exposition().decode().splitlines() if not line.startswith("#")]


def counted_routes() -> set[str]:
    """The routes that requests were counted for."""
    counters = [line for line in series() if line.startswith("http_requests_total")]
    return {line.split('route="')[1].split('"')[0] for line in counters}


def value(name: str) -> float:
    """The value of one series, 0 when it does not exist yet."""
    found = [line for line in series() if line.startswith(f"{name} ")]
    return float(found[0].rpartition(" ")[2]) if found else 0.0


@pytest.mark.parametrize("given", ["a", "job-17.visit_2", "A" * 64])
def test_a_good_request_id_is_kept(client: FlaskClient, log_lines: Lines, given: str) -> None:
    response = client.get("/nowhere", headers={"X-Request-Id": given})
    assert response.headers["X-Request-Id"] == given
    assert response.json["instance"] == f"urn:request:{given}"
    assert log_lines()[0]["request_id"] == given


@pytest.mark.parametrize("given", ["", "A" * 65, "a b", "a/b", "ä", '"', "a;b", "<script>", "${jndi:x}"])
def test_any_other_request_id_is_replaced(client: FlaskClient, given: str) -> None:
    first, second = (client.get("/livez", headers={"X-Request-Id": given}) for _ in range(2))
    assert first.headers["X-Request-Id"] not in ("", given)
    assert first.headers["X-Request-Id"] != second.headers["X-Request-Id"]


def test_one_line_a_request_with_these_members(client: FlaskClient, log_lines: Lines) -> None:
    body = b'{"reference":"private text"}'
    headers = {"traceparent": f"00-{TRACE}-00f067aa0ba902b7-01", "X-Api-Key": "private key"}
    client.post("/test/echo", data=body, content_type="application/json", headers=headers)
    (line,) = log_lines()
    assert line.pop("request_id")
    assert line.pop("ms") > 0
    assert line.pop("upload_ms") >= 0
    assert datetime.fromisoformat(line.pop("time")).utcoffset().total_seconds() == 0
    assert line == {
        "level": "info",
        "trace_id": TRACE,
        "route": "/test/echo",
        "method": "POST",
        "status": 200,
        "bytes": len(body),
        "address": "127.0.0.1",
    }


@pytest.mark.parametrize("given", ["", "00-x-y-01", f"00-{TRACE}", f"00-{TRACE.upper()}-00f067aa0ba902b7-01\n"])
def test_a_bad_traceparent_is_left_out(client: FlaskClient, log_lines: Lines, given: str) -> None:
    client.get("/livez", environ_overrides={"HTTP_TRACEPARENT": given})
    assert "trace_id" not in log_lines()[0]


def test_findings_and_refusals_are_logged_and_counted(client: FlaskClient, log_lines: Lines) -> None:
    before = value('findings_total{code="capacitor.low"}'), value('problems_total{code="request.not-json"}')
    refused = value('refused_members_total{code="json.duplicate-name"}')
    client.get("/test/findings")
    client.post("/test/echo", data=b'{"a":1,"a":2}', content_type="application/json")
    found, bad = log_lines()
    assert found["findings"] == ["capacitor.low", "charge.superheat-high"]
    assert bad["refused"] == ["json.duplicate-name", "request.not-json"]
    assert value('findings_total{code="capacitor.low"}') == before[0] + 2
    assert value('problems_total{code="request.not-json"}') == before[1] + 1
    assert value('refused_members_total{code="json.duplicate-name"}') == refused + 1


def test_what_passes_is_not_counted_among_the_findings(client: FlaskClient, log_lines: Lines) -> None:
    """Checks that came out well would drown the others on the dashboard."""
    body = {"electrical": {"supply": {"idle_volts": 170}}, "equipment": {"nominal_voltage": "208_230"}}
    states = {item["code"]: item["state"] for item in client.post("/v1/electrical", json=body).json["findings"]}
    counted = {code for code, state in states.items() if state in ("fail", "review")}
    assert counted
    assert set(log_lines()[-1]["findings"]) == counted
    sound = {**body, "electrical": {"supply": {"idle_volts": 230}}}
    assert client.post("/v1/electrical", json=sound).json["findings"]
    assert not log_lines()[-1].get("findings")


def test_a_failure_is_logged_as_an_error_with_its_trace(client: FlaskClient, log_lines: Lines) -> None:
    client.get("/test/boom")
    levels = [line["level"] for line in log_lines() if "route" in line]
    assert levels == ["error"]


def test_text_from_outside_cannot_forge_a_line(client: FlaskClient, log_lines: Lines) -> None:
    forged = '{"level":"info","status":200}'
    for attack in (f"x\r\n{forged}", f"x\n{forged}", f'x","status":500,"y":"{forged}', "x\u2028y", "\x1b[2J"):
        environ = {"HTTP_X_REQUEST_ID": attack, "HTTP_TRACEPARENT": attack, "HTTP_USER_AGENT": attack}
        client.get(f"/{attack}", environ_overrides={**environ, "REQUEST_METHOD": "GET"})
        client.open("/livez", environ_overrides={**environ, "REQUEST_METHOD": attack})
    lines = log_lines()
    assert len(lines) == 10
    assert {line["status"] for line in lines} == {404, 405}
    assert {line["method"] for line in lines} == {"GET", "other"}


def test_label_sets_stay_bounded_under_fuzz(client: FlaskClient) -> None:
    chance, before = random.Random(20240229), counted_routes()  # other tests count the routes of other apps
    methods = ["GET", "POST", "PUT", "PROPFIND", "A" * 50]
    for _ in range(1500):
        path = "".join(chance.choices(string.ascii_letters + "/%?=.;", k=chance.randrange(30)))
        body = bytes(chance.choices(range(256), k=chance.randrange(40)))
        target = chance.choice([f"/{path}", "/test/echo", "/v1/problems", f"/v1/problems/{path}", "/livez"])
        client.open(target, method=chance.choice(methods), data=body, content_type="application/json")
    known = {"unmatched", *(rule.rule for rule in client.application.url_map.iter_rules())}
    assert counted_routes() - before <= known
    assert len(series()) <= 1500


def test_in_flight_returns_to_rest(capsys: pytest.CaptureFixture[str]) -> None:
    client = make_app().test_client()
    client.get("/livez")
    at_rest = value("http_requests_in_flight")
    response = client.get("/test/stream", buffered=False)
    next(response.response)
    assert value("http_requests_in_flight") == at_rest + 1
    response.close()
    assert value("http_requests_in_flight") == at_rest
    assert capsys.readouterr().out.count('"route":"/test/stream"') == 1


def test_metrics_names_are_the_documented_ones(client: FlaskClient) -> None:
    client.get("/test/boom")
    text = client.get("/metrics").text
    for name in (
        "http_requests_total",
        "http_request_duration_seconds",
        "http_requests_in_flight",
        "http_requests_in_flight_limit",
        "findings_total",
        "problems_total",
        "refused_members_total",
        "workers_started_total",
        "build_info",
        "service_draining",
    ):
        assert f"# TYPE {name} " in text
