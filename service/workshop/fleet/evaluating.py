"""How right the service is on a fleet's own units: every figure with its count and its interval."""

from __future__ import annotations

from typing import Any

from service.knowledge.catalogues import causes
from service.library import written_provenance
from service.workshop.fleet.labels import Reading, labelled
from service.workshop.fleet.tally import Fleet, Tally

FEW = 30
"""Labels below which a group's figures are marked as too few to read; common practice, no source."""
CANNOT_SHOW = (
    "Whether a visit without a label was judged rightly: nobody knows what was wrong there.",
    "A fault that nobody found: it counts as sound as long as no customer calls again.",
    "What would have been found had other readings been taken: figures hold for readings taken as they were.",
    "What a repair mended beside the cause it is filed as: a label is a repair that ended the complaint.",
    "Units that were never called to: these are visits, not a sample of what stands on the roofs.",
)
REPAIRS_ALONE = (
    "How often a sound unit is accused: hardly any label is one. Confirmed repairs alone are biased; give "
    "--callback, so that visits without a repair and without a callback count as sound."
)
INFERRED = (
    "say sound only because no customer called again; some of these units have a fault that brought no call."
)


def evaluate(folder: str, truth: str, callback: str | None) -> dict[str, Any]:
    """The figures of a judged folder.

    Parameters and errors: as `labels.labelled`. Returns: plain JSON; every share has count, of, share, low, high.
    """
    reading, fleet = Reading(), Fleet()
    for item in labelled(folder, truth, callback, reading):
        fleet.add(item)
    tally = fleet.all
    return {
        "judged": {
            "rows": reading.rows,
            "refused": reading.refused,
            "labels": tally.labels,
            "labels_by_no_callback": tally.inferred,
            "labels_sound": tally.sound,
            "without_label": fleet.without_label - sum(reading.strange.values()),
            "labels_not_understood": dict(reading.strange.most_common(20)),
        },
        "figures": tally.figures(),
        "reliability": tally.reliability.table(),
        "outcomes": dict(sorted(fleet.outcomes.items())),
        "callbacks": fleet.callbacks(),
        "causes": _pairs(fleet),
        "by": {name: _groups(groups) for name, groups in fleet.by.items()},
        "cannot_show": _cannot_show(tally),
        "evaluated_by": written_provenance(),
    }


def _groups(groups: dict[str, Tally]) -> dict[str, Any]:
    return {
        name: {"labels": tally.labels, "too_few": tally.labels < FEW, **tally.figures()}
        for name, tally in sorted(groups.items())
    }


def _pairs(fleet: Fleet) -> list[dict[str, Any]]:
    """Proven against said, in the order of the catalogue; pairs that were never met are left out."""
    order = {code: at for at, code in enumerate(causes())}
    pairs = sorted(fleet.pairs.items(), key=lambda item: (order[item[0][0]], -item[1], order[item[0][1]]))
    return [{"proven": proven, "said": said, "visits": count} for (proven, said), count in pairs]


def _cannot_show(tally: Tally) -> list[str]:
    found = list(CANNOT_SHOW)
    if tally.labels and tally.sound < 0.02 * tally.labels:
        found.insert(0, REPAIRS_ALONE)
    if tally.inferred:
        found.insert(0, f"Whether all are sound: {tally.inferred} of {tally.labels} labels {INFERRED}")
    if tally.labels < FEW:
        found.insert(0, f"Anything: {tally.labels} labels are fewer than {FEW}.")
    return found
