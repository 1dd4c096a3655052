"""A reading with its uncertainty, by its pointer into the visit document."""

from collections.abc import Callable
from functools import cache
from operator import attrgetter

from service.knowledge.limits import limit
from service.physics.moist_air import MoistAir, from_relative_humidity, from_wet_bulb, wet_bulb
from service.physics.uncertainty import Uncertain, propagate, propagate_all, read
from service.results.declare import declared_members
from service.results.pointers import reader_of
from service.results.record import Record
from service.results.visit import Visit
from service.results.visit.kept import ABSENT, kept
from service.verdicts.instruments import Accuracy, accuracy


def measured(visit: Visit, pointer: str) -> Uncertain | None:
    """The reading at a pointer such as "/running/suction_pressure".

    Its one source of uncertainty is the pointer itself, so that values built from it know what they share. Kept
    with the visit like what is marked `kept`, only by the pointer alone: nothing else is asked for as often.

    Returns
    -------
    [SI unit of the reading]; None when it was not given

    References
    ----------
    The visit, as it was read; the instrument as stated, else `topics/instruments.yaml`.
    """
    found: Uncertain | None = visit.kept.get(pointer, ABSENT)
    if found is ABSENT:
        found = visit.kept[pointer] = _read(visit, pointer)
    return found


def _read(visit: Visit, pointer: str) -> Uncertain | None:
    value = reader_of(pointer)(visit)
    return None if value is None else read(pointer, value, _width(pointer)(accuracy(visit), value))


def at_clamp(visit: Visit, pointer: str) -> Uncertain | None:
    """The temperature at a pointer as wide as a pipe clamp makes it, for a pipe held against air.

    Returns
    -------
    [K]; None when it was not given

    References
    ----------
    The clamp as the visit states it, else `instruments.clamp`.
    """
    value = reader_of(pointer)(visit)
    return None if value is None else read(pointer, value, accuracy(visit).clamp)


def present(visit: Visit, *pointers: str) -> tuple[str, ...]:
    """Those of the pointers at which the caller's document has a value: evidence for a finding."""
    return tuple([pointer for pointer in pointers if reader_of(pointer)(visit) is not None])


@cache
def _width(pointer: str) -> Callable[[Accuracy, float], float]:
    """How wide a reading is by the instruments and its own value."""
    if pointer in _AT_DRIER:
        return _of_clamp
    path, _, name = pointer[1:].replace("/", ".").rpartition(".")
    kind = dict(declared_members(type(attrgetter(path)(Visit()))))[name].kind
    if kind == "pressure":
        low_side = name.startswith(("suction", "pump_down"))
        return _of_low_gauge if low_side else _of_high_gauge
    return _WIDTHS[kind]


def _of_low_gauge(instruments: Accuracy, _: float) -> float:
    return instruments.suction_pressure


def _of_high_gauge(instruments: Accuracy, _: float) -> float:
    return instruments.liquid_pressure


def _of_thermometer(instruments: Accuracy, _: float) -> float:
    return instruments.temperature


def _of_clamp(instruments: Accuracy, _: float) -> float:
    return instruments.clamp


def _of_hygrometer(instruments: Accuracy, _: float) -> float:
    return instruments.humidity


def _of_meter(instruments: Accuracy, value: float) -> float:
    return abs(value) * instruments.electrical_percent / 100.0


def _of_airflow(_: Accuracy, value: float) -> float:
    return abs(value) * limit("instruments.airflow-percent").value / 100.0


def _of_manometer(_instruments: Accuracy, _value: float) -> float:
    return limit("instruments.static-pressure").value


# Two clamps are compared there with nothing but each other, and no air around them helps to tell which one is off.
_AT_DRIER = ("/running/drier_inlet_temperature", "/running/drier_outlet_temperature")
_WIDTHS = {
    "temperature": _of_thermometer,
    "humidity": _of_hygrometer,
    "watts": _of_meter,
    "volts": _of_meter,
    "amps": _of_meter,
    "airflow": _of_airflow,
    "static_pressure": _of_manometer,
}


class MeasuredAir(Record):
    """Air by two readings: dry bulb [K] with wet bulb [K] or relative humidity [1], at site pressure [Pa]."""

    dry_bulb: Uncertain
    moisture: Uncertain
    by_wet_bulb: bool
    pressure: float

    def state(self, dry_bulb: float, moisture: float) -> MoistAir:
        """The state of two values of the readings; a wet bulb a hair above the dry bulb is saturated air."""
        if self.by_wet_bulb:
            return from_wet_bulb(dry_bulb, min(moisture, dry_bulb), self.pressure)
        return from_relative_humidity(dry_bulb, moisture, self.pressure)

    @property
    def air(self) -> MoistAir:
        """The state of the readings. Raises: OutOfRange where no air can have both."""
        return self.state(self.dry_bulb.value, self.moisture.value)

    def heat_and_moisture(self) -> tuple[Uncertain, Uncertain]:
        """Specific enthalpy and humidity ratio.

        Returns
        -------
        [J per kg dry air] and [kg water per kg dry air]

        References
        ----------
        ASHRAE Handbook Fundamentals 2017, chapter 1, equations 20 and 30.
        """

        def both(dry_bulb: float, moisture: float) -> tuple[float, float]:
            air = self.state(dry_bulb, moisture)
            return air.enthalpy, air.humidity_ratio

        enthalpy, humidity_ratio = propagate_all(both, self.dry_bulb, self.moisture)
        return enthalpy, humidity_ratio

    @property
    def wet_bulb(self) -> Uncertain:
        """Wet bulb that belongs to the state.

        Returns
        -------
        [K]

        References
        ----------
        ASHRAE Handbook Fundamentals 2017, chapter 1, equations 33 and 35.
        """
        return propagate(lambda *read_at: wet_bulb(self.state(*read_at)), self.dry_bulb, self.moisture)


@kept
def measured_air(visit: Visit, side: str) -> MeasuredAir | None:
    """Return or supply air (`side` "return" or "supply"); None unless two readings that air can have are there."""
    dry_bulb = measured(visit, f"/air/{side}_dry_bulb")
    by_bulb = measured(visit, f"/air/{side}_wet_bulb")
    moisture = by_bulb or measured(visit, f"/air/{side}_relative_humidity")
    if dry_bulb is None or moisture is None:
        return None
    air = MeasuredAir(dry_bulb, moisture, by_bulb is not None, visit.site_pressure)
    try:
        _ = air.air.relative_humidity
    except ValueError:
        return None
    return air


@kept
def return_wet_bulb(visit: Visit) -> Uncertain | None:
    """Wet bulb of the return air: as read, else from dry bulb and relative humidity.

    Returns
    -------
    [K]; None where neither is given

    References
    ----------
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 33 and 35.
    """
    given = measured(visit, "/air/return_wet_bulb")
    if given is not None:
        return given
    air = measured_air(visit, "return")
    return air.wet_bulb if air is not None else None
