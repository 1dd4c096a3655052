"""Dockerfile, Kubernetes manifests, alert rules and the dashboard's queries against the tools that know them.

nginx itself reads its file in `tests.deployment.balancer`; compose and Grafana need an engine and are only held by
tests that read their files.
"""

from __future__ import annotations

import json
import shutil
import tempfile
from pathlib import Path

from tests.deployment.tools import TOP, check, require, run
from tests.wire.test_dashboard import queries


def main() -> int:
    """Run every linter; print what held."""
    require("hadolint", "kubernetes-validate", "promtool")
    said = run("hadolint", "--failure-threshold", "style", TOP / "docker/Dockerfile")
    check(not said.strip(), "hadolint has nothing to say about the Dockerfile")
    manifests = sorted((TOP / "docker/kubernetes").glob("*.yaml"))
    for manifest in manifests:
        if manifest.name != "kustomization.yaml":
            run("kubernetes-validate", "--strict", "--quiet", manifest)
            check(True, f"{manifest.name} is valid against the schema of its kind")
    run("promtool", "check", "config", TOP / "docker/prometheus/prometheus.yml")
    check(True, "promtool accepts the configuration and the rules")
    asked = queries()
    with tempfile.TemporaryDirectory(prefix="manifests-") as folder:
        for path in (TOP / "docker/prometheus/alerts.yml", TOP / "tests/deployment/alerts_test.yml"):
            shutil.copy(path, folder)
        run("promtool", "test", "rules", Path(folder) / "alerts_test.yml")
        check(True, "every alert fires on the series that it is for, and not on their neighbours")
        file = Path(folder) / "queries.json"  # YAML reads JSON
        rules = [{"record": f"query_{number}", "expr": query} for number, query in enumerate(asked)]
        file.write_text(json.dumps({"groups": [{"name": "queries", "rules": rules}]}))
        run("promtool", "check", "rules", file)
    check(True, f"promtool parses all {len(asked)} queries of the dashboard and the rules")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
