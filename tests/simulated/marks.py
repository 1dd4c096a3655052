"""Print the marks on simulated systems never used for fitting: ``python -m tests.simulated.marks``.

Every figure printed is simulated. It says how separable the faults are under the stated assumptions, not how the
service scores in the field.
"""

import argparse
import time
from collections.abc import Sequence

import numpy as np

from service.app import create_app
from service.knowledge.cycle_model import METERING
from service.workshop.build.population import REFRIGERANTS
from tests.simulated.ordering import (
    by_information,
    course,
    drawn_rows,
    in_fixed_order,
    readings_for,
    readings_saved,
)
from tests.simulated.panel import panel
from tests.simulated.populations import (
    ALL,
    CORE,
    POPULATIONS,
    STRUCTURES,
    TIE_BREAKERS,
    HeldOut,
    baseline,
    chart,
    held_out,
)
from tests.simulated.scoring import judge, recall, score

# Factor on the study's instruments: as in the study, as the energy code asks (temperatures within 1.3 degF),
# doubled.
INSTRUMENT_CLASSES = {"ordinary": 1.0, "energy code": 0.65}
SEED = 9_000


def visits_of(
    refrigerants: Sequence[str],
    name: str,
    per_class: int,
    noise: float = 1.0,
    meterings: Sequence[str] = METERING,
) -> list[HeldOut]:
    """Visits of one test population over refrigerants and metering devices."""
    return [
        held_out(refrigerant, metering, name, per_class, SEED + 10 * at + place, noise)
        for at, refrigerant in enumerate(refrigerants)
        for place, metering in enumerate(METERING)
        if metering in meterings
    ]


def main(argv: Sequence[str] | None = None) -> int:
    """Print every mark. Options: ``--per-class``, ``--refrigerant`` (repeatable), ``--visits`` for the orders."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulated.marks", description=__doc__)
    parser.add_argument("--per-class", type=int, default=100)
    parser.add_argument("--visits", type=int, default=60)
    parser.add_argument("--refrigerant", action="append", choices=REFRIGERANTS)
    options = parser.parse_args(argv)
    refrigerants = options.refrigerant or REFRIGERANTS
    for label, noise in INSTRUMENT_CLASSES.items():
        for name in POPULATIONS:
            _print_population(label, name, visits_of(refrigerants, name, options.per_class, noise))
    for name, (_, meterings) in STRUCTURES.items():
        _print_structure(name, visits_of(refrigerants, name, options.per_class, 1.0, meterings))
    doubled = visits_of(refrigerants, "nominal", options.per_class, 2.0)
    print(f"doubled noise, stated    ALL             {score(judge(doubled, ALL))}")
    print(f"doubled noise, not said  ALL             {score(judge(doubled, ALL, stated=False))}")
    _print_panel(refrigerants, max(options.per_class // 4, 2))
    _print_orders(visits_of(refrigerants, "nominal", options.per_class), options.visits)
    return 0


def _print_structure(name: str, visits: list[HeldOut]) -> None:
    for title, names in (("ALL", ALL), ("ALL+tie-breakers", ALL + TIE_BREAKERS)):
        print(f"ordinary     one change: {name:24s} {title:16s} {score(judge(visits, names))}")


def _print_panel(refrigerants: Sequence[str], per_class: int) -> None:
    client = create_app().test_client()
    for name in POPULATIONS:
        visits = visits_of(refrigerants, name, per_class)
        for title, names in (("ALL", ALL), ("ALL+tie-breakers", ALL + TIE_BREAKERS)):
            found = panel(client, visits, names)
            print(f"through the service  {name:16s} {title:16s} {found}")
            print("  failed checks of sound units called faulty", found.failed)


def _print_population(label: str, name: str, visits: list[HeldOut]) -> None:
    start = time.perf_counter()
    for title, names in (("CORE", CORE), ("ALL", ALL), ("ALL+tie-breakers", ALL + TIE_BREAKERS)):
        judged = judge(visits, names)
        print(f"{label:12s} {name:16s} {title:16s} {score(judged)}")
    print(f"{label:12s} {name:16s} {'ALL, unit class unknown':16s} {score(judge(visits, ALL, efficiency=False))}")
    for title, names, known in (
        ("CORE+baseline", CORE, baseline),
        ("CORE+chart", CORE, chart),
        ("ALL+baseline", ALL, baseline),
    ):
        print(f"{label:12s} {name:16s} {title:16s} {score(judge(visits, names, known=known))}")
    print("  recall with tie-breakers", {cause: round(share, 2) for cause, share in recall(judged).items()})
    print(f"  {time.perf_counter() - start:.0f} s")


def _print_orders(visits: list[HeldOut], count: int) -> None:
    rng = np.random.default_rng(SEED)
    rows = [drawn_rows(group, count, rng) for group in visits]
    fixed, informed = course(visits, rows, in_fixed_order), course(visits, rows, by_information)
    print("accuracy after 0, 1, 2 .. readings (simulated)")
    print("  fixed order      ", fixed.accuracy.round(3))
    print("  information order", informed.accuracy.round(3))
    for level in fixed.readings_at:
        print(f"  sure to {level}: fixed {fixed.readings_at[level]}, information {informed.readings_at[level]}")
    print(f"  readings saved: {readings_saved(fixed.accuracy, informed.accuracy):.1f} (simulated)")
    for at in (6, 8, 10):
        wanted = float(fixed.accuracy[at])
        print(f"  accuracy {wanted:.3f}: fixed {at}, information {readings_for(informed.accuracy, wanted):.1f}")


if __name__ == "__main__":
    raise SystemExit(main())
