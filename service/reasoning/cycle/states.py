"""Whether a verdict may be relied on: steady, slight, out of population, or no readings at all."""

from service.knowledge.cycle_model import SOUND
from service.reasoning.cycle.close import Ranked
from service.reasoning.cycle.lead import LeadFault
from service.reasoning.cycle.rare import rare_distance

# A fault is too small to name while a sound unit keeps this probability and the fault's size looks slight.
SOUND_STILL_POSSIBLE = 0.15
# Below this probability a sound unit that leads is not told from a slight fault.
SOUND_FOR_CERTAIN = 0.6


def state_of(count: int, distance: float, sound: float, ranked: Ranked, fault: LeadFault) -> str:
    """State of a verdict.

    Parameters: count of readings; their least squared Mahalanobis distance to any component; probability of a
    sound unit; causes in order; the leading fault.
    """
    if not count:
        return "no_readings"
    if distance > rare_distance(count):
        return "out_of_population"
    if ranked[0][0] == SOUND:
        return "steady" if sound >= SOUND_FOR_CERTAIN else "slight"
    slight = fault.severity is not None and fault.severity.grade == "slight"
    return "slight" if slight and sound > SOUND_STILL_POSSIBLE else "steady"
