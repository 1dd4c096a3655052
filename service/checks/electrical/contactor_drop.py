"""Drop across each closed pole, and the heat it makes there."""

from service.checks.electrical.meters import electrical, electrical_uncertainty, ratio_percent_uncertainty
from service.checks.electrical.supply import line_volts
from service.knowledge.limits import Limit, limit
from service.physics.conductors import contact_heat
from service.results.computed import ContactorComputed
from service.results.finding import Finding, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

POLES = ("pole1", "pole2", "pole3")
LINES = ("amps_a", "amps_b", "amps_c")
BASE = "/electrical/contactor"


def check_drop(visit: Visit) -> Checked:
    """Judge the drop of each pole under load (E05): over 0.3 V look again, over 2 V or 3 % of line it is burnt.

    Source: Electricity for HVACR Technicians (RSES), 3 % of line voltage; 0.3 V and 2 V: common practice.
    """
    read = {pole: drop for pole in POLES if (drop := _drop(visit, pole)) is not None}
    findings = tuple(_pole(visit, pole, drop) for pole, drop in read.items())
    return Checked(findings, computed=_computed(visit, read))


def _drop(visit: Visit, pole: str) -> float | None:
    drop: float | None = getattr(visit.electrical.contactor, f"drop_volts_{pole}")
    return drop


def _fail_limit(visit: Visit) -> tuple[Limit, float]:
    """2 V, or 3 % of line voltage where that is lower."""
    fixed, share, line = limit("contactor.drop-fail"), limit("contactor.drop-percent"), line_volts(visit)
    if line is not None and share.value / 100.0 * line < fixed.value:
        return share, share.value / 100.0 * line
    return fixed, fixed.value


def _carries_nothing(visit: Visit, pole: str) -> bool:
    """Whether the line of this pole is without current while the other two carry the motor."""
    currents = visit.electrical.currents
    amps = [getattr(currents, name) for name in LINES]
    if None in amps:
        return False
    own = amps.pop(POLES.index(pole))
    return below(own, limit("supply.lost-phase-percent").value / 100.0 * sum(amps) / len(amps))


def _pole(visit: Visit, pole: str, drop: float) -> Finding:
    review = limit("contactor.drop-review")
    fail, fail_volts = _fail_limit(visit)
    state = State.FAIL if above(drop, fail_volts) else State.PASS
    if state is State.FAIL and _carries_nothing(visit, pole):
        # A worn contact drops volts by its current; without any the pole itself is open.
        return report(
            "contactor.open-pole",
            state,
            (f"{BASE}/drop_volts_{pole}", f"/electrical/currents/{LINES[POLES.index(pole)]}"),
            measured=electrical(visit, drop, "volts"),
            values={"pole": pole[-1]},
            variant="line",
        )
    if state is State.PASS and above(drop, review.value):
        state = State.REVIEW
    applied = fail.bounds(high=fail_volts, kind="volts") if state is State.FAIL else review.as_high()
    return report(
        "contactor.contact-drop",
        state,
        (f"{BASE}/drop_volts_{pole}",),
        measured=electrical(visit, drop, "volts"),
        limit=applied,
        confidence=confidence(drop, electrical_uncertainty(visit, drop), review.value, fail_volts),
        values={"pole": pole[-1]},
    )


def _amps(visit: Visit, pole: str) -> float | None:
    currents = visit.electrical.currents
    line: float | None = getattr(currents, LINES[POLES.index(pole)])
    return line if line is not None else currents.compressor_amps


def _computed(visit: Visit, read: dict[str, float]) -> ContactorComputed:
    line, found = line_volts(visit), {}
    for pole, drop in read.items():
        amps = _amps(visit, pole)
        if line:
            share = 100.0 * drop / line
            found[f"drop_percent_{pole}"] = Quantity(share, "percent", ratio_percent_uncertainty(visit, share))
        if amps is not None:
            heat = contact_heat(drop, amps)
            found[f"heat_watts_{pole}"] = Quantity(heat, "watts", ratio_percent_uncertainty(visit, heat))
    return ContactorComputed(**found)
