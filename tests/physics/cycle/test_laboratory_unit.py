"""The cycle model against a sound heat pump measured in a laboratory: sized in one weather, predicted in fourteen.

Source of every measured figure: tests/laboratory/unit.py. Nothing was tuned to it. Tolerances are the printed
figures' own disagreement where there is one (air side and refrigerant side differ by up to 4 %), else what was
found, rounded up, to be kept from getting worse: each says which.
"""

import numpy as np
import pytest

from tests.laboratory import unit as laboratory

OTHERS = [condition for condition in laboratory.CONDITIONS if condition not in laboratory.AT_RATING]


def _at(row: np.ndarray, condition: int) -> float:
    return float(row[laboratory.CONDITIONS.index(condition)])


def _middle(values: np.ndarray) -> float:
    return float(np.median(values))


def test_the_tables_saturation_is_ours() -> None:
    # Printed to 0.01 degF from pressures to 0.01 psi, by a library of the same laboratory; R-410A models of two
    # generations differ by up to 0.5 % of pressure (Lemmon 2003), which is 0.3 degF at 45 degF and 0.4 at 120.
    refrigerant = laboratory.sized()[0]
    evaporator = refrigerant.dew_temperature(laboratory.pascals("evaporator_exit"))
    condenser = refrigerant.dew_temperature(laboratory.pascals("condenser_inlet"))
    assert evaporator == pytest.approx(laboratory.kelvins("evaporator_exit_saturation"), abs=0.3 / 1.8)
    assert condenser == pytest.approx(laboratory.kelvins("condenser_inlet_saturation"), abs=0.4 / 1.8)


def test_the_tables_subcooling_is_ours() -> None:
    # The printed subcooling is that of the liquid line at its gauge, from the bubble point; 0.4 degF as above.
    bubble = laboratory.sized()[0].bubble_temperature(laboratory.pascals("liquid_line"))
    ours = (bubble - laboratory.kelvins("liquid_line")) * 1.8
    assert ours == pytest.approx(laboratory.measured()["subcooling_f"], abs=0.4)


@pytest.mark.parametrize("condition", OTHERS)
def test_capacity_and_flow_in_other_weather(condition: int) -> None:
    _, solution = laboratory.predicted(condition)
    assert solution.converged.all()
    measured = _at(laboratory.capacity(), condition) / laboratory.at_rating(laboratory.capacity())
    rated = _middle(laboratory.predicted(0)[1].state.capacity)
    # Measurements close to 4 % between air and refrigerant; found within 1.7 % over 0.79 to 1.14 of capacity.
    assert _middle(solution.state.capacity) / rated == pytest.approx(measured, rel=0.025)
    flow = laboratory.measured()["mass_flow_lbmh"]
    tons = laboratory.at_rating(laboratory.capacity()) / rated
    ours = _middle(solution.state.mass_flow) * tons / laboratory.POUND_AN_HOUR
    assert ours == pytest.approx(_at(flow, condition), rel=0.03)


@pytest.mark.parametrize("condition", OTHERS)
def test_power_follows_the_weather(condition: int) -> None:
    power = laboratory.measured()["compressor_w"]
    measured = _at(power, condition) / laboratory.at_rating(power)
    ours = _middle(laboratory.predicted(condition)[1].state.power / laboratory.predicted(0)[1].state.power)
    # Efficiency curves are drawn, not measured: found within 5 %, too flat from 70 to 100 degF outdoors.
    assert ours == pytest.approx(measured, rel=0.08)


@pytest.mark.parametrize("condition", OTHERS)
def test_pressures_and_suction_in_other_weather(condition: int) -> None:
    system, solution = laboratory.predicted(condition)
    refrigerant, state = system.fluid, solution.state
    suction = _at(refrigerant.dew_temperature(laboratory.pascals("suction")), condition)
    liquid = _at(refrigerant.bubble_temperature(laboratory.pascals("condenser_exit")), condition)
    # Found within 0.7 degF (suction) and, worst at 70 degF outdoors, 2.0 degF (liquid).
    assert _middle(refrigerant.dew_temperature(state.suction_pressure)) == pytest.approx(suction, abs=1.0 / 1.8)
    assert _middle(refrigerant.bubble_temperature(state.liquid_pressure)) == pytest.approx(liquid, abs=3.0 / 1.8)
    superheat = _at(laboratory.measured()["evaporator_exit_superheat_f"], condition)
    # Condition 3, moist 80 degF air at 70 degF outdoors: the valve was wide open there, and some drawn ones are.
    assert _middle(state.coil_superheat) * 1.8 == pytest.approx(superheat, abs=3.5 if condition == 3 else 1.0)


def test_subcooling_in_cool_weather_is_a_known_weakness() -> None:
    # Measured subcooling moves little (7.5 to 12.5 degF over all) and falls with a cooler return; the model's
    # climbs by 4 degF from 100 to 70 degF outdoors and rises with a cooler return. A sound unit in cool weather so
    # looks short of charge. A second source (data of Harms 2002 in Li's study of rooftop units, page 51, one unit
    # with a valve) has superheat less subcooling nearly free of weather too. A better model breaks the last line.
    refrigerant = laboratory.sized()[0]
    bubble = refrigerant.bubble_temperature(laboratory.pascals("condenser_exit"))
    measured = (bubble - laboratory.kelvins("condenser_exit")) * 1.8
    errors = []
    for at, condition in enumerate(laboratory.CONDITIONS):
        state = laboratory.predicted(condition)[1].state
        ours = refrigerant.bubble_temperature(state.liquid_pressure) - state.liquid_temperature
        errors.append(_middle(ours) * 1.8 - measured[at])
    assert min(errors) > -1.0
    assert max(errors) < 6.0
    assert np.mean(errors) > 1.5, "the model has become better: tighten these"
