"""What the readings can tell at most: ``python -m tests.simulated.learner`` (extra ``learner``).

Gradient boosting learns from thousands of visits that the generator of a frozen set draws anew, which no shipped
table may, and judges the set; its marks are printed beside those of the service. A mark that this learner misses
as well is beyond the readings, as far as such a learner finds what is in them. Simulated, all of it.

Visits of the second model are judged by trees taught by our own model as well: by the ranges that the shipped
tables are drawn from and by the perturbed ones, never by the second model. They show what knowledge of one model
is worth at another: a mark that they miss too is beyond what one model can tell, as far as such trees find it.
"""

import argparse
import os
from collections.abc import Sequence
from typing import Any

import numpy as np

from service.knowledge.cycle_model import METERING, SOUND
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle.posterior import CAUSES
from service.results.record import fields
from service.workshop.build.population_sampling import EFFICIENCY_RANGES
from tests.simulated.frozen import GENERATORS, REFRIGERANTS, SECOND, SEED, FrozenSet, drawn
from tests.simulated.judging import MIDDLE, answers_of, state_of, truth_of, weights_of
from tests.simulated.panel2 import MARKS, marks_of
from tests.simulated.populations import ALL, PERTURBED, TIE_BREAKERS, HeldOut, visits_to
from tests.simulated.scoring import calibration_error

Array = np.ndarray
# Apart from every seed of a frozen set, so that no unit is learnt from and judged.
TRAINING_SEED = 616_000
# Share from which the learner tells a fault: what the service asks of a cause (``reasoning.established``).
ESTABLISHED = 0.6
MISSED = "middle and worse told sound"


def features(group: HeldOut) -> Array:
    """Readings and conditions (n, m) and their differences that the trade speaks of; [K] and shares."""
    at = {name: group.values[:, READINGS.index(name)] for name in ALL + TIE_BREAKERS}
    outdoor, dry, wet, pressure = group.conditions.T
    superheat = at["suction_line_temperature"] - at["suction_saturation_temperature"]
    subcooling = at["liquid_saturation_temperature"] - at["liquid_line_temperature"]
    differences = [
        superheat,
        subcooling,
        subcooling - at["target_subcooling"],
        superheat - subcooling,
        at["liquid_saturation_temperature"] - outdoor,
        at["liquid_line_temperature"] - outdoor,
        at["condenser_leaving_dry_bulb"] - outdoor,
        at["discharge_line_temperature"] - at["liquid_saturation_temperature"],
        wet - at["suction_saturation_temperature"],
        dry - at["supply_dry_bulb"],
        wet - at["supply_wet_bulb"],
    ]
    return np.column_stack([*at.values(), outdoor, dry, wet, pressure / 1e3, *differences])


def learn(training: HeldOut, weight: Array, visits: HeldOut) -> Array:
    """Probabilities (n, causes) of visits by boosted trees fitted to training visits with their weights."""
    from sklearn.ensemble import HistGradientBoostingClassifier

    model = HistGradientBoostingClassifier(
        max_iter=400,
        learning_rate=0.06,
        max_leaf_nodes=15,
        min_samples_leaf=30,
        l2_regularization=1.0,
        early_stopping=True,
        validation_fraction=0.12,
        random_state=7,
    )
    model.fit(features(training), training.label, sample_weight=weight * weight.size / weight.sum())
    found = np.zeros((visits.label.size, len(CAUSES)))
    found[:, model.classes_] = model.predict_proba(features(visits))
    return found


def learner_marks(found: Array, truth: tuple[Array, Array, Array], same_miss: float) -> dict[str, float]:
    """``MARKS`` of probabilities (n, causes).

    Parameters: truth: label, share of the range of size, weight; same_miss: sound is told from the least share of
    no fault on at which middle and severe faults are told sound no more often than this. A fault is told from
    ``ESTABLISHED`` on.
    """
    label, share, weight = truth
    right = found.argmax(axis=1) == label
    sound = label == CAUSES.index(SOUND)
    slight, worse = ~sound & (share < MIDDLE), ~sound & (share >= MIDDLE)
    chance = found[:, CAUSES.index(SOUND)]
    told = chance >= threshold(chance[worse], weight[worse], same_miss)
    accused = (found.argmax(axis=1) != CAUSES.index(SOUND)) & (found.max(axis=1) >= ESTABLISHED)

    def mean(values: Array, chosen: Array) -> float:
        return float(np.average(values[chosen], weights=weight[chosen]))

    values = (
        mean(right, np.ones(label.size, dtype=bool)),
        mean(~right, sound),
        mean(accused, sound),
        mean(told, sound),
        mean(told, slight),
        mean(told, worse),
        calibration_error(found.max(axis=1), right, weight),
    )
    return dict(zip(MARKS, values, strict=True))


def threshold(chance: Array, weight: Array, most: float) -> float:
    """Least threshold above one half that no more than a share ``most`` of the weight reaches."""
    order = np.argsort(-chance)
    reached = np.cumsum(weight[order]) / weight.sum()
    allowed = int(np.searchsorted(reached, most + 1e-12, side="right"))
    if allowed == chance.size:
        return 0.5
    return max(float(np.nextafter(chance[order][allowed], 2.0)), 0.5)


def main(argv: Sequence[str] | None = None) -> int:
    """Print the marks of both on every set. Options: ``--scale`` of the sets, ``--training`` (scale of what is
    learnt from), ``--set`` (a part of its name)."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulated.learner", description=__doc__)
    parser.add_argument("--scale", type=int, default=32)
    parser.add_argument("--training", type=int, default=1500)
    parser.add_argument("--set", default="")
    options = parser.parse_args(argv)
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    for name in GENERATORS:
        if options.set in name:
            _print(name, options.scale, options.training)
    return 0


def _print(name: str, scale: int, training: int) -> None:
    one = FrozenSet(name, drawn(name, scale, SEED), name != SECOND)
    truth, answers = truth_of(one), answers_of(one)
    columns = {"ours": marks_of(answers, *truth)}
    teachers = {"taught by its own": FrozenSet("", drawn(name, training, TRAINING_SEED), one.ours)}
    if name == SECOND:
        teachers["taught by ours"] = FrozenSet("", own_population(2 * training), ours=True)
    for title, teacher in teachers.items():
        columns[title] = learner_marks(_taught(teacher, one), truth, columns["ours"][MISSED])
    told = sum(state_of(answer) == "sound" for answer in answers)
    print(f"\n{name}: {truth[0].size} visits, {told} told sound (simulated)")
    print(" " * 32 + "".join(f"{title:>20s}" for title in columns))
    for mark in MARKS:
        print(f"  {mark:30s}" + "".join(f"{marks[mark]:20.3f}" for marks in columns.values()), flush=True)


def own_population(per_class: int) -> tuple[HeldOut, ...]:
    """Visits of our own model to learn from: ranges of the shipped tables, two parts, and perturbed ones, one."""
    found = []
    for at, (refrigerant, metering) in enumerate((one, kind) for one in REFRIGERANTS for kind in METERING):
        parts = [
            visits_to(refrigerant, metering, ranges, "standard", share, TRAINING_SEED + at + aside)
            for ranges, share, aside in (
                ((EFFICIENCY_RANGES["standard"],), per_class - per_class // 3, 0),
                (PERTURBED, per_class // 3, 50),
            )
        ]
        rows = {item.name: [getattr(part, item.name) for part in parts] for item in fields(HeldOut)}
        found.append(HeldOut(**{name: _together(values) for name, values in rows.items()}))
    return tuple(found)


def _together(values: list[Any]) -> Any:
    return np.concatenate(values) if isinstance(values[0], np.ndarray) else values[0]


def _taught(teacher: FrozenSet, one: FrozenSet) -> Array:
    """Probabilities (n, causes) of a set's visits, each group by what the same group of the teacher says."""
    pairs = zip(teacher.visits, one.visits, strict=True)
    return np.concatenate([learn(group, weights_of(teacher, group.label), visits) for group, visits in pairs])


if __name__ == "__main__":
    raise SystemExit(main())
