"""What an answer rests on: the readings without which it would say something else."""

from collections.abc import Iterator

from service.reasoning.case import Case
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
