"""Records held out: by them candidates are compared, and by others the one that was chosen is tried."""

from __future__ import annotations

import hashlib
import math
from dataclasses import dataclass, field
from typing import Any

from service.knowledge.learnt import Learnt
from service.knowledge.limits import limit
from service.reasoning.priors import replayed
from service.workshop.fleet.figures import Reliability, log_loss
from service.workshop.fleet.labels import SOUND, Labelled

COUNTED, CHOSEN = 0.6, 0.8
"""Of all labels six tenths are counted, two choose among candidates, and two try the one that was chosen."""


def part_of(row: dict[str, Any]) -> str:
    """`count`, `choose` or `try`: by a digest of file and row, so always the same, whatever the order."""
    name = f"{row['file'].rpartition('/')[2]}#{row['row']}"
    drawn = int.from_bytes(hashlib.sha256(name.encode()).digest()[:8], "big") / 2**64
    return "count" if drawn < COUNTED else "choose" if drawn < CHOSEN else "try"


@dataclass(slots=True)
class Trial:
    """Shares that were stated, against the truth. learnt: None for the answers as they were given."""

    learnt: Learnt | None = None
    labels: int = 0
    loss: float = 0.0
    sound: int = 0
    leads: int = 0
    accused: int = 0
    reliability: Reliability = field(default_factory=Reliability)

    def add(self, item: Labelled) -> float:
        """Count a record. Returns: its log loss [nat]."""
        causes = [(cause["code"], cause["share"]) for cause in item.row["causes"]]
        if self.learnt is not None:
            causes = self._replayed(item.row, causes)
        assert item.truth is not None
        leading, share = causes[0]
        loss = log_loss(causes, item.truth)
        self.labels += 1
        self.loss += loss
        self.sound += item.truth == SOUND
        against = item.truth == SOUND and leading != SOUND
        self.leads += against
        self.accused += against and share >= limit("reasoning.established").value
        self.reliability.add(share, leading == item.truth)
        return loss

    def _replayed(self, row: dict[str, Any], causes: list[tuple[str, float]]) -> list[tuple[str, float]]:
        assert self.learnt is not None
        symptoms = tuple(row["symptoms"])
        shares = replayed(causes, symptoms, self.learnt.priors(row["month"], row["kind"], symptoms))
        return sorted(shares.items(), key=lambda item: (-item[1], item[0]))

    def figures(self) -> dict[str, Any]:
        """Mean log loss [nat], calibration error; of sound units, where a fault leads or is established."""
        return {
            "log_loss": round(self.loss / max(self.labels, 1), 4),
            "calibration_error": round(self.reliability.error(), 4),
            "fault_leads_on_sound": round(self.leads / max(self.sound, 1), 4),
            "fault_established_on_sound": round(self.accused / max(self.sound, 1), 4),
        }


@dataclass(slots=True)
class Difference:
    """Losses after less losses before, record by record."""

    number: int = 0
    total: float = 0.0
    squares: float = 0.0

    def add(self, by: float) -> None:
        """Count a record."""
        self.number += 1
        self.total += by
        self.squares += by * by

    @property
    def mean(self) -> float:
        """Mean change of the log loss [nat]; below zero is better."""
        return self.total / max(self.number, 1)

    @property
    def standard_error(self) -> float:
        """Of the mean; infinite below two records."""
        if self.number < 2:
            return math.inf
        variance = max(self.squares - self.number * self.mean**2, 0.0) / (self.number - 1)
        return math.sqrt(variance / self.number)
