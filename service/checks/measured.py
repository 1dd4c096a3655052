"""A reading with its uncertainty, by its pointer into the visit document."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from service.checks.instruments import Accuracy, accuracy
from service.knowledge.limits import limit
from service.physics.moist_air import MoistAir, from_relative_humidity, from_wet_bulb, wet_bulb
from service.physics.uncertainty import Uncertain, propagate, propagate_all, read
from service.results.declare import declared_members
from service.results.visit import Visit
from service.results.visit.kept import kept


@kept
def measured(visit: Visit, pointer: str) -> Uncertain | None:
    """The reading at a pointer such as "/running/suction_pressure"; None when it was not given.

    Its one source of uncertainty is the pointer itself, so that values built from it know what they share.
    """
    part, name = _place(visit, pointer)
    value = getattr(part, name)
    if value is None:
        return None
    kind = _kinds(part.__class__)[name]
    return read(pointer, value, _half_width(accuracy(visit), kind, name, value))


def present(visit: Visit, *pointers: str) -> tuple[str, ...]:
    """Those of the pointers at which the caller's document has a value: evidence for a finding."""
    return tuple(pointer for pointer in pointers if _is_given(*_place(visit, pointer)))


def _is_given(part: Any, name: str) -> bool:
    return getattr(part, name) is not None


def _place(visit: Visit, pointer: str) -> tuple[Any, str]:
    path, name = _split(pointer)
    part: Any = visit
    for step in path:
        part = getattr(part, step)
    return part, name


@cache
def _split(pointer: str) -> tuple[tuple[str, ...], str]:
    *path, name = pointer.strip("/").split("/")
    return tuple(path), name


@cache
def _kinds(part: type) -> dict[str, str]:
    return {name: member.kind for name, member in declared_members(part)}


def _half_width(instruments: Accuracy, kind: str, name: str, value: float) -> float:
    if kind == "pressure":
        low_side = name.startswith(("suction", "pump_down"))
        return instruments.suction_pressure if low_side else instruments.liquid_pressure
    if kind == "airflow":
        return abs(value) * limit("instruments.airflow-percent").value / 100.0
    if kind == "static_pressure":
        return limit("instruments.static-pressure").value
    if kind in ("watts", "volts", "amps"):
        return abs(value) * instruments.electrical_percent / 100.0
    return {"temperature": instruments.temperature, "humidity": instruments.humidity}[kind]


@dataclass(frozen=True, slots=True)
class MeasuredAir:
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
        """Specific enthalpy [J/kg dry air] and humidity ratio [kg/kg]."""

        def both(dry_bulb: float, moisture: float) -> tuple[float, float]:
            air = self.state(dry_bulb, moisture)
            return air.enthalpy, air.humidity_ratio

        enthalpy, humidity_ratio = propagate_all(both, self.dry_bulb, self.moisture)
        return enthalpy, humidity_ratio

    @property
    def wet_bulb(self) -> Uncertain:
        """Wet bulb [K] that belongs to the state."""
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
    """Wet bulb [K] of the return air: as read, else from dry bulb and relative humidity."""
    given = measured(visit, "/air/return_wet_bulb")
    if given is not None:
        return given
    air = measured_air(visit, "return")
    return air.wet_bulb if air is not None else None
