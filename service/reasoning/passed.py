"""What a unit that is told sound is worth as a chance: state and share say the same."""

from __future__ import annotations

from service.knowledge.limits import limit
from service.reasoning.case import Case
from service.reasoning.cause_basis import BOTH, SMALLEST, TESTS, widened
from service.results.record import replace


def believe_what_passed(case: Case) -> Case:
    """The case in which no fault has at least the share from which the model alone would call the unit sound.

    Where every check that the complaint calls for passed, the unit is sound whatever the cycle model makes of the
    same readings. Such units were sound more often than its share says: a share below is raised to that threshold.
    """
    least, lead = limit("reasoning.sound-share").value, case.lead
    if case.decision.state != "sound" or lead.probability >= least:
        return case
    basis = BOTH if case.cycle.weighing is not None else TESTS
    rounding = SMALLEST * len(case.causes)
    shares = widened([(cause.code, cause.probability) for cause in case.causes], least + rounding)
    causes = [replace(cause, probability=share) for cause, (_, share) in zip(case.causes, shares, strict=True)]
    return replace(case, causes=(replace(causes[0], rests_on=basis), *causes[1:]))
