"""Shares of causes and one temperature from labelled records; nothing is written that does not stand the test."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import yaml

from service.knowledge.learnt import FORMAT, Learnt, digest_of
from service.knowledge.limits import limit
from service.knowledge.model_version import model_version
from service.library import written_provenance
from service.results.record import Record
from service.workshop.fleet.counting import DEPTHS, Counts
from service.workshop.fleet.holding_out import Difference, Trial, part_of
from service.workshop.fleet.labels import Labelled, Reading, labelled, require_shipped

TEMPERATURES = (0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.25, 1.5, 1.75, 2.0)
ERRORS = 2.0
"""Standard errors by which the log loss must fall on the records that were held out."""


class Declined(Exception):
    """Nothing was learnt that may be written; the text says why, with the figures."""


class Source(Record):
    """Where the records are. truth, callback: the owner's columns."""

    folder: str
    truth: str
    callback: str | None

    def labels(self, *parts: str) -> Iterator[Labelled]:
        """The labelled records of some parts of the split, in order."""
        for item in labelled(self.folder, self.truth, self.callback, Reading()):
            if item.truth is not None and part_of(item.row) in parts:
                yield item


def learn(source: Source, name: str) -> dict[str, Any]:
    """What a learnt file is made of.

    The labels are split by a digest: six tenths are counted, two choose depth and temperature, and two, which
    nothing was chosen on, must show a lower log loss (by two standard errors), a lower calibration error, and no
    more sound units with a fault established.
    Raises: Declined, UnusableFile (also where rows were judged by another model, or with learnt shares).
    """
    require_shipped(source.folder)
    counts, span = _counted(source)
    chosen = _chosen(source, counts, name)
    before, after, change = _tried(source, chosen)
    told = {"labels": before.labels, "before": before.figures(), "after": after.figures()}
    told["log_loss_change"] = round(change.mean, 4)
    told["standard_error"] = round(change.standard_error, 4)
    if change.mean > -ERRORS * change.standard_error:
        raise Declined(f"the log loss does not fall on records held out: {told}")
    if after.reliability.error() >= before.reliability.error():
        raise Declined(f"the calibration error does not fall on records held out: {told}")
    if after.accused > before.accused:
        raise Declined(f"more sound units would have a fault established on records held out: {told}")
    return _written(chosen, span, told)


def _counted(source: Source) -> tuple[Counts, dict[str, Any]]:
    """Labels by stratum, and how many there are in all, from when to when. Raises: Declined for too few."""
    counts, labels, inferred, months = Counts(), 0, 0, set()
    for item in source.labels("count", "choose", "try"):
        labels += 1
        inferred += item.inferred
        months.add(item.row["month"])
        if part_of(item.row) == "count":
            assert item.truth is not None
            counts.add(item.row, item.truth)
    least = int(limit("priors.least-labels").value)
    if labels < least:
        raise Declined(f"{labels} labels are fewer than the {least} that anything is learnt from")
    dated = sorted(month for month in months if month is not None)
    return counts, {
        "labels": labels,
        "labels_by_no_callback": inferred,
        "first_month": dated[0] if dated else None,
        "last_month": dated[-1] if dated else None,
    }


def _chosen(source: Source, counts: Counts, name: str) -> Learnt:
    """The simplest of the lowest log loss: depth first, at temperature 1, then temperature. Raises: Declined."""
    plain = Trial()
    depths = [Trial(counts.learnt(name, model_version(), depth, 1.0)) for depth in range(len(DEPTHS))]
    _compare(source, [plain, *depths])
    best = _best(depths, plain)
    assert best.learnt is not None
    depth = depths.index(best)
    warm = [Trial(counts.learnt(name, model_version(), depth, each)) for each in TEMPERATURES]
    _compare(source, warm)
    best = _best(warm, plain)
    assert best.learnt is not None
    return best.learnt


def _best(trials: list[Trial], plain: Trial) -> Trial:
    """The first of the lowest log loss, of those that accuse no more sound units than the answers as given did.

    Raises: Declined where none is better than these.
    """
    better = [trial for trial in trials if trial.loss < plain.loss and trial.accused <= plain.accused]
    if not better:
        raise Declined("no shares and no temperature are better than the shipped ones on the records that choose")
    return min(better, key=lambda trial: round(trial.loss, 6))


def _compare(source: Source, trials: list[Trial]) -> None:
    for item in source.labels("choose"):
        for trial in trials:
            trial.add(item)


def _tried(source: Source, chosen: Learnt) -> tuple[Trial, Trial, Difference]:
    """The answers as given and as they would be, on records that nothing was counted or chosen on."""
    before, after, change = Trial(), Trial(chosen), Difference()
    for item in source.labels("try"):
        loss = before.add(item)
        change.add(after.add(item) - loss)
    return before, after, change


def _written(chosen: Learnt, span: dict[str, Any], told: dict[str, Any]) -> dict[str, Any]:
    strata = [
        {
            **({"season": season} if season else {}),
            **({"kind": kind} if kind else {}),
            **({"symptoms": list(symptoms)} if symptoms is not None else {}),
            "labels": stratum.labels,
            "shares": _rounded(stratum.shares),
            "shipped": _rounded(stratum.shipped),
        }
        for (season, kind, symptoms), stratum in chosen.strata.items()
    ]
    about = {
        **span,
        "held_out": told,
        "learnt_on": datetime.now(UTC).date().isoformat(),
        "learnt_by": written_provenance(),
    }
    content = {
        "format": FORMAT,
        "name": chosen.name,
        "model": chosen.model,
        "labels": chosen.labels,
        "temperature": chosen.temperature,
        "about": about,
        "strata": strata,
    }
    return content | {"digest": digest_of(content)}


def _rounded(shares: Any) -> dict[str, float]:
    return {code: round(share, 7) for code, share in shares.items()}


def as_text(content: dict[str, Any]) -> bytes:
    """The file, to be read by people too."""
    text: str = yaml.safe_dump(content, sort_keys=False, allow_unicode=True, width=110, default_flow_style=None)
    return text.encode()
