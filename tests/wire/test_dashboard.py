"""The dashboard and the alert rules ask only for what a real scrape holds; the dashboard is one Grafana can draw.

Written from Prometheus' query language and Grafana's dashboard model (24 columns, a panel's members), as their
documentation describes them; from memory. `python -m tests.deployment.manifests` has promtool parse every query.
"""

from __future__ import annotations

import itertools
import json
import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from prometheus_client.parser import text_string_to_metric_families

from tests.wire.serving import served

TOP = Path(__file__).parents[2]
DOCKER = TOP / "docker"
DASHBOARD = json.loads((DOCKER / "grafana/dashboards/service.json").read_text())
PANELS: list[dict[str, Any]] = DASHBOARD["panels"]
WORDS = frozenset({"or", "and", "unless", "on", "ignoring", "offset", "bool"})
OF_PROMETHEUS = frozenset({"up", "ALERTS"})
"""Series that Prometheus makes itself; so are these labels."""
ITS_LABELS = frozenset({"job", "instance", "le", "alertstate", "alertname"})


def queries() -> list[str]:
    """Every query of the dashboard and of the alert rules."""
    (group,) = yaml.safe_load((DOCKER / "prometheus/alerts.yml").read_text())["groups"]
    panels = [target["expr"] for panel in PANELS for target in panel["targets"]]
    asked = [listed["expr"] for listed in DASHBOARD["annotations"]["list"]]
    return [*panels, *asked, *(rule["expr"] for rule in group["rules"])]


def named(query: str) -> tuple[set[str], set[str]]:
    """The metrics and the labels that a query names."""
    bare = re.sub(r'"[^"]*"|\[\w+\]|\boffset \w+', "", query)
    grouped = re.findall(r"\b(?:by|without) \(([^)]*)\)", bare)
    matched = re.findall(r"(\w+)\s*(?:=~|!~|!=|=)", " ".join(re.findall(r"\{([^}]*)\}", bare)))
    rest = re.sub(r"\b(?:by|without) \([^)]*\)|\{[^}]*\}", " ", bare)
    metrics = set(re.findall(r"\b[a-zA-Z_]\w*\b(?!\s*\()", rest)) - WORDS
    return metrics, {*matched, *re.findall(r"\w+", " ".join(grouped))}


def test_what_a_query_names_is_found() -> None:
    query = 'sum by (le, route) (rate(one_bucket{code=~"5..",a!="b"}[5m] offset 1h)) / two > 3 or vector(0)'
    assert named(query) == ({"one_bucket", "two"}, {"le", "route", "code", "a"})


@pytest.fixture(name="scraped", scope="module")
def scraped_after_a_visit_and_a_refusal(tmp_path_factory: pytest.TempPathFactory) -> tuple[set[str], set[str]]:
    """Metric and label names of a real scrape."""
    visit = (TOP / "service/wire/typical_visit.json").read_bytes()
    kind = {"Content-Type": "application/json"}
    with served(tmp_path_factory.mktemp("scraped"), WEB_CONCURRENCY="1") as running:
        assert running.request("POST", "/v1/assessment", visit, kind).status == 200
        assert running.request("POST", "/v1/saturation", b'{"a":1,"a":2}', kind).status == 400
        text = running.get("/metrics").content.decode()  # type: ignore[attr-defined]
    samples = [sample for family in text_string_to_metric_families(text) for sample in family.samples]
    return {sample.name for sample in samples}, {label for sample in samples for label in sample.labels}


def test_every_metric_and_label_that_is_asked_for_exists(scraped: tuple[set[str], set[str]]) -> None:
    metrics, labels = scraped
    asked = [named(query) for query in queries()]
    assert set().union(*(names for names, _ in asked)) <= metrics | OF_PROMETHEUS
    assert set().union(*(names for _, names in asked)) <= labels | ITS_LABELS
    assert len(asked) > 20


def test_every_panel_has_a_place_of_its_own() -> None:
    assert len({panel["id"] for panel in PANELS}) == len(PANELS)
    for panel in PANELS:
        place = panel["gridPos"]
        assert place["x"] in range(25 - place["w"])
    for first, second in itertools.combinations((panel["gridPos"] for panel in PANELS), 2):
        beside = first["x"] + first["w"] <= second["x"] or second["x"] + second["w"] <= first["x"]
        below = first["y"] + first["h"] <= second["y"] or second["y"] + second["h"] <= first["y"]
        assert beside or below


def test_every_panel_asks_the_source_that_is_set_up() -> None:
    provisioned = yaml.safe_load((DOCKER / "grafana/provisioning/datasources/prometheus.yaml").read_text())
    (source,) = provisioned["datasources"]
    assert source["url"] == "http://prometheus:9090"
    for panel in [*PANELS, *DASHBOARD["annotations"]["list"]]:
        assert panel["datasource"] == {"type": source["type"], "uid": source["uid"]}
    for panel in PANELS:
        assert panel["title"]
        assert panel["type"] in ("stat", "timeseries", "table")
        assert panel["fieldConfig"]["defaults"].get("unit") or panel["type"] == "table"
        references = [target["refId"] for target in panel["targets"]]
        assert references
        assert len(set(references)) == len(references)


def test_the_dashboard_is_where_grafana_looks_for_it() -> None:
    composed = yaml.safe_load((DOCKER / "compose.yaml").read_text())["services"]["grafana"]
    (provider,) = yaml.safe_load((DOCKER / "grafana/provisioning/dashboards/service.yaml").read_text())[
        "providers"
    ]
    folder = provider["options"]["path"]
    assert f"./grafana/dashboards:{folder}:ro" in composed["volumes"]
    home = composed["environment"]["GF_DASHBOARDS_DEFAULT_HOME_DASHBOARD_PATH"]
    assert home == f"{folder}/service.json"
