"""Start capacitor and start relay."""

from service.checks.electrical.capacitor_readings import capacitor_computed, reading_of
from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.isolation import dead_is_proven
from service.knowledge.limits import limit
from service.physics.capacitors import label_limits
from service.results.finding import Bounds, Finding, State
from service.results.quantity import Quantity
from service.results.resistance import Resistance
from service.results.visit import Visit
from service.results.visit.electrical_parts import Capacitor
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

BASE = "/electrical/start_components"
CAPACITOR = f"{BASE}/start_capacitor"


def check_start_components(visit: Visit) -> Checked:
    """Judge start capacitor, potential relay and solid-state start device (K09-K12).

    Source: potential relay: trade article by an HVAC textbook author; -0/+20 % of a start capacitor: common
    practice.
    """
    parts = visit.electrical.start_components
    capacitor = parts.start_capacitor
    minus, plus = _tolerance(capacitor)
    dead = _capacitor(visit) + _contact(visit) + _coil(visit) + _solid_state(visit)
    findings = as_proven(dead, dead_is_proven(visit)) + _contact_running(visit)
    reading = reading_of(visit, capacitor, dead_is_proven(visit))
    return Checked(findings, computed=capacitor_computed(reading, capacitor, minus, plus))


def _tolerance(capacitor: Capacitor) -> tuple[float, float]:
    given_percent = capacitor.tolerance_percent
    if given_percent is not None:
        return given_percent, given_percent
    return limit("capacitors.start-minus-percent").value, limit("capacitors.start-plus-percent").value


def _capacitor(visit: Visit) -> tuple[Finding, ...]:
    """Start capacitor by ohms, then by capacitance (K09)."""
    capacitor = visit.electrical.start_components.start_capacitor
    shorted = capacitor.terminal_ohms is not None and not capacitor.terminal_ohms.over_limit
    if shorted and below(_ohms(capacitor.terminal_ohms), limit("capacitors.shorted").value):
        pointers = given(capacitor, CAPACITOR, ("terminal_ohms",))
        return (report("start.capacitor", State.FAIL, pointers, variant="shorted"),)
    reading, rated = reading_of(visit, capacitor, True), capacitor.rated_microfarads
    if reading is None or (rated is None and "over_limit" not in reading.names):
        return ()
    pointers = given(capacitor, CAPACITOR, (*reading.names, "rated_microfarads", "tolerance_percent"))
    if rated is None or below(reading.microfarads, limit("capacitors.open-percent").value / 100.0 * rated):
        return (report("start.capacitor", State.FAIL, pointers, variant="open"),)
    low, high = label_limits(rated, *_tolerance(capacitor))
    out = below(reading.microfarads, low) or above(reading.microfarads, high)
    return (
        report(
            "start.capacitor",
            State.FAIL if out else State.PASS,
            pointers,
            measured=Quantity(reading.microfarads, "microfarads", reading.uncertainty),
            limit=_bounds(capacitor, low, high),
            confidence=confidence(reading.microfarads, reading.uncertainty, low, high),
            variant="out" if out else "",
        ),
    )


def _bounds(capacitor: Capacitor, low: float, high: float) -> Bounds:
    if capacitor.tolerance_percent is not None:
        return Bounds("microfarads", "request", "label tolerance, as posted", low, high)
    return limit("capacitors.start-plus-percent").bounds(low, high, "microfarads")


def _ohms(reading: Resistance | None) -> float:
    return float("inf") if reading is None or reading.ohms is None else reading.ohms


def _contact(visit: Visit) -> tuple[Finding, ...]:
    """Relay contact 1-2 at rest: closed, near 0 ohm (K10)."""
    reading = visit.electrical.start_components.relay_contact_resistance
    if reading is None:
        return ()
    value, line = _ohms(reading), limit("start.contact-closed")
    bad = above(value, line.value)
    return (
        report(
            "start.relay-contact",
            State.FAIL if bad else State.PASS,
            (f"{BASE}/relay_contact_resistance",),
            measured=None if reading.over_limit else Quantity(value, "ohms"),
            limit=line.as_high(),
            variant="open" if reading.over_limit else "pitted" if bad else "",
        ),
    )


def _coil(visit: Visit) -> tuple[Finding, ...]:
    """Relay coil 2-5: open leaves the start capacitor in until it burns (K11)."""
    reading = visit.electrical.start_components.relay_coil_resistance
    if reading is None:
        return ()
    state = State.FAIL if reading.over_limit else State.PASS
    return (report("start.relay-coil", state, (f"{BASE}/relay_coil_resistance",)),)


def _contact_running(visit: Visit) -> tuple[Finding, ...]:
    """0 V across 1-2 while running: the contact is stuck closed (K12)."""
    volts = visit.electrical.start_components.relay_contact_volts_running
    if volts is None:
        return ()
    line = limit("start.contact-stuck")
    return (
        report(
            "start.relay-contact-running",
            State.FAIL if below(volts, line.value) else State.PASS,
            (f"{BASE}/relay_contact_volts_running",),
            measured=Quantity(volts, "volts"),
            limit=line.as_low(),
        ),
    )


def _solid_state(visit: Visit) -> tuple[Finding, ...]:
    """Solid-state start device, cold: closed with some ohms."""
    reading = visit.electrical.start_components.solid_state_ohms
    if reading is None:
        return ()
    shorted = below(_ohms(reading), limit("capacitors.shorted").value)
    bad = reading.over_limit or shorted
    return (
        report(
            "start.solid-state",
            State.FAIL if bad else State.PASS,
            (f"{BASE}/solid_state_ohms",),
            measured=None if reading.ohms is None else Quantity(reading.ohms, "ohms"),
            variant="open" if reading.over_limit else "shorted" if shorted else "",
        ),
    )
