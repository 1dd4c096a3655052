"""One question made ready: components in play, readings taken, and Bayes' rule applied."""

from dataclasses import dataclass

import numpy as np

from service.knowledge.cycle_groups import METERING_GROUPS, NEIGHBOUR_LEAVES_OUT, refrigerant_groups
from service.knowledge.cycle_model import METERING
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.reasoning.cycle import gaussian, sharpen
from service.reasoning.cycle.gate import within_weather
from service.reasoning.cycle.inputs import Read, condition_nodes, deviation, noise, read, values_of
from service.reasoning.cycle.joint import Joint, build_joint, frame_of
from service.reasoning.cycle.posterior import Posterior, weigh
from service.reasoning.cycle.prior import event_log_likelihood, log_prior
from service.results.cycle import CycleBaseline, CycleInputs


@dataclass(frozen=True)
class Case:
    """joint: components before the baseline was absorbed; sharpened: after; taken and fitted: today's readings."""

    inputs: CycleInputs
    values: dict[str, float]
    joint: Joint
    sharpened: Joint
    taken: gaussian.Taken
    baseline: gaussian.Taken | None
    fitted: gaussian.Fit
    posterior: Posterior
    read: Read


def prepare(inputs: CycleInputs) -> Case:
    """Apply Bayes' rule to a question that the gate let through."""
    conditions, node_weights = condition_nodes(inputs.conditions)
    frame = frame_of(group_of(inputs), kinds_of(inputs), inputs.efficiency_class)
    joint = build_joint(frame, conditions, node_weights)
    baseline = _baseline(joint, inputs.baseline, left_out(inputs))
    sharpened = joint
    if baseline is not None:
        sharpened = sharpen.absorb(sharpen.extended(joint), baseline, joint.mean.shape[-1])
    found = values_of(inputs.readings, inputs)
    values = {name: value for name, value in found.items() if name not in left_out(inputs)}
    humid = inputs.conditions.return_wet_bulb is not None
    today = read(values, inputs.accuracies, humid, inputs.readings.voltage_ratio is not None)
    taken = gaussian.Taken(today.index, today.values, noise(joint.slope, today))
    fitted = gaussian.fit(sharpened.mean, sharpened.covariance, taken)
    posterior = weigh(
        sharpened, fitted.log_likelihood, log_prior(inputs.history), event_log_likelihood(inputs.readings)
    )
    return Case(inputs, values, joint, sharpened, taken, baseline, fitted, posterior, today)


def group_of(inputs: CycleInputs) -> str:
    """Designation of the shipped tables that judge the refrigerant."""
    return refrigerant_groups()[inputs.refrigerant]


def left_out(inputs: CycleInputs) -> tuple[str, ...]:
    """Readings that say nothing where a neighbouring refrigerant's tables judge."""
    return () if group_of(inputs) == inputs.refrigerant else NEIGHBOUR_LEAVES_OUT


def kinds_of(inputs: CycleInputs) -> tuple[str, ...]:
    """Kinds of metering in play: both where it is not known."""
    return METERING if inputs.metering is None else (METERING_GROUPS[inputs.metering],)


def deviations(case: Case) -> Array:
    """One standard deviation of every reading's instrument (14), sized by a sound unit where relative."""
    accuracies, known = case.inputs.accuracies, case.inputs.readings.voltage_ratio is not None
    return np.array([deviation(name, accuracies, case.values.get(name, 1.0), known) for name in READINGS])


def _baseline(joint: Joint, baseline: CycleBaseline | None, without: tuple[str, ...]) -> gaussian.Taken | None:
    if baseline is None or baseline.conditions.return_wet_bulb is None or not within_weather(baseline.conditions):
        return None
    conditions, _ = condition_nodes(baseline.conditions)
    found = values_of(baseline.readings)
    wanted = [name for name in READINGS[:BASELINE_COUNT] if name not in without]
    known = {name: value for name, value in found.items() if name in wanted}
    taken = read(known, baseline.accuracies, True, baseline.readings.voltage_ratio is not None)
    return sharpen.baseline_taken(joint, conditions, taken)
