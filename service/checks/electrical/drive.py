"""The inverter drive: bus, three outputs, fault code."""

from collections.abc import Sequence
from math import sqrt

from service.checks.electrical.blower import ELECTRONIC
from service.checks.electrical.meters import electrical, electrical_uncertainty
from service.checks.electrical.motor_kind import INVERTER
from service.checks.electrical.supply import line_volts
from service.checks.electrical.supply_three_phase import unbalance_width
from service.knowledge.limits import limit
from service.physics.supply import unbalance_percent
from service.results.declare import is_empty
from service.results.finding import Bounds, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

BASE = "/electrical/drive"
OUTPUTS = ("output_volts_uv", "output_volts_vw", "output_volts_uw")


def check_drive(visit: Visit, findings: Sequence[Finding]) -> Checked:
    """Judge the drive (T07). findings: of the windings and the insulation of this visit.

    Source: rectifier peak sqrt(2) x line volts (circuit logic); 5 % between outputs: common practice.
    """
    own = _bus(visit) + _outputs(visit) + _fault(visit, findings)
    return Checked(_stored(visit) + own, _missing(visit))


def _stored(visit: Visit) -> tuple[Finding, ...]:
    """A drive or a blower module holds its bus after switching off: said wherever its motor is read."""
    equipment, found = visit.equipment, []
    read = not is_empty(visit.electrical) or not is_empty(visit.isolation)
    if equipment.compressor.drive == INVERTER and read:
        found.append("/equipment/compressor/drive")
    if equipment.indoor_blower.type in ELECTRONIC and not is_empty(visit.electrical.indoor_blower):
        found.append("/equipment/indoor_blower/type")
    return tuple(report("drive.stored-energy", State.NOT_APPLICABLE, (pointer,)) for pointer in found)


def _bus(visit: Visit) -> tuple[Finding, ...]:
    """Powered bus: near the peak of the line, or above it with power-factor correction."""
    bus, line = visit.electrical.drive.bus_volts, line_volts(visit)
    if bus is None or line is None:
        return ()
    lowest = limit("drive.bus-share").value * sqrt(2.0) * line
    applied = Bounds("volts", "default", limit("drive.bus-share").cited, low=lowest)
    return (
        report(
            "drive.bus",
            State.FAIL if below(bus, lowest) else State.PASS,
            (f"{BASE}/bus_volts",),
            measured=electrical(visit, bus, "volts"),
            limit=applied,
            confidence=confidence(bus, electrical_uncertainty(visit, bus), low=lowest),
        ),
    )


def _outputs(visit: Visit) -> tuple[Finding, ...]:
    """Three outputs alike; all at zero say only that the drive does not run."""
    read = [getattr(visit.electrical.drive, name) for name in OUTPUTS]
    if None in read:
        return ()
    evidence = given(visit.electrical.drive, BASE, OUTPUTS)
    if max(read) < limit("supply.no-volts").value:
        return (report("drive.outputs", State.REVIEW, evidence, variant="off"),)
    value, line = unbalance_percent(read), limit("drive.output-unbalance-percent")
    width = unbalance_width(visit, value)
    return (
        report(
            "drive.outputs",
            State.FAIL if above(value, line.value) else State.PASS,
            evidence,
            measured=Quantity(value, "percent", width),
            limit=line.as_high(),
            confidence=confidence(value, width, high=line.value),
        ),
    )


def _fault(visit: Visit, findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """A fault code with sound windings points away from the compressor's winding (T07)."""
    code = visit.electrical.drive.fault_code
    if not code:
        return ()
    passed = {finding.code for finding in findings if finding.state is State.PASS}
    sound = {"windings.phases-equal", "insulation.winding-grounded"} <= passed
    evidence = (f"{BASE}/fault_code",)
    return (report("drive.fault-code", State.REVIEW, evidence, variant="windings-sound" if sound else ""),)


def _missing(visit: Visit) -> tuple[Missing, ...]:
    drive = visit.electrical.drive
    absent = [name for name in OUTPUTS if getattr(drive, name) is None]
    found = [Missing(f"{BASE}/{name}", "drive.outputs") for name in absent if 0 < len(absent) < 3]
    if drive.bus_volts is not None and line_volts(visit) is None:
        found.append(Missing("/electrical/supply/idle_volts", "drive.line"))
    return tuple(found)
