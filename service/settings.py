"""Settings from the environment. Read and checked before anything slow is imported; needs nothing of ours."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Mapping
from ipaddress import ip_network
from pathlib import Path
from typing import Any

from service.results.record import Record, field

_KEY = re.compile(r"([a-z0-9][a-z0-9._-]{0,31}):([0-9a-f]{64})")
_BIND = re.compile(r"(\[[0-9a-fA-F:.]+\]|[A-Za-z0-9.-]*):(\d{1,5})")
_PLACE = re.compile(r"[A-Z]{2}(-[A-Z0-9]{1,3})?")
NOWHERE = "none"
_ORIGIN = re.compile(r"https?://(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(:[0-9]{1,5})?")
_COMMIT = re.compile(r"[A-Za-z0-9._-]{1,64}")


class SettingsError(Exception):
    """One or more settings are wrong; `messages` names each with what is allowed."""

    def __init__(self, messages: tuple[str, ...]) -> None:
        super().__init__("; ".join(messages))
        self.messages = messages


class Settings(Record):
    """How the service runs. Every member has an environment variable of the same name in capitals.

    web_concurrency: worker processes, 1 to 64; default the processors this process may use.
    drain_seconds: seconds of service after the first SIGTERM, 0 to 300.
    in_flight_limit: requests at work or waiting in one worker, 1 to 10,000; more get 503.
    queue_milliseconds: longest wait of a fully arrived request, 10 to 60,000; more gets 503, and so does one
        that has waited for more than about eight others while the queue outlasts a burst.
    body_seconds: time in which a body must arrive, 1 to 300.
    worker_requests: requests after which a worker is replaced, 0 (never) or 1,000 to 1,000,000,000.
    api_keys: `name:digest` of the accepted API keys, the digest being SHA-256 in 64 hexadecimal digits.
    api_keys_file: a file with more of them, read again when it changes; neither: no key is asked for.
    proxy_networks: networks of the proxies whose X-Forwarded-For is believed; none: the header is not read.
    cors_origins: origins whose pages may call from a browser, as https://dispatch.example; none: no page may.
    operations_bind: HOST:PORT of a second port that alone serves probes and metrics.
    metrics_directory: folder for the counters of all workers, emptied at start; default a new temporary one.
    service_commit: the commit that the image was built from, for /version.
    default_jurisdiction: whose rules hold where a visit names no place; none: nothing is said of the law there.
    rules_folder: folder with a folder of rules for each further jurisdiction.
    learnt_file: shares of causes learnt from a fleet's own records, written by `fleet learn`; none: as shipped.
    """

    web_concurrency: int = field(default_factory=lambda: min(64, len(os.sched_getaffinity(0))))
    drain_seconds: int = 5
    in_flight_limit: int = 256
    queue_milliseconds: int = 500
    body_seconds: int = 10
    worker_requests: int = 1_000_000
    api_keys: frozenset[str] = frozenset()
    api_keys_file: Path | None = None
    proxy_networks: tuple[str, ...] = ()
    cors_origins: frozenset[str] = frozenset()
    operations_bind: str | None = None
    metrics_directory: Path | None = None
    service_commit: str = "unknown"
    default_jurisdiction: str | None = "US"
    rules_folder: Path | None = None
    learnt_file: Path | None = None

    @property
    def keys_asked_for(self) -> bool:
        """Whether callers must have a key."""
        return bool(self.api_keys or self.api_keys_file)


def from_environment(environment: Mapping[str, str]) -> Settings:
    """The settings of an environment; raises SettingsError that names every wrong variable."""
    values: dict[str, Any] = {}
    messages: list[str] = []
    for name, (member, read, allowed) in _VARIABLES.items():
        text = environment.get(name)
        if text is None or text == "":
            continue
        try:
            values[member] = read(text)
        except (ValueError, OSError):
            messages.append(f"{name}: allowed is {allowed}")
    if messages:
        raise SettingsError(tuple(messages))
    return Settings(**values)


def bind_address(text: str) -> str:
    """A listening address HOST:PORT (`[::]:8080` for IPv6; port 0 takes a free one), or ValueError."""
    match = _BIND.fullmatch(text)
    if match is None or int(match[2]) > 65535:
        raise ValueError(text)
    return text


def default_bind(keys_asked_for: bool) -> str:
    """Where to listen when nobody says: on this machine alone as long as everybody may call."""
    return "0.0.0.0:8080" if keys_asked_for else "127.0.0.1:8080"


def is_loopback(bind: str) -> bool:
    """Whether a listening address can be reached from this machine alone."""
    host = bind.rpartition(":")[0]
    return host in ("localhost", "[::1]") or host.startswith("127.")


BIND_ALLOWED = "HOST:PORT with a port from 0 to 65535, as in 127.0.0.1:8080 or [::]:8080"


def _whole(low: int, high: int, *, or_zero: bool = False) -> tuple[Callable[[str], int], str]:
    def read(text: str) -> int:
        if not re.fullmatch(r"[0-9]{1,12}", text):
            raise ValueError(text)
        number = int(text)
        if not (low <= number <= high or (or_zero and number == 0)):
            raise ValueError(text)
        return number

    return read, f"{'0 or ' if or_zero else ''}a whole number from {low} to {high}"


def _keys(text: str) -> frozenset[str]:
    found = [line.split("#")[0].strip() for line in text.replace(",", "\n").splitlines()]
    keys = frozenset(line.lower() for line in found if line)
    matches = [_KEY.fullmatch(key) for key in keys]
    digests = {match[2] for match in matches if match}
    if not keys or len(digests) != len(keys):  # one that is none, or one key under two names
        raise ValueError("keys")
    return keys


def read_keys(file: Path) -> frozenset[str]:
    """The `name:digest` lines of a file; raises OSError or ValueError."""
    return _keys(file.read_text(encoding="ascii"))


def _keys_file(text: str) -> Path:
    read_keys(Path(text))
    return Path(text)


def _networks(text: str) -> tuple[str, ...]:
    found = tuple(part.strip() for part in text.split(",") if part.strip())
    for network in found:
        ip_network(network)
    return found


def _origins(text: str) -> frozenset[str]:
    found = frozenset(part.strip() for part in text.split(",") if part.strip())
    if not found or not all(_ORIGIN.fullmatch(origin) for origin in found):
        raise ValueError(text)
    return found


def _folder(text: str) -> Path:
    path = Path(text)
    if not path.is_absolute() or (path.exists() and not path.is_dir()):
        raise ValueError(text)
    return path


def _file(text: str) -> Path:
    path = Path(text)
    with path.open("rb"):
        return path


def _commit(text: str) -> str:
    if not _COMMIT.fullmatch(text):
        raise ValueError(text)
    return text


def _place(text: str) -> str | None:
    if text == NOWHERE:
        return None
    if not _PLACE.fullmatch(text):
        raise ValueError(text)
    return text


def _existing_folder(text: str) -> Path:
    path = Path(text)
    if not path.is_absolute() or not path.is_dir():
        raise ValueError(text)
    return path


_KEYS_ALLOWED = (
    "name:digest, the name of a-z 0-9 . _ - (32 at most), the digest SHA-256 in 64 hexadecimal digits, "
    "each digest once, at least one"
)
_VARIABLES: dict[str, tuple[str, Callable[[str], Any], str]] = {
    "WEB_CONCURRENCY": ("web_concurrency", *_whole(1, 64)),
    "DRAIN_SECONDS": ("drain_seconds", *_whole(0, 300)),
    "IN_FLIGHT_LIMIT": ("in_flight_limit", *_whole(1, 10_000)),
    "QUEUE_MILLISECONDS": ("queue_milliseconds", *_whole(10, 60_000)),
    "BODY_SECONDS": ("body_seconds", *_whole(1, 300)),
    "WORKER_REQUESTS": ("worker_requests", *_whole(1_000, 1_000_000_000, or_zero=True)),
    "API_KEYS": ("api_keys", _keys, f"{_KEYS_ALLOWED}, separated by commas"),
    "API_KEYS_FILE": ("api_keys_file", _keys_file, f"a readable file with {_KEYS_ALLOWED}, one a line"),
    "PROXY_NETWORKS": ("proxy_networks", _networks, "networks as in 10.0.0.0/8, separated by commas"),
    "CORS_ORIGINS": ("cors_origins", _origins, "origins as https://dispatch.example, separated by commas"),
    "OPERATIONS_BIND": ("operations_bind", bind_address, BIND_ALLOWED),
    "METRICS_DIRECTORY": ("metrics_directory", _folder, "the absolute path of a folder"),
    "DEFAULT_JURISDICTION": (
        "default_jurisdiction",
        _place,
        "the code of a place whose rules are held, as US, US-CA or EU, or none",
    ),
    "RULES_FOLDER": ("rules_folder", _existing_folder, "the absolute path of a folder that exists"),
    "LEARNT_FILE": ("learnt_file", _file, "a readable file that `fleet learn` has written"),
    "SERVICE_COMMIT": ("service_commit", _commit, "1 to 64 letters, digits, dots, dashes, underscores"),
}
