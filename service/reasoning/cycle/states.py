"""Whether a verdict may be relied on: steady, slight, out of population, or no readings at all."""

import numpy as np

from service.knowledge.cycle_model import SOUND
from service.reasoning.cycle.case import Case
from service.reasoning.cycle.lead import LeadFault
from service.reasoning.cycle.posterior import sound_probability

# Standard normal quantile of 99 %.
RARE = 2.326
# A fault is too small to name while a sound unit keeps this probability and the fault's size looks slight.
SOUND_STILL_POSSIBLE = 0.15
# Below this probability a sound unit that leads is not told from a slight fault.
SOUND_FOR_CERTAIN = 0.6


def state_of(case: Case, causes: list[tuple[str, float]], fault: LeadFault) -> str:
    """State of a verdict."""
    if not case.taken.index.size:
        return "no_readings"
    if float(case.fitted.distance.min()) > rare_distance(case.taken.index.size):
        return "out_of_population"
    sound = sound_probability(case.posterior.classes)
    if causes[0][0] == SOUND:
        return "steady" if sound >= SOUND_FOR_CERTAIN else "slight"
    slight = fault.severity is not None and fault.severity.grade == "slight"
    return "slight" if slight and sound > SOUND_STILL_POSSIBLE else "steady"


def rare_distance(count: int) -> float:
    """99 % point of chi-square (Wilson and Hilferty 1931) with a number of degrees of freedom."""
    part = 2.0 / (9.0 * count)
    return float(count * (1.0 - part + RARE * np.sqrt(part)) ** 3)
