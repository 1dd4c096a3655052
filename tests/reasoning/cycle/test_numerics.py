"""The arithmetic behind the verdicts against independent ways of computing the same numbers."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import chi2, multivariate_normal

from service.knowledge.cycle_model import CLASSES, COMPONENTS, load_tables
from service.physics.cycle.readings import READINGS
from service.physics.cycle.reference import design_matrix, slopes
from service.reasoning.cycle import gain, gaussian, judge_cycle
from service.reasoning.cycle.case import deviations, prepare
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY, HUMIDITY_WEIGHTS, condition_nodes
from service.reasoning.cycle.next_readings import predict
from service.reasoning.cycle.prior import prior_by_class
from service.reasoning.cycle.states import rare_distance
from service.results.cycle import CycleBaseline, CycleHistory
from tests.reasoning.cycle.questions import CORE, FULL, WEATHER, ask


def test_marginal_likelihood_is_exact() -> None:
    """Leaving readings out equals the marginal of the full normal distribution, class by class (scipy)."""
    question = ask(CORE, liquid_line_temperature=2.0)
    case = prepare(question)
    table = load_tables("R-410A", "expansion_valve")
    index = np.array([READINGS.index(name) for name in READINGS if name in CORE])
    conditions = np.array([[308.15, 299.8167, 292.5944, 101_325.0]])
    expected = (design_matrix(conditions) @ table.reference[0].T)[0, index]
    slope = (table.reference[0] @ slopes(conditions)[0])[index] * case.read.condition_deviations
    noise = np.diag(case.read.deviations**2) + slope @ slope.T
    residual = np.array([case.values[READINGS[at]] for at in index]) - expected
    for at, name in enumerate(CLASSES):
        total = sum(
            table.weights[0, at, k]
            / table.weights[0, at].sum()
            * multivariate_normal.pdf(
                residual, table.means[0, at, k, index], table.covariances[0, at, k][np.ix_(index, index)] + noise
            )
            for k in range(COMPONENTS)
        )
        assert case.posterior.log_likelihood[at] == pytest.approx(np.log(total), abs=1e-6), name


def test_left_out_readings_are_conditioned_exactly() -> None:
    case = prepare(ask(CORE, liquid_line_temperature=2.0))
    every = gaussian.without_each(case.fitted)
    for place in range(len(CORE)):
        keep = np.delete(np.arange(len(CORE)), place)
        taken = gaussian.Taken(
            case.taken.index[keep], case.taken.values[keep], case.taken.noise[:, keep[:, None], keep]
        )
        again = gaussian.fit(case.sharpened.mean, case.sharpened.covariance, taken)
        assert every[..., place] == pytest.approx(again.log_likelihood, abs=1e-8)


def test_single_readings_are_weighed_alone_exactly() -> None:
    case = prepare(ask(CORE, liquid_line_temperature=2.0))
    alone = gaussian.alone_each(case.sharpened.covariance, case.taken, case.fitted)
    for place in range(len(CORE)):
        keep = np.array([place])
        taken = gaussian.Taken(
            case.taken.index[keep], case.taken.values[keep], case.taken.noise[:, [[place]], keep]
        )
        again = gaussian.fit(case.sharpened.mean, case.sharpened.covariance, taken)
        assert alone[..., place] == pytest.approx(again.log_likelihood, abs=1e-8)


def test_missing_wet_bulb_is_averaged_over_humidity() -> None:
    dry = replace(WEATHER, return_wet_bulb=None)
    nodes, weights = condition_nodes(dry)
    assert weights == pytest.approx(HUMIDITY_WEIGHTS)
    case = prepare(ask(CORE, conditions=dry))
    single = []
    for node in nodes:
        at = replace(dry, return_wet_bulb=float(node[2]))
        # Each node stands for its neighbourhood: the same error of wet bulb as the average uses.
        question = replace(ask(CORE, conditions=dry), conditions=at, accuracies={"return_wet_bulb": 1.0})
        single.append(prepare(question).posterior.log_likelihood)
    averaged = np.log(weights @ np.exp(np.array(single)))
    assert case.posterior.log_likelihood == pytest.approx(averaged, abs=0.15)


def test_expected_information_agrees_with_sampling() -> None:
    case = prepare(ask(CORE[:3], liquid_saturation_temperature=-2.0))
    predicted = predict(case, deviations(case))
    rng = np.random.default_rng(5)
    member = np.eye(len(CLASSES))[predicted.label]
    for name in ("liquid_line_temperature", "discharge_line_temperature", "condenser_leaving_dry_bulb"):
        at = READINGS.index(name)
        mean, spread = predicted.mean[:, at], np.sqrt(predicted.covariance[:, at, at])
        chosen = rng.choice(predicted.weights.size, 4000, p=predicted.weights)
        drawn = mean[chosen] + spread[chosen] * rng.normal(size=chosen.size)
        chance = predicted.weights / spread * np.exp(-0.5 * ((drawn[:, None] - mean) / spread) ** 2)
        after = gain.entropy(chance / chance.sum(axis=1, keepdims=True) @ member).mean()
        sampled = float(gain.entropy(predicted.weights @ member) - after)
        shipped = gain.gains(predicted, [gain.Candidate((at,), (name,), 1.0)])[0]
        assert shipped == pytest.approx(sampled, abs=0.04)


def test_readings_that_come_together_tell_at_least_as_much() -> None:
    case = prepare(ask(("supply_dry_bulb",)))
    predicted = predict(case, deviations(case))
    alone = gain.gains(predicted, [gain.Candidate((at,), (READINGS[at],), 1.0) for at in (0, 1)])
    together = gain.gains(predicted, [gain.Candidate((0, 1), READINGS[:2], 1.0)])[0]
    assert together > max(alone) - 0.01


def test_noisier_instruments_make_a_verdict_less_certain() -> None:
    shifts = {"liquid_line_temperature": 2.5, "liquid_saturation_temperature": -2.5}
    sharp = ask(CORE, **shifts)
    blunt = replace(sharp, accuracies=dict.fromkeys(CORE, 5.0))
    assert judge_cycle(blunt).probabilities[0][1] < judge_cycle(sharp).probabilities[0][1]


def test_a_stated_accuracy_of_airflow_counts() -> None:
    names = (*CORE, "airflow_ratio")
    sharp = replace(
        ask(names, airflow_ratio=-0.25), accuracies={"airflow_per_capacity": 0.05 * AIRFLOW_PER_CAPACITY}
    )
    blunt = replace(sharp, accuracies={"airflow_per_capacity": 0.8 * AIRFLOW_PER_CAPACITY})
    low = [dict(judge_cycle(question).probabilities)["low_indoor_airflow"] for question in (sharp, blunt)]
    assert low[0] > low[1] + 0.1


def test_the_prior_by_class_is_the_prior() -> None:
    shares = prior_by_class(CycleHistory())
    assert sum(shares.values()) == pytest.approx(1.0)
    assert shares["none_found"] == pytest.approx(0.35)


def test_a_baseline_absolves_a_peculiar_unit() -> None:
    """A unit that always condensed high is not blocked when it condenses high today."""
    shifts = {
        "liquid_saturation_temperature": 4.5,
        "liquid_line_temperature": 4.0,
        "condenser_leaving_dry_bulb": 4.0,
    }
    today = ask((*CORE, "condenser_leaving_dry_bulb"), **shifts)
    yesterday = replace(WEATHER, outdoor_dry_bulb=303.0)
    then = ask((*CORE, "condenser_leaving_dry_bulb"), conditions=yesterday, **shifts)
    baseline = CycleBaseline(then.readings, yesterday)
    without = dict(judge_cycle(today).probabilities)["none_found"]
    known = judge_cycle(replace(today, baseline=baseline))
    assert dict(known.probabilities)["none_found"] > max(without, 0.85)
    # What the unit should read is then known better, too.
    ordinary, own = judge_cycle(today).expected, known.expected
    name = "liquid_saturation_temperature"
    assert own[name].high - own[name].low < 0.8 * (ordinary[name].high - ordinary[name].low)
    assert own[name].likely > ordinary[name].likely + 2.0


def test_a_baseline_also_serves_the_forecast_after_repair() -> None:
    shifts = {"liquid_saturation_temperature": -3.0, "liquid_line_temperature": 3.5}
    today = ask(FULL, **shifts)
    baseline = CycleBaseline(ask(FULL).readings, WEATHER)
    plain, known = judge_cycle(today), judge_cycle(replace(today, baseline=baseline))
    name = "liquid_line_temperature"
    width = known.after_repair[name].high - known.after_repair[name].low
    assert width < plain.after_repair[name].high - plain.after_repair[name].low


@pytest.mark.parametrize(
    "conditions", [replace(WEATHER, return_wet_bulb=None), replace(WEATHER, outdoor_dry_bulb=270.0)]
)
def test_a_baseline_in_unknown_weather_is_left_aside(conditions) -> None:
    today = ask(CORE, liquid_line_temperature=2.0)
    baseline = CycleBaseline(today.readings, conditions)
    assert judge_cycle(replace(today, baseline=baseline)).probabilities == judge_cycle(today).probabilities


def test_nameplate_target_explains_a_high_subcooling() -> None:
    shifts = {"liquid_saturation_temperature": 2.0, "liquid_line_temperature": -2.0}
    plain = judge_cycle(ask(FULL, **shifts))
    plated = judge_cycle(replace(ask(FULL, **shifts), target_subcooling=9.5))
    assert dict(plated.probabilities)["none_found"] > dict(plain.probabilities)["none_found"]
    assert plated.expected["liquid_line_temperature"].likely < plain.expected["liquid_line_temperature"].likely


def test_unknown_metering_and_class_mix_their_hypotheses() -> None:
    question = ask(CORE, liquid_line_temperature=2.0)
    mixed = prepare(replace(question, metering=None, efficiency_class=None))
    assert set(mixed.joint.hypothesis) == {0, 1, 2, 3}
    single = [
        prepare(replace(question, metering=kind, efficiency_class=level)).posterior.log_likelihood
        for kind in ("fixed_orifice", "thermostatic_expansion_valve")
        for level in ("standard", "high")
    ]
    shares = np.array([0.3, 0.2, 0.3, 0.2])
    assert mixed.posterior.log_likelihood == pytest.approx(np.log(shares @ np.exp(np.array(single))), abs=1e-9)


def test_wet_bulb_is_asked_for_where_it_tells() -> None:
    question = ask(CORE, "fixed_orifice", replace(WEATHER, return_wet_bulb=None), suction_line_temperature=4.0)
    asked = {item.reading: item for item in judge_cycle(question).next_readings}
    assert asked["return_wet_bulb"].bits > 0.05


def test_gauges_are_one_errand_and_reading_stops_when_nothing_is_worth_it() -> None:
    first = {item.reading: item for item in judge_cycle(ask(("supply_dry_bulb",))).next_readings}
    assert first["suction_saturation_temperature"].minutes == first["liquid_saturation_temperature"].minutes
    assert first["suction_saturation_temperature"].bits == first["liquid_saturation_temperature"].bits
    plain = judge_cycle(replace(ask(FULL), target_subcooling=5.5, target_superheat=6.0))
    assert all(item.bits >= 0.04 for item in plain.next_readings)
    assert len(plain.next_readings) <= 1


def test_next_readings_stand_by_worth() -> None:
    found = judge_cycle(ask(CORE, liquid_saturation_temperature=4.0)).next_readings
    rates = [item.bits_per_minute for item in found]
    assert rates == sorted(rates, reverse=True)
    assert any(item.tells_apart for item in found)


def test_rare_distance_is_the_chi_square_point() -> None:
    for count in (1, 5, 12):
        assert rare_distance(count) == pytest.approx(chi2.ppf(0.99, count), rel=0.03)
