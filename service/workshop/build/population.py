"""Rebuild the shipped cycle tables from a seed: simulate the population, fit the mixtures, write the arrays.

``python -m service tables population`` runs ``main``. Everything in the tables is simulated. The same seed gives
the same bytes: random streams belong to their group, linear algebra runs on one thread, archives carry no dates.
"""

import argparse
import json
import os
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import numpy as np

from service.knowledge.cycle_model import (
    CLASSES,
    DIRECTORY,
    EFFICIENCIES,
    FAULT_LEVELS,
    METERING,
    SCHEMA_VERSION,
    UNITS,
    file_name,
)
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.physics.cycle.reference import CENTRE, WIDTH
from service.results.record import Record, asdict
from service.workshop.build.population_archive import write_archive
from service.workshop.build.population_draw import simulate
from service.workshop.build.population_sampling import EFFICIENCY_RANGES

REFRIGERANTS = ("R-22", "R-410A", "R-407C", "R-32", "R-454B")
SEED = 20_405
PER_CLASS = 2000
ONE_THREAD = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")


class Task(Record):
    """One refrigerant to simulate."""

    refrigerant: str
    seed: int
    per_class: int


def build_refrigerant(task: Task) -> tuple[str, dict[str, np.ndarray]]:
    """Simulate and fit every group of one refrigerant; returns its designation and arrays."""
    # Imported here so that a worker's linear algebra starts after its thread limits are set.
    from service.workshop.build.mixtures import fit_group
    from service.workshop.build.population_fluids import fit_refrigerant

    fluid = fit_refrigerant(task.refrigerant)
    arrays: dict[str, np.ndarray] = {}
    kept: dict[str, list[float]] = {}
    for metering in METERING:
        groups = []
        for efficiency in EFFICIENCIES:
            key = (REFRIGERANTS.index(task.refrigerant), METERING.index(metering), EFFICIENCIES.index(efficiency))
            rng = np.random.default_rng(np.random.SeedSequence(task.seed, spawn_key=key))
            population = simulate(
                fluid, metering == "expansion_valve", EFFICIENCY_RANGES[efficiency], rng, task.per_class
            )
            kept[f"{metering}/{efficiency}"] = [round(float(share), 4) for share in population.kept]
            groups.append(fit_group(population))
        for name in asdict(groups[0]):
            arrays[f"{metering}/{name}"] = np.stack([getattr(group, name) for group in groups])
    arrays["about"] = np.array(json.dumps(_about(task, kept), sort_keys=True))
    return task.refrigerant, arrays


def main(argv: Sequence[str] | None = None) -> int:
    """Rebuild the tables. Options: ``--seed``, ``--per-class``, ``--workers``, ``--output`` (a directory)."""
    parser = argparse.ArgumentParser(prog="python -m service tables population", description=__doc__)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--per-class", type=int, default=PER_CLASS)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--output", type=Path, default=DIRECTORY)
    parser.add_argument("--refrigerant", action="append", choices=REFRIGERANTS)
    options = parser.parse_args(argv)
    for name in ONE_THREAD:
        os.environ[name] = "1"
    tasks = [Task(name, options.seed, options.per_class) for name in options.refrigerant or REFRIGERANTS]
    # Fresh interpreters: only they read the thread limits before their linear algebra loads.
    with ProcessPoolExecutor(options.workers, mp_context=get_context("spawn")) as pool:
        for refrigerant, arrays in pool.map(build_refrigerant, tasks):
            size = write_archive(options.output / file_name(refrigerant), arrays)
            print(f"{refrigerant}: {size} bytes (simulated population, seed {options.seed})")
    return 0


def _about(task: Task, kept: dict[str, list[float]]) -> dict[str, object]:
    return {
        "schema_version": SCHEMA_VERSION,
        "refrigerant": task.refrigerant,
        "seed": task.seed,
        "per_class": task.per_class,
        "readings": list(READINGS),
        "baseline_count": BASELINE_COUNT,
        "units": UNITS,
        "classes": list(CLASSES),
        "efficiencies": list(EFFICIENCIES),
        "levels": FAULT_LEVELS,
        "centre": CENTRE.tolist(),
        "width": WIDTH.tolist(),
        "kept": kept,
        "population": "simulated; outdoor 65-115 degF, return 68-86 degF, relative humidity 12-75 %, 83-102 kPa; "
        "ranges in service/workshop/build/population_sampling.py",
    }
