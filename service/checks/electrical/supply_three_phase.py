"""Three lines: voltage and current unbalance, derating, single phasing, whose unbalance it is."""

from service.checks.electrical.meters import combined
from service.knowledge.electrical_tables import derating_table
from service.knowledge.limits import Limit, limit
from service.physics.supply import derating_factor, expected_current_unbalance, unbalance_percent
from service.results.computed import SupplyComputed
from service.results.finding import Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.instruments import accuracy
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

SUPPLY, CURRENTS = "/electrical/supply", "/electrical/currents"
VOLTS = ("volts_ab", "volts_bc", "volts_ca")
AMPS = ("amps_a", "amps_b", "amps_c")


def check_three_lines(visit: Visit) -> Checked:
    """Judge three line voltages and three line currents.

    Source: NEMA MG 1 14.36 and Fig. 14-1; 2 % for hermetics: common practice.
    """
    volts, amps = _three(visit.electrical.supply, VOLTS), _three(visit.electrical.currents, AMPS)
    unbalance = unbalance_percent(volts) if volts else None
    found: tuple[Finding, ...] = () if unbalance is None else _lost_leg(visit, volts) or _voltage(visit, unbalance)
    if amps:
        # A lost phase makes both unbalances by itself: it is the only verdict then.
        found = _lost_phase(amps) or (*found, _current(visit, amps, unbalance))
    return Checked(found, _missing(visit, bool(volts), bool(amps)), computed=_computed(visit, unbalance, amps))


def _three(part: object, names: tuple[str, ...]) -> tuple[float, ...]:
    """Three readings, or nothing unless all are there and not all are zero."""
    read = tuple(getattr(part, name) for name in names)
    return read if None not in read and sum(read) > 0.0 else ()


def unbalance_width(visit: Visit, unbalance: float) -> float:
    """Half-width of an unbalance: the reading and the mean carry the meter's percent.

    Parameters
    ----------
    unbalance : [%], 0 or more

    Returns
    -------
    [%]

    References
    ----------
    JCGM 100:2008 (GUM), equation 12.
    """
    percent = accuracy(visit).electrical_percent
    return combined(percent, percent / 3.0**0.5) * (1.0 + unbalance / 100.0)


def _voltage(visit: Visit, unbalance: float) -> tuple[Finding, ...]:
    """T09: over 1 % derates, over 2 % is too much for a hermetic, over 5 % nothing may run."""
    free, hermetic, stop = (
        limit("supply.voltage-unbalance-percent"),
        limit("supply.voltage-unbalance-hermetic-percent"),
        limit("supply.voltage-unbalance-stop-percent"),
    )
    too_high = above(unbalance, hermetic.value)
    state = State.FAIL if too_high else State.REVIEW if above(unbalance, free.value) else State.PASS
    found = [_unbalance(visit, "supply.voltage-unbalance", state, unbalance, hermetic if too_high else free)]
    if above(unbalance, stop.value):
        found.append(_unbalance(visit, "supply.unbalance-too-great", State.FAIL, unbalance, stop))
    return tuple(found)


def _unbalance(visit: Visit, code: str, state: State, unbalance: float, applied: Limit) -> Finding:
    width = unbalance_width(visit, unbalance)
    return report(
        code,
        state,
        given(visit.electrical.supply, SUPPLY, VOLTS),
        measured=Quantity(unbalance, "percent", width),
        limit=applied.as_high(),
        confidence=confidence(unbalance, width, high=applied.value),
    )


def _lost_leg(visit: Visit, volts: tuple[float, ...]) -> tuple[Finding, ...]:
    """A line far below the others is lost: what is read there is fed back through the motor's windings."""
    share = 100.0 * min(volts) / max(volts)
    line = limit("supply.lost-leg-percent")
    if not below(share, line.value):
        return ()
    return (
        report(
            "supply.single-phasing",
            State.FAIL,
            given(visit.electrical.supply, SUPPLY, VOLTS),
            measured=Quantity(share, "percent"),
            limit=line.as_low(),
            variant="fed-back",
        ),
    )


def _lost_phase(amps: tuple[float, ...]) -> tuple[Finding, ...]:
    """T08: one line carries next to nothing while the others do; volts alone cannot show it."""
    low = min(amps)
    others = (sum(amps) - low) / 2.0
    if not below(low, limit("supply.lost-phase-percent").value / 100.0 * others):
        return ()
    name = AMPS[amps.index(low)]
    share = limit("supply.feedback-percent")
    return (
        report(
            "supply.single-phasing",
            State.FAIL,
            tuple(f"{CURRENTS}/{item}" for item in AMPS),
            measured=Quantity(low, "amps"),
            values={"line": name[-1].upper(), "share": Quantity(share.value, "percent")},
        ),
    )


def _current(visit: Visit, amps: tuple[float, ...], voltage_unbalance: float | None) -> Finding:
    """T10: whose unbalance is it? What the voltage explains is the supply's, the rest the motor's or a joint's."""
    value, line = unbalance_percent(amps), limit("supply.current-unbalance-percent")
    width, variant, state = unbalance_width(visit, value), "", State.PASS
    if above(value, line.value):
        state, variant = State.REVIEW, "volts-owed"
    if state is State.REVIEW and voltage_unbalance is not None:
        small = not above(voltage_unbalance, limit("supply.voltage-unbalance-percent").value)
        explained = not above(value, expected_current_unbalance(voltage_unbalance)[1])
        state = State.FAIL if small else State.REVIEW
        variant = "motor" if small else "supply" if explained else "both"
    pointers = given(visit.electrical.currents, CURRENTS, AMPS)
    return report(
        "supply.current-unbalance",
        state,
        pointers + (given(visit.electrical.supply, SUPPLY, VOLTS) if voltage_unbalance is not None else ()),
        measured=Quantity(value, "percent", width),
        limit=line.as_high(),
        confidence=confidence(value, width, high=line.value),
        variant=variant,
    )


def _computed(visit: Visit, unbalance: float | None, amps: tuple[float, ...]) -> SupplyComputed:
    current = derating = voltage = None
    if amps:
        value = unbalance_percent(amps)
        current = Quantity(value, "percent", unbalance_width(visit, value))
    if unbalance is not None:
        voltage = Quantity(unbalance, "percent", unbalance_width(visit, unbalance))
        factor = derating_factor(unbalance, derating_table())
        derating = None if factor is None else Quantity(factor, "ratio", 0.02)
    return SupplyComputed(
        voltage_unbalance_percent=voltage, current_unbalance_percent=current, derating_factor=derating
    )


def _missing(visit: Visit, volts: bool, amps: bool) -> tuple[Missing, ...]:
    found = []
    for part, base, names, whole in (
        (visit.electrical.supply, SUPPLY, VOLTS, volts),
        (visit.electrical.currents, CURRENTS, AMPS, amps),
    ):
        absent = [name for name in names if getattr(part, name) is None]
        other = amps if names is VOLTS else volts
        if not whole and (other or 0 < len(absent) < 3):
            found += [Missing(f"{base}/{name}", "supply.three-lines") for name in absent]
    return tuple(found)
