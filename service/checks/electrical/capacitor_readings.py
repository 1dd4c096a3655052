"""What a capacitor was measured to be, by which way, and what its label allows."""

from service.checks.electrical.meters import combined
from service.knowledge.limits import limit
from service.physics.capacitors import (
    bleed_seconds,
    capacitance_under_load,
    deviation_percent,
    label_limits,
    peak_volts,
    stored_energy,
)
from service.results.computed import CapacitorComputed
from service.results.quantity import Quantity
from service.results.record import Record
from service.results.visit import Visit
from service.results.visit.electrical_parts import Capacitor
from service.verdicts.instruments import accuracy


class Reading(Record):
    """microfarads with half-width; names: the members it rests on; bench: taken dead, wires off."""

    microfarads: float
    uncertainty: float
    names: tuple[str, ...]
    bench: bool


def reading_of(visit: Visit, capacitor: Capacitor, dead_proven: bool) -> Reading | None:
    """The reading that counts: on the bench where dead is proven, else under load, else the bench reading."""
    bench, load = _bench(visit, capacitor), under_load(visit, capacitor)
    return bench if bench is not None and (dead_proven or load is None) else load


def _bench(visit: Visit, capacitor: Capacitor) -> Reading | None:
    if capacitor.over_limit:
        return Reading(0.0, 0.0, ("over_limit",), True)
    value = capacitor.measured_microfarads
    if value is None:
        return None
    width = value * accuracy(visit).capacitance_percent / 100.0
    return Reading(value, width, ("measured_microfarads",), True)


def under_load(visit: Visit, capacitor: Capacitor) -> Reading | None:
    """Capacitance from amps and volts while running, at the supply's frequency; None without a voltage."""
    amps, volts = capacitor.measured_amps, capacitor.measured_volts
    if amps is None or not volts:
        return None
    value = capacitance_under_load(amps, volts, visit.equipment.frequency or 60.0)
    percent = accuracy(visit).electrical_percent
    return Reading(value, value * combined(percent, percent) / 100.0, ("measured_amps", "measured_volts"), False)


def tolerance(capacitor: Capacitor) -> float:
    """Label tolerance of a run capacitor, or the usual one where none is given.

    Returns
    -------
    [%], above 0

    References
    ----------
    The label; else the row `capacitors.run-tolerance-percent`.
    """
    given = capacitor.tolerance_percent
    return given if given is not None else limit("capacitors.run-tolerance-percent").value


def capacitor_computed(
    reading: Reading | None, capacitor: Capacitor, minus_percent: float, plus_percent: float
) -> CapacitorComputed:
    """The numbers of an answer about one capacitor."""
    rated = capacitor.rated_microfarads
    low = high = deviation = None
    if rated is not None:
        lowest, highest = label_limits(rated, minus_percent, plus_percent)
        low, high = Quantity(lowest, "microfarads"), Quantity(highest, "microfarads")
        if reading is not None:
            share = 100.0 * reading.uncertainty / rated
            deviation = Quantity(deviation_percent(reading.microfarads, rated), "percent", share)
    measured = None if reading is None else Quantity(reading.microfarads, "microfarads", reading.uncertainty)
    return CapacitorComputed(measured, low, high, deviation, *_charge(reading, capacitor))


def _charge(reading: Reading | None, capacitor: Capacitor) -> tuple[Quantity | None, Quantity | None]:
    """Stored energy at the peak of the label voltage, and the time to bleed it to 50 V."""
    size = reading.microfarads if reading is not None else capacitor.rated_microfarads
    if not size or not capacitor.rated_volts:
        return None, None
    peak = peak_volts(capacitor.rated_volts)
    seconds = bleed_seconds(
        size,
        limit("capacitors.bleed-resistor").value,
        peak,
        limit("isolation.hazardous-volts").value,
    )
    return Quantity(stored_energy(size, peak), "joules"), Quantity(seconds, "seconds")
