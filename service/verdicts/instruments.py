"""How good the readings are: the caller's instruments, or the documented defaults."""

from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.results.record import Record
from service.results.visit import Visit
from service.results.visit.kept import kept


class Accuracy(Record):
    """95 % half-widths: pressures [Pa], temperature and clamp (of a pipe) [K], humidity [1], the rest in percent
    of the reading."""

    suction_pressure: float
    liquid_pressure: float
    temperature: float
    clamp: float
    humidity: float
    electrical_percent: float
    capacitance_percent: float


@kept
def accuracy(visit: Visit) -> Accuracy:
    """Accuracy of the visit's instruments; each member not stated takes its default (topics/instruments.yaml)."""
    given = visit.instruments
    return Accuracy(
        _or_default(given.pressure_accuracy, "instruments.suction-pressure"),
        _or_default(given.pressure_accuracy, "instruments.liquid-pressure"),
        _or_default(given.temperature_accuracy, "instruments.temperature"),
        _or_default(given.temperature_accuracy, "instruments.clamp"),
        _or_default(given.humidity_accuracy, "instruments.humidity"),
        _or_default(given.electrical_accuracy_percent, "instruments.electrical-percent"),
        _or_default(given.capacitance_accuracy_percent, "instruments.capacitance-percent"),
    )


def _or_default(given: float | None, code: LimitCode) -> float:
    return given if given is not None else limit(code).value
