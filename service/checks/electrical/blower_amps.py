"""Blower amps against full load, read together with the static pressure (F11)."""

from service.checks.electrical.meters import electrical, electrical_uncertainty
from service.knowledge.limits import limit
from service.results.finding import Bounds, Finding, State
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import report

CODE = "currents.indoor-blower"


def check_blower_amps(visit: Visit) -> tuple[Finding, ...]:
    """Judge blower amps; what the static pressure explains is airflow, not electrical.

    A PSC wheel draws more the more air it moves: high amps at low static and low amps at high static are the
    duct's doing. Source: fan law (physics); 110 % and 80 %: common practice.
    """
    amps, plate = visit.electrical.currents.indoor_blower_amps, visit.equipment.indoor_blower.full_load_amps
    if amps is None or not plate:
        return ()
    highest = limit("currents.high-percent").value / 100.0 * plate
    lowest = limit("fans.blower-low-percent").value / 100.0 * plate
    static = _static_share(visit)
    state, variant = State.PASS, ""
    if above(amps, highest):
        state, variant = State.REVIEW, "air-high" if static is not None and below(static, 0.5) else ""
    elif below(amps, lowest) and static is not None and above(static, 1.0):
        state, variant = State.REVIEW, "air-low"
    air = ("static_return", "static_supply", "static_rated") if variant else ()
    return (
        report(
            CODE,
            state,
            (
                "/electrical/currents/indoor_blower_amps",
                "/equipment/indoor_blower/full_load_amps",
                *(given(visit.air, "/air", air) if air else ()),
            ),
            measured=electrical(visit, amps, "amps"),
            limit=Bounds("amps", "request", limit("currents.high-percent").cited, high=highest),
            confidence=confidence(amps, electrical_uncertainty(visit, amps), high=highest),
            variant=variant,
        ),
    )


def _static_share(visit: Visit) -> float | None:
    """Total external static over rated, for a PSC motor; None when it was not read."""
    air = visit.air
    psc = visit.equipment.indoor_blower.type in (None, "psc")
    if not psc or air.static_supply is None or air.static_return is None or not air.static_rated:
        return None
    return (abs(air.static_supply) + abs(air.static_return)) / air.static_rated
