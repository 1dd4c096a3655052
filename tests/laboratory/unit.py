"""A heat pump measured sound in a laboratory at sixteen conditions, in SI, and the cycle model sized to it.

Source: NISTIR 7350, appendix D (tests without fault), as copied in a public repository of data for study, file
nistir_7350_data_in_appendix_d(NF).csv, commit f7afa811a7636524daa9a30c0679dffc38cf8c66. Unit as in the abstract
of a sister paper (Yoon, Payne, Domanski 2010): R-410A split heat pump, 8.8 kW, SEER 13, with an expansion valve.
The report itself was not read. The copy agrees with itself: exit temperature less its saturation is the printed
superheat to 0.01 degF in every column.
"""

from functools import cache
from pathlib import Path

import numpy as np
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI

from service.physics.cycle.readings import NOMINAL_AIRFLOW, NOMINAL_CAPACITY
from service.results.record import replace
from service.workshop.build.population_sampling import STANDARD, draw_designs
from service.workshop.cycle.balance import System
from service.workshop.cycle.fluid import RefrigerantFit
from service.workshop.cycle.sizing import size
from service.workshop.cycle.solver import Solution, solve
from service.workshop.cycle.unit import Operation, Unit, rated_operation
from tests.physics.cycle.systems import fluid

FLUID = "R410A"
PSI, INCH_OF_MERCURY, POUND_AN_HOUR, STANDARD_CFM = 6894.757, 3386.389, 1.259979e-4, 4.719474e-4
CONDITIONS = tuple(range(2, 18))
# Moist 80 degF air with 90 and 100 degF outdoors: their mean is rating A (95 degF, 80/67 degF) within 0.3 degF.
AT_RATING = (7, 9)
DRY = tuple(range(10, 18))
COUNT = 60


@cache
def measured() -> dict[str, np.ndarray]:
    """Every row of the table by name, as printed, conditions 2 to 17 in order."""
    lines = (Path(__file__).parent / "no_fault.csv").read_text().splitlines()
    rows = [line.split(",") for line in lines if not line.startswith("#")]
    return {row[0]: np.array(row[1:], dtype=float) for row in rows}


def kelvins(name: str) -> np.ndarray:
    """A temperature of the table [K]."""
    return (measured()[f"{name}_f"] - 32.0) / 1.8 + 273.15


def pascals(name: str) -> np.ndarray:
    """An absolute pressure of the table [Pa]."""
    return measured()[f"{name}_psia"] * PSI


def barometer() -> np.ndarray:
    """Air pressure of the tests [Pa]."""
    return measured()["barometer_inhg"] * INCH_OF_MERCURY


def wet_bulbs(where: str) -> np.ndarray:
    """Wet bulb [K] of the return or supply air from its dew point."""
    dry, dew = kelvins(f"{where}_dry_bulb"), kelvins(f"{where}_dew_point")
    found = zip(dry, dew, barometer(), strict=True)
    return np.array([HAPropsSI("B", "T", t, "D", min(d, t), "P", p) for t, d, p in found])


@cache
def capacity() -> np.ndarray:
    """Heat the coil takes in [W]: mass flow times enthalpies of CoolProp at evaporator exit and valve inlet."""
    leaving = zip(pascals("evaporator_exit"), kelvins("evaporator_exit"), strict=True)
    liquid = kelvins("liquid_line") - measured()["liquid_line_drop_f"] / 1.8
    entering = zip(pascals("valve_inlet"), liquid, strict=True)
    above = np.array([PropsSI("H", "P", p, "T", t, FLUID) for p, t in leaving])
    below = np.array([PropsSI("H", "P", p, "T", t, FLUID) for p, t in entering])
    return measured()["mass_flow_lbmh"] * POUND_AN_HOUR * (above - below)


def at_rating(row: np.ndarray) -> float:
    """A row of the table at rating A: the mean of the two conditions about it."""
    return float(np.mean([row[CONDITIONS.index(condition)] for condition in AT_RATING]))


@cache
def sized() -> tuple[RefrigerantFit, Unit, np.ndarray]:
    """Units that do at rating A what was measured there; what was not is drawn as the population draws it."""
    refrigerant, row = fluid("R-410A"), measured()
    tons = at_rating(capacity()) / NOMINAL_CAPACITY
    design = draw_designs(np.random.default_rng(11), STANDARD, True, COUNT)
    coil = at_rating(refrigerant.dew_temperature(pascals("evaporator_exit")))
    bubble = at_rating(refrigerant.bubble_temperature(pascals("condenser_exit")))
    known = {
        "evaporating": coil,
        "condensing_over_outdoor": bubble - 308.15,
        "superheat": at_rating(row["evaporator_exit_superheat_f"]) / 1.8,
        "subcooling": bubble - at_rating(kelvins("condenser_exit")),
        "airflow": at_rating(row["airflow_scfm"]) * STANDARD_CFM / tons / NOMINAL_AIRFLOW,
        "suction_loss": coil - at_rating(refrigerant.dew_temperature(pascals("suction"))),
        "suction_gain": at_rating(row["suction_f"] - row["evaporator_exit_f"]) / 1.8,
        "blower_power": at_rating(row["indoor_fan_w"]) / tons,
        "condenser_loss": 1.0e4,
        "liquid_loss": at_rating(pascals("condenser_exit") - pascals("valve_inlet")),
    }
    design = replace(design, **{name: np.full(COUNT, value) for name, value in known.items()})
    return (refrigerant, *size(refrigerant, True, design))


@cache
def predicted(condition: int) -> tuple[System, Solution]:
    """The sized units solved in the weather of a condition, rating A where it is 0."""
    refrigerant, unit, start = sized()
    system = System(refrigerant, True, unit, _operation(condition))
    return system, solve(system, start)


def _operation(condition: int) -> Operation:
    rated = rated_operation(COUNT)
    if not condition:
        return rated
    at, one = CONDITIONS.index(condition), np.ones(COUNT)
    dry, pressure = kelvins("return_dry_bulb")[at], barometer()[at]
    ratio = HAPropsSI("W", "T", dry, "D", kelvins("return_dew_point")[at], "P", pressure)
    return replace(
        rated,
        outdoor=kelvins("outdoor")[at] * one,
        return_dry_bulb=dry * one,
        return_ratio=ratio * one,
        pressure=pressure * one,
    )
