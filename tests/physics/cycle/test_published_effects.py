"""Sizes of effects against published relations: capacity and power under faults, target superheat.

None of these was used to tune a parameter except the throat pressure of the orifice, whose range the design study
calibrated to the target-superheat rule; the slopes below are therefore a calibrated fit, not a prediction.
"""

from functools import cache

import numpy as np
import pytest

from service.results.record import replace
from service.workshop.cycle.balance import System
from service.workshop.cycle.solver import Solution, solve
from service.workshop.cycle.unit import Operation
from tests.physics.cycle.systems import solved, units, weather

pytestmark = pytest.mark.long
# Two published relations for charge, at 26.67 degC (wet bulb 19.4 degC) indoors: charge deviation, lowest and
# highest capacity ratio, lowest and highest power ratio they give. Sources: dimensionless correlations of a
# split heat pump with imposed charge faults (NIST TN 1848 form), as coded in OpenStudio-HPXML,
# HPXMLtoOpenStudio/resources/hvac.rb, commit 003e67ff53b8d192980841d5f54add29d23d5389, 35.0 degC outdoors;
# and the undercharge model of OpenStudio-fault-models, archive/fault_measures_2017, commit
# 8f77a727886b6f0f842bb18611a2ecd979125581, rated COP 4, 27.8 degC outdoors. Under overcharge the two disagree
# even in the sign of capacity, so only the first is used there.
CHARGE = [
    (-0.3, 0.7744, 0.7982, 0.9167, 0.9635),
    (-0.2, 0.8642, 0.8885, 0.9381, 0.978),
    (-0.1, 0.9401, 0.9557, 0.9651, 0.9902),
    (0.1, 1.012, 1.012, 1.0148, 1.0148),
    (0.2, 1.0211, 1.0211, 1.0354, 1.0354),
]
# Source: Cutler et al., NREL/TP-5500-56354 (2013), single-speed flow-fraction curves, as coded in the same file:
# flow fraction, capacity ratio, energy input ratio (power over capacity).
AIRFLOW = [(0.6, 0.9203, 1.0584), (0.7, 0.9443, 1.0439), (0.8, 0.9656, 1.0293), (0.9, 0.9842, 1.0147)]
# Source: OpenStudio-fault-models (as above), condenser airflow reduction at 35.0 degC outdoors, wet bulb 19.4
# degC, rated COP 4: share of airflow lost, capacity ratio, power ratio.
OUTDOOR_AIRFLOW = [(0.2, 1.0039, 1.0527), (0.5, 0.9635, 1.2211)]
# Source: superheat charging table in installation guides of residential condensing units (two guides compared),
# target superheat [degF] at the suction valve: outdoor dry bulb, indoor wet bulb, target.
TARGET = [
    (75, 62, 15),
    (75, 66, 21),
    (75, 70, 28),
    (85, 64, 11),
    (85, 66, 15),
    (85, 70, 22),
    (95, 66, 10),
    (95, 70, 18),
    (95, 72, 22),
    (105, 68, 9),
    (105, 72, 17),
    (115, 72, 14),
]


@cache
def _sound(has_valve: bool) -> Solution:
    return solved("R-410A", has_valve, weather(308.15))[1]


def _ratios(has_valve: bool, operation: Operation) -> tuple[float, float]:
    sound, faulty = _sound(has_valve), solved("R-410A", has_valve, operation)[1]
    keep = sound.converged & faulty.converged
    capacity = np.median(faulty.state.capacity[keep] / sound.state.capacity[keep])
    return float(capacity), float(np.median(faulty.state.power[keep] / sound.state.power[keep]))


@pytest.mark.parametrize(("deviation", "capacity_low", "capacity_high", "power_low", "power_high"), CHARGE)
def test_charge_relation(
    deviation: float, capacity_low: float, capacity_high: float, power_low: float, power_high: float
) -> None:
    operation = weather(308.15)
    operation = replace(operation, charge=operation.charge * (1.0 + deviation))
    capacity, power = _ratios(True, operation)
    assert capacity_low - 0.03 <= capacity <= capacity_high + 0.03
    assert power_low - 0.03 <= power <= power_high + 0.03
    # Home Energy, May/June 2002, digest of laboratory tests: a valve is far less sensitive than a fixed orifice.
    orifice = _ratios(False, operation)[0]
    assert abs(orifice - 1.0) > abs(capacity - 1.0)


@pytest.mark.parametrize(("lost", "capacity", "power"), OUTDOOR_AIRFLOW)
def test_outdoor_airflow_relation(lost: float, capacity: float, power: float) -> None:
    operation = weather(308.15)
    operation = replace(operation, outdoor_flow=operation.outdoor_flow * (1.0 - lost))
    model_capacity, model_power = _ratios(True, operation)
    assert model_capacity == pytest.approx(capacity, abs=0.03)
    # Known weakness: the model's head rises less than the published one, so it understates the extra power.
    assert 1.0 + 0.5 * (power - 1.0) < model_power < power + 0.01


@pytest.mark.parametrize(("flow", "capacity", "input_ratio"), AIRFLOW)
def test_airflow_relation(flow: float, capacity: float, input_ratio: float) -> None:
    operation = weather(308.15)
    operation = replace(operation, indoor_flow=operation.indoor_flow * flow)
    model_capacity, model_power = _ratios(True, operation)
    assert model_capacity == pytest.approx(capacity, abs=0.03)
    # The published power holds the blower's; ours is the compressor's alone.
    assert model_power / model_capacity == pytest.approx(input_ratio, abs=0.05)


@pytest.mark.parametrize("designation", ["R-22", pytest.param("R-410A", marks=pytest.mark.long)])
def test_target_superheat_of_a_fixed_orifice(designation: str) -> None:
    refrigerant, unit, start = units(designation, False)
    medians = []
    for outdoor, wet, _ in TARGET:
        operation = weather((outdoor - 32) / 1.8 + 273.15, (80 - 32) / 1.8 + 273.15, (wet - 32) / 1.8 + 273.15)
        system = System(refrigerant, False, unit, operation)
        state = solve(system, start).state
        superheat = state.suction_temperature - refrigerant.dew_temperature(state.suction_pressure)
        medians.append(float(np.median(superheat)) * 1.8)
    table = np.array(TARGET, dtype=float)
    terms = np.column_stack([np.ones(len(TARGET)), table[:, 0], table[:, 1]])
    published = np.linalg.lstsq(terms, table[:, 2], rcond=None)[0]
    ours = np.linalg.lstsq(terms, np.array(medians), rcond=None)[0]
    print(designation, "slopes per degF outdoor, wet bulb: published", published[1:], "model", ours[1:])
    assert ours[2] == pytest.approx(published[2], abs=0.6)
    assert published[1] < ours[1] < 0.0 or ours[1] == pytest.approx(published[1], abs=0.35)
    assert np.sqrt(np.mean((np.array(medians) - table[:, 2]) ** 2)) < 6.0
