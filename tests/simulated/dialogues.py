"""Dialogues of the frozen sets: ``python -m tests.simulated.dialogues``.

Each visit begins with gauges and two clamps; the technician takes up to four readings, those that the answer asks
for or a fixed order. Printed by number of readings: decided, rightly, wrong (sound or fault said, and not of the
true cause) and minutes, as shares of visits weighed by the field prior; and the same where the technician stops as
soon as the outcome is decided. ``--wrong`` prints the dialogues that ended wrongly, reading by reading. Simulated.
"""

import argparse
from collections import Counter
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from service.knowledge.cycle_model import SOUND
from service.reasoning.cycle.posterior import CAUSES
from service.results.record import Record
from service.workshop.build.population_fluids import fit_refrigerant
from service.workshop.cycle.fluid import RefrigerantFit
from tests.simulated.dialogue import ASKED, DECIDED, Talk, talks
from tests.simulated.frozen import FrozenSet, fresh_sets, frozen_sets
from tests.simulated.judging import MIDDLE, code_of, judge, rows_of, weights_of
from tests.simulated.panel import document
from tests.simulated.populations import HeldOut

ORDERS = (("asked", False), ("fixed order", True))
LAST = "stopped when decided"


class Followed(Record):
    """Dialogues of a set in one order: truth by name, share of the range of fault size, weight of each visit."""

    talks: list[Talk]
    truth: list[str]
    sizes: np.ndarray
    weights: np.ndarray

    def marks(self, title: str) -> dict[str, float]:
        """Shares by number of readings, and where the technician stops once the outcome is decided."""
        found: dict[str, float] = {}
        for turn in range(ASKED + 1):
            found |= self._settled(f"{title} {turn}", [turn] * len(self.talks))
        return found | self._settled(f"{title}, {LAST}", [one.first_decided for one in self.talks])

    def _settled(self, key: str, turns: Sequence[int]) -> dict[str, float]:
        each = list(zip(self.talks, self.truth, turns, strict=True))
        decided = np.array([one.states[turn] in DECIDED for one, _, turn in each])
        right = np.array([_is_right(one, cause, turn) for one, cause, turn in each])
        minutes = np.array([one.minutes[turn] for one, _, turn in each])
        values = {"decided": decided, "rightly": decided & right, "wrong": decided & ~right, "minutes": minutes}
        return {f"{key}: {name}": float(np.average(of, weights=self.weights)) for name, of in values.items()}

    def kinds_of_wrong(self) -> dict[str, float]:
        """What was said of what at the end, wrongly: shares of visits, greatest first."""
        found: Counter[str] = Counter()
        for one, cause, size, weight in zip(self.talks, self.truth, self.sizes, self.weights, strict=True):
            if one.states[-1] in DECIDED and not _is_right(one, cause, ASKED):
                said = one.states[-1] if one.states[-1] == "sound" else one.causes[-1]
                found[f"{said} said of {_sized(cause, size)}"] += weight / self.weights.sum()
        return dict(found.most_common())

    def told(self, turn: int = ASKED) -> list[str]:
        """The dialogues that stand wrong after a number of readings, a paragraph each."""
        every = zip(self.talks, self.truth, self.sizes, strict=True)
        return [
            _told(one, _sized(cause, size))
            for one, cause, size in every
            if one.states[turn] in DECIDED and not _is_right(one, cause, turn)
        ]


def follow(one: FrozenSet, count: int, *, fixed: bool) -> Followed:
    """Follow some visits of a set, in a fixed shuffle, the same for either order."""
    rng = np.random.default_rng(3)
    rows = rows_of(one)
    rows = [rows[at] for at in rng.permutation(len(rows))[:count]]
    truth = [CAUSES[group.label[row]] for group, row in rows]
    fluids = {group.refrigerant: fit_refrigerant(group.refrigerant) for group in one.visits}
    writers = [_writer(group, row, fluids[group.refrigerant]) for group, row in rows]
    visits = list(zip(writers, truth, strict=True))
    weights = weights_of(one, np.array([group.label[row] for group, row in rows]))
    sizes = np.array([group.share[row] for group, row in rows])
    return Followed(talks(judge, visits, fixed=fixed), truth, sizes, weights)


def dialogues(one: FrozenSet, count: int) -> dict[str, float]:
    """Marks of a set's dialogues in both orders."""
    found: dict[str, float] = {}
    for title, fixed in ORDERS:
        found |= follow(one, count, fixed=fixed).marks(title)
    return {"visits": float(count)} | found


def _writer(group: HeldOut, row: int, fluid: RefrigerantFit) -> Callable[[tuple[str, ...]], dict[str, Any]]:
    return lambda names: document(group, row, fluid, names)


def _is_right(one: Talk, truth: str, turn: int) -> bool:
    if one.states[turn] == "sound":
        return truth == SOUND
    return truth != SOUND and one.causes[turn] == code_of(truth)


def _sized(cause: str, size: float) -> str:
    if cause == SOUND:
        return "a sound unit"
    grade = "slight" if size < MIDDLE else "middle" if size < 2.0 * MIDDLE else "severe"
    return f"{grade} {cause}"


def _told(one: Talk, truth: str) -> str:
    lines = [f"{truth}:"]
    for turn, (state, cause, share) in enumerate(zip(one.states, one.causes, one.shares, strict=True)):
        asked = f"  then {one.asked[turn]}" if turn < len(one.asked) and turn < ASKED else ""
        lines.append(f"  {turn}: {state:9s} {cause} {share:.2f}{asked}")
    return "\n".join(lines)


def main(argv: Sequence[str] | None = None) -> int:
    """Print the dialogues. Options: ``--scale``, ``--visits`` of each set, ``--set`` (part of a name, repeatable),
    ``--wrong``, ``--fresh``."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulated.dialogues", description=__doc__)
    parser.add_argument("--scale", type=int, default=8)
    parser.add_argument("--visits", type=int, default=160)
    parser.add_argument("--set", action="append", dest="chosen")
    parser.add_argument("--wrong", action="store_true")
    parser.add_argument("--fresh", action="store_true")
    options = parser.parse_args(argv)
    sets = (fresh_sets if options.fresh else frozen_sets)(options.scale)
    for one in sets:
        if any(name in one.name for name in options.chosen or [one.name]):
            _print(one, options.visits, options.wrong)
    return 0


def _print(one: FrozenSet, count: int, wrong: bool) -> None:
    print(f"\n{one.name} ({count} visits)")
    for title, fixed in ORDERS:
        followed = follow(one, count, fixed=fixed)
        _print_marks(followed.marks(title))
        print("  wrong at the end:", {name: round(share, 3) for name, share in followed.kinds_of_wrong().items()})
        if not fixed:
            for turn in range(ASKED):
                asked = Counter(talk.asked[turn] for talk in followed.talks if len(talk.asked) > turn)
                print(f"  asked as number {turn + 1}:", dict(asked.most_common(6)))
            if wrong:
                print("\n".join(followed.told()))


def _print_marks(found: dict[str, float]) -> None:
    for key in dict.fromkeys(name.split(": ")[0] for name in found):
        values = "  ".join(f"{mark} {found[f'{key}: {mark}']:.3f}" for mark in ("decided", "rightly", "wrong"))
        print(f"  {key:34s} {values}  minutes {found[f'{key}: minutes']:.1f}")


if __name__ == "__main__":
    raise SystemExit(main())
