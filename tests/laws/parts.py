"""Which failed test condemns which part, which machines have it: the trade's list (common practice, no source).

Kept apart from the rows of the service, so that a row that lacks its proof is seen.
"""

from collections.abc import Iterator
from typing import Any

from tests.laws.answers import OPEN, Body, Document, codes, failing

# Findings of which one must have failed (in review where the trade tries once more) before a part is needed.
CONDEMNED_BY = {
    "part.compressor": (
        "insulation.winding-grounded",
        "windings.",
        "compressor.pump-down",
        "currents.seized",
        "inspection.terminals",
        "start-up.not-pumping",
    ),
    "part.run-capacitor": ("capacitors.", "inspection.capacitor-case"),
    "part.contactor": ("contactor.", "inspection.contact", "inspection.contactor"),
    "part.control-transformer": ("control.transformer", "control.secondary-voltage"),
    "part.control-fuse": ("control.fuse",),
    "part.outdoor-fan-motor": ("fans.outdoor-",),
    "part.fan-blade": ("inspection.fan-blade",),
    "part.indoor-blower-motor": ("fans.blower-",),
    "part.blower-motor-module": ("fans.blower-module",),
    "part.inverter-drive": ("drive.bus", "drive.outputs"),
    "part.reversing-valve": ("compressor.reversing-valve-leak", "reversing-valve.stuck"),
    "part.reversing-valve-coil": ("reversing-valve.coil",),
    "part.defrost-control": ("heating.defrost",),
    "part.liquid-line-drier": ("restriction.drier-drop",),
    "part.start-capacitor": ("start.",),
    "part.start-relay": ("start.",),
    "part.pressure-switch": ("control.high-pressure-switch", "control.low-pressure-switch"),
    "part.breaker": ("protection.breaker-size",),
    "part.branch-conductor": ("protection.conductor-size", "protection.branch-drop"),
    "part.float-switch": ("control.float-switch",),
    "part.drain-parts": ("inspection.condensate", "control.float-switch"),
    "part.crankcase-heater": ("control.crankcase-heater",),
}
# What is renewed with a compressor or a motor whose own test failed.
WITH = {
    "part.liquid-line-drier": ("part.compressor", "part.reversing-valve", "part.metering-device"),
    "part.contactor": ("part.compressor",),
    "part.run-capacitor": ("part.compressor", "part.outdoor-fan-motor"),
    "part.suction-line-drier": ("part.compressor",),
    "part.start-relay": ("part.start-capacitor",),
    "part.start-capacitor": ("part.start-relay",),
}
# Proved otherwise: the valve by its bulb (below), the others by a look or by nothing that is read here.
OTHERWISE = {"part.metering-device", "part.terminal-repair-kit", "part.control-board"}
VALVES = ("thermostatic_expansion_valve", "electronic_expansion_valve")
START_PARTS = {"part.start-capacitor", "part.start-relay", "part.start-kit"}


def listed_parts() -> set[str]:
    """Every part that the trade's list knows."""
    return {*CONDEMNED_BY, *WITH, *START_PARTS, *OTHERWISE}


def unproven(document: Document, body: Body, needed: set[str], sold: set[str]) -> list[str]:
    """A line for each part needed without its proof, and for each sold that this unit does not have."""
    lines = [
        f"{part} is needed by no failed test of its own"
        for part in sorted(needed)
        if not _proven(part, body, needed)
    ]
    valve = document.get("equipment", {}).get("metering_device") in VALVES
    if valve and "part.metering-device" in needed and "inspection.valve-bulb" not in codes(failing(body, "pass")):
        lines.append("part.metering-device is needed and nobody has looked at the bulb")
    lines += [f"{part} is sold and this unit has none" for part in _lacking(document) if part in sold]
    return lines + _valve_not_cleared(document, body, needed)


def _proven(part: str, body: Body, needed: set[str]) -> bool:
    tests = CONDEMNED_BY.get(part)
    if tests is None:
        return True
    own = any(item["code"].startswith(tests) for item in failing(body, *OPEN))
    return own or not needed.isdisjoint(WITH.get(part, ()))


def _lacking(document: Document) -> Iterator[str]:
    unit = document.get("equipment", {})
    drive, kind, phases = _of(unit, "compressor", "drive"), unit.get("kind", ""), unit.get("phases")
    if drive in ("three_phase", "inverter") or phases == 3:
        yield from sorted(START_PARTS)
    if drive in ("single_phase", "three_phase"):
        yield "part.inverter-drive"
    if kind in ("split_air_conditioner", "packaged_air_conditioner"):
        yield from ("part.reversing-valve", "part.reversing-valve-coil", "part.defrost-control")
    if drive == "inverter":
        yield "part.contactor"


def _of(unit: Any, *names: str) -> Any:
    for name in names:
        unit = unit.get(name, {}) if isinstance(unit, dict) else None
    return unit if isinstance(unit, str) else None


def _valve_not_cleared(document: Document, body: Body, needed: set[str]) -> list[str]:
    """On a heat pump a pump is condemned by gauges only once the reversing valve was measured."""
    by_motor = any(
        item["code"].startswith(("windings.", "insulation.", "currents.seized", "inspection.terminals"))
        for item in failing(body, *OPEN)
    )
    pump = "heat_pump" in document.get("equipment", {}).get("kind", "")
    cleared = "compressor.reversing-valve-leak" in codes(failing(body, "pass"))
    if pump and "part.compressor" in needed and not by_motor and not cleared:
        return ["part.compressor is needed on a heat pump whose reversing valve nobody has cleared"]
    return []
