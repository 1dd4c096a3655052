"""Build docker/Dockerfile without a daemon or a registry, run the image locked down, ask it, stop it.

The base is bootstrapped from the distribution's packages under the name that FROM asks for. The CA bundle and
the pip settings of this machine are lent to the build's RUN steps and must not land in the image.
"""

from __future__ import annotations

import argparse
import json
import shutil
import tempfile
import time
from datetime import datetime
from pathlib import Path

from tests.deployment.tools import TOP, Failed, check, require, run

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
MOST_MEGABYTES, LARGEST = 250, 16
VISIT = (TOP / "service/wire/typical_visit.json").read_text()
READY_SECONDS, STARTS = 2, 3
"""Others use this machine too: a start that they made slow is tried again."""
ASK = (
    "import json,sys,urllib.request as r;"
    "body=sys.argv[2].encode() if len(sys.argv)>2 else None;"
    "q=r.Request('http://127.0.0.1:8080'+sys.argv[1],body,{'Content-Type':'application/json'});"
    "print(r.urlopen(q,timeout=5).read().decode())"
)


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
    require("mmdebstrap", "buildah", "podman", "runc")
    with tempfile.TemporaryDirectory(dir="/var/tmp", prefix="image-", ignore_cleanup_errors=True) as folder:
        store = Store(Path(folder))
        try:
            _build(store, given.base or Path(folder) / "base.tar")
            _look_inside(store)
            _run(store)
        finally:
            store.podman("rm", "--all", "--force", accept=(0, 125))
            store.buildah("rmi", "--all", "--force")
    return 0


def _build(store: Store, base: Path) -> None:
    started = time.monotonic()
    if not base.exists():
        packages = "--include=usr-is-merged,python3,python3-venv,ca-certificates"
        mirror = "http://deb.debian.org/debian"
        run("mmdebstrap", "--variant=minbase", *SLIM, packages, "bookworm", base, mirror, seconds=600)
    container = store.buildah("from", "scratch").split()[-1]
    store.buildah("add", "--quiet", container, base, "/")
    store.buildah("config", "--env", "PATH=/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin", container)
    store.buildah("commit", "--quiet", container, BASE)
    store.buildah("rm", container)
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
        "run", "--rm", "--network=none", "--read-only", "--user", USER, "--ulimit=nofile=1024:1024",
        "--ulimit=nproc=256:256", "--entrypoint", json.dumps(list(command)), IMAGE,
    )  # fmt: skip


def _start(store: Store) -> float:
    """Start the image locked down; seconds until it listens."""
    store.podman("rm", "--force", "--ignore", "tried")
    store.podman(
        "run", "--detach", "--name=tried", "--network=none", "--read-only", "--read-only-tmpfs=false",
        "--tmpfs=/tmp:size=64m,mode=1777", "--cap-drop=all", "--security-opt=no-new-privileges", "--user", USER,
        "--memory=512m", "--pids-limit=64", "--ulimit=nofile=4096:4096", "--ulimit=nproc=256:256",
        "--pull=never", "--env=DRAIN_SECONDS=1", IMAGE,
    )  # fmt: skip
    return _seconds_until_listening(store)


def _run(store: Store) -> None:
    starts = [_start(store)]
    while starts[-1] >= READY_SECONDS and len(starts) < STARTS:
        starts.append(_start(store))
    ready = starts[-1]
    _ask(store, "/readyz")
    tried = f"start {len(starts)} of at most {STARTS}"
    check(
        ready < READY_SECONDS,
        f"read-only, unknown user, no home, no network: ready in {ready:.1f} s ({tried}, mark < {READY_SECONDS})",
    )
    answer = json.loads(_ask(store, "/v1/assessment", VISIT))
    check(bool(answer["causes"] and answer["findings"]), f"judges a sample visit: {answer['outcome']['summary']}")
    drawn = _ask(store, "/v1/chart", VISIT)
    check("<svg" in drawn and drawn.rstrip().endswith("</svg>"), f"draws its chart, {len(drawn) / 1000:.0f} kB")
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
    stopped = time.monotonic()
    store.podman("stop", "--time=30", "tried")
    code = store.podman("inspect", "tried", "--format", "{{.State.ExitCode}}").strip()
    check(code == "0", f"drained and stopped with exit status 0 in {time.monotonic() - stopped:.1f} s")
    lines = [json.loads(line) for line in store.podman("logs", "tried").splitlines()]
    check(
        not [line for line in lines if line["level"] == "error"],
        f"{len(lines)} log lines, none of them an error",
    )
    took = {line["route"]: line["ms"] for line in lines if line.get("route", "").startswith("/v1/")}
    check(took["/v1/chart"] < 1000, f"the first of each, in milliseconds: {took}")


def _seconds_until_listening(store: Store) -> float:
    """From the start of the container to the line that says where it listens; asking meanwhile would slow it."""
    deadline = time.monotonic() + 30
    while time.monotonic() < deadline:
        time.sleep(1)
        for line in map(json.loads, store.podman("logs", "tried").splitlines()):
            if line["message"].startswith("Listening"):
                started = store.podman("inspect", "tried", "--format", "{{.State.StartedAt.UTC.UnixMilli}}")
                return datetime.fromisoformat(line["time"]).timestamp() - int(started) / 1000
    raise Failed(store.everything_said())


def _ask(store: Store, path: str, body: str | None = None) -> str:
    command = ["exec", "tried", "python", "-c", ASK, path, *([body] if body else [])]
    return store.podman(*command)


if __name__ == "__main__":
    raise SystemExit(main())
