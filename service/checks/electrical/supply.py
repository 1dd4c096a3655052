"""Supply voltage at rest, while starting and running."""

from collections.abc import Mapping

from service.checks.electrical.meters import electrical, electrical_uncertainty, ratio_percent_uncertainty
from service.checks.electrical.nameplate import marked_volts
from service.checks.electrical.supply_legs import check_legs, missing_legs
from service.checks.electrical.supply_three_phase import check_three_lines
from service.knowledge.limits import limit
from service.physics.supply import sag_percent, source_impedance
from service.results.computed import SupplyComputed
from service.results.finding import Bounds, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

BASE = "/electrical/supply"
STEADY = ("idle_volts", "running_volts")
LINES = ("volts_ab", "volts_bc", "volts_ca")


def check_supply(visit: Visit) -> Checked:
    """Judge line voltage against the nameplate, the sag at the start, and the balance of three phases.

    Source: NEMA MG 1 12.44 (10 % of nameplate); sag 10 and 15 %: common practice.
    """
    three = check_three_lines(visit)
    findings = _voltages(visit) + _sag(visit) + three.findings
    return Checked(
        findings,
        _missing(visit) + missing_legs(visit, findings) + three.missing,
        computed=_computed(visit, three.computed),
    )


def line_volts(visit: Visit) -> float | None:
    """Line voltage to refer a current or a drop to: running, else at rest, else the nameplate's.

    Returns
    -------
    [V]; None where none is known

    References
    ----------
    The visit, as it was read.
    """
    supply, marked = visit.electrical.supply, marked_volts(visit)
    for volts in (supply.running_volts, supply.idle_volts):
        if volts:
            return volts
    lines: list[float] = [volts for name in LINES if (volts := getattr(supply, name))]
    if lines:
        return sum(lines) / len(lines)
    return marked[1] if marked else None


def _voltages(visit: Visit) -> tuple[Finding, ...]:
    """Every steady voltage; the one furthest off speaks (E08, E11)."""
    read = {
        name: volts for name in (*STEADY, *LINES) if (volts := getattr(visit.electrical.supply, name)) is not None
    }
    if not read:
        return ()
    lowest = min(read, key=lambda name: read[name])
    window = _window(visit)
    if window is not None and below(read[lowest], window[0]) and (legs := check_legs(visit, lowest, read[lowest])):
        return legs
    if below(read[lowest], limit("supply.no-volts").value):
        return (_no_voltage(visit, lowest, read[lowest]),)
    return () if window is None else _in_window(visit, read, window)


def _in_window(visit: Visit, read: Mapping[str, float], window: tuple[float, float]) -> tuple[Finding, ...]:
    """The steady voltage that lies furthest off the nameplate's window, or nearest to its edge."""
    lowest, highest = min(read, key=lambda name: read[name]), max(read, key=lambda name: read[name])
    if below(read[lowest], window[0]):
        return (_voltage(visit, "supply.voltage-low", State.FAIL, lowest, window),)
    if above(read[highest], window[1]):
        return (_voltage(visit, "supply.voltage-high", State.FAIL, highest, window),)
    near = min(read, key=lambda name: min(read[name] - window[0], window[1] - read[name]))
    return (_voltage(visit, "supply.voltage-normal", State.PASS, near, window),)


def _no_voltage(visit: Visit, name: str, volts: float) -> Finding:
    return report(
        "supply.no-voltage",
        State.FAIL,
        (f"{BASE}/{name}",),
        measured=electrical(visit, volts, "volts"),
        limit=limit("supply.no-volts").as_low(),
    )


def _window(visit: Visit) -> tuple[float, float] | None:
    marked = marked_volts(visit)
    if marked is None:
        return None
    share = limit("supply.tolerance-percent").value / 100.0
    return marked[0] * (1.0 - share), marked[1] * (1.0 + share)


def _voltage(visit: Visit, code: str, state: State, name: str, window: tuple[float, float]) -> Finding:
    volts = getattr(visit.electrical.supply, name)
    return report(
        code,
        state,
        (f"{BASE}/{name}", "/equipment/nominal_voltage"),
        measured=electrical(visit, volts, "volts"),
        limit=_applied(window),
        confidence=confidence(volts, electrical_uncertainty(visit, volts), *window),
    )


def _applied(window: tuple[float, float]) -> Bounds:
    return Bounds("volts", "request", limit("supply.tolerance-percent").cited, *window)


def _sag(visit: Visit) -> tuple[Finding, ...]:
    """E12: a sag of more than 10 % is looked into, more than 15 % is a weak supply."""
    supply = visit.electrical.supply
    if not supply.idle_volts or supply.starting_volts is None:
        return ()
    value = sag_percent(supply.idle_volts, supply.starting_volts)
    width = ratio_percent_uncertainty(visit, 100.0 - value)
    review, fail = limit("supply.sag-review-percent"), limit("supply.sag-fail-percent")
    state = State.FAIL if above(value, fail.value) else State.PASS
    if state is State.PASS and above(value, review.value):
        state = State.REVIEW
    applied = review if state is State.PASS else fail
    return (
        report(
            "supply.start-sag",
            state,
            given(supply, BASE, ("idle_volts", "starting_volts")),
            measured=Quantity(value, "percent", width),
            limit=applied.as_high(),
            confidence=confidence(value, width, low=review.value, high=fail.value),
        ),
    )


def _computed(visit: Visit, three: SupplyComputed) -> SupplyComputed:
    supply = visit.electrical.supply
    sag = None
    if supply.idle_volts and supply.starting_volts is not None:
        value = sag_percent(supply.idle_volts, supply.starting_volts)
        sag = Quantity(value, "percent", ratio_percent_uncertainty(visit, 100.0 - value))
    return SupplyComputed(
        sag_percent=sag,
        deviation_percent=_deviation(visit),
        voltage_unbalance_percent=three.voltage_unbalance_percent,
        current_unbalance_percent=three.current_unbalance_percent,
        derating_factor=three.derating_factor,
        source_ohms=_source(visit),
    )


def _deviation(visit: Visit) -> Quantity | None:
    """From the nearer nameplate voltage; nothing between two marked voltages is a deviation."""
    marked = marked_volts(visit)
    read = [volts for name in STEADY if (volts := getattr(visit.electrical.supply, name)) is not None]
    if marked is None or not read:
        return None
    volts = read[-1]
    nearest = min(max(volts, marked[0]), marked[1])
    return Quantity(
        100.0 * (volts - nearest) / nearest, "percent", 100.0 * electrical_uncertainty(visit, volts) / nearest
    )


def _source(visit: Visit) -> Quantity | None:
    supply = visit.electrical.supply
    measured = visit.electrical.currents.compressor_starting_amps
    amps = measured or visit.equipment.compressor.locked_rotor_amps
    if not supply.idle_volts or supply.starting_volts is None or not amps:
        return None
    return Quantity(source_impedance(supply.idle_volts, supply.starting_volts, amps), "ohms")


def _missing(visit: Visit) -> tuple[Missing, ...]:
    supply, found = visit.electrical.supply, []
    read = any(getattr(supply, name) is not None for name in (*STEADY, *LINES))
    if read and visit.equipment.nominal_voltage is None:
        found.append(Missing("/equipment/nominal_voltage", "supply.nameplate"))
    if supply.starting_volts is not None and supply.idle_volts is None:
        found.append(Missing(f"{BASE}/idle_volts", "supply.idle"))
    return tuple(found)
