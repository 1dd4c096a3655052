"""Visits judged together get the verdicts of single calls, whatever stands beside them.

No source: a property of this code, on random questions of every shape (refrigerant, metering, readings, humidity,
baseline), at sizes that fill several lots.
"""

import numpy as np
import pytest

from service.reasoning.cycle import judge_cycle, judge_cycles
from service.reasoning.cycle.judge import TOGETHER
from service.results.cycle import CycleBaseline, CycleInputs, CycleReadings
from service.results.record import Record, asdict, replace
from tests.reasoning.cycle.questions import CORE, FULL, WEATHER, ask

SPREAD = 2.5  # wide enough to bring every class, and readings outside the population


def shifted(rng: np.random.Generator, names: tuple[str, ...], **other: object) -> CycleInputs:
    shifts = {name: rng.normal() * (0.05 if name.endswith("ratio") else SPREAD) for name in names}
    return replace(ask(names, **shifts), **other)


def mixed_bag(seed: int, count: int) -> list[CycleInputs]:
    """Questions of few shapes, well shuffled, so that lots form and are not neighbours in the request."""
    rng = np.random.default_rng(seed)
    dry = replace(WEATHER, return_wet_bulb=None)
    makers = (
        lambda: shifted(rng, FULL, efficiency_class=None),
        lambda: shifted(rng, FULL, target_subcooling=float(rng.uniform(4, 9))),
        lambda: shifted(rng, CORE, conditions=dry),
        lambda: shifted(rng, CORE, refrigerant="R-452B", metering=None),
        lambda: shifted(rng, CORE, baseline=CycleBaseline(shifted(rng, CORE).readings, WEATHER)),
        lambda: shifted(rng, CORE, readings=CycleReadings()),
        lambda: shifted(rng, CORE, minutes_running=3.0),
        lambda: replace(
            shifted(rng, FULL[:3]), conditions=replace(WEATHER, outdoor_dry_bulb=rng.uniform(292, 318))
        ),
    )
    return [makers[rng.integers(len(makers))]() for _ in range(count)]


def same(found: object, wanted: object) -> bool:
    """Whether two verdicts agree to rounding."""
    if isinstance(wanted, Record):
        return type(found) is type(wanted) and same(asdict(found), asdict(wanted))
    if isinstance(wanted, dict):
        return list(found) == list(wanted) and same(list(found.values()), list(wanted.values()))
    if isinstance(wanted, (tuple, list)):
        return len(found) == len(wanted) and all(map(same, found, wanted))
    if isinstance(wanted, float):
        return found == pytest.approx(wanted, rel=1e-9, abs=1e-9)
    return found == wanted


@pytest.mark.parametrize("seed", range(4))
def test_visits_judged_together_get_their_own_verdicts(seed: int) -> None:
    questions = mixed_bag(seed, 40)
    for question, found in zip(questions, judge_cycles(questions), strict=True):
        assert same(found, judge_cycle(question)), question


def test_a_lot_of_alike_visits_is_split_and_put_back_in_order() -> None:
    rng = np.random.default_rng(11)
    questions = [shifted(rng, FULL, efficiency_class=None) for _ in range(2 * TOGETHER + 1)]
    found = judge_cycles(questions)
    assert len({one.probabilities for one in found}) == len(questions)
    for question, one in zip(questions, found, strict=True):
        assert same(one, judge_cycle(question))


def test_nothing_asked_is_nothing_judged() -> None:
    assert judge_cycles(()) == ()


def test_what_stands_beside_a_visit_does_not_move_it() -> None:
    one = ask(FULL, liquid_line_temperature=2.0)
    absurd = ask(FULL, liquid_line_temperature=900.0, suction_line_temperature=-250.0, supply_dry_bulb=300.0)
    alone, beside = judge_cycle(one), judge_cycles((absurd, one))
    assert beside[0].state == "out_of_population"
    assert same(beside[1], alone)
