"""Build docker/Dockerfile without a daemon or a registry, run the image locked down, ask it, stop it.

The base is bootstrapped from the distribution's packages under the name that FROM asks for. The CA bundle and
the pip settings of this machine are lent to the build's RUN steps and must not land in the image.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import tempfile
import time
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from tests.deployment.samples import drawings
from tests.deployment.tools import TOP, Failed, MissingTool, check, require, run

BASE = "docker.io/library/python:3.11-slim-bookworm"
IMAGE = "localhost/air-conditioner-diagnosis"
CERTIFICATES = Path("/etc/ssl/certs/ca-certificates.crt")
PIP_SETTINGS = Path("/etc/pip.conf")
SLIM = (
    '--aptopt=APT::Install-Recommends "false"',
    *(f"--dpkgopt=path-exclude=/usr/share/{part}/*" for part in ("doc", "info", "locale", "man", "lintian")),
    "--dpkgopt=path-include=/usr/share/doc/*/copyright",
    "--hook-dir=/usr/share/mmdebstrap/hooks/merged-usr",
    '--setup-hook=mkdir -p "$1/etc/apt/preferences.d"; '
    'printf "Package: usrmerge\\nPin: release *\\nPin-Priority: -1\\n" > "$1/etc/apt/preferences.d/no-usrmerge"',
    '--customize-hook=rm "$1/etc/apt/preferences.d/no-usrmerge"',
)
"""What the distribution's own slim images leave out: what is merely recommended, manuals, translations, and the
tool with 50 MB of Perl that merges folders which are merged from the start."""
USER = "54321:54321"
FILES_AND_PROCESSES = ("--ulimit=nofile=4096:4096", "--ulimit=nproc=256:256")
"""Said, because the engine asks for more otherwise than some machines let it."""
MOST_MEGABYTES, LARGEST = 250, 16
VISIT = (TOP / "service/wire/typical_visit.json").read_text()
NOT_TRIED = 77
"""The exit status where this machine cannot build an image; one that it builds and that is wrong is a failure."""
READY_SECONDS, STARTS = 2, 3
STOP_SECONDS = 10
"""Others use this machine too: a start that they made slow is tried again."""
JSON = {"Content-Type": "application/json"}
ASK = (
    "import json,sys,urllib.request as r;"
    "path,headers,*body=sys.argv[1:];"
    "q=r.Request('http://127.0.0.1:8080'+path,body[0].encode() if body else None,json.loads(headers));"
    "print(r.urlopen(q,timeout=5).read().decode())"
)
"""Path, headers as JSON and, where there is one, a body."""


class CannotBuild(Exception):
    """This machine cannot build images, whatever the Dockerfile says."""


class Store:
    """An image store in a plain folder of its own."""

    def __init__(self, folder: Path) -> None:
        self._options = (
            "--root",
            folder / "store",
            "--runroot",
            folder / "run",
            "--storage-driver",
            "overlay",
        )

    def buildah(self, *arguments: str | Path) -> str:
        """Run buildah on this store."""
        return run("buildah", *self._options, *arguments, seconds=900)

    def podman(self, *arguments: str | Path, accept: tuple[int, ...] = (0,)) -> str:
        """Run podman on this store; runc, because the other runtime does not take every machine's cgroups."""
        engine = ("--runtime", shutil.which("runc") or "runc", "--cgroup-manager", "cgroupfs")
        return run("podman", *self._options, *engine, *arguments, accept=accept)

    def everything_said(self) -> str:
        """What the container wrote, its errors as well, and what became of it."""
        logs = run("sh", "-c", 'exec "$@" 2>&1', "sh", "podman", *self._options, "logs", "tried", accept=(0, 125))
        return logs + self.podman("inspect", "tried", "--format", "{{.State.Status}} {{.State.ExitCode}}")


def main() -> int:
    """Build, run, ask, stop; print what held."""
    parser = argparse.ArgumentParser(prog="python -m tests.deployment.image", description=main.__doc__)
    parser.add_argument("--base", type=Path, help="keep the bootstrapped base here, and take it when it is there")
    given = parser.parse_args()
    try:
        require("mmdebstrap", "buildah", "podman", "runc")
    except MissingTool as missing:
        print(f"not tried  no image was built: this machine lacks {missing}")
        return NOT_TRIED
    with tempfile.TemporaryDirectory(dir="/var/tmp", prefix="image-", ignore_cleanup_errors=True) as folder:
        store = Store(Path(folder))
        try:
            started = time.monotonic()
            _bootstrap(store, given.base or Path(folder) / "base.tar")
            _build(store, started)
            _look_inside(store)
            _run(store)
        except CannotBuild as why:
            print(f"not tried  no image was built: {why}")
            return NOT_TRIED
        finally:
            store.podman("rm", "--all", "--force", accept=(0, 125))
            store.buildah("rmi", "--all", "--force")
    return 0


def _bootstrap(store: Store, base: Path) -> None:
    """The base, and that containers run here at all. Raises: CannotBuild."""
    try:
        if not base.exists():
            packages = "--include=usr-is-merged,python3,python3-venv,ca-certificates"
            mirror = "http://deb.debian.org/debian"
            run("mmdebstrap", "--variant=minbase", *SLIM, packages, "bookworm", base, mirror, seconds=600)
        container = store.buildah("from", "scratch").split()[-1]
        store.buildah("add", "--quiet", container, base, "/")
        store.buildah("config", "--env", "PATH=/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin", container)
        store.buildah("commit", "--quiet", container, BASE)
        store.buildah("run", "--isolation=chroot", container, "true")
        store.buildah("rm", container)
        store.podman("run", "--rm", "--network=none", "--pull=never", *FILES_AND_PROCESSES, BASE, "true")
    except Failed as error:
        raise CannotBuild(f"this machine cannot make the base or run a container: {error}") from None


def _build(store: Store, started: float) -> None:
    bootstrapped = time.monotonic() - started
    lent = [f"--volume={path}:{path}:ro" for path in (CERTIFICATES, PIP_SETTINGS) if path.exists()]
    store.buildah(
        "build", "--isolation=chroot", "--network=host", "--pull=never", "--format=docker", *lent,
        "--ignorefile", TOP / "docker/Dockerfile.dockerignore", "--build-arg", "SERVICE_COMMIT=tried",
        "--file", TOP / "docker/Dockerfile", "--tag", IMAGE, TOP,
    )  # fmt: skip
    seconds = time.monotonic() - started
    check(True, f"built in {seconds:.0f} s ({bootstrapped:.0f} s of it for the base)")


def _look_inside(store: Store) -> None:
    (described,) = json.loads(store.podman("inspect", "--type", "image", IMAGE))
    config = described["Config"]
    check(config["User"] == "65532:65532", "runs as a numeric user that is not root")
    check("org.opencontainers.image.revision" in config["Labels"], "carries the OCI labels")
    check(_health_check(store)[0] == "CMD", "has a health check without a shell or curl")
    whole = described["Size"] / 1e6
    listed = _once(store, "sh", "-c", "cat /opt/venv/sbom.cdx.json")
    names = {part["name"] for part in json.loads(listed)["components"]}
    check({"Flask", "gunicorn", "numpy"} <= names, f"carries a CycloneDX list of {len(names)} components")
    check("CoolProp" not in names, "does not carry the property library")
    modules, compiled = map(int, _once(store, "python", "-c", COMPILED).split())
    check(
        0 < modules == compiled, f"all {modules} modules are compiled, whatever the time that a layer gives them"
    )
    _say_what_is_in_it(store, whole)
    for path in (PIP_SETTINGS, Path("/root/.config/pip/pip.conf"), Path("/opt/tools"), Path("/build")):
        found = _once(store, "sh", "-c", f"test ! -s {path} && echo absent || echo present")
        check("absent" in found, f"{path} of the build is not in the image")


def _say_what_is_in_it(store: Store, whole: float) -> None:
    """The size, and what it is made of where it is more than the mark; the stand-in base is part of it."""
    measured = "".join(
        _once(store, "sh", "-c", f"du -sk {places} 2>/dev/null || true")
        for places in ("/usr/lib /usr/bin /usr/share", "/opt/venv", "/opt/venv/lib/python3*/site-packages/*")
    )
    parts = sorted(
        ((int(size) / 1000, path) for size, path in (line.split("\t") for line in measured.splitlines())),
        reverse=True,
    )
    print(
        f"{'pass' if whole < MOST_MEGABYTES else 'note'}  {whole:.0f} MB with the bootstrapped base, "
        f"mark < {MOST_MEGABYTES}"
    )
    print("      " + ", ".join(f"{path} {size:.0f} MB" for size, path in parts[:LARGEST]))


def _health_check(store: Store) -> list[str]:
    (described,) = json.loads(store.podman("inspect", "--type", "image", IMAGE))
    found: list[str] = described["Healthcheck"]["Test"]
    return found


def _once(store: Store, *command: str) -> str:
    return store.podman(
        "run", "--rm", "--network=none", "--read-only", "--user", USER, *FILES_AND_PROCESSES,
        "--entrypoint", json.dumps(list(command)), IMAGE,
    )  # fmt: skip


COMPILED = """
import importlib._bootstrap_external as imports, pathlib
found = [path for path in pathlib.Path("/opt/venv/lib").rglob("*.py")]
def settled(path):
    compiled = pathlib.Path(imports.cache_from_source(str(path)))
    return compiled.exists() and compiled.read_bytes()[4] == 1
print(len(found), sum(map(settled, found)))
"""
"""How many modules there are, and how many are compiled whatever the time of their file (PEP 552)."""


def _start(store: Store, message: str = "Listening") -> float:
    """Start the image locked down; seconds until it says that it listens, or another message of its log."""
    store.podman("rm", "--force", "--ignore", "tried")
    store.podman(
        "run", "--detach", "--name=tried", "--network=none", "--read-only", "--read-only-tmpfs=false",
        "--tmpfs=/tmp:size=64m,mode=1777", "--cap-drop=all", "--security-opt=no-new-privileges", "--user", USER,
        "--memory=512m", "--pids-limit=64", *FILES_AND_PROCESSES,
        "--pull=never", "--env=DRAIN_SECONDS=1", IMAGE,
    )  # fmt: skip
    return _seconds_until(store, message)


def _stop_while_starting(store: Store) -> None:
    """As the first process of a container, for which the kernel holds back signals that nobody waits for."""
    _start(store, "starting")
    _stop(store, "stopped while it started")


def _stop(store: Store, claim: str) -> None:
    stopped = time.monotonic()
    store.podman("stop", "--time=30", "tried")
    seconds = time.monotonic() - stopped
    code = store.podman("inspect", "tried", "--format", "{{.State.ExitCode}}").strip()
    check(code == "0" and seconds < STOP_SECONDS, f"{claim} with exit status 0 in {seconds:.1f} s")


def _run(store: Store) -> None:
    _stop_while_starting(store)
    starts = [_start(store)]
    while starts[-1] >= READY_SECONDS and len(starts) < STARTS:
        starts.append(_start(store))
    ready = starts[-1]
    _ask(store, "/readyz")
    tried = f"start {len(starts)} of at most {STARTS}"
    _timed(
        ready < READY_SECONDS,
        f"read-only, unknown user, no home, no network: ready in {ready:.1f} s ({tried}, mark < {READY_SECONDS})",
    )
    answer = json.loads(_ask(store, "/v1/assessment", VISIT))
    check(bool(answer["causes"] and answer["findings"]), f"judges a sample visit: {answer['outcome']['summary']}")
    drawn = _ask(store, "/v1/chart", VISIT)
    check("<svg" in drawn and drawn.rstrip().endswith("</svg>"), f"draws its chart, {len(drawn) / 1000:.0f} kB")
    _draw_every_sample(store)
    check("openapi" in json.loads(_ask(store, "/openapi.json")), "serves its contract")
    check("<html" in _ask(store, "/docs"), "serves the page that explains it")
    check(json.loads(_ask(store, "/version"))["commit"] == "tried", "says which commit it was built from")
    store.podman("exec", "tried", *_health_check(store)[1:])
    check(True, "its own health check passes")
    for path in ("/written", "/opt/venv/written", "/etc/written"):
        said = store.podman("exec", "tried", "touch", path, accept=(1,))
        check("Read-only" in said, f"cannot write {path}")
    status = store.podman("exec", "tried", "cat", "/proc/self/status")
    check("CapEff:\t0000000000000000" in status and "NoNewPrivs:\t1" in status, "has no capability, gains none")
    _stop(store, "drained and stopped")
    lines = [json.loads(line) for line in store.podman("logs", "tried").splitlines()]
    check(
        not [line for line in lines if line["level"] == "error"],
        f"{len(lines)} log lines, none of them an error",
    )
    took = {line["route"]: line["ms"] for line in reversed(lines) if line.get("route", "").startswith("/v1/")}
    _timed(took["/v1/chart"] < 1000, f"the first of each, in milliseconds: {took} (mark for the chart < 1000)")


def _timed(passed: bool, claim: str) -> None:
    """A mark on time, judged where this machine has processors left for the container."""
    waiting, processors = os.getloadavg()[0], len(os.sched_getaffinity(0))
    if passed or waiting < processors:
        check(passed, claim)
    else:
        print(f"note  {claim}; not judged: {waiting:.1f} processes want {processors} processors", flush=True)


def _draw_every_sample(store: Store) -> None:
    """All of them, since what was pruned may be what one of them needs."""
    asked = drawings()
    for drawing in asked:
        text = _ask(store, drawing.path, drawing.visit.read_text("utf-8"), drawing.headers)
        if not drawing.is_whole(text):
            raise Failed(f"not drawn: {drawing}\n{text[-1000:]}")
    check(len(asked) > 0, f"draws all {len(asked)} notes and charts of the samples")


def _seconds_until(store: Store, message: str) -> float:
    """From the start of the container to this line of its log; asking meanwhile would slow it."""
    deadline = time.monotonic() + 30
    while time.monotonic() < deadline:
        time.sleep(1 if message == "Listening" else 0.1)
        for line in map(json.loads, store.podman("logs", "tried").splitlines()):
            if line["message"].startswith(message):
                started = store.podman("inspect", "tried", "--format", "{{.State.StartedAt.UTC.UnixMilli}}")
                return datetime.fromisoformat(line["time"]).timestamp() - int(started) / 1000
    raise Failed(store.everything_said())


def _ask(store: Store, path: str, body: str | None = None, headers: Mapping[str, str] = JSON) -> str:
    command = ["exec", "tried", "python", "-c", ASK, path, json.dumps(headers), *([body] if body else [])]
    return store.podman(*command)


if __name__ == "__main__":
    raise SystemExit(main())
