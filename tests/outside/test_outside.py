"""The second model does what any such machine does, and no printed sound unit is told a fault.

Signs: physics. Printed pressures: see the head of ``printed_pressures.csv``.
"""

from functools import cache

import numpy as np
import pytest

from service.physics.cycle.readings import READINGS
from service.reasoning.cycle.posterior import CAUSES
from tests.outside.printed import printed_visits
from tests.outside.second import VISITS, second_visits
from tests.simulated.panel2 import poster
from tests.simulated.populations import HeldOut

EVERY = 13  # of the printed visits: a sample that meets every unit and every superheat


@cache
def visits() -> HeldOut:
    return second_visits("R-410A", "expansion_valve", 1, 5)


def _mean(name: str, *readings: str) -> float:
    """Mean of the first reading less the second over the visits with a fault."""
    group = visits()
    columns = [group.values[group.label == CAUSES.index(name), READINGS.index(one)] for one in readings]
    return float(np.mean(columns[0] - columns[1]))


def test_nearly_every_unit_is_solved() -> None:
    assert visits().label.size > 0.9 * sum(VISITS.values())
    assert np.isfinite(visits().values).all()


@pytest.mark.parametrize(("fault", "sign"), [("undercharge", -1.0), ("overcharge", 1.0)])
def test_charge_moves_the_subcooling(fault: str, sign: float) -> None:
    pair = ("liquid_saturation_temperature", "liquid_line_temperature")
    assert sign * (_mean(fault, *pair) - _mean("none_found", *pair)) > 1.0


def test_low_airflow_lowers_the_boiling_and_foreign_gas_raises_the_standing_pressure() -> None:
    assert _mean("low_indoor_airflow", "suction_saturation_temperature", "target_subcooling") < _mean(
        "none_found", "suction_saturation_temperature", "target_subcooling"
    )
    excess = READINGS.index("standing_saturation_excess")
    group = visits()
    foreign = group.values[group.label == CAUSES.index("non_condensables"), excess]
    sound = group.values[group.label == CAUSES.index("none_found"), excess]
    assert foreign.mean() > sound.mean() + 0.5


def test_no_printed_sound_unit_is_told_a_fault() -> None:
    every = printed_visits()
    assert len(every) == 1053
    post = poster()
    states = [post(visit)["outcome"]["state"] for visit in every[::EVERY]]
    assert states.count("fault") == 0
