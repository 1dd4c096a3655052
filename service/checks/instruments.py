"""How good the readings are: the caller's instruments, or the documented defaults."""

from dataclasses import dataclass
from functools import lru_cache

from service.knowledge.limits import limit
from service.results.visit import Visit
from service.results.visit.site import Instruments


@dataclass(frozen=True, slots=True)
class Accuracy:
    """95 % half-widths: pressures [Pa], temperature [K], humidity [1], electrical and capacitance [% of reading]."""

    suction_pressure: float
    liquid_pressure: float
    temperature: float
    humidity: float
    electrical_percent: float
    capacitance_percent: float


def accuracy(visit: Visit) -> Accuracy:
    """Accuracy of the visit's instruments; each member not stated takes its default (data/limits/instruments)."""
    return _accuracy(visit.instruments)


@lru_cache(maxsize=256)  # asked for every reading of a visit
def _accuracy(given: Instruments) -> Accuracy:
    return Accuracy(
        _or_default(given.pressure_accuracy, "instruments.suction-pressure"),
        _or_default(given.pressure_accuracy, "instruments.liquid-pressure"),
        _or_default(given.temperature_accuracy, "instruments.temperature"),
        _or_default(given.humidity_accuracy, "instruments.humidity"),
        _or_default(given.electrical_accuracy_percent, "instruments.electrical-percent"),
        _or_default(given.capacitance_accuracy_percent, "instruments.capacitance-percent"),
    )


def _or_default(given: float | None, code: str) -> float:
    return given if given is not None else limit(code).value
