"""Sizes of faults against figures that laboratories state in abstracts of their papers; no code of theirs between.

Each figure was read in the abstract or digest at the address given, not in the paper. None was used to tune a
parameter.
"""

from functools import cache

import numpy as np
import pytest

from service.results.record import replace
from service.workshop.build.population_sampling import STANDARD, draw_designs
from service.workshop.cycle.balance import System
from service.workshop.cycle.sizing import size
from service.workshop.cycle.solver import solve
from tests.physics.cycle.systems import fluid, solved, weather, with_fault

pytestmark = pytest.mark.long
HOT = 308.15
REFRIGERANTS = ["R-22", "R-410A"]
DRAWN = 200


@cache
def _ratios(designation: str, has_valve: bool, member: str, share: float) -> tuple[np.ndarray, np.ndarray]:
    """Capacity and power over the sound units' at 35 degC outdoors, one factor of the operation changed."""
    base = weather(HOT)
    changed = replace(base, **{member: getattr(base, member) * share})
    sound, faulty = (solved(designation, has_valve, operation)[1] for operation in (base, changed))
    keep = sound.converged & faulty.converged
    assert keep.all()
    return faulty.state.capacity / sound.state.capacity, faulty.state.power / sound.state.power


@pytest.mark.parametrize("designation", REFRIGERANTS)
def test_a_quarter_of_the_charge_missing(designation: str) -> None:
    # Kim & Braun 2012, Int. J. Refrigeration 35(7), several air conditioners and heat pumps at many charges: 25 %
    # less charge takes 20 % of capacity and 15 % of efficiency on average. iifiir.org/en/news/
    # ijr-highlights-impacts-of-refrigerant-charge-on-system-performance. Which share had valves is not said there;
    # half of ours have: 0.05 covers shares from two to four fifths (0.69 to 0.72 without, 0.84 to 0.85 with).
    both = [_ratios(designation, has_valve, "charge", 0.75) for has_valve in (False, True)]
    assert np.mean([capacity.mean() for capacity, _ in both]) == pytest.approx(0.80, abs=0.05)
    assert np.mean([(capacity / power).mean() for capacity, power in both]) == pytest.approx(0.85, abs=0.03)


@pytest.mark.parametrize("designation", ["R-410A", pytest.param("R-22", marks=pytest.mark.long)])
def test_where_missing_charge_begins_to_tell(designation: str) -> None:
    # ASHRAE RP-1173, six residential units, as summarised in an ORNL report (ornl.gov/publication/
    # low-gwp-refrigerant-evaluation-ac-systems-high-ambient-temperature-applications-2): a fixed orifice degrades
    # noticeably below 90 % of charge, a valve drastically below 80 %. What "noticeably" and "drastically" are in
    # figures is not said: taken as a tenth of capacity lost at the next step down, and as a loss per step that
    # grows by half or more.
    at = {
        (has_valve, share): float(np.median(_ratios(designation, has_valve, "charge", share)[0]))
        for has_valve in (False, True)
        for share in (0.9, 0.85, 0.8, 0.7)
    }
    assert at[False, 0.9] > 0.92
    assert at[False, 0.8] < 0.85
    assert at[True, 0.85] > 0.92
    assert at[True, 0.8] - at[True, 0.7] > 1.5 * (at[True, 0.9] - at[True, 0.8])
    assert all(at[False, share] < at[True, share] for share in (0.9, 0.85, 0.8, 0.7))


def test_a_tenth_of_the_charge_missing() -> None:
    # Goswami et al. 2001, R-22, 3 tons: 90 % of charge, capacity 3.5 % down. scholars.cityu.edu.hk, "Effect of
    # Refrigerant Charge on the Performance of Air-Conditioning Systems". The metering device is not said there:
    # between our two kinds.
    orifice, valve = (np.median(_ratios("R-22", has_valve, "charge", 0.9)[0]) for has_valve in (False, True))
    assert orifice < 0.965 < valve


# The four strict expected failures below are single machines (or one of each kind) that the abstracts describe,
# held against the middle of our units. Other laboratories, quoted here and in ``test_published_effects``, find the
# contrary of all but the second: moving the middle would break those. What can be asked is that the population
# holds such machines; ``test_the_population_holds_the_machines_of_the_expected_failures`` asks it.
@pytest.mark.xfail(reason="ours lose 1.9 % (valve) to 3.8 % (orifice)", raises=AssertionError)
def test_a_tenth_of_the_charge_missing_saves_power() -> None:
    # The same abstract: efficiency 2 % up at 90 % of charge. A unit charged above its best point would do that.
    capacity, power = _ratios("R-22", True, "charge", 0.9)
    assert float(np.median(capacity / power)) > 1.0


@pytest.mark.parametrize("designation", REFRIGERANTS)
@pytest.mark.parametrize("has_valve", [False, True])
def test_half_the_indoor_airflow_hardly_moves_power(designation: str, has_valve: bool) -> None:
    # Rodriguez, O'Neal, Davis, Kondepudi 1996, Energy and Buildings 24, 195-201, two residential units at 35 degC:
    # less than 4 % at half the airflow. aivc.org/resource/
    # effect-reduced-evaporator-airflow-high-temperature-performance-air-conditioners. Ours is the compressor
    # alone, some 85 % of theirs if fans are in it: 4 % of the whole is 4.7 % of the compressor, rounded up.
    power = float(np.median(_ratios(designation, has_valve, "indoor_flow", 0.5)[1]))
    assert 0.95 <= power < 1.0


@pytest.mark.xfail(reason="ours differ by less than 2 %, and the other way", raises=AssertionError)
@pytest.mark.parametrize("designation", REFRIGERANTS)
def test_low_airflow_costs_an_orifice_more_capacity_than_a_valve(designation: str) -> None:
    # The same abstract, one unit of each kind.
    orifice, valve = (
        np.median(_ratios(designation, has_valve, "indoor_flow", 0.5)[0]) for has_valve in (False, True)
    )
    assert orifice < valve


@pytest.mark.xfail(
    reason="ours lose 15 % of efficiency at 80 % of charge and gain 1 % at 120 %", raises=AssertionError
)
def test_a_short_tube_that_hardly_cares_for_charge() -> None:
    # Farzad 1990 (Texas A&M, oaktrust 1969.1/DISSERTATIONS-1118187), one unit: with a short tube capacity and
    # efficiency "varied little" from 80 to 120 % of charge, 28 to 38 degC. Other laboratories (above) find the
    # contrary; of ours only the tail does this. Efficiency stands for the seasonal figure the abstract gives.
    capacity, power = _ratios("R-22", False, "charge", 0.8)
    assert float(np.median(capacity / power)) > 0.95


@pytest.mark.xfail(reason="ours lose 1 % at 120 % and 6 % at 80 %", raises=AssertionError)
def test_a_valve_is_hurt_more_by_overcharge_than_by_undercharge() -> None:
    # The same abstract: seasonal efficiency 2 % down at 80 % of charge, 8 % down at 120 %.
    low, high = (_ratios("R-22", True, "charge", share) for share in (0.8, 1.2))
    assert float(np.median(high[0] / high[1])) < float(np.median(low[0] / low[1]))


@cache
def _drawn(has_valve: bool, member: str, share: float) -> tuple[np.ndarray, np.ndarray]:
    """Capacity and efficiency over the sound units' of R-22 units as the tables' population draws them."""
    design = draw_designs(np.random.default_rng(11), STANDARD, has_valve, DRAWN)
    unit, start = size(fluid("R-22"), has_valve, design)
    base = weather(HOT, count=DRAWN)
    changed = replace(base, **{member: getattr(base, member) * share})
    sound, faulty = (solve(System(fluid("R-22"), has_valve, unit, one), start) for one in (base, changed))
    assert (sound.converged & faulty.converged).all()
    capacity = faulty.state.capacity / sound.state.capacity
    return capacity, capacity / (faulty.state.power / sound.state.power)


@pytest.mark.long
def test_the_population_holds_the_machines_of_the_expected_failures() -> None:
    # Found, of units drawn for the tables at 35 degC: .11, .34, .09 and .13. A twentieth is a choice of this test:
    # such a unit is met among some twenty, and its readings are not strange to the tables.
    assert (_drawn(True, "charge", 0.9)[1] > 1.0).mean() > 0.05
    orifice, valve = (_drawn(has_valve, "indoor_flow", 0.5)[0] for has_valve in (False, True))
    assert (orifice[:, None] < valve).mean() > 0.05
    assert (_drawn(False, "charge", 0.8)[1] > 0.95).mean() > 0.05
    assert (_drawn(True, "charge", 1.2)[1] < _drawn(True, "charge", 0.8)[1]).mean() > 0.05


def _subcooling_by_blocking(place: float) -> np.ndarray:
    """What blocking the outdoor coil adds to subcooling [K] of R-410A units with a valve, drawn for the tables."""
    design = draw_designs(np.random.default_rng(11), STANDARD, True, DRAWN)
    unit, start = size(fluid("R-410A"), True, design)
    base = weather(HOT, count=DRAWN)
    operations = base, with_fault(base, "outdoor_coil_blocked", place, True)
    first, second = (solve(System(fluid("R-410A"), True, unit, one), start).state for one in operations)
    return (second.condensing - second.liquid_temperature) - (first.condensing - first.liquid_temperature)


def test_a_blocked_coil_gains_or_loses_subcooling() -> None:
    # NIST chamber tests of two R-410A heat pumps with valves (7,375 tests; signs of a third party's regression on
    # the fault level): the 16 SEER unit loses subcooling under a blocked outdoor coil, the 14 SEER unit gains.
    # Found: .6 of ours gain at a middle size, .4 at the largest. A third of each sign is our choice of ordinary.
    for place in (0.5, 1.0):
        gains = float((_subcooling_by_blocking(place) > 0.0).mean())
        assert 1.0 / 3.0 < gains < 2.0 / 3.0
