"""python -m tests.deployment.audit [--required]: known vulnerabilities of what the image pins.

Asks PyPI's and OSV's lists of advisories through pip-audit. Found ones fail. Where neither list can be reached
it says that it could not ask, which is no finding and no clean bill either; with --required that fails as well.
"""

from __future__ import annotations

import argparse
import json
import subprocess
from pathlib import Path
from typing import Any

from tests.deployment.tools import TOP, MissingTool, require, where

LOCKS = ("docker/requirements.txt", "docker/requirements-build.txt")
SOURCES = ("pypi", "osv")
SECONDS = 180


def asked(lock: Path, source: str) -> list[dict[str, Any]] | None:
    """What one list says of every pinned package; None where it cannot be asked."""
    command = [where("pip-audit"), "--requirement", str(lock), "--require-hashes", "--disable-pip"]
    command += ["--vulnerability-service", source, "--format", "json", "--progress-spinner", "off"]
    try:
        done = subprocess.run(command, capture_output=True, text=True, timeout=SECONDS, check=False)
        found: list[dict[str, Any]] = json.loads(done.stdout)["dependencies"]
    except (subprocess.TimeoutExpired, ValueError, KeyError):
        return None
    return found


def judged(answers: list[list[dict[str, Any]] | None]) -> tuple[list[str], list[str]]:
    """What is vulnerable, and what none of the lists could say anything of."""
    vulnerable: dict[str, set[str]] = {}
    known: set[str] = set()
    unknown: set[str] = set()
    for answer in answers:
        for package in answer or []:
            if "vulns" not in package:
                unknown.add(package["name"])
                continue
            name = f"{package['name']} {package['version']}"
            known.add(package["name"])
            if package["vulns"]:
                vulnerable.setdefault(name, set()).update(item["id"] for item in package["vulns"])
    return [f"{name}: {', '.join(sorted(ids))}" for name, ids in sorted(vulnerable.items())], sorted(
        unknown - known
    )


def main() -> int:
    """Ask about both locks; 1 for what is vulnerable, or for what could not be asked where that is required."""
    parser = argparse.ArgumentParser(prog="python -m tests.deployment.audit", description=__doc__)
    parser.add_argument("--required", action="store_true", help="fail where no list of advisories can be reached")
    required = parser.parse_args().required
    try:
        require("pip-audit")
    except MissingTool as missing:
        print(f"could not ask  no list of advisories was asked: {missing} is not on this machine")
        return int(required)
    failed = False
    for name in LOCKS:
        answers = [asked(TOP / name, source) for source in SOURCES]
        vulnerable, unknown = judged(answers)
        nobody = not any(answers)
        for line in vulnerable:
            print(f"FAIL  {name}: {line}")
        if nobody or unknown:
            of = "any pinned package" if nobody else f"{len(unknown)} pinned packages ({', '.join(unknown)})"
            print(f"could not ask  {name}: no list of advisories could be asked about {of}")
        elif not vulnerable:
            print(f"pass  {name}: no known vulnerability")
        failed = failed or bool(vulnerable) or (required and bool(nobody or unknown))
    return int(failed)


if __name__ == "__main__":
    raise SystemExit(main())
