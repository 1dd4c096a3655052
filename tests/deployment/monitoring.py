"""A real Prometheus with the shipped rules scrapes a real instance; alerts are seen firing, and clearing.

Only addresses and waiting times are replaced. Every metric that a rule or the dashboard names must exist.
"""

from __future__ import annotations

import asyncio
import json
import re
import signal
import subprocess
import tempfile
import time
import urllib.parse
import urllib.request
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

from tests.deployment.playing import Target, exposed, play, shortened
from tests.deployment.tools import TOP, Failed, check, require, run
from tests.faults.load import Request, closed_loop
from tests.wire.serving import Served, free_port, served

RULES = TOP / "docker/prometheus/alerts.yml"
FIRING = 'ALERTS{alertname=~"ReplicaDown|NoReplica",alertstate="firing"}'
DASHBOARD = TOP / "docker/grafana/dashboards/service.json"
REFUSED = Request("POST", "/v1/saturation", b'{"refrigerant":"R-410A","refrigerant":"R-32"}')


class Prometheus:
    """A running Prometheus."""

    def __init__(self, port: int) -> None:
        self._port = port

    def query(self, expression: str) -> list[dict[str, Any]]:
        """The samples of an instant query."""
        asked = urllib.parse.urlencode({"query": expression})
        with urllib.request.urlopen(f"http://127.0.0.1:{self._port}/api/v1/query?{asked}", timeout=5) as answer:
            found: list[dict[str, Any]] = json.load(answer)["data"]["result"]
            return found

    def until(self, expression: str, seconds: float = 40) -> None:
        """Wait until a query has samples; raise Failed when it never does."""
        deadline = time.monotonic() + seconds
        while time.monotonic() < deadline:
            try:
                if self.query(expression):
                    return
            except OSError:
                pass  # not started yet
            time.sleep(0.3)
        raise Failed(f"{expression} has no sample after {seconds:.0f} s")

    def until_gone(self, expression: str, seconds: float = 40) -> None:
        """Wait until a query has no sample any more; raise Failed when it always has one."""
        deadline = time.monotonic() + seconds
        while self.query(expression):
            if time.monotonic() > deadline:
                raise Failed(f"{expression} still has a sample after {seconds:.0f} s")
            time.sleep(0.3)


def main() -> int:
    """Check the rules, scrape, query every expression; stop the instance, start it again, follow its alerts."""
    require("prometheus", "promtool")
    run("promtool", "check", "config", TOP / "docker/prometheus/prometheus.yml")
    run("promtool", "check", "rules", RULES)
    check(True, "promtool accepts the configuration and the rules")
    with tempfile.TemporaryDirectory(prefix="monitoring-") as name:
        folder, operations, port = Path(name), free_port(), free_port()
        prometheus = Prometheus(port)
        process = _start(folder, port, operations)
        try:
            with _instance(folder, operations) as server:
                _lint(operations)
                _try(prometheus, server)
            with _instance(folder, operations):
                prometheus.until_gone(FIRING)
                prometheus.until('up{job="service"} == 1')
                check(True, "both clear when the instance is back")
        finally:
            process.terminate()
            process.wait(10)
    with tempfile.TemporaryDirectory(prefix="playing-") as name:
        _play(Path(name))
    return 0


def _play(folder: Path) -> None:
    """Every other alert, on a target that plays what it is for."""
    target, operations, port = Target(), free_port(), free_port()
    prometheus = Prometheus(port)
    with exposed(target, operations):
        process = _start(folder, port, operations)
        settings = folder / "prometheus.yml"
        aimed = settings.read_text()

        def firing(name: str, wanted: bool) -> None:
            expression = f'ALERTS{{alertname="{name}",alertstate="firing"}}'
            (prometheus.until if wanted else prometheus.until_gone)(expression, 90)

        def aim(at_it: bool) -> None:
            settings.write_text(aimed if at_it else re.sub(r"targets: \[.*\]", "targets: []", aimed))
            process.send_signal(signal.SIGHUP)

        try:
            prometheus.until('up{job="service"} == 1')
            play(firing, target, aim)
        finally:
            process.terminate()
            process.wait(10)


def _instance(folder: Path, operations: int) -> AbstractContextManager[Served]:
    return served(folder, WEB_CONCURRENCY="2", OPERATIONS_BIND=f"127.0.0.1:{operations}")


def _lint(operations: int) -> None:
    with urllib.request.urlopen(f"http://127.0.0.1:{operations}/metrics", timeout=5) as answer:
        text = answer.read()
    done = subprocess.run(["promtool", "check", "metrics"], input=text, capture_output=True, check=False)
    check(done.returncode == 0, f"promtool finds nothing wrong with /metrics {done.stderr.decode()}".strip())


def _start(folder: Path, port: int, operations: int) -> subprocess.Popen[bytes]:
    (folder / "alerts.yml").write_text(shortened(RULES.read_text()))
    text = (TOP / "docker/prometheus/prometheus.yml").read_text()
    text = re.sub(r"targets: \[.*\]", f'targets: ["127.0.0.1:{operations}"]', text).replace(": 5s", ": 1s")
    (folder / "prometheus.yml").write_text(text)
    command = [
        "prometheus", f"--config.file={folder}/prometheus.yml", f"--storage.tsdb.path={folder}/data",
        f"--web.listen-address=127.0.0.1:{port}",
    ]  # fmt: skip
    return subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=(folder / "prometheus.log").open("wb"))


def _try(prometheus: Prometheus, server: Served) -> None:
    prometheus.until('up{job="service"} == 1')
    check(True, "Prometheus scrapes the second port")
    for _ in range(3):
        asyncio.run(closed_loop(server.port, REFUSED, 2, 1))
        time.sleep(1.1)
    prometheus.until('refused_members_total{code="json.duplicate-name"} > 0')
    check(True, "refused input is counted by code")
    for metric in sorted(_named_metrics()):
        prometheus.until(f"count({metric})", 5)
    check(True, f"every metric of the rules and the dashboard exists: {len(_named_metrics())}")
    for expression in _expressions():
        prometheus.query(expression)
    check(True, f"every expression of the dashboard can be asked: {len(_expressions())}")
    check(not prometheus.query('ALERTS{alertname=~"ReplicaDown|NoReplica"}'), "no alert while it is well")
    server.stop()
    prometheus.until('ALERTS{alertname="ReplicaDown",alertstate="firing"}')
    prometheus.until('ALERTS{alertname="NoReplica",alertstate="firing"}')
    check(True, "ReplicaDown and NoReplica fire when the instance is stopped")


def _expressions() -> list[str]:
    panels = json.loads(DASHBOARD.read_text())["panels"]
    return [target["expr"] for panel in panels for target in panel["targets"]]


def _named_metrics() -> set[str]:
    """Metric names in rules and dashboard; findings_total is left out, because nothing is judged here."""
    text = RULES.read_text() + json.dumps(_expressions())
    names = set(re.findall(r"\b(?:http|refused|problems|workers|service|build|findings)_\w+", text))
    return names - {"findings_total"}


if __name__ == "__main__":
    raise SystemExit(main())
