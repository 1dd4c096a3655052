"""A wall-mounted unit whose head stands 30 degF over the outdoor air by its maker's print is told no fault.

The figures were looked at while choosing the row of this kind (data/cycle_kinds): that they fit shows the
arithmetic, not accuracy.
"""

import numpy as np
import pytest

from service.reasoning.cycle import judge_cycle
from service.results.cycle import CycleConditions, CycleInputs, CycleReadings
from tests.outside.wall_units import saturations, wall_rows, wall_visits
from tests.simulated.judging import NONE, judge, state_of

EVERY = 3


def test_no_sound_wall_unit_is_told_a_fault() -> None:
    answers = judge(wall_visits()[::EVERY])
    assert len(answers) >= 150
    assert [answer.reference for answer in answers if state_of(answer) == "fault"] == []
    assert np.mean([answer.causes[0].code == NONE for answer in answers]) >= 0.95


def test_the_same_pressures_are_no_normal_ones_of_a_split_unit() -> None:
    """The kind is what makes them sound: without it a blocked coil leads in most of them."""
    answers = judge(wall_visits("split_air_conditioner")[:: 9 * EVERY])
    assert np.mean([answer.causes[0].code == "cause.outdoor-coil-blocked" for answer in answers]) > 0.5


@pytest.mark.parametrize("efficiency", [None, "standard", "high"])
def test_printed_saturations_are_ours_on_average(efficiency: str | None) -> None:
    differences = np.array([np.subtract(saturations(row), _expected(row, efficiency)) for row in wall_rows()])
    boiling, condensing = np.abs(differences.mean(axis=0)) * 1.8
    assert boiling < 2.5
    assert condensing < 5.0


def _expected(row: dict[str, str], efficiency: str | None) -> tuple[float, float]:
    kelvins = [(float(row[name]) - 32.0) / 1.8 + 273.15 for name in ("outdoor_db_f", "return_db_f", "return_wb_f")]
    asked = CycleInputs(
        row["refrigerant"],
        None,
        CycleReadings(),
        CycleConditions(*kelvins, 101_325.0),
        efficiency,
        kind="single_package_vertical",
    )
    expected = judge_cycle(asked).expected
    return expected["suction_saturation_temperature"].likely, expected["liquid_saturation_temperature"].likely
