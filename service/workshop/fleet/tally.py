"""What was said against what was proven, counted row by row."""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import Any

from service.workshop.fleet.figures import Reliability, log_loss, share
from service.workshop.fleet.labels import SOUND, Labelled
from service.workshop.fleet.repairs import parts_of

GROUPS = ("kind", "refrigerant", "efficiency_class", "month")
NOT_STATED = "not stated"
ACCUSED = ("fault", "unsafe")


class Tally:
    """Counts over the labelled rows of a fleet, or of a part of it."""

    def __init__(self) -> None:
        self.labels = self.inferred = self.first = self.three = 0
        self.sound = self.false_fault = self.faults = self.missed = 0
        self.undecided = self.unsafe = self.unsafe_sound = 0
        self.with_parts = self.wrong_parts = 0
        self.loss = 0.0
        self.reliability = Reliability()

    def add(self, item: Labelled) -> None:
        """Count a row whose truth is known."""
        row, truth = item.row, item.truth
        assert truth is not None
        causes = [(cause["code"], cause["share"]) for cause in row["causes"]]
        right = row["cause"] == truth
        self.labels += 1
        self.inferred += item.inferred
        self.first += right
        self.three += truth in [code for code, _ in causes[:3]]
        self.loss += log_loss(causes, truth)
        self.reliability.add(row["share"], right)
        self._count_outcome(row["outcome"], truth)
        if row["outcome"] == "fault" and row["parts"]:
            self.with_parts += 1
            self.wrong_parts += not set(row["parts"]) & parts_of(truth)

    def _count_outcome(self, outcome: str, truth: str) -> None:
        is_sound = truth == SOUND
        self.undecided += outcome == "undecided"
        self.unsafe += outcome == "unsafe"
        self.unsafe_sound += outcome == "unsafe" and is_sound
        self.sound += is_sound
        self.faults += not is_sound
        self.false_fault += is_sound and outcome in ACCUSED
        self.missed += not is_sound and outcome == "sound"

    def figures(self) -> dict[str, Any]:
        """Each share with its interval."""
        return {
            "right_first": share(self.first, self.labels),
            "right_in_first_three": share(self.three, self.labels),
            "undecided": share(self.undecided, self.labels),
            "fault_said_of_sound": share(self.false_fault, self.sound),
            "sound_said_of_fault": share(self.missed, self.faults),
            "wrong_parts": share(self.wrong_parts, self.with_parts),
            "unsafe": share(self.unsafe, self.labels),
            "unsafe_proven_sound": share(self.unsafe_sound, self.unsafe),
            "calibration_error": round(self.reliability.error(), 4),
            "log_loss": round(self.loss / max(self.labels, 1), 4),
        }


class Fleet:
    """The tally of all rows, of each group of them, of cause against cause, and of callbacks by what was said."""

    def __init__(self) -> None:
        self.all = Tally()
        self.without_label = 0
        self.by: dict[str, defaultdict[str, Tally]] = {name: defaultdict(Tally) for name in GROUPS}
        self.pairs: Counter[tuple[str, str]] = Counter()
        self.outcomes: Counter[str] = Counter()
        self.asked_again: Counter[str] = Counter()
        self.recorded: Counter[str] = Counter()

    def add(self, item: Labelled) -> None:
        """Count a judged row."""
        outcome = item.row["outcome"]
        self.outcomes[outcome] += 1
        if item.callback is not None:
            self.recorded[outcome] += 1
            self.asked_again[outcome] += item.callback
        if item.truth is None:
            self.without_label += 1
            return
        self.all.add(item)
        self.pairs[item.truth, item.row["cause"]] += 1
        for name, groups in self.by.items():
            groups[item.row[name] or NOT_STATED].add(item)

    def callbacks(self) -> dict[str, Any]:
        """Share of customers who called again, by what was said; of the visits where that is recorded."""
        return {state: share(self.asked_again[state], number) for state, number in sorted(self.recorded.items())}
