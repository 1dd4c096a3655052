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
    """One gauge and one thermometer against themselves, k = 2, each read twice (JCGM 100:2008 equation 10).

    Gauge: 1 psi within its digit (4.3.7) and 0.1 % of reading; thermometer 0.5 F; no temperature change.
    """
    answer = judge("pressure-test", {"gas": "nitrogen", "samples": samples((0, 450, 75), (60, 450, 75))})
    absolute = 450 + ATMOSPHERE
    gauge = np.hypot(2 / 12**0.5, 0.001 * absolute)
    thermometer = absolute / (75 + 459.67) * 0.5
    by_hand = (2 * gauge**2 + 2 * thermometer**2) ** 0.5
    assert answer.computed["pressure_change"]["uncertainty"] == pytest.approx(by_hand, abs=0.01)


@pytest.mark.parametrize(
    ("minutes", "last", "result", "variant"),
    [
        (60, 450.0, "holds", ""),
        (60, 435.0, "leaks", ""),
        (60, 446.5, "undecided", "settling"),
        (20, 450.0, "undecided", "within-uncertainty"),
        (24 * 60, 449.5, "holds", ""),
        (24 * 60, 430.0, "leaks", ""),
        (24 * 60, 442.0, "undecided", "settling"),
        (60, 439.0, "leaks", ""),
        (60, 455.0, "undecided", "rose"),
    ],
)
def test_two_readings(minutes, last, result, variant):
    """Two readings cannot tell a loss of up to 2 % from settling, however far apart; 4.65 psi/h must show."""
    answer = judge("pressure-test", {"gas": "nitrogen", "samples": samples((0, 450, 75), (minutes, last, 75))})
    assert (answer.computed["result"], answer.variants["pressure-test.result"]) == (result, variant)
    assert ("minutes_to_decide" in answer.computed) == (variant in ("within-uncertainty", "settling"))


@pytest.mark.parametrize(
    ("rows", "result", "variant", "seen"),
    [
        ([(0, 400), (30, 394), (60, 388)], "leaks", "", ""),
        ([(0, 450), (30, 448), (60, 446)], "leaks", "", ""),
        ([(0, 450), (30, 450), (60, 449)], "holds", "", ""),
        ([(0, 300), (15, 296), (60, 296), (120, 296), (195, 296)], "holds", "", "settled"),
        ([(0, 300), (15, 296), (195, 296)], "holds", "", "settled"),
        ([(0, 300), (15, 296), (60, 293), (120, 289), (195, 284)], "leaks", "", ""),
        ([(0, 300), (15, 296)], "undecided", "settling", ""),
        ([(0, 450), (5, 450), (10, 450), (600, 430), (605, 430), (610, 430)], "leaks", "", ""),
        ([(t, 450 if t < 30 else 440) for t in range(0, 70, 10)], "holds", "", "step"),
        ([(t, 450 if t < 30 else 440) for t in range(0, 40, 5)], "undecided", "moved", "step"),
        ([(t, 450 if t < 30 else 440 - (t - 30) / 4) for t in range(0, 70, 10)], "leaks", "", ""),
        ([(0, 450), (5, 450), (10, 450), (15, 450), (90, 440), (95, 440), (100, 440)], "leaks", "", ""),
        ([(t, 450 if t <= 60 else 425) for t in (0, 15, 30, 45, 60, 240, 245, 250)], "undecided", "moved", "gap"),
        ([(t, 430 if t == 20 else 450) for t in range(0, 70, 10)], "holds", "", "stray"),
        ([(0, 450), (10, 0), (20, 0), (30, 0), (40, 0)], "leaks", "all-gone", ""),
        ([(0, 450), (1440, 3)], "leaks", "all-gone", ""),
    ],
)
def test_readings_over_time(rows, result, variant, seen):
    """Common practice, no source: a leak goes on, settling stops in 15 min, a moved valve is sudden."""
    document = {"gas": "nitrogen", "samples": samples(*((*row, 75) for row in rows))}
    answer = judge("pressure-test", document)
    assert (answer.computed["result"], answer.variants["pressure-test.result"]) == (result, variant)
    found = [item.variant or "settled" for item in answer.checked.findings if item.code == "pressure-test.series"]
    assert found == ([seen] if seen else [])


def test_a_finer_gauge_decides_sooner():
    """Two psi in twenty minutes between three readings: settling by the pound, a leak by the tenth."""
    rows = samples((20, 450, 75), (30, 449.2, 75), (40, 448.4, 75), (50, 447.6, 75))
    document = {"gas": "nitrogen", "samples": rows}
    coarse = judge("pressure-test", document | {"instruments": {"pressure_resolution": 5}})
    assert coarse.computed["result"] == "undecided"
    fine = judge("pressure-test", document | {"instruments": {"pressure_resolution": 0.1}})
    assert fine.computed["result"] == "leaks"
    assert "/instruments/pressure_resolution" not in coarse.missing
    unknown = judge("pressure-test", {"gas": "nitrogen", "samples": samples((0, 300, 75), (15, 296, 75))})
    assert "/instruments/pressure_resolution" in unknown.missing


def test_a_pass_lists_what_it_rests_on():
    answer = judge("pressure-test", {"gas": "nitrogen", "samples": samples((0, 450, 75), (60, 450, 75))})
    basis = {item["pointer"]: item["basis"] for item in answer.computed["rests_on"]}
    assert basis["/samples/1/pressure"] == "told"
    assert basis["/gas"] == "told"
    assert basis["/instruments/pressure_resolution"] == "assumed"
    leak = judge("pressure-test", {"gas": "nitrogen", "samples": samples((0, 450, 75), (60, 430, 75))})
    assert "rests_on" not in leak.computed


def test_waiting_as_long_as_told_decides():
    """A tight circuit: undecided at 10 minutes, and one more reading after the wait decides."""
    rows = [(0, 450, 75), (10, 450, 75)]
    wait = judge("pressure-test", {"gas": "nitrogen", "samples": samples(*rows)}).value("minutes_to_decide")
    for more, result in ((wait + 0.1, "holds"), (wait - 1.0, "undecided")):
        later = {"gas": "nitrogen", "samples": samples(*rows, (10 + more, 450, 75))}
        assert judge("pressure-test", later).computed["result"] == result


def test_waiting_as_long_as_told_shows_a_leak():
    """A leak of 6 psi/h shows with one more reading after the wait, and not much sooner."""
    rows = [(minutes, 450 - 6 * minutes / 60, 75) for minutes in (0, 12, 24)]
    wait = judge("pressure-test", {"gas": "nitrogen", "samples": samples(*rows)}).value("minutes_to_decide")
    for more, result in ((wait + 0.1, "leaks"), (wait - 2.0, "undecided")):
        row = (24 + more, 450 - 6 * (24 + more) / 60, 75)
        later = {"gas": "nitrogen", "samples": samples(*rows, row)}
        assert judge("pressure-test", later).computed["result"] == result


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


def test_the_slow_end_of_settling_is_no_leak():
    """A simulated tight circuit (draw 180 of `settles, then stays`) that scatter once made a leak of 0.3 psi/h."""
    shown = [302.5, 299.5, 299, 299, 298, 298.5, 298.5, 298.5, 298, 298]
    warm = [61.9, 62.8, 62.0, 62.0, 61.8, 62.1, 62.3, 62.5, 61.8, 62.6]
    rows = zip([0, 5, 10, 15, 30, 59, 89, 118, 147, 176], shown, warm, strict=True)
    document = {"gas": "nitrogen", "instruments": {"pressure_resolution": 0.5}, "samples": samples(*rows)}
    assert judge("pressure-test", document).computed["result"] == "holds"


def test_a_gas_that_was_not_named_passes_nothing_and_hides_no_leak():
    tight = samples((0, 450, 75), (60, 450, 75))
    answer = judge("pressure-test", {"samples": tight})
    assert (answer.computed["result"], answer.variants["pressure-test.result"]) == ("undecided", "gas-not-named")
    assert "/gas" in answer.missing
    assert "rests_on" not in answer.computed
    leaking = samples((0, 450, 75), (30, 440, 75), (60, 430, 75))
    assert judge("pressure-test", {"samples": leaking}).computed["result"] == "leaks"
