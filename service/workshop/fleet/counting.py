"""Labels counted by stratum, and the smoothed shares that follow."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from service.knowledge.catalogues import causes
from service.knowledge.learnt import EVERYWHERE, Key, Learnt, Stratum, keys_of
from service.knowledge.shipped_shares import shipped_shares

SMOOTHING = 50.0
"""The stratum above counts as so many labels; project choice."""
LEAST_IN_STRATUM = 30
"""Labels below which a stratum is left to the one above it; project choice."""
DEPTHS = ("all visits", "season", "season and kind", "season, kind and complaint")


@dataclass(slots=True)
class Count:
    """Labels of a stratum: by cause as proven, and as the shipped shares would have it."""

    labels: int = 0
    proven: Counter[str] = field(default_factory=Counter)
    shipped: dict[str, float] = field(default_factory=dict)


class Counts:
    """Labels in every stratum that they belong to."""

    def __init__(self) -> None:
        self.strata: dict[Key, Count] = {}

    def add(self, row: dict[str, Any], truth: str) -> None:
        """Count a label."""
        symptoms = tuple(row["symptoms"])
        for key in keys_of(row["month"], row["kind"], symptoms):
            count = self.strata.setdefault(key, Count())
            count.labels += 1
            count.proven[truth] += 1
            for code, share in shipped_shares(symptoms).items():
                count.shipped[code] = count.shipped.get(code, 0.0) + share

    def learnt(self, name: str, model: str, depth: int, temperature: float) -> Learnt:
        """Shares of the strata down to a depth (0: all visits alone), each smoothed towards the one above it."""
        found: dict[Key, Stratum] = {}
        for key in sorted(self.strata, key=depth_of):
            count = self.strata[key]
            if depth_of(key) <= depth and (key == EVERYWHERE or count.labels >= LEAST_IN_STRATUM):
                found[key] = _smoothed(count, _above(key, found))
        return Learnt(name, model, self.strata[EVERYWHERE].labels, temperature, found)


def depth_of(key: Key) -> int:
    """How narrow a stratum is: 0 for all visits, 3 for season, kind and complaint."""
    season, kind, symptoms = key
    return (season != "") + (kind != "") + (symptoms is not None)


def _above(key: Key, found: dict[Key, Stratum]) -> Stratum | None:
    """The narrowest stratum above one; those in between may have had too few labels."""
    season, kind, symptoms = key
    above: list[Key] = [(season, kind, None)] if symptoms is not None else []
    above += [(season, "", None)] if kind else []
    above += [EVERYWHERE] if season else []
    return next((found[each] for each in above if each in found), None)


def _smoothed(count: Count, above: Stratum | None) -> Stratum:
    """Observed shares drawn towards what the stratum above makes of the shipped ones; the widest, to these."""
    shipped = {code: count.shipped[code] / count.labels for code in causes()}
    expected = dict(shipped)
    if above is not None:
        expected = {code: share * above.shares[code] / above.shipped[code] for code, share in shipped.items()}
    total = sum(expected.values())
    shares = {
        code: (count.proven[code] + SMOOTHING * share / total) / (count.labels + SMOOTHING)
        for code, share in expected.items()
    }
    return Stratum(count.labels, shares, shipped)
