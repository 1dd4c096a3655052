"""What stating the efficiency is worth: ``python -m tests.simulated.stated_class [--scale 8]``.

The frozen sets are posted with what a technician may say of the efficiency: nothing, its class, its SEER, or the
SEER of another class by mistake. A statement may help; it must not make a sound unit look worse than silence does.
Every set was looked at.
"""

import argparse
from collections.abc import Sequence
from typing import Any

from service.results.answer import Answer
from service.workshop.build.population_fluids import fit_refrigerant
from tests.simulated.frozen import FrozenSet, frozen_sets
from tests.simulated.judging import judge, rows_of, truth_of
from tests.simulated.panel import document
from tests.simulated.panel2 import MARKS, marks_of
from tests.simulated.populations import ALL, TIE_BREAKERS

SETS = 4  # of `frozen_sets`: those of single faults, their readings as they are
# A SEER of each simulated class, and of the other by mistake. Common practice, no source: 13 was the least of 2006
# to 2022, 18 is an efficient unit, 20 a very efficient one.
TRUE = {"standard": 13.0, "high": 18.0}
MISTAKEN = {"standard": 20.0, "high": 13.0}
OTHER = {"standard": "high", "high": "standard"}
STATED = ("nothing", "class", "SEER", "both", "SEER of another class", "another class")


def stated(equipment: dict[str, Any], what: str) -> dict[str, Any]:
    """The equipment with what is said of its efficiency, of ``STATED``; its own class is in it."""
    own = equipment["efficiency_class"]
    silent = {name: value for name, value in equipment.items() if name not in ("efficiency_class", "seer")}
    said: dict[str, dict[str, Any]] = {
        "nothing": {},
        "class": {"efficiency_class": own},
        "SEER": {"seer": TRUE[own]},
        "both": {"efficiency_class": own, "seer": TRUE[own]},
        "SEER of another class": {"seer": MISTAKEN[own]},
        "another class": {"efficiency_class": OTHER[own]},
    }
    return silent | said[what]


def answers_stating(one: FrozenSet, what: str) -> list[Answer]:
    """Answers to the visits of a set with all readings."""
    fluids = {group.refrigerant: fit_refrigerant(group.refrigerant) for group in one.visits}
    names = ALL + TIE_BREAKERS
    plain = (document(group, row, fluids[group.refrigerant], names) for group, row in rows_of(one))
    return judge(visit | {"equipment": stated(visit["equipment"], what)} for visit in plain)


def main(argv: Sequence[str] | None = None) -> int:
    """Print the marks of every set by what is stated."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulated.stated_class", description=__doc__)
    parser.add_argument("--scale", type=int, default=8)
    options = parser.parse_args(argv)
    print("| set | stated |", " | ".join(MARKS), "|")
    print("|---|---|", "---|" * len(MARKS), sep="")
    for one in frozen_sets(options.scale)[:SETS]:
        for what in STATED:
            marks = marks_of(answers_stating(one, what), *truth_of(one))
            print(f"| {one.name} | {what} |", " | ".join(f"{marks[name]:.3f}" for name in MARKS), "|", flush=True)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
