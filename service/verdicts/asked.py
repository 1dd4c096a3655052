"""What is being asked to run: a motor that stands is a fault only where something calls for it.

Read from mode, thermostat, Y, delay, switches, contactor and the blower's own call. Source: circuit logic.
"""

from collections.abc import Iterator

from service.knowledge.limits import limit
from service.results.record import Record
from service.results.visit import Visit
from service.verdicts.judge import below

CALLED, NOT_CALLED, DELAYED, HELD, UNKNOWN = "called", "not_called", "delayed", "held", "unknown"
SWITCHES = (
    "high_pressure_switch",
    "low_pressure_switch",
    "float_switch",
    "leak_sensor",
    "discharge_temperature_switch",
    "motor_protection_module",
)
CONTROL = "/electrical/control"


class Asked(Record):
    """What calls for the motors, and the readings that say so (JSON Pointers).

    outdoor: compressor and outdoor fan, which one contactor feeds: called, not_called (no call leaves the
    thermostat or arrives), delayed (anti-short-cycle delay), held (an open switch, no coil voltage, contactor not
    in) or unknown. blower: called, not_called or unknown. mode: cooling or heating.
    """

    outdoor: str = UNKNOWN
    blower: str = UNKNOWN
    mode: str = "cooling"
    outdoor_by: tuple[str, ...] = ()
    blower_by: tuple[str, ...] = ()

    @property
    def outdoor_may_stand(self) -> bool:
        """True where compressor and outdoor fan have a reason of the controls to stand."""
        return self.outdoor in (NOT_CALLED, DELAYED, HELD)

    @property
    def outdoor_is_not_wanted(self) -> bool:
        """True where no call reaches the outdoor unit or its delay runs; held off otherwise is a fault."""
        return self.outdoor in (NOT_CALLED, DELAYED)

    @property
    def blower_may_stand(self) -> bool:
        """True where nothing calls for the blower."""
        return self.blower == NOT_CALLED


def asked_of(visit: Visit) -> Asked:
    """What this visit's readings ask to run."""
    outdoor, by = _outdoor(visit)
    blower, blower_by = _blower(visit)
    return Asked(outdoor, blower, visit.equipment.mode or "cooling", by, blower_by)


def _outdoor(visit: Visit) -> tuple[str, tuple[str, ...]]:
    """The first reading along the call that says whether it arrives."""
    return next(_along_the_call(visit), (UNKNOWN, ()))


def _along_the_call(visit: Visit) -> Iterator[tuple[str, tuple[str, ...]]]:
    control, pulled_in = visit.electrical.control, visit.electrical.contactor.pulled_in
    held = tuple(f"{CONTROL}/{name}" for name in SWITCHES if getattr(control, name) == "open")
    if control.thermostat_calling is False:
        yield NOT_CALLED, (f"{CONTROL}/thermostat_calling",)
    if control.delay_running:
        yield DELAYED, (f"{CONTROL}/delay_running",)
    if held:
        yield HELD, held
    for name, unfed in (("secondary_volts", NOT_CALLED), ("y_volts", NOT_CALLED), ("coil_volts", HELD)):
        volts = getattr(control, name)
        if volts is not None and below(volts, limit("control.stray").value):
            yield unfed, (f"{CONTROL}/{name}",)
    if pulled_in is not None:
        yield (CALLED if pulled_in else HELD), ("/electrical/contactor/pulled_in",)
    for name in ("coil_volts", "y_volts"):
        if getattr(control, name) is not None:
            yield CALLED, (f"{CONTROL}/{name}",)
    if control.thermostat_calling:
        yield CALLED, (f"{CONTROL}/thermostat_calling",)


def _blower(visit: Visit) -> tuple[str, tuple[str, ...]]:
    control, call = visit.electrical.control, visit.electrical.indoor_blower.call_present
    if call is not None:
        return (CALLED if call else NOT_CALLED), ("/electrical/indoor_blower/call_present",)
    if control.thermostat_calling is not None:
        called = CALLED if control.thermostat_calling else NOT_CALLED
        return called, (f"{CONTROL}/thermostat_calling",)
    return UNKNOWN, ()
