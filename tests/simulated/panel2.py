"""Ranking, outcome, calibration and dialogue side by side: ``python -m tests.simulated.panel2``.

Visits of the frozen sets (``frozen``) and of printed pressures are judged as /v1/assessment judges them, and the
whole answers are scored. 'Second model, same hands' is other code by the authors of the first. Simulated or
printed, none from the field.
"""

import argparse
import json
from collections import Counter
from collections.abc import Callable, Sequence
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path
from typing import Any

import numpy as np

from service.app import create_app
from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import steps as step_rows
from service.knowledge.cycle_model import SOUND
from service.reasoning.cycle.posterior import CAUSES
from service.results.answer import Answer
from tests.outside.printed import printed_visits, with_chart
from tests.simulated.dialogues import dialogues
from tests.simulated.frozen import SECOND, fresh_sets, frozen_sets
from tests.simulated.judging import MIDDLE, NONE, answers_of, codes_of, judge, state_of, truth_of
from tests.simulated.panel import ASSESSMENT
from tests.simulated.scoring import calibration_error

Post = Callable[[dict[str, Any]], dict[str, Any]]

# Those of `marks_of` that a choice is weighed by, beside each other.
MARKS = (
    "leading cause right",
    "sound ranked faulty",
    "sound told fault",
    "sound told sound",
    "slight told sound",
    "middle and worse told sound",
    "calibration",
)


def poster() -> Post:
    """Post a document to the service in this process; its lines of log are dropped. Slower than ``judge``."""
    client = create_app().test_client()

    def post(visit: dict[str, Any]) -> dict[str, Any]:
        with redirect_stdout(StringIO()):
            response = client.post(ASSESSMENT, json=visit)
        answer: dict[str, Any] = response.get_json()
        if response.status_code != 200:
            raise AssertionError(f"{response.status_code}: {answer}")
        return answer

    return post


def marks_of(answers: list[Answer], label: np.ndarray, share: np.ndarray, weight: np.ndarray) -> dict[str, float]:
    """Marks of a set: shares of 1, and counts."""
    truth = [codes_of(int(at)) for at in label]
    causes = [answer.causes[0].code for answer in answers]
    top = np.array([answer.causes[0].probability for answer in answers])
    state = np.array([state_of(answer) for answer in answers])
    right = np.array([one in codes for one, codes in zip(causes, truth, strict=True)])
    pair = np.array([len(codes) > 1 for codes in truth])
    first_two = [{cause.code for cause in answer.causes[:2]} for answer in answers]
    both = np.array([one == codes for one, codes in zip(first_two, truth, strict=True)])
    sound = label == CAUSES.index(SOUND)
    slight, worse = ~sound & (share < MIDDLE), ~sound & (share >= MIDDLE)
    part = np.array([bool(_parts(answer)) for answer in answers])
    fits = np.array([_parts(answer) <= _mended_by(codes) for answer, codes in zip(answers, truth, strict=True)])
    under_none = np.array([one == NONE for one in causes])

    def mean(values: np.ndarray, chosen: np.ndarray) -> float:
        return float(np.average(values[chosen], weights=weight[chosen])) if chosen.any() else float("nan")

    everything = np.ones(label.size, dtype=bool)
    return {
        "visits": float(label.size),
        "leading cause right": mean(right, everything),
        "  above slight": mean(right, sound | worse),
        "sound ranked faulty": mean(~right, sound),
        "sound told fault": mean(state == "fault", sound),
        "sound told sound": mean(state == "sound", sound),
        "slight told sound": mean(state == "sound", slight),
        "middle and worse told sound": mean(state == "sound", worse),
        "fault under leading none-found": float(((state == "fault") & under_none).sum()),
        "parts named": float(part.sum()),
        "wrong part": mean(~fits, part),
        "said 99 %": float((top >= 0.985).sum()),
        "wrong at 99 %": mean(~right, top >= 0.985),
        "said 90 %": float((top >= 0.9).sum()),
        "wrong at 90 %": mean(~right, top >= 0.9),
        "calibration": calibration_error(top, right, weight),
        "undecided": mean(state == "undecided", everything),
    } | ({"both of two faults first": mean(both, pair)} if pair.any() else {})


def _parts(answer: Answer) -> set[str]:
    return {part.code for part in answer.outcome.parts} if answer.outcome is not None else set()


def _mended_by(causes: set[str]) -> set[str]:
    """Parts of the repair of the true causes."""
    rows = [cause_rows()[cause] for cause in causes]
    steps = [step for row in rows for step in row.repair]
    return {part for row in rows for part in row.parts} | {
        part for one in steps for part in step_rows()[one].parts
    }


def printed(away: float | None = None) -> dict[str, float]:
    """Outcomes of sound units by their printed pressures.

    away [psi]: how far they read above the chart that is posted with them; None: no chart is posted.
    """
    every = printed_visits()
    answers = judge(every if away is None else (with_chart(visit, away) for visit in every))
    states = Counter(state_of(answer) for answer in answers)
    named = sum(answer.causes[0].code != NONE for answer in answers)
    found = {f"told {name}": float(count) for name, count in sorted(states.items())}
    return {"visits": float(len(answers)), "ranked faulty": float(named)} | found


def main(argv: Sequence[str] | None = None) -> int:
    """Print every mark. Options: ``--scale``, ``--dialogues``, ``--fresh`` (the sets kept for the end), ``--save``
    and ``--beside`` (files of earlier marks)."""
    parser = argparse.ArgumentParser(prog="python -m tests.simulated.panel2", description=__doc__)
    parser.add_argument("--scale", type=int, default=16)
    parser.add_argument("--dialogues", type=int, default=160)
    parser.add_argument("--fresh", action="store_true")
    parser.add_argument("--save", type=Path)
    parser.add_argument("--beside", type=Path)
    options = parser.parse_args(argv)
    sets = (fresh_sets if options.fresh else frozen_sets)(options.scale)
    marks = {one.name: marks_of(answers_of(one), *truth_of(one)) for one in sets}
    marks["sound units by printed pressures"] = printed()
    for away in (0.0, 5.0, -5.0):
        marks[f"the same with their chart, {away:+.0f} psi from it"] = printed(away)
    for one in (sets[0], next(one for one in sets if one.name.endswith(SECOND))):
        marks[f"dialogue: {one.name}"] = dialogues(one, options.dialogues)
    earlier = json.loads(options.beside.read_text()) if options.beside else {}
    _print(marks, earlier)
    if options.save:
        options.save.write_text(json.dumps(marks, indent=1) + "\n")
    return 0


def _print(marks: dict[str, dict[str, float]], earlier: dict[str, dict[str, float]]) -> None:
    for name, found in marks.items():
        print(f"\n{name}")
        before = earlier.get(name, {})
        for mark in dict.fromkeys([*before, *found]):
            shown = [f"{one[mark]:10.3f}" if mark in one else " " * 10 for one in (before, found)]
            print(f"  {mark:34s}{shown[0] if before else ''}{shown[1]}")


if __name__ == "__main__":
    raise SystemExit(main())
