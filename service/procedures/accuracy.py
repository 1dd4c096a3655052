"""How good the instruments of a procedure are: the caller's, or the documented defaults."""

from service.knowledge.limits import limit
from service.results.visit.site import Instruments


def pressure_accuracy(instruments: Instruments) -> float:
    """95 % half-width of a test-pressure reading [Pa]; the high-side gauge where not stated."""
    given = instruments.pressure_accuracy
    return limit("instruments.liquid-pressure").value if given is None else given


def temperature_accuracy(instruments: Instruments) -> float:
    """95 % half-width of a temperature reading [K]."""
    given = instruments.temperature_accuracy
    return limit("instruments.temperature").value if given is None else given
