"""What a fault told without the test of its own costs: ``python -m tests.simulated.fault_share``.

At shares from .6 to .95, of every frozen set: sound units told a fault, faulty ones told their own, visits told
another cause than theirs. The threshold is ``reasoning.fault-without-test`` in topics/reasoning.yaml; at .6 it is
that of every fault. No coil was looked at in these visits and no compressor pumped down; drier and standing
pressure were read. All sets were looked at when it was chosen (tests/simulated/RESULTS.md).
"""

import argparse
from collections.abc import Sequence

import numpy as np

from service.knowledge.cycle_model import SOUND
from service.reasoning.cycle.posterior import CAUSES
from tests.simulated.frozen import FrozenSet, frozen_sets
from tests.simulated.judging import answers_of, codes_of, state_of, truth_of
from tests.simulated.sound_share import NEVER, are_told, threshold

CODE = "reasoning.fault-without-test"
SHARES = (0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95)


def main(argv: Sequence[str] | None = None) -> int:
    """Print a table for each set. Options: ``--scale`` of the sets, ``--set`` (a part of its name)."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulated.fault_share", description=__doc__)
    parser.add_argument("--scale", type=int, default=16)
    parser.add_argument("--set", default="")
    options = parser.parse_args(argv)
    for one in frozen_sets(options.scale):
        if options.set in one.name:
            print(f"\n{one.name}\n  share   sound   faulty  wrong cause (told a fault)")
            for share, row in zip(SHARES, told_fault(one), strict=True):
                print(f"  {share:.2f}  " + "  ".join(f"{value:6.3f}" for value in row), flush=True)
    return 0


def told_fault(one: FrozenSet) -> list[tuple[float, float, float]]:
    """Of sound units, those told a fault; of faulty ones, those told their own; of all, those told another cause.

    At each of ``SHARES``. A cause that a test of its own or a firm check tells is told whatever the threshold.
    """
    label, _, weight = truth_of(one)
    sound = label == CAUSES.index(SOUND)
    with threshold(CODE, NEVER):
        anyway, _ = are_told(one, "fault")
    with threshold(CODE, SHARES[0]):
        answers = answers_of(one)
    at_least = np.array([state_of(answer) == "fault" for answer in answers])
    share = np.array([answer.causes[0].probability for answer in answers])
    named = [(answer.causes[0].code, codes_of(int(at))) for answer, at in zip(answers, label, strict=True)]
    right = np.array([code in codes for code, codes in named])
    found = []
    for least in SHARES:
        told = anyway | (at_least & (share >= least))
        parts = ((told, sound), (told & right, ~sound), (told & ~right, sound | ~sound))
        found.append(tuple(float(np.average(of[group], weights=weight[group])) for of, group in parts))
    return found


if __name__ == "__main__":
    raise SystemExit(main())
