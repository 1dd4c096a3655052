"""A file of learnt shares: written by `fleet learn`, named by LEARNT_FILE, mixed into every answer.

The shares stand by stratum: all visits, those of a season, of a season and kind, and of a season, kind and
complaint. Each has its shares, smoothed towards the stratum above it, and what the shipped shares say of the same
visits; their ratio is what was learnt. A visit takes the ratio of the narrowest stratum that has it.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import yaml

from service.knowledge.catalogues import causes
from service.knowledge.model_version import model_version
from service.knowledge.shipped_shares import shipped_shares
from service.results.record import Record, field
from service.results.visit.priors import CauseShare, Priors

FORMAT = 1
MOST_BYTES = 8 * 1024 * 1024
MOST_STRATA = 5000
SEASONS = ("dec-feb", "mar-may", "jun-aug", "sep-nov")
"""By months, so that they mean the same on both halves of the globe."""
Key = tuple[str, str, tuple[str, ...] | None]


class UnusableLearntFile(Exception):
    """A learnt file that cannot be used; the text says why."""


class Stratum(Record):
    """labels: visits with a proven cause in it. shares: of causes among them. shipped: as shipped for them."""

    labels: int
    shares: Mapping[str, float]
    shipped: Mapping[str, float]


class Learnt(Record):
    """Everything a learnt file says that counts for an answer. about: counts, dates and versions, for people."""

    name: str
    model: str
    labels: int
    temperature: float
    strata: Mapping[Key, Stratum]
    about: Mapping[str, Any] = field(default_factory=dict)

    def priors(self, visit_date: str | None, kind: str | None, symptoms: tuple[str, ...]) -> Priors:
        """The shares for a visit: those shipped for its complaint, times what was learnt in its stratum."""
        stratum = next(self.strata[key] for key in keys_of(visit_date, kind, symptoms) if key in self.strata)
        shipped = shipped_shares(symptoms)
        weights = {
            code: share * stratum.shares.get(code, 0.0) / max(stratum.shipped.get(code, 0.0), 1e-9)
            for code, share in shipped.items()
        }
        total = sum(weights.values())
        shares = tuple(CauseShare(code, weight / total) for code, weight in weights.items())
        return Priors(self.name, self.model, self.labels, self.temperature, shares)


EVERYWHERE: Key = ("", "", None)


def keys_of(visit_date: str | None, kind: str | None, symptoms: tuple[str, ...]) -> Iterator[Key]:
    """Strata of a visit, the narrowest first; what is not stated ends the narrowing."""
    if visit_date is not None:
        season = season_of(visit_date)
        if kind is not None:
            yield season, kind, tuple(sorted(symptoms))
            yield season, kind, None
        yield season, "", None
    yield EVERYWHERE


def season_of(visit_date: str) -> str:
    """Of an ISO 8601 date or month."""
    return SEASONS[int(visit_date[5:7]) % 12 // 3]


def read_learnt(file: Path) -> Learnt:
    """Read a learnt file. Raises: UnusableLearntFile, saying what is wrong with it, and OSError."""
    if file.stat().st_size > MOST_BYTES:
        raise UnusableLearntFile(f"{file}: larger than {MOST_BYTES} bytes")
    try:
        content = yaml.load(file.read_bytes(), Loader=yaml.CSafeLoader)
        return parse_learnt(content)
    except UnusableLearntFile as error:
        raise UnusableLearntFile(f"{file}: {error}") from None
    except (yaml.YAMLError, UnicodeDecodeError, KeyError, TypeError, ValueError, AttributeError) as error:
        raise UnusableLearntFile(f"{file}: not a learnt file ({type(error).__name__})") from None


def parse_learnt(content: Any) -> Learnt:
    """A learnt file as read from YAML. Raises: UnusableLearntFile; KeyError and the like for what is none."""
    if content["format"] != FORMAT:
        raise UnusableLearntFile(f"format {content['format']}, this service reads {FORMAT}")
    if content["digest"] != digest_of(content):
        raise UnusableLearntFile("its digest is not that of its content: it was changed after it was learnt")
    if content["model"] != model_version():
        raise UnusableLearntFile(f"learnt on model {content['model']}, this is {model_version()}: learn it again")
    strata = {_key(row): _stratum(row) for row in content["strata"]}
    if EVERYWHERE not in strata or len(strata) > MOST_STRATA:
        raise UnusableLearntFile(f"no shares of all visits, or more than {MOST_STRATA} strata")
    temperature = float(content["temperature"])
    if not 0.5 <= temperature <= 2.0:
        raise UnusableLearntFile("temperature lies outside 0.5 to 2")
    return Learnt(
        str(content["name"]), content["model"], int(content["labels"]), temperature, strata, dict(content["about"])
    )


def digest_of(content: Mapping[str, Any]) -> str:
    """SHA-256 over everything but the digest itself: tells a changed file, and does not tell who wrote it."""
    rest = {name: value for name, value in content.items() if name != "digest"}
    text = json.dumps(rest, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _key(row: Mapping[str, Any]) -> Key:
    symptoms = row.get("symptoms")
    return row.get("season", ""), row.get("kind", ""), None if symptoms is None else tuple(symptoms)


def _stratum(row: Mapping[str, Any]) -> Stratum:
    shares, shipped = (_shares(row[name]) for name in ("shares", "shipped"))
    return Stratum(int(row["labels"]), shares, shipped)


def _shares(given: Mapping[str, Any]) -> dict[str, float]:
    shares = {code: float(share) for code, share in given.items()}
    if set(shares) - set(causes()) or not all(0.0 <= share <= 1.0 for share in shares.values()):
        raise UnusableLearntFile("a share of no cause of the catalogue, or outside 0 to 1")
    return shares
