"""The arithmetic behind the verdicts against independent ways of computing the same numbers."""

import numpy as np
import pytest
from scipy.stats import chi2, multivariate_normal

from service.knowledge.cycle_kinds import cycle_kind
from service.knowledge.cycle_model import CLASSES, COMPONENTS, CycleTables, load_tables
from service.knowledge.cycle_readings import cycle_readings
from service.knowledge.limits import limit_table
from service.physics.cycle.readings import READINGS
from service.physics.cycle.reference import design_matrix, slopes
from service.reasoning.cycle import gain, gaussian, judge_cycle
from service.reasoning.cycle.case import Cases
from service.reasoning.cycle.case import prepare as prepare_questions
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY, HUMIDITY_WEIGHTS, condition_nodes
from service.reasoning.cycle.next_readings import alike, predict
from service.reasoning.cycle.prior import EVENTS, prior_by_class
from service.reasoning.cycle.question import question_of
from service.reasoning.cycle.rare import rare_distance
from service.results.cycle import CycleBaseline, CycleHistory, CycleInputs, CycleReadings
from service.results.record import replace
from tests.reasoning.cycle.questions import CORE, FULL, WEATHER, ask


def prepare(inputs: CycleInputs) -> Cases:
    return prepare_questions([question_of(inputs)])


def fitted_to(case: Cases, keep: list[int]) -> np.ndarray:
    """Log-likelihood by component of some of the readings taken, by scipy."""
    total, difference = case.fitted.total[0, :-1], case.fitted.difference[0, :-1]
    found = np.empty(difference.shape[:-1])
    for place in np.ndindex(*total.shape[:-2]):
        normal = multivariate_normal(np.zeros(len(keep)), total[place][np.ix_(keep, keep)])
        found[place] = [normal.logpdf(row[keep]) for row in difference[place]]
    return found


def between_units(table: CycleTables) -> tuple[np.ndarray, np.ndarray]:
    """Mean (14) and covariance (14, 14) by which split units differ from the simulated ones, from the rows of the
    data."""
    spread = np.array([cycle_readings().rows[name].between_units for name in READINGS])
    kind, sound = cycle_kind(None, table.refrigerant), CLASSES.index("none_found")
    share = table.weights[0, sound] / table.weights[0, sound].sum()
    middle = share @ table.means[0, sound]
    among = sum(
        share[k] * (table.covariances[0, sound, k] + np.outer(away, away))
        for k, away in enumerate(table.means[0, sound] - middle)
    )
    found, moved = np.diag(spread**2), np.zeros(len(READINGS))
    ends = [READINGS.index(f"{side}_saturation_temperature") for side in ("suction", "liquid")]
    spreads, means = (kind.spread, kind.condensing_spread), (kind.evaporating, kind.condensing)
    for at, other, wide, mean in zip(ends, reversed(ends), spreads, means, strict=True):
        follows = among[at] / among[at, at]
        follows[other] = 0.0
        found = found + wide**2 * np.outer(follows, follows)
        moved = moved + mean * follows
    return moved, found


def test_marginal_likelihood_is_exact() -> None:
    """Leaving readings out equals the marginal of the full normal distribution, class by class (scipy)."""
    question = ask(CORE, liquid_line_temperature=2.0)
    case = prepare(question)
    read = case.questions[0].read
    table = load_tables("R-410A", "expansion_valve")
    index = np.array([READINGS.index(name) for name in READINGS if name in CORE])
    conditions = np.array([[308.15, 299.8167, 292.5944, 101_325.0]])
    expected = (design_matrix(conditions) @ table.reference[0].T)[0, index]
    slope = (table.reference[0] @ slopes(conditions)[0])[index] * read.condition_deviations
    moved, wider = between_units(table)
    noise = np.diag(np.array(read.deviations) ** 2) + slope @ slope.T + wider[np.ix_(index, index)]
    residual = np.array([read.values[READINGS[at]] for at in index]) - expected - moved[index]
    for at, name in enumerate(CLASSES):
        total = sum(
            table.weights[0, at, k]
            / table.weights[0, at].sum()
            * multivariate_normal.pdf(
                residual, table.means[0, at, k, index], table.covariances[0, at, k][np.ix_(index, index)] + noise
            )
            for k in range(COMPONENTS)
        )
        found = np.logaddexp.reduce(case.log_evidence[0, at].ravel())
        assert found == pytest.approx(np.log(total), abs=1e-6), name


def test_weighing_is_exact_for_every_component_and_humidity() -> None:
    case = prepare(ask(CORE, conditions=replace(WEATHER, return_wet_bulb=None), liquid_line_temperature=2.0))
    assert case.fitted.log_likelihood[0, :-1] == pytest.approx(fitted_to(case, list(range(len(CORE)))), abs=1e-8)


def test_what_a_sound_unit_should_read_heeds_nothing_but_the_nameplate() -> None:
    plated = replace(ask(CORE), target_subcooling=6.0)
    cold = replace(plated, readings=replace(plated.readings, liquid_line_temperature=270.0))
    for name, expected in judge_cycle(plated).expected.items():
        assert judge_cycle(cold).expected[name].likely == pytest.approx(expected.likely, rel=1e-12), name
    alone = judge_cycle(replace(plated, readings=CycleReadings())).expected
    for name, expected in judge_cycle(plated).expected.items():
        assert expected.likely == pytest.approx(alone[name].likely, rel=1e-9), name
        assert expected.high - expected.low == pytest.approx(alone[name].high - alone[name].low, rel=1e-9), name


def test_left_out_readings_are_conditioned_exactly() -> None:
    case = prepare(ask(CORE, liquid_line_temperature=2.0))
    precision = np.linalg.inv(case.fitted.total)[:, :-1]
    pull = case.fitted.difference[:, :-1] @ precision
    own = np.diagonal(precision, axis1=-2, axis2=-1)
    every = gaussian.without_each(case.fitted.log_likelihood[:, :-1], own, pull)
    for place in range(len(CORE)):
        keep = [at for at in range(len(CORE)) if at != place]
        assert every[0, ..., place] == pytest.approx(fitted_to(case, keep), abs=1e-8)


def test_single_readings_are_weighed_alone_exactly() -> None:
    case = prepare(ask(CORE, liquid_line_temperature=2.0))
    nothing = np.zeros_like(case.fitted.log_likelihood)
    alone = gaussian.alone_each(nothing, case.fitted.total, case.fitted.difference)
    for place in range(len(CORE)):
        assert alone[0, :-1, ..., place] == pytest.approx(fitted_to(case, [place]), abs=1e-8)


def test_whitening_makes_readings_independent() -> None:
    case = prepare(ask(CORE))
    across = case.frame.across[..., case.index]
    white = across @ case.fitted.whitening
    explained = across @ np.linalg.inv(case.fitted.total) @ across.swapaxes(-1, -2)
    assert white @ white.swapaxes(-1, -2) == pytest.approx(explained, rel=1e-8, abs=1e-10)


def _by_class(case):
    """Log-likelihood of all readings at their word, by class."""
    flat = case.log_evidence[0, : len(CLASSES)].reshape(len(CLASSES), -1)
    return np.logaddexp.reduce(flat, axis=1)


def test_missing_wet_bulb_is_averaged_over_humidity() -> None:
    dry = replace(WEATHER, return_wet_bulb=None)
    nodes, weights = condition_nodes([dry])
    assert np.exp(weights) == pytest.approx(HUMIDITY_WEIGHTS)
    case = prepare(ask(CORE, conditions=dry))
    single = []
    for node in nodes[0]:
        at = replace(dry, return_wet_bulb=float(node[3]))
        # Each node stands for its neighbourhood: the same error of wet bulb as the average uses.
        question = replace(ask(CORE, conditions=dry), conditions=at, accuracies={"return_wet_bulb": 1.0})
        single.append(_by_class(prepare(question)))
    averaged = np.log(np.exp(weights) @ np.exp(np.array(single)))
    assert _by_class(case) == pytest.approx(averaged, abs=0.15)


def test_expected_information_agrees_with_sampling() -> None:
    case = prepare(ask(CORE[:3], liquid_saturation_temperature=-2.0))
    names = ("liquid_line_temperature", "discharge_line_temperature", "condenser_leaving_dry_bulb")
    offered = gain.offer(names)
    predicted = predict(case, offered, alike(case)[0])
    shipped = gain.gains(predicted, offered).bits[0]
    rng = np.random.default_rng(5)
    weights = predicted.leading.weights[0]
    member = np.eye(len(predicted.leading.present))[predicted.leading.place[0]]
    for at in range(len(names)):
        mean, spread = predicted.mean[0, :, at], np.sqrt(predicted.covariance[0, :, at, at])
        chosen = rng.choice(weights.size, 4000, p=weights)
        drawn = mean[chosen] + spread[chosen] * rng.normal(size=chosen.size)
        chance = weights / spread * np.exp(-0.5 * ((drawn[:, None] - mean) / spread) ** 2)
        after = gain.entropy(chance / chance.sum(axis=1, keepdims=True) @ member).mean()
        sampled = float(gain.entropy(weights @ member) - after)
        assert shipped[at] == pytest.approx(sampled, abs=0.04)


def test_expected_information_of_a_test_is_what_it_leaves_of_the_entropy() -> None:
    """The symmetric form, H(outcome) less H(outcome given the cause), against Bayes' rule outcome by outcome."""
    classes = np.array([0.3, 0.1, *[0.05] * 12])
    first, second = (np.array(cycle_readings().chances[name]) for name in EVENTS)
    each = [one * other for one in (first, 1.0 - first) for other in (second, 1.0 - second)]
    outcomes = np.stack(each, axis=-1)
    mutual = gain.entropy(classes @ outcomes) - classes @ gain.entropy(outcomes)
    assert gain.event_gain(classes[None], EVENTS).bits[0] == pytest.approx(mutual, abs=1e-9)


def test_readings_that_come_together_tell_at_least_as_much() -> None:
    case = prepare(ask(("supply_dry_bulb",)))
    found = []
    for names in (READINGS[:2], READINGS[:1], READINGS[1:2]):
        offered = gain.offer(names)
        assert len(offered.candidates) == 1
        found.append(float(gain.gains(predict(case, offered, alike(case)[0]), offered).bits[0, 0]))
    assert found[0] > max(found[1:]) - 0.01


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
    assert mixed.fitted.log_likelihood.shape[2] == 4
    single = [
        _by_class(prepare(replace(question, metering=kind, efficiency_class=level)))
        for kind in ("fixed_orifice", "thermostatic_expansion_valve")
        for level in ("standard", "high")
    ]
    # Where the high class is stated the standard one keeps a share: taken out again for the class by itself.
    unknown, kept = (limit_table("cycle.standard-class-share")[said].value for said in ("unknown", "high"))
    high = (1.0 - unknown) / (1.0 - kept)
    shares = np.array([1.0 - high, high] * 2) / 2.0
    assert _by_class(mixed) == pytest.approx(np.log(shares @ np.exp(np.array(single))), abs=1e-9)


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
