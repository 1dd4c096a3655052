"""What an answer rests on: the readings without which it would say something else."""

from collections.abc import Iterator

from service.reasoning.case import Case
from service.reasoning.cycle.question import used_of
from service.results.answer import Simulated
from service.results.finding import State

RUNNING_VOLTS = "/electrical/supply/running_volts"
"""The cycle model weighs currents by it; it is no reading of the refrigerant circuit."""
STANDING = "/standing/"


def relied_on(case: Case) -> frozenset[str]:
    """Pointers that a verdict names, whatever came of it, and those that the cycle model has weighed.

    A check that does not apply to the unit rests on nothing. What only tells how a reading was taken is not here.
    """
    return frozenset((*_named(case), *_weighed(case)))


def _named(case: Case) -> Iterator[str]:
    for finding in case.findings:
        if finding.state is not State.NOT_APPLICABLE:
            yield from finding.evidence


def _weighed(case: Case) -> Iterator[str]:
    inputs, weighing = case.cycle.inputs, case.cycle.weighing
    if inputs is None or weighing is None:
        return
    stands = inputs.readings.standing_saturation_excess is not None
    yield from (pointer for pointer in weighing.pointers if stands or not pointer.startswith(STANDING))
    if inputs.readings.voltage_ratio is not None:
        yield RUNNING_VOLTS


def simulated_of(case: Case) -> Simulated | None:
    """The simulated units that weighed the running readings; None where they were not relied on."""
    inputs, verdict = case.cycle.inputs, case.cycle.verdict
    if inputs is None or verdict is None or case.cycle.weighing is None:
        return None
    baseline = inputs.baseline if verdict.known_by else None
    return Simulated(verdict.known_by, 0 if baseline is None else len(used_of(baseline)))
