"""When is a point of the 24 V circuit fed?"""

from service.knowledge.limits import limit
from service.verdicts.judge import below


def is_fed(volts: float | None) -> bool:
    """True at the voltage that must pull a contactor in (85 % of 24 V) and above."""
    return volts is not None and not below(volts, limit("control.pick-up").value)


def is_unfed(volts: float | None) -> bool:
    """True where only stray volts were read; a reading that is absent is not unfed."""
    return volts is not None and below(volts, limit("control.stray").value)
