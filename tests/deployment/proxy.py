"""A real nginx with the shipped configuration before instances on this machine.

Only names, ports and paths are replaced, the rate limit where it is not what is tried, and a cache is switched on
where that is what is tried.
"""

from __future__ import annotations

import asyncio
import hashlib
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.deployment.tools import TOP, Failed, run
from tests.faults.load import Request, closed_loop

RATE = "rate=200r/s"
"""The shipped limit of one caller."""
HEAVY = "rate=5r/s"
"""The shipped limit of one caller's drawings and batches."""
FREELY = "rate=9000r/s"
CACHE = """
    proxy_cache_path /tmp/cache keys_zone=answers:1m;
    proxy_cache answers;
    proxy_cache_methods GET HEAD;
    add_header X-Cache-Status $upstream_cache_status always;
"""
"""What an operator would add: nothing is said of what may be kept, that is the answers' business."""


def digest_line(name: str, key: str) -> str:
    """A line of API_KEYS_FILE."""
    return f"{name}:{hashlib.sha256(key.encode()).hexdigest()}\n"


@contextmanager
def proxied(
    folder: Path, port: int, *instances: int, rate: str = FREELY, keys: Path | None = None, cache: bool = False
) -> Iterator[None]:
    """nginx on a port before two instances, until the end of the block.

    rate: of one caller and address, RATE for the shipped limits. keys: the file of `name:digest` lines.
    cache: whether answers may be kept, as they say themselves.
    """
    folder.chmod(0o755)  # nginx's workers are nobody in particular
    settings = _written(folder, port, instances, rate, keys, cache)
    run("nginx", "-t", "-q", "-e", "stderr", "-c", settings)
    command = ["nginx", "-e", "stderr", "-c", str(settings), "-g", "daemon off;"]
    process = subprocess.Popen(command, stderr=(folder / "nginx.log").open("wb"))
    try:
        yield
    finally:
        process.terminate()
        process.wait(10)


def _written(
    folder: Path, port: int, instances: tuple[int, ...], rate: str, keys: Path | None, cache: bool
) -> Path:
    text = (TOP / "docker/nginx/nginx.conf").read_text()
    for name, instance in zip(("service-a:8080", "service-b:8080"), instances, strict=True):
        text = text.replace(name, f"127.0.0.1:{instance}")
    text = text.replace("listen 8080", f"listen 127.0.0.1:{port}").replace(RATE, rate)
    if rate != RATE:
        text = text.replace("rate=1000r/s", rate)
    if cache:
        text = text.replace("    upstream replicas", f"{CACHE}\n    upstream replicas")
    script = (TOP / "docker/nginx/callers.js").read_text()
    (folder / "callers.js").write_text(script.replace("/keys/callers", str(keys or folder / "nobody")))
    text = text.replace("/tmp/", f"{folder}/").replace("/etc/nginx/callers.js", f"{folder}/callers.js")
    settings = folder / "nginx.conf"
    settings.write_text(text)
    return settings


async def until_answered(port: int, seconds: float = 10) -> None:
    """Wait until nginx passes on an answer."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        tally = await closed_loop(port, Request("GET", "/livez"), 1, 0.01)
        if tally.statuses[200]:
            return
        await asyncio.sleep(0.1)
    raise Failed("nginx did not answer")
