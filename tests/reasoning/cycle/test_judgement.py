"""Verdicts of the cycle model for readings whose meaning the trade agrees on, and for those it must not judge.

Directions: Rossi & Braun 1997, HVAC&R Research 3(1) (from memory); undercharge on a valve shows in subcooling:
ANSI/ACCA 5 QI charges a valve by subcooling (from memory).
"""

from math import exp
from typing import Any

import pytest

from service.knowledge.cycle_model import CLASSES
from service.knowledge.cycle_priors import cycle_priors
from service.reasoning.cycle import judge_cycle
from service.reasoning.cycle.posterior import cause_probabilities
from service.results.cycle import CycleHistory, CycleReadings
from service.results.record import replace
from tests.reasoning.cycle.questions import CORE, FULL, WEATHER, ask

VALVE, ORIFICE = "thermostatic_expansion_valve", "fixed_orifice"
# Readings a fault moves, in kelvin (airflow as a share), as the trade would recognise it.
TELLTALE = {
    ("undercharge", VALVE): {"liquid_saturation_temperature": -3.0, "liquid_line_temperature": 3.0},
    ("undercharge", ORIFICE): {
        "suction_saturation_temperature": -5.0,
        "liquid_saturation_temperature": -3.5,
        "suction_line_temperature": 8.0,
        "liquid_line_temperature": 1.5,
        "discharge_line_temperature": 16.0,
        "supply_dry_bulb": 1.5,
        "condenser_leaving_dry_bulb": -1.5,
    },
    ("overcharge", VALVE): {"liquid_saturation_temperature": 3.5, "liquid_line_temperature": -3.5},
    ("low_indoor_airflow", VALVE): {
        "suction_saturation_temperature": -3.0,
        "suction_line_temperature": -3.0,
        "supply_dry_bulb": -3.5,
        "supply_wet_bulb": -3.0,
        "airflow_ratio": -0.4,
    },
    ("outdoor_coil_blocked", VALVE): {
        "liquid_saturation_temperature": 9.0,
        "liquid_line_temperature": 8.5,
        "condenser_leaving_dry_bulb": 10.0,
        "discharge_line_temperature": 12.0,
    },
    ("compressor_not_pumping", VALVE): {
        "suction_saturation_temperature": 5.0,
        "liquid_saturation_temperature": -4.0,
        "suction_line_temperature": 4.0,
        "liquid_line_temperature": -3.0,
        "supply_dry_bulb": 2.5,
        "supply_wet_bulb": 2.0,
        "condenser_leaving_dry_bulb": -3.0,
    },
}


@pytest.mark.parametrize(("fault", "metering"), TELLTALE)
def test_telltale_readings_name_their_fault(fault: str, metering: str) -> None:
    verdict = judge_cycle(ask(FULL, metering, **TELLTALE[fault, metering]))
    assert verdict.state == "steady"
    assert verdict.probabilities[0][0] == fault
    assert verdict.severity is not None
    assert verdict.severity.level.low < verdict.severity.level.likely < verdict.severity.level.high
    against_sound = sum(item.weight_against_sound for item in verdict.evidence)
    assert against_sound > 0.0


@pytest.mark.parametrize("metering", [VALVE, ORIFICE, "capillary_tube", "electronic_expansion_valve"])
def test_a_typical_sound_unit_is_called_sound(metering: str) -> None:
    verdict = judge_cycle(ask(FULL, metering))
    assert verdict.state == "steady"
    assert verdict.probabilities[0][0] == "none_found"
    assert verdict.probabilities[0][1] > 0.75
    assert verdict.severity is None
    assert verdict.loss is None
    assert not verdict.after_repair


def test_probabilities_descend_and_sum_to_one() -> None:
    verdict = judge_cycle(ask(CORE, liquid_line_temperature=2.0))
    shares = [share for _, share in verdict.probabilities]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) == pytest.approx(1.0)
    assert all(0.0 <= share <= 1.0 for _, _, share in verdict.pairs)


def test_restriction_and_underfeeding_are_told_apart_by_the_drier() -> None:
    starved = {
        "suction_saturation_temperature": -8.0,
        "liquid_saturation_temperature": -3.0,
        "suction_line_temperature": 8.0,
        "liquid_line_temperature": -4.0,
        "supply_dry_bulb": 1.5,
        "discharge_line_temperature": 22.0,
        "condenser_leaving_dry_bulb": -1.5,
    }
    names = FULL[:10]
    unsure = dict(judge_cycle(ask(names, **starved)).probabilities)
    assert unsure["liquid_line_restriction"] > 0.1
    assert unsure["metering_underfeeding"] > 0.1
    names = (*names, "drier_temperature_drop")
    dropped = dict(judge_cycle(ask(names, **starved, drier_temperature_drop=8.0)).probabilities)
    level = dict(judge_cycle(ask(names, **starved)).probabilities)
    assert dropped["liquid_line_restriction"] > 0.9
    assert level["metering_underfeeding"] > 0.7


def test_standing_pressure_tells_foreign_gas_from_overcharge() -> None:
    high = {"liquid_saturation_temperature": 6.0, "discharge_line_temperature": 8.0}
    names = (*FULL[:10], "standing_saturation_excess")
    before = dict(judge_cycle(ask(FULL[:10], **high)).probabilities)
    after = dict(judge_cycle(ask(names, **high, standing_saturation_excess=4.0)).probabilities)
    assert after["non_condensables"] > max(0.85, before["non_condensables"])


def test_a_failed_pump_down_speaks_for_the_compressor() -> None:
    question = ask(
        CORE, suction_saturation_temperature=3.0, liquid_saturation_temperature=-2.5, supply_dry_bulb=1.5
    )
    before = dict(judge_cycle(question).probabilities)["compressor_not_pumping"]
    tests = replace(question.readings, pump_down_pulls=False, pump_down_holds=False)
    failed = dict(judge_cycle(replace(question, readings=tests)).probabilities)["compressor_not_pumping"]
    tests = replace(question.readings, pump_down_holds=True)
    held = dict(judge_cycle(replace(question, readings=tests)).probabilities)["compressor_not_pumping"]
    assert held < before < failed


def test_loss_follows_the_fault() -> None:
    verdict = judge_cycle(ask(FULL, ORIFICE, **TELLTALE["undercharge", ORIFICE]))
    assert verdict.loss is not None
    # Published relations: 20 to 30 % missing charge costs an orifice system some 10 to 30 % (see physics tests).
    assert 0.6 < verdict.loss.capacity.likely < 0.95
    assert verdict.loss.efficiency.likely < 1.0
    assert verdict.loss.capacity.low < verdict.loss.capacity.likely < verdict.loss.capacity.high


def test_after_repair_the_unit_reads_sound_again() -> None:
    verdict = judge_cycle(ask(FULL, VALVE, **TELLTALE["undercharge", VALVE]))
    sound = judge_cycle(ask(FULL, VALVE)).expected
    for name in ("liquid_saturation_temperature", "liquid_line_temperature"):
        repaired = verdict.after_repair[name]
        assert repaired.low < sound[name].likely < repaired.high
        assert repaired.high - repaired.low < 1.2 * (sound[name].high - sound[name].low)


@pytest.mark.parametrize(
    ("change", "state"),
    [
        ({"minutes_running": 5.0}, "transient"),
        ({"refrigerant": "R-744"}, "not_modelled"),
        ({"metering": "float_valve"}, "not_modelled"),
        ({"conditions": replace(WEATHER, outdoor_dry_bulb=278.0)}, "out_of_conditions"),
        ({"conditions": replace(WEATHER, return_dry_bulb=310.0)}, "out_of_conditions"),
        ({"conditions": replace(WEATHER, barometric_pressure=60e3)}, "out_of_conditions"),
    ],
)
def test_what_was_not_simulated_is_not_judged(change: dict[str, Any], state: str) -> None:
    verdict = judge_cycle(replace(ask(CORE), **change))
    assert verdict.state == state
    assert not verdict.probabilities


def test_a_slip_of_the_thermometer_is_left_out_and_the_rest_is_judged() -> None:
    # The design study's gross error: 25 degF on the liquid line.
    verdict = judge_cycle(ask(FULL, liquid_line_temperature=14.0))
    assert verdict.left_out == ("liquid_line_temperature",)
    assert verdict.state == "steady"
    assert verdict.probabilities[0][0] == "none_found"


def test_one_bad_clamp_at_the_drier_makes_no_restriction() -> None:
    """A line 4 K warmer behind the drier than before it is an error of a clamp: nothing warms the liquid there."""
    verdict = judge_cycle(ask(FULL, drier_temperature_drop=-4.0))
    assert dict(verdict.probabilities)["liquid_line_restriction"] < 0.05


def test_three_bad_readings_are_too_many_to_leave_out() -> None:
    slips = {"liquid_line_temperature": 14.0, "suction_line_temperature": 35.0}
    verdict = judge_cycle(ask(FULL, discharge_line_temperature=-90.0, **slips))
    assert verdict.state == "out_of_population"
    assert len(verdict.left_out) == 2


@pytest.mark.parametrize("value", [0.0, -1e4, 1e4, 1e9, 1e30])
@pytest.mark.parametrize(
    "name", ["liquid_line_temperature", "drier_temperature_drop", "standing_saturation_excess"]
)
@pytest.mark.parametrize("wet_bulb", [WEATHER.return_wet_bulb, None])
def test_an_absurd_reading_is_left_out_and_no_error(name: str, value: float, wet_bulb: float | None) -> None:
    question = ask(FULL, conditions=replace(WEATHER, return_wet_bulb=wet_bulb))
    # Zero is no absurd difference, and less than nothing counts as nothing.
    absurd = value > 0.0 or name == "liquid_line_temperature"
    verdict = judge_cycle(replace(question, readings=replace(question.readings, **{name: value})))
    # A standing pressure far over saturation is the largest simulated share of foreign gas, or an error.
    allowed = {(name,), ()} if absurd and name.startswith("standing") else {(name,) if absurd else ()}
    assert verdict.left_out in allowed
    assert verdict.state in ("steady", "slight")
    assert sum(share for _, share in verdict.probabilities) == pytest.approx(1.0)


@pytest.mark.parametrize("half_width", [0.0, 1e-9, 1e6, 1e12])
def test_an_absurd_accuracy_is_no_error(half_width: float) -> None:
    stated = dict.fromkeys((*FULL, "outdoor_dry_bulb", "return_dry_bulb", "return_wet_bulb"), half_width)
    verdict = judge_cycle(replace(ask(FULL, liquid_line_temperature=0.2), accuracies=stated))
    assert sum(share for _, share in verdict.probabilities) == pytest.approx(1.0)
    if half_width > 1.0:  # readings that say nothing leave the prior
        assert dict(verdict.probabilities)["none_found"] == pytest.approx(0.35, abs=0.01)


def test_a_small_deviation_is_called_slight() -> None:
    states = {
        judge_cycle(ask(FULL, liquid_line_temperature=step / 4, liquid_saturation_temperature=-step / 4)).state
        for step in range(2, 9)
    }
    assert "slight" in states
    assert "out_of_population" not in states


def test_nothing_read_leaves_the_prior_and_tells_what_to_read() -> None:
    verdict = judge_cycle(replace(ask(CORE), readings=CycleReadings()))
    assert verdict.state == "no_readings"
    assert dict(verdict.probabilities)["none_found"] == pytest.approx(0.35)
    assert verdict.expected["liquid_saturation_temperature"].likely > WEATHER.outdoor_dry_bulb
    assert verdict.next_readings
    assert not verdict.evidence


def test_assumptions_name_what_was_not_said() -> None:
    said = judge_cycle(ask(CORE)).assumptions
    assert "figures_simulated" in said
    question = replace(
        ask(CORE, conditions=replace(WEATHER, return_wet_bulb=None)),
        metering=None,
        efficiency_class=None,
        minutes_running=None,
        readings=CycleReadings(280.0, compressor_amps_ratio=0.8),
    )
    unsaid = set(judge_cycle(question).assumptions)
    assert {
        "metering_unknown",
        "efficiency_class_unknown",
        "humidity_unknown",
        "steady_operation_assumed",
        "voltage_unknown",
        "ordinary_instruments",
    } <= unsaid
    assert "metering_taken_alike" in judge_cycle(ask(CORE, "capillary_tube")).assumptions


def test_history_moves_the_prior_and_only_the_prior() -> None:
    question = ask(CORE, liquid_line_temperature=1.0, liquid_saturation_temperature=-1.0)
    calm = judge_cycle(question)
    history = CycleHistory(
        ("poor_cooling",), ("oil_stains",), recent_work=True, charge_added_recently=True, days_since_ok=1.0
    )
    alarmed = judge_cycle(replace(question, history=history))
    assert dict(alarmed.probabilities)["none_found"] < dict(calm.probabilities)["none_found"]
    assert dict(alarmed.probabilities)["undercharge"] > dict(calm.probabilities)["undercharge"]
    # What the readings say stands apart from the prior; a share of every posterior stays at the prior.
    kept = cycle_priors().unmodelled
    ratios = [
        {
            name: (exp(value) - kept) / (exp(one.log_likelihoods["none_found"]) - kept)
            for name, value in one.log_likelihoods.items()
        }
        for one in (calm, alarmed)
    ]
    assert ratios[1] == pytest.approx(ratios[0], rel=1e-4, abs=1e-9)
    assert alarmed.expected == calm.expected


def test_a_neighbouring_refrigerant_is_judged_without_its_discharge_temperature() -> None:
    shifts = {"liquid_saturation_temperature": -3.0, "liquid_line_temperature": 3.0}
    own = ask(FULL, **shifts)
    neighbour = replace(own, refrigerant="R-452B")
    hot = replace(neighbour, readings=replace(own.readings, discharge_line_temperature=390.0))
    verdict = judge_cycle(neighbour)
    assert verdict.probabilities[0][0] == "undercharge"
    assert judge_cycle(hot).probabilities == verdict.probabilities
    assert "neighboring_refrigerant" in verdict.assumptions
    assert "discharge_line_temperature" not in verdict.expected
    assert "discharge_line_temperature" not in verdict.after_repair
    assert "discharge_line_temperature" not in {item.reading for item in verdict.next_readings}


def test_of_two_faults_the_one_that_is_there_in_any_case_comes_first() -> None:
    # Low airflow is there in all three: alone .3, with too little charge .4, with too much .25. Sums of shares.
    shares = {
        "none_found": 0.05,
        "low_indoor_airflow": 0.3,
        "undercharge+low_indoor_airflow": 0.4,
        "overcharge+low_indoor_airflow": 0.25,
    }
    found = dict(cause_probabilities([shares.get(name, 0.0) for name in CLASSES]))
    assert sum(found.values()) == pytest.approx(1.0)
    assert max(found, key=lambda name: found[name]) == "low_indoor_airflow"
    assert found["low_indoor_airflow"] > 0.7
    assert found["undercharge"] > found["overcharge"] > 0.0
    assert found["none_found"] == pytest.approx(0.05)
