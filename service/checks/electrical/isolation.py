"""Proving dead: until it is done, no dead reading is trusted and nobody puts a hand in."""

from service.checks.electrical.dead_readings import bench_readings, dead_readings
from service.checks.electrical.meters import electrical, electrical_uncertainty
from service.checks.electrical.motor_kind import INVERTER, THREE_PHASE, motor_kind
from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.results.declare import is_empty
from service.results.finding import Confidence, Finding, Missing, State
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, confidence
from service.verdicts.report import Checked, report

CLAIMS = ("disconnect_locked", "meter_proved_before", "meter_proved_after")
LINES = ("line_to_line_volts", "line1_to_ground_volts", "line2_to_ground_volts")
THIRD_LINE = ("line2_to_line3_volts", "line1_to_line3_volts", "line3_to_ground_volts")


def check_isolation(visit: Visit) -> Checked:
    """Judge the proof of dead: line volts, stored charge, meter proof, control volts.

    Source: NFPA 70E Article 120 (any voltage); 29 CFR 1910.333(b)(2); NEC 460.6.
    """
    findings = _line_volts(visit) + _stored(visit) + _control(visit) + _proof(visit)
    asked = bool(dead_readings(visit)) or not is_empty(visit.isolation)
    missing = tuple(
        Missing(f"/isolation/{name}", "isolation.proof")
        for name in _lacking(visit)
        if asked and getattr(visit.isolation, name) is None
    )
    return Checked(findings, missing)


@kept
def dead_is_proven(visit: Visit) -> bool:
    """True when every part of the proof is there and nothing read shows a voltage."""
    return not _lacking(visit) and not _above_noise(visit)


def _required(visit: Visit) -> tuple[str, ...]:
    kind = motor_kind(visit)
    three_lines = visit.equipment.phases == 3 or kind == THREE_PHASE
    names = CLAIMS + LINES + (THIRD_LINE if three_lines else ())
    if kind == INVERTER:
        names += ("drive_bus_volts",)
    if kind not in (INVERTER, THREE_PHASE) or bench_readings(visit):
        names += ("capacitor_residual_volts",)
    return names


@kept
def _lacking(visit: Visit) -> tuple[str, ...]:
    """Members of the proof that are absent, or false."""
    isolation = visit.isolation
    read = [(name, getattr(isolation, name)) for name in _required(visit)]
    # 0 V is a reading: it is what proves dead.
    return tuple([name for name, value in read if value is None or value is False])


def _line_readings(visit: Visit) -> dict[str, float]:
    names = LINES + THIRD_LINE
    return {name: volts for name in names if (volts := getattr(visit.isolation, name)) is not None}


def _above_noise(visit: Visit) -> bool:
    if any(above(volts, limit("isolation.meter-noise").value) for volts in _line_readings(visit).values()):
        return True
    isolation, hazardous = visit.isolation, limit("isolation.hazardous-volts").value
    others = (isolation.capacitor_residual_volts, isolation.drive_bus_volts, isolation.control_volts)
    return any(volts is not None and volts >= hazardous for volts in others)


def _line_volts(visit: Visit) -> tuple[Finding, ...]:
    """50 V and more where dead was claimed; less than that but more than noise is not dead either."""
    read = _line_readings(visit)
    control = visit.isolation.control_volts
    if control is not None and control >= limit("isolation.hazardous-volts").value:
        read["control_volts"] = control
    if not read:
        return ()
    worst = max(read, key=lambda name: read[name])
    state = State.PASS
    if read[worst] >= limit("isolation.hazardous-volts").value:
        state = State.FAIL
    elif above(read[worst], limit("isolation.meter-noise").value):
        state = State.UNDECIDED
    applied: LimitCode = "isolation.hazardous-volts" if state is State.FAIL else "isolation.meter-noise"
    return (
        report(
            "isolation.voltage-present",
            state,
            (f"/isolation/{worst}",),
            measured=electrical(visit, read[worst], "volts"),
            limit=limit(applied).as_high(),
            confidence=_confidence(visit, read[worst], applied),
        ),
    )


def _stored(visit: Visit) -> tuple[Finding, ...]:
    """Charge left in the capacitor or on the drive's bus."""
    codes = {
        "capacitor_residual_volts": "isolation.capacitor-charged",
        "drive_bus_volts": "isolation.drive-bus-charged",
    }
    findings = []
    for name, code in codes.items():
        volts = getattr(visit.isolation, name)
        if volts is not None:
            charged = volts >= limit("isolation.hazardous-volts").value
            findings.append(
                report(
                    code,
                    State.FAIL if charged else State.PASS,
                    (f"/isolation/{name}",),
                    measured=electrical(visit, volts, "volts"),
                    limit=limit("isolation.hazardous-volts").as_high(),
                    confidence=_confidence(visit, volts, "isolation.hazardous-volts"),
                )
            )
    return tuple(findings)


def _control(visit: Visit) -> tuple[Finding, ...]:
    """Control volts below 50 V are not live for the hold, but they are named."""
    volts = visit.isolation.control_volts
    if volts is None or volts >= limit("isolation.hazardous-volts").value:
        return ()
    present = above(volts, limit("isolation.meter-noise").value)
    return (
        report(
            "isolation.control-volts",
            State.REVIEW if present else State.PASS,
            given(visit.isolation, "/isolation", ("control_volts", "indoor_disconnect_locked")),
            measured=electrical(visit, volts, "volts"),
        ),
    )


def _proof(visit: Visit) -> tuple[Finding, ...]:
    dead, claimed = dead_readings(visit), given(visit.isolation, "/isolation")
    if not dead and not claimed:
        return ()
    unproven = State.UNDECIDED if dead else State.NOT_APPLICABLE
    state = State.PASS if dead_is_proven(visit) else unproven
    return (report("isolation.dead-proven", state, claimed + dead),)


def _confidence(visit: Visit, volts: float, code: LimitCode) -> Confidence:
    return confidence(volts, electrical_uncertainty(visit, volts), high=limit(code).value)
