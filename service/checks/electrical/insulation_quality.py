"""How good the insulation is: level, 60 s over 10 s, fall since the last test."""

from service.checks.electrical.insulation_readings import BASE, TESTER, instrument, judged_at_40_c, lowest_reading
from service.checks.electrical.meters import combined, electrical_uncertainty
from service.knowledge.limits import limit
from service.physics.insulation import reading_ratio
from service.results.finding import Finding, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import below, confidence
from service.verdicts.report import report


def width(visit: Visit, value: float) -> float:
    """Half-width of a reading to the shell, or of a ratio of such readings.

    Parameters
    ----------
    value : [ohm] or [1]

    Returns
    -------
    [ohm] or [1], the unit of the value

    References
    ----------
    The row `insulation.tester-percent`, or the meter's percent of reading.
    """
    if instrument(visit) != TESTER:
        return electrical_uncertainty(visit, value)
    return value * limit("insulation.tester-percent").value / 100.0


def check_quality(visit: Visit) -> tuple[Finding, ...]:
    """W14 and the soundness that a complaint of tripping asks for."""
    return (_level(visit), *_ratio(visit), *_trend(visit))


def _level(visit: Visit) -> Finding:
    """Below the motor figure of 5 Mohm: review only. Cold liquid lowers a reading, so 40 C never fails one."""
    pointer, value = lowest_reading(visit)
    line = limit("insulation.motor-minimum")
    if visit.electrical.insulation.minimum_megohms is not None:
        return report("insulation.sound", State.PASS, (pointer, f"{BASE}/minimum_megohms"), variant="maker")
    if value is None:
        return report("insulation.sound", State.PASS, (pointer,), variant="over-limit")
    measured = judged_at_40_c(visit, value)
    good = not below(measured, line.value)
    return report(
        "insulation.sound",
        State.PASS if good else State.REVIEW,
        (pointer, *given(visit.electrical.insulation, BASE, ("winding_temperature",))),
        measured=Quantity(measured, "megohms", width(visit, measured)),
        limit=line.as_low(),
        confidence=confidence(measured, width(visit, measured), low=line.value),
    )


def _ratio(visit: Visit) -> tuple[Finding, ...]:
    early, late = visit.electrical.insulation.megohms_at_10_s, visit.electrical.insulation.megohms_at_60_s
    if not early or late is None:
        return ()
    line, value = limit("insulation.ratio-60-10"), reading_ratio(late, early)
    error = combined(width(visit, value), width(visit, value))
    return (
        report(
            "insulation.absorption-ratio",
            State.REVIEW if below(value, line.value) else State.PASS,
            (f"{BASE}/megohms_at_10_s", f"{BASE}/megohms_at_60_s"),
            measured=Quantity(value, "ratio", error),
            limit=line.as_low(),
            confidence=confidence(value, error, low=line.value),
        ),
    )


def _trend(visit: Visit) -> tuple[Finding, ...]:
    last = visit.electrical.insulation.last_megohms
    pointer, value = lowest_reading(visit)
    if not last or value is None:
        return ()
    line, drop = limit("insulation.trend-percent"), 100.0 * (last - value) / last
    error = 100.0 * combined(width(visit, value), width(visit, value)) / last
    return (
        report(
            "insulation.trend",
            State.PASS if below(drop, line.value) else State.REVIEW,
            (pointer, f"{BASE}/last_megohms"),
            measured=Quantity(drop, "percent", error),
            limit=line.as_high(),
            confidence=confidence(drop, error, high=line.value),
        ),
    )
