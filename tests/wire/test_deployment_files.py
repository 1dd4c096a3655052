"""The files under docker/ agree with one another and with the service's settings."""

from __future__ import annotations

import importlib.util
import json
import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from service import settings
from service.wire.problems import ProblemError, document
from service.words.locale import LANGUAGES
from service.words.refusing import problem_title

DOCKER = Path(__file__).parents[2] / "docker"
GRACE = 30
"""Seconds that requests in flight get after the drain."""


def read(name: str) -> Any:
    return yaml.safe_load((DOCKER / name).read_text())


@pytest.fixture(name="pod")
def pod_of_the_deployment() -> dict[str, Any]:
    found: dict[str, Any] = read("kubernetes/deployment.yaml")["spec"]["template"]["spec"]
    return found


def test_the_environments_name_known_settings_with_allowed_values(pod: dict[str, Any]) -> None:
    composed = read("compose.yaml")["services"]["service-a"]["environment"]
    in_pod = {entry["name"]: entry["value"] for entry in pod["containers"][0]["env"]}
    for environment in (composed, in_pod):
        assert set(environment) <= set(settings._VARIABLES)
        assert settings.from_environment(environment).operations_bind == "0.0.0.0:9100"


def test_a_stop_is_given_the_time_that_it_takes(pod: dict[str, Any]) -> None:
    drain = int(next(entry["value"] for entry in pod["containers"][0]["env"] if entry["name"] == "DRAIN_SECONDS"))
    assert pod["terminationGracePeriodSeconds"] > drain + GRACE
    service = read("compose.yaml")["services"]["service-a"]
    assert int(service["stop_grace_period"].rstrip("s")) > int(service["environment"]["DRAIN_SECONDS"]) + GRACE


def test_nothing_runs_with_more_rights_than_it_needs(pod: dict[str, Any]) -> None:
    container = pod["containers"][0]["securityContext"]
    assert container == {
        "allowPrivilegeEscalation": False,
        "readOnlyRootFilesystem": True,
        "capabilities": {"drop": ["ALL"]},
    }
    assert pod["securityContext"]["runAsNonRoot"] is True
    assert pod["automountServiceAccountToken"] is False
    for name in ("service-a", "service-b", "balancer"):
        composed = read("compose.yaml")["services"][name]
        assert composed["read_only"] is True
        assert composed["cap_drop"] == ["ALL"]
    assert re.search(r"^USER \d+:\d+$", (DOCKER / "Dockerfile").read_text(), re.MULTILINE)


def test_the_service_has_no_way_out() -> None:
    policy = read("kubernetes/network-policy.yaml")["spec"]
    assert "Egress" in policy["policyTypes"]
    assert policy["egress"] == []
    composed = read("compose.yaml")
    assert composed["networks"]["inside"]["internal"] is True
    (inside,) = composed["networks"]["inside"]["ipam"]["config"]
    assert composed["services"]["service-a"]["environment"]["PROXY_NETWORKS"] == inside["subnet"]
    assert composed["services"]["service-a"]["networks"] == ["inside"]


def test_every_manifest_is_applied() -> None:
    listed = read("kubernetes/kustomization.yaml")["resources"]
    assert sorted([*listed, "kustomization.yaml"]) == sorted(
        file.name for file in (DOCKER / "kubernetes").iterdir() if file.is_file()
    )


def test_the_cluster_is_watched_by_the_same_rules() -> None:
    folder = DOCKER / "kubernetes/monitoring"
    listed = read("kubernetes/monitoring/kustomization.yaml")["resources"]
    assert sorted([*listed[1:], "kustomization.yaml"]) == sorted(file.name for file in folder.iterdir())
    assert listed[0] == ".."
    assert read("kubernetes/monitoring/rules.yaml")["spec"] == read("prometheus/alerts.yml")


def test_the_scrape_of_the_cluster_finds_the_second_port_under_the_name_of_the_job(pod: dict[str, Any]) -> None:
    monitor = read("kubernetes/monitoring/pod-monitor.yaml")["spec"]
    labels = read("kubernetes/deployment.yaml")["spec"]["template"]["metadata"]["labels"]
    assert monitor["selector"]["matchLabels"].items() <= labels.items()
    assert labels[monitor["jobLabel"]] == "service"  # what every rule asks for
    ports = {port["name"]: port["containerPort"] for port in pod["containers"][0]["ports"]}
    (endpoint,) = monitor["podMetricsEndpoints"]
    assert (ports[endpoint["port"]], endpoint["path"]) == (9100, "/metrics")


def test_callers_come_in_through_a_port_that_exists() -> None:
    (rule,) = read("kubernetes/ingress.yaml")["spec"]["rules"]
    backend = rule["http"]["paths"][0]["backend"]["service"]
    service = read("kubernetes/service.yaml")
    assert backend["name"] == service["metadata"]["name"]
    assert backend["port"]["name"] in {port["name"] for port in service["spec"]["ports"]}


def test_what_the_balancer_refuses_stands_in_the_contract() -> None:
    """Same members as the service's own problem documents, a type that it explains, its title in each language."""
    settings = (DOCKER / "nginx/nginx.conf").read_text()
    texts = re.findall(r"location = (\S+) \{\s+return (\d+) '(\{.*\})\\n'", settings)
    assert {status for _, status, _ in texts} == {"400", "408", "413", "429", "503"}
    said = {what: dict(_map(settings, f"refused_{what}")) for what in ("title", "detail")}
    for path, status, text in texts:
        body = json.loads(text)
        own = document(ProblemError(body["code"]), "x")
        assert body.keys() == own.keys()
        assert (body["type"], body["status"]) == (own["type"], own["status"])
        assert own["status"] == int(status)
        for language in LANGUAGES:
            assert said["title"].pop(f"{language} {path}") == problem_title(body["code"], language)
            assert said["detail"].pop(f"{language} {path}").endswith(".")
    assert said == {"title": {}, "detail": {}}


def _map(settings: str, name: str) -> list[tuple[str, str]]:
    """What a map of the proxy's settings gives, by what it looks up."""
    (inside,) = re.findall(rf'map "[^"]*" \${name} \{{(.*?)\n    \}}', settings, re.DOTALL)
    return re.findall(r'"(.*?)" "(.*?)";', inside)


def test_the_balancer_reads_the_keys_of_the_service() -> None:
    """One file, mounted where both look for it."""
    (file,) = re.findall(r"FILE = '(.*)'", (DOCKER / "nginx/callers.js").read_text())
    services = read("compose.yaml")["services"]
    mounted = [volume.split(":") for volume in services["balancer"]["volumes"]]
    assert ["./nginx/callers.js", "/etc/nginx/callers.js", "ro"] in mounted
    for name in ("balancer", "service-a", "service-b"):
        assert ["./keys", file.rpartition("/")[0], "ro"] in [
            volume.split(":") for volume in services[name]["volumes"]
        ]


def test_three_probes_ask_the_second_port(pod: dict[str, Any]) -> None:
    container = pod["containers"][0]
    probes = {kind: container[f"{kind}Probe"]["httpGet"] for kind in ("startup", "liveness", "readiness")}
    assert {probe["port"] for probe in probes.values()} == {"operations"}
    assert probes["liveness"]["path"] == "/livez"
    assert probes["startup"]["path"] == probes["readiness"]["path"] == "/readyz"


def test_every_replica_is_balanced_and_scraped() -> None:
    replicas = [name for name in read("compose.yaml")["services"] if name.startswith("service-")]
    upstream = re.findall(r"server (service-\w+):8080", (DOCKER / "nginx/nginx.conf").read_text())
    (job,) = read("prometheus/prometheus.yml")["scrape_configs"]
    targets = job["static_configs"][0]["targets"]
    assert len(replicas) == 2
    assert sorted(upstream) == sorted(replicas)
    assert sorted(targets) == sorted(f"{name}:9100" for name in replicas)


def test_compose_names_only_what_it_declares() -> None:
    composed = read("compose.yaml")
    for service in composed["services"].values():
        assert set(service["networks"]) <= set(composed["networks"])
        assert set(service.get("depends_on", {})) <= set(composed["services"])
        for volume in service.get("volumes", []):
            source = volume.split(":")[0]
            assert source in composed["volumes"] or (DOCKER / source).exists()
        image, _, tag = service["image"].partition(":")
        assert ("build" in service and not tag) or re.match(r"v?\d+\.\d+", tag), f"{image} has no fixed version"
    assert "HEALTHCHECK" in (DOCKER / "Dockerfile").read_text()  # what service_healthy waits for


def test_every_alert_has_a_summary_a_severity_and_a_line_for_whoever_is_called() -> None:
    (group,) = read("prometheus/alerts.yml")["groups"]
    assert len(group["rules"]) >= 8
    for rule in group["rules"]:
        assert rule["labels"]["severity"] in ("page", "ticket")
        assert rule["annotations"]["summary"].endswith(".")
        assert len(rule["annotations"]["runbook"]) > 80


def test_what_the_security_page_names_exists() -> None:
    text = (DOCKER / "SECURITY.md").read_text()
    rows = [
        line.split("|")[1:-1] for line in text.splitlines() if line.startswith("| ") and "where tested" not in line
    ]
    assert len(rows) >= 20
    for item, _, tested in rows:
        paths = re.findall(r"`((?:tests|docker)/[^`]+)`", tested)
        modules = re.findall(r"`python -m ([\w.]+)[^`]*`", tested)
        assert paths or modules or tested.strip() == "does not apply", f"{item} is not tested"
        assert len(paths) + len(modules) == tested.count("`") // 2, f"{item} names something else"
        for path in paths:
            assert (DOCKER.parent / path).is_file(), path
        for module in modules:
            assert importlib.util.find_spec(module) is not None, module
    for path in re.findall(r"`(docker/[^`]+)`", text):
        assert (DOCKER.parent / path).exists(), path


def test_the_dashboard_shows_what_operations_needs() -> None:
    panels = json.loads((DOCKER / "grafana/dashboards/service.json").read_text())["panels"]
    asked = " ".join(target["expr"] for panel in panels for target in panel["targets"])
    for metric in (
        "up{",
        "http_requests_total",
        "http_request_duration_seconds_bucket",
        "refused_members_total",
        "findings_total",
        "http_requests_in_flight_limit",
        "service_draining",
        "workers_started_total",
        "build_info",
    ):
        assert metric in asked
    places = [(p["gridPos"]["x"], p["gridPos"]["y"]) for p in panels]
    assert len(set(places)) == len(places)
