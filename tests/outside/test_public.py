"""The frozen visits of the third model have physical sense: heats balance, faults move what they move in chambers.

Read from ``public_visits.csv``; the package that made it is not needed. Every faulty visit stands beside the same
unit in the same weather without the fault, both free of instruments' errors. Sources of the signs:

- NIST: 7,375 steady chamber tests of two R-410A split heat pumps of 14 and 16 SEER (Fault Detection and Diagnosis
  Research Data, 2019 workbook), signs as a third party's regression of fault level on them has them; only those of
  charge and of the blocked outdoor coil are sure there, and of those only where both machines agree;
- LBNL: relative effects in a simulated packaged unit (data sets for fault detection, 2022; other code, from cell
  outputs of a third party): less outdoor air raises the condensing pressure, less indoor air and a liquid line
  that drops much lower the suction pressure.

A worn compressor and foreign gas: common practice, no source.
"""

import numpy as np
import pytest

from service.knowledge.cycle_model import FAULTS, METERING, SOUND
from service.physics.cycle.readings import READINGS
from tests.outside.public import public_rows, public_visits
from tests.outside.second import VISITS

SUBCOOLING = ("liquid_saturation_temperature", "liquid_line_temperature")
SUPERHEAT = ("suction_line_temperature", "suction_saturation_temperature")
HEAD, SUCTION = ("liquid_saturation_temperature",), ("suction_saturation_temperature",)
AMPS, DISCHARGE = ("compressor_amps_ratio",), ("discharge_line_temperature",)
# Fault, reading or difference of two, sign, least share of visits that have it, source.
SIGNS = [
    ("undercharge", SUBCOOLING, -1, 1.0, "NIST"),
    ("undercharge", SUPERHEAT, 1, 0.9, "NIST"),
    ("undercharge", HEAD, -1, 1.0, "NIST"),
    ("overcharge", SUBCOOLING, 1, 1.0, "NIST"),
    ("overcharge", HEAD, 1, 1.0, "NIST"),
    ("outdoor_coil_blocked", HEAD, 1, 1.0, "NIST and LBNL"),
    ("outdoor_coil_blocked", AMPS, 1, 1.0, "NIST"),
    ("low_indoor_airflow", SUCTION, -1, 1.0, "LBNL"),
    ("compressor_not_pumping", SUCTION, 1, 1.0, "common practice"),
    ("compressor_not_pumping", HEAD, -1, 1.0, "common practice"),
    ("non_condensables", HEAD, 1, 1.0, "common practice"),
    ("non_condensables", SUBCOOLING, 1, 1.0, "common practice"),
]


def _moved(fault: str, names: tuple[str, ...]) -> np.ndarray:
    """By how much the fault moves a reading, or the first less the second, in each of its visits."""
    rows = [row for row in public_rows() if row["cause"] == fault]
    signs = (1.0, -1.0)
    return np.array(
        [
            sum(
                sign * (float(row[name]) - float(row[f"sound_{name}"]))
                for sign, name in zip(signs, names, strict=False)
            )
            for row in rows
        ]
    )


@pytest.mark.parametrize(("fault", "names", "sign", "least", "source"), SIGNS)
def test_a_fault_moves_what_it_moves_in_chambers(
    fault: str, names: tuple[str, ...], sign: int, least: float, source: str
) -> None:
    moved = sign * _moved(fault, names)
    assert moved.size > 0
    assert np.mean(moved > 0.0) >= least, source


def test_a_restriction_of_the_line_lowers_the_suction_and_cools_what_leaves_the_drier() -> None:
    # LBNL: 10 bar in the liquid line lower the suction pressure by 10 %, 1 bar by 0.7 %.
    assert np.mean(_moved("liquid_line_restriction", SUCTION) < 0.05) == 1.0
    assert _moved("liquid_line_restriction", SUCTION).mean() < 0.0
    drops = [float(row["drier_temperature_drop"]) for row in public_rows()]
    assert min(drops) > -0.2


def test_half_the_outdoor_air_raises_the_head_as_much_as_elsewhere() -> None:
    # LBNL: the condensing temperature of a packaged unit in degF rises by 1.4 % at .10, 13 % at .50 lost (all
    # stages), about 1.5 and 15 degF; the figures here are of other units and have to be of that size.
    rows = [row for row in public_rows() if row["cause"] == "outdoor_coil_blocked"]
    lost = np.array([float(row["size"]) for row in rows])
    slope = 1.8 * _moved("outdoor_coil_blocked", HEAD) / lost
    assert 5.0 < np.median(slope) < 45.0


@pytest.mark.parametrize("name", ["air_heat", "indoor_heat"])
def test_what_the_indoor_coil_takes_the_outdoor_coil_gives(name: str) -> None:
    """First law, of every visit, by the air's side and by the refrigerant's."""
    for row in public_rows():
        given = float(row["outdoor_heat"]) + float(row["shell_heat"])
        assert float(row[name]) + float(row["power"]) == pytest.approx(given, rel=2e-3), row["cause"]


def test_most_units_came_to_rest_and_read_like_air_conditioners() -> None:
    rows = public_rows()
    groups = {(row["refrigerant"], row["metering"]) for row in rows}
    assert {metering for _, metering in groups} == set(METERING)
    assert len(groups) == 4
    assert len(rows) > 0.9 * 4 * sum(round(0.5 * count) for count in VISITS.values())
    assert {row["cause"] for row in rows} == {SOUND, *FAULTS}
    sound = [row for row in rows if row["cause"] == SOUND]
    over = [float(row["liquid_saturation_temperature"]) - float(row["outdoor_dry_bulb"]) for row in sound]
    # Condensing over outdoor air of sound units: about 10 to 30 degF (common practice, no source).
    assert 10.0 / 1.8 < np.median(over) < 30.0 / 1.8


def test_the_visits_are_read_with_ordinary_errors_that_stay_the_same() -> None:
    first, again = public_visits(), public_visits()
    assert sum(group.label.size for group in first) == len(public_rows())
    for one, other in zip(first, again, strict=True):
        assert np.array_equal(one.values, other.values)
        free = [
            row
            for row in public_rows()
            if (row["refrigerant"], row["metering"]) == (one.refrigerant, one.metering)
        ]
        error = one.values[:, 3] - np.array([float(row[READINGS[3]]) for row in free])
        assert 0.3 < error.std() < 0.9  # K; one degF of a clamp
