"""Marks of the third model: ``python -m tests.outside.public_marks``.

The panel's own marks (``tests.simulated.panel2``) of this one set, then the leading cause cause by cause, and the
worst answers with what spoke for their leading cause: a sound unit told a fault, a severe fault told sound. Built
with TESPy by the same hands; simulated, none from the field. The set is looked at once a round and nothing is
tuned on it.
"""

from collections import Counter

import numpy as np

from service.results.answer import Answer, Argument
from service.results.finding import State
from tests.outside.public import THIRD, public_visits
from tests.simulated.frozen import FrozenSet
from tests.simulated.judging import MIDDLE, NONE, answers_of, codes_of, rows_of, state_of, truth_of
from tests.simulated.panel2 import marks_of
from tests.simulated.populations import HeldOut

SEVERE = 2.0 / 3.0  # of the range of fault sizes
TOLD = 4  # arguments printed of a worst answer


def main() -> int:
    """Print them."""
    third = FrozenSet(THIRD, public_visits())
    answers, truth = answers_of(third), truth_of(third)
    print(THIRD)
    for mark, value in marks_of(answers, *truth).items():
        print(f"  {mark:34s}{value:10.3f}")
    label, share, _ = truth
    for at in dict.fromkeys(label):
        _print_cause(
            int(at), [answer for answer, one in zip(answers, label, strict=True) if one == at], share[label == at]
        )
    for visit, answer, size in zip(rows_of(third), answers, share, strict=True):
        _print_worst(*visit, answer, float(size))
    return 0


def _print_cause(at: int, answers: list[Answer], share: np.ndarray) -> None:
    led = Counter(answer.causes[0].code for answer in answers)
    right = np.array([answer.causes[0].code in codes_of(at) for answer in answers])
    worse = share >= MIDDLE
    above = f"{right[worse].mean():.2f} of {worse.sum()}" if worse.any() else "-"
    states = Counter(state_of(answer) for answer in answers)
    name = sorted(codes_of(at))[0]
    others = {code: count for code, count in led.most_common(4) if code != name}
    print(
        f"{name}: {len(answers)}, led {right.mean():.2f}, middle and worse {above}, {dict(states)}, else {others}"
    )


def _print_worst(group: HeldOut, row: int, answer: Answer, size: float) -> None:
    truth, state = codes_of(int(group.label[row])), state_of(answer)
    worst = "fault" if truth == {NONE} else "sound" if size >= SEVERE else ""
    if state != worst:
        return
    lead = answer.causes[0]
    found = [one.code for one in answer.outcome.found] if answer.outcome is not None else []
    print(f"\n{group.refrigerant} {group.metering} row {row}: {truth} at {size:.2f} told {state}, found {found}")
    for cause in answer.causes[:2]:
        print(f"  {cause.code} {cause.probability:.2f} (simulated {cause.simulated_probability})")
    for sign, arguments in (("for", lead.supported_by), ("against", lead.contradicted_by)):
        for one in sorted(arguments, key=lambda one: -abs(one.weight))[:TOLD]:
            print(f"    {sign}: {one.code} {one.weight:+.1f} {_plain(one)}")
    failed = [one.code for one in answer.findings if one.state is State.FAIL]
    print(f"    failed checks: {failed}")


def _plain(argument: Argument) -> dict[str, str]:
    """Values of an argument; quantities in the service's own units (K, Pa)."""
    values = {name: getattr(value, "value", value) for name, value in argument.values.items()}
    return {name: f"{value:.1f}" if isinstance(value, float) else str(value) for name, value in values.items()}


if __name__ == "__main__":
    raise SystemExit(main())
