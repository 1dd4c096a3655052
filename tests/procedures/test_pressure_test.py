"""The nitrogen test: closed form, both sides of each limit, hazards, and tests with known truth."""

import numpy as np
import pytest

from service.results.refusal import Refusal
from service.results.units import PSI, STANDARD_ATMOSPHERE
from tests.procedures.judging import judge

ATMOSPHERE = STANDARD_ATMOSPHERE / PSI
GOOD = {"pressure_accuracy": 1.0, "temperature_accuracy": 0.5}


def samples(*rows):
    return [dict(zip(("minutes", "pressure", "temperature"), row, strict=False)) for row in rows]


def test_expected_pressure_in_closed_form():
    """p2/T2 = p1/T1 absolute: 450 psig at 75 F, 65 F later: 441.31 psig."""
    answer = judge("pressure-test", {"gas": "nitrogen", "samples": samples((0, 450, 75), (60, 441.3, 65))})
    by_hand = (450 + ATMOSPHERE) * (65 + 459.67) / (75 + 459.67) - ATMOSPHERE
    assert answer.value("expected_pressure") == pytest.approx(by_hand, abs=0.01)
    assert answer.value("pressure_change") == pytest.approx(441.3 - by_hand, abs=0.01)
    assert answer.value("leak_rate") == pytest.approx(by_hand - 441.3, abs=0.01)
    assert answer.computed["result"] != "leaks"


def test_uncertainty_of_the_change_in_closed_form():
    """Gauge 1 psi twice and thermometer 0.5 F twice in quadrature (GUM equation 10), no temperature change."""
    answer = judge(
        "pressure-test", {"gas": "nitrogen", "instruments": GOOD, "samples": samples((0, 450, 75), (60, 450, 75))}
    )
    share = (450 + ATMOSPHERE) / (75 + 459.67) * 0.5
    assert answer.computed["pressure_change"]["uncertainty"] == pytest.approx((2 + 2 * share**2) ** 0.5, abs=0.01)


@pytest.mark.parametrize(
    ("minutes", "last", "result", "variant"),
    [
        (60, 450.0, "holds", ""),
        (60, 446.5, "leaks", ""),
        (60, 448.2, "undecided", "within-uncertainty"),
        (20, 450.0, "undecided", "within-uncertainty"),
        (24 * 60, 449.5, "holds", ""),
        (24 * 60, 440.0, "leaks", ""),
        (60, 455.0, "undecided", "rose"),
    ],
)
def test_verdicts_at_the_instruments_accuracy(minutes, last, result, variant):
    """Half-width of the change is 1.54 psi, a leak is called beyond 1.99 psi, 4.65 psi/h must be visible."""
    answer = judge(
        "pressure-test",
        {"gas": "nitrogen", "instruments": GOOD, "samples": samples((0, 450, 75), (minutes, last, 75))},
    )
    assert (answer.computed["result"], answer.variants["pressure-test.result"]) == (result, variant)
    assert ("minutes_to_decide" in answer.computed) == (variant == "within-uncertainty")


def test_waiting_as_long_as_told_decides():
    """A tight circuit, default instruments: undecided at 15 minutes, and after the wait it holds."""
    first = {"gas": "nitrogen", "samples": samples((0, 450, 75), (15, 450, 75))}
    wait = judge("pressure-test", first).value("minutes_to_decide")
    later = first | {"samples": samples((0, 450, 75), (15 + wait + 0.1, 450, 75))}
    assert judge("pressure-test", later).computed["result"] == "holds"
    sooner = first | {"samples": samples((0, 450, 75), (15 + wait - 1.0, 450, 75))}
    assert judge("pressure-test", sooner).computed["result"] == "undecided"


def test_waiting_as_long_as_told_shows_a_leak():
    """A leak of 6 psi/h shows once the loss passes the decision width."""

    def after(minutes):
        document = {"gas": "nitrogen", "samples": samples((0, 450, 75), (minutes, 450 - 6 * minutes / 60, 75))}
        return judge("pressure-test", document)

    wait = after(30).value("minutes_to_decide")
    assert after(30 + wait + 0.1).computed["result"] == "leaks"


@pytest.mark.parametrize(("minutes", "result"), [(14, "undecided"), (15, "holds")])
def test_the_shortest_test(minutes, result):
    """15 minutes (common practice, no source), with instruments that could decide in less."""
    exact = {"pressure_accuracy": 0.05, "temperature_accuracy": 0.02}
    answer = judge(
        "pressure-test",
        {"gas": "nitrogen", "instruments": exact, "samples": samples((0, 450, 75), (minutes, 450, 75))},
    )
    assert answer.computed["result"] == result
    if result == "undecided":
        assert answer.variants["pressure-test.result"] == "too-short"
        assert answer.value("minutes_to_decide") == pytest.approx(5.0)


@pytest.mark.parametrize(("minutes", "result"), [(59, "undecided"), (60, "holds")])
def test_an_hour_where_the_refrigerant_burns(minutes, result):
    """UL 60335-2-40 (from memory): field-made joints of flammable systems are held one hour."""
    exact = {"pressure_accuracy": 0.05, "temperature_accuracy": 0.02}
    document = {"gas": "nitrogen", "instruments": exact, "equipment": {"refrigerant": "R-454B"}}
    document["samples"] = samples((0, 450, 75), (minutes, 450, 75))
    assert judge("pressure-test", document).computed["result"] == result
    document["equipment"] = {"refrigerant": "R-410A"}
    assert judge("pressure-test", document).computed["result"] == "holds"


@pytest.mark.parametrize(
    "gas", ["nitrogen", "N2", "dry nitrogen", "nitrogen_hydrogen", "5% hydrogen, 95% nitrogen"]
)
def test_gases_accepted(gas):
    assert judge("pressure-test", {"gas": gas}).states["pressure-test.gas"] == "pass"


@pytest.mark.parametrize("gas", ["oxygen", "air", "Shop Air", "acetylene", "hydrogen", "5 nitrogen 95 hydrogen"])
def test_gases_that_are_a_hazard(gas):
    answer = judge("pressure-test", {"gas": gas, "samples": samples((0, 450, 75), (600, 450, 75))})
    assert answer.states["pressure-test.gas"] == "fail"
    assert answer.computed["result"] == "undecided"
    finding = answer.checked.findings[0]
    assert finding.severity == "critical"
    assert finding.variant == ("other" if "nitrogen" in gas else "explosive")


@pytest.mark.parametrize("gas", ["helium", "carbon dioxide", "R-410A", "argon"])
def test_other_gases_are_refused_too(gas):
    assert judge("pressure-test", {"gas": gas}).variants["pressure-test.gas"] == "other"


@pytest.mark.parametrize(
    ("side", "pressure", "state"),
    [
        (None, 250.0, "pass"),
        (None, 250.5, "fail"),
        ("low", 250.5, "fail"),
        ("high", 450.0, "pass"),
        ("high", 450.5, "fail"),
    ],
)
def test_design_pressure_on_both_sides(side, pressure, state):
    """The whole circuit takes the weaker side's design pressure (nameplate; common practice, no source)."""
    document = {"gas": "nitrogen", "low_side_design_pressure": 250, "high_side_design_pressure": 450}
    document["samples"] = samples((0, pressure, 75), (600, pressure, 75))
    if side:
        document["tested_side"] = side
    answer = judge("pressure-test", document)
    assert answer.states["pressure-test.above-design"] == state
    assert (answer.computed["result"] == "undecided") == (state == "fail")


def test_a_plan_above_the_nameplate_is_stopped_before_gas_goes_in():
    document = {"gas": "nitrogen", "target_pressure": 300, "equipment": {"low_side_design_pressure": 250}}
    answer = judge("pressure-test", document)
    assert answer.states["pressure-test.above-design"] == "fail"
    assert answer.computed["result"] == "undecided"


def test_without_a_design_pressure_nothing_is_allowed():
    answer = judge("pressure-test", {"gas": "nitrogen", "samples": samples((0, 450, 75), (600, 450, 75))})
    assert answer.states["pressure-test.above-design"] == "undecided"
    assert "/low_side_design_pressure" in answer.missing
    assert answer.computed["result"] == "holds"


def test_only_the_high_side_known_can_condemn_and_not_allow():
    document = {"gas": "nitrogen", "target_pressure": 300, "high_side_design_pressure": 450}
    answer = judge("pressure-test", document)
    assert answer.states["pressure-test.above-design"] == "undecided"
    document["target_pressure"] = 460
    assert judge("pressure-test", document).states["pressure-test.above-design"] == "fail"


@pytest.mark.parametrize(("first", "state"), [(449.0, "pass"), (440.0, "review")])
def test_target_reached(first, state):
    """Default gauge accuracy 7 psi: 440 is below 450 by more than that."""
    document = {"gas": "nitrogen", "target_pressure": 450, "samples": samples((0, first, 75))}
    assert judge("pressure-test", document).states["pressure-test.target"] == state


def test_nothing_sent_is_answered():
    answer = judge("pressure-test", {})
    assert answer.states == {"pressure-test.gas": "undecided", "pressure-test.result": "undecided"}
    assert answer.missing == {"/gas", "/samples/0"}
    assert answer.computed == {"result": "undecided"}


@pytest.mark.parametrize(
    ("rows", "missing"),
    [
        ([(0, 450, 75)], {"/samples/1"}),
        ([(0, 450), (60, 450)], {"/samples/0/temperature", "/samples/1/temperature"}),
        ([(5, 450, 75), (5, 450, 75)], {"/samples/2"}),
        ([(5, 450, 75), (5.005, 450, 75)], {"/samples/2"}),
    ],
)
def test_too_few_readings(rows, missing):
    answer = judge("pressure-test", {"gas": "nitrogen", "samples": samples(*rows)})
    assert answer.computed["result"] == "undecided"
    assert missing <= answer.missing


def test_readings_out_of_order_and_incomplete_ones_in_between():
    rows = [*samples((60, 450, 75)), {"minutes": 30}, *samples((0, 450, 75))]
    answer = judge("pressure-test", {"gas": "nitrogen", "instruments": GOOD, "samples": rows})
    assert answer.computed["result"] == "holds"


def test_a_pressure_at_absolute_zero_is_refused():
    document = {"samples": samples((0, -20, 75)), "target_pressure": -15}
    with pytest.raises(Refusal) as refused:
        judge("pressure-test", document)
    assert [error.pointer for error in refused.value.errors] == ["/target_pressure", "/samples/0/pressure"]


def test_known_truth_over_a_hundred_seeds():
    """Gaussian errors of the stated accuracies (k = 2), air swinging by 10 F: 2 % wrong at most."""
    wrong_tight = wrong_leak = 0
    for seed in range(100):
        random = np.random.default_rng(seed)
        gauge, thermometer = random.normal(0, 0.5, 2).tolist(), random.normal(0, 0.25, 2).tolist()
        swing, minutes = random.uniform(-10, 10), random.uniform(20, 600)
        loss = random.uniform(4.65, 20.0) * minutes / 60.0

        def read(lost, gauge=gauge, thermometer=thermometer, swing=swing, minutes=minutes):
            real = (450 + ATMOSPHERE) * (75 + swing + 459.67) / 534.67 - ATMOSPHERE - lost
            rows = samples(
                (0, 450 + gauge[0], 75 + thermometer[0]),
                (minutes, max(real, 1.0) + gauge[1], 75 + swing + thermometer[1]),
            )
            document = {"gas": "nitrogen", "instruments": GOOD, "samples": rows}
            return judge("pressure-test", document).computed["result"]

        wrong_tight += read(0.0) == "leaks"
        wrong_leak += read(loss) == "holds"
    assert wrong_tight <= 2
    assert wrong_leak <= 2
