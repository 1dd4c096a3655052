"""Which readings a verdict on charge still needs."""

from collections.abc import Iterator

from service.checks.refrigerant.running_state import FIXED, RunningState
from service.results.finding import Missing
from service.results.visit import Visit

SUCTION, LIQUID = ("suction_pressure", "suction_line_temperature"), ("liquid_pressure", "liquid_line_temperature")


def missing_for_charge(visit: Visit, state: RunningState) -> Iterator[Missing]:
    """What is not there, and what it would allow."""
    if state.refrigerant is None:
        yield Missing("/equipment/refrigerant", "charge.refrigerant")
    device = visit.equipment.metering_device
    if device is None:
        yield Missing("/equipment/metering_device", "charge.metering-device")
    elif device in FIXED:
        yield from _absent(visit, SUCTION, "charge.superheat")
        yield from _target_superheat(visit, state)
        yield from _absent(visit, LIQUID, "charge.cross-check")
    else:
        yield from _absent(visit, LIQUID, "charge.subcooling")
        if visit.equipment.target_subcooling is None:
            yield Missing("/equipment/target_subcooling", "charge.target-subcooling")
        yield from _absent(visit, SUCTION, "charge.valve-superheat")


def _absent(visit: Visit, names: tuple[str, ...], allows: str) -> Iterator[Missing]:
    for name in names:
        if getattr(visit.running, name) is None:
            yield Missing(f"/running/{name}", allows)


def _target_superheat(visit: Visit, state: RunningState) -> Iterator[Missing]:
    if state.target_superheat is not None or state.no_target:
        return
    if visit.air.outdoor_dry_bulb is None:
        yield Missing("/air/outdoor_dry_bulb", "charge.target-superheat")
    if visit.air.return_wet_bulb is None:
        yield Missing("/air/return_wet_bulb", "charge.target-superheat")
