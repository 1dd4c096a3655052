"""What each threshold for saying 'sound' costs: ``python -m tests.simulated.sound_share``.

Of every frozen set, at shares of no fault from .4 to .9: sound units told sound, against slight faults and middle
and severe faults told sound. The threshold is ``reasoning.sound-share`` in topics/reasoning.yaml. All sets were
looked at when it was chosen (tests/simulated/RESULTS.md).
"""

import argparse
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import numpy as np

from service.knowledge.cycle_model import SOUND
from service.knowledge.limits import all_limits
from service.reasoning.cycle.posterior import CAUSES
from service.results.record import replace
from tests.simulated.frozen import FrozenSet, frozen_sets
from tests.simulated.judging import MIDDLE, answers_of, state_of, truth_of

CODE = "reasoning.sound-share"
SHARES = (0.4, 0.5, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9)
NEVER = 1.01


def main(argv: Sequence[str] | None = None) -> int:
    """Print a table for each set. Option: ``--scale`` of the sets."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulated.sound_share", description=__doc__)
    parser.add_argument("--scale", type=int, default=16)
    for one in frozen_sets(parser.parse_args(argv).scale):
        print(f"\n{one.name}\n  share   sound   slight  middle and severe (told sound)")
        for share, row in zip(SHARES, told_sound(one), strict=True):
            print(f"  {share:.2f}  " + "  ".join(f"{value:6.3f}" for value in row))
    return 0


def told_sound(one: FrozenSet) -> list[tuple[float, float, float]]:
    """Shares of sound, slightly faulty and worse units told sound, at each of ``SHARES``.

    A unit whose checks all passed is told sound whatever the threshold; the others from their own share on.
    """
    label, size, weight = truth_of(one)
    sound = label == CAUSES.index(SOUND)
    groups = (sound, ~sound & (size < MIDDLE), ~sound & (size >= MIDDLE))
    with threshold(CODE, NEVER):
        anyway = are_told(one, "sound")[0]
    with threshold(CODE, SHARES[0]):
        at_least, share = are_told(one, "sound")
    found = []
    for least in SHARES:
        told = anyway | (at_least & (share >= least))
        found.append(tuple(float(np.average(told[group], weights=weight[group])) for group in groups))
    return found


def are_told(one: FrozenSet, state: str) -> tuple[np.ndarray, np.ndarray]:
    """Which visits of a set are told a state, and the share of each one's leading cause."""
    answers = answers_of(one)
    told = np.array([state_of(answer) == state for answer in answers])
    return told, np.array([answer.causes[0].probability for answer in answers])


@contextmanager
def threshold(code: str, value: float) -> Iterator[None]:
    """A limit's value, for as long as this stands."""
    kept = all_limits()[code]
    all_limits()[code] = replace(kept, value=value)
    try:
        yield
    finally:
        all_limits()[code] = kept


if __name__ == "__main__":
    raise SystemExit(main())
