"""What lets an outdoor fan stand still while its unit runs: a defrost, or the control of the head pressure."""

from service.knowledge.limits import limit
from service.results.visit import Visit
from service.verdicts.judge import below
from service.verdicts.mode import asks_heating, has_hot_line

STOPS_THE_FAN = ("fan_cycling", "fan_speed")  # head pressure controls that let the outdoor fan stand still


def fan_rests(visit: Visit) -> tuple[str, tuple[str, ...]]:
    """(defrost | control, the readings that say so as JSON Pointers); ("", ()) where the fan has to turn.

    A heat pump stops its outdoor fan while it defrosts, which cools the large line: one that is hot tells of no
    defrost. A head pressure control stops the fan in cool weather. Source: common practice, no source.
    """
    if asks_heating(visit) and not has_hot_line(visit):
        return "defrost", ("/equipment/mode",)
    if visit.equipment.head_pressure_control in STOPS_THE_FAN and is_held_up(visit):
        return "control", ("/equipment/head_pressure_control", "/air/outdoor_dry_bulb")
    return "", ()


def is_held_up(visit: Visit) -> bool:
    """Whether head pressure control acts in this weather."""
    outdoor = visit.air.outdoor_dry_bulb
    controlled = visit.equipment.head_pressure_control not in (None, "none")
    return controlled and outdoor is not None and below(outdoor, limit("running.low-ambient").value)
