"""Breaker and conductor against the nameplate, how the breaker trips, drop along the conductor."""

from service.checks.electrical.currents import rated_amps
from service.checks.electrical.supply import line_volts
from service.knowledge.electrical_tables import (
    copper_ampacity,
    copper_ohms_per_kilofoot,
    standard_device_sizes,
)
from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.physics.conductors import (
    loop_drop,
    minimum_circuit_ampacity,
    overcurrent_value,
    size_not_above,
)
from service.results.computed import ProtectionComputed
from service.results.finding import Bounds, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below
from service.verdicts.report import Checked, report

BASE, PLATE = "/electrical/protection", "/equipment"
TRIPS = {"none": State.PASS, "at_once": State.FAIL, "after_minutes": State.REVIEW}


def check_protection(visit: Visit) -> Checked:
    """Judge trips, overcurrent protection and conductor (E09, E10, E22); the nameplate's figures go first.

    Source: NEC 440.22, 440.33, 240.6(A), Table 310.16; NEC 110.3(B) for the nameplate.
    """
    findings = _trips(visit) + _device(visit) + _conductor(visit) + _drop(visit)
    return Checked(findings, _missing(visit), computed=_computed(visit))


def _trips(visit: Visit) -> tuple[Finding, ...]:
    trips = visit.electrical.protection.trips
    if trips is None:
        return ()
    variant = "after-minutes" if trips == "after_minutes" else ""
    return (report("protection.trips", TRIPS[trips], (f"{BASE}/trips",), variant=variant),)


def _others(visit: Visit) -> list[float]:
    amps = visit.equipment.outdoor_fan.full_load_amps
    return [amps] if amps else []


def circuit_ampacity(visit: Visit) -> float | None:
    """Minimum circuit ampacity: of the nameplate, else from the motors.

    Returns
    -------
    [A]; None where neither is known

    References
    ----------
    The nameplate; NEC 440.33.
    """
    given_amps, rated = visit.equipment.minimum_circuit_ampacity, rated_amps(visit)
    if given_amps is not None:
        return given_amps
    return minimum_circuit_ampacity(rated, _others(visit)) if rated else None


def _calculated_device(visit: Visit, share: LimitCode) -> float | None:
    rated = rated_amps(visit)
    if not rated:
        return None
    value = overcurrent_value(rated, _others(visit), limit(share).value)
    return size_not_above(value, standard_device_sizes())


def _device(visit: Visit) -> tuple[Finding, ...]:
    """A breaker above the maximum does not protect the unit; one below the circuit's ampacity trips without a
    fault."""
    breaker, plate = visit.electrical.protection.breaker_amps, visit.equipment.maximum_overcurrent_protection
    if breaker is None:
        return ()
    evidence = (f"{BASE}/breaker_amps",)
    least = visit.equipment.minimum_circuit_ampacity
    if least is not None and below(breaker, least):
        bounds = Bounds("amps", "request", "nameplate", low=least)
        pointers = (*evidence, f"{PLATE}/minimum_circuit_ampacity")
        return (_device_finding(breaker, State.REVIEW, bounds, pointers, "small"),)
    if plate is not None:
        bounds = Bounds("amps", "request", "nameplate; NEC 110.3(B), 440.22", high=plate)
        state = State.FAIL if above(breaker, plate) else State.PASS
        names = ("maximum_overcurrent_protection",)
        return (_device_finding(breaker, state, bounds, evidence + given(visit.equipment, PLATE, names)),)
    usual, most = (
        _calculated_device(visit, "conductors.device-share"),
        _calculated_device(visit, "conductors.device-share-starting"),
    )
    if usual is None or most is None:
        return ()
    state = State.FAIL if above(breaker, most) else State.REVIEW if above(breaker, usual) else State.PASS
    share: LimitCode = "conductors.device-share-starting" if state is State.FAIL else "conductors.device-share"
    bounds = limit(share).bounds(high=most if state is State.FAIL else usual, kind="amps")
    return (_device_finding(breaker, state, bounds, evidence),)


def _device_finding(
    breaker: float, state: State, bounds: Bounds, evidence: tuple[str, ...], variant: str = ""
) -> Finding:
    return report(
        "protection.breaker-size",
        state,
        evidence,
        measured=Quantity(breaker, "amps"),
        limit=bounds,
        variant=variant,
    )


def _conductor(visit: Visit) -> tuple[Finding, ...]:
    """Wire below the minimum circuit ampacity: certain at 75 C, to be looked at between 60 and 75 C."""
    gauge, needed = visit.electrical.protection.conductor_gauge, circuit_ampacity(visit)
    if gauge is None or needed is None:
        return ()
    cool, warm = copper_ampacity(str(gauge), 60), copper_ampacity(str(gauge), 75)
    if cool is None or warm is None:
        return ()
    state = State.FAIL if below(warm, needed) else State.REVIEW if below(cool, needed) else State.PASS
    names = ("minimum_circuit_ampacity",)
    measured = cool if state is State.PASS else warm
    return (
        report(
            "protection.conductor-size",
            state,
            (f"{BASE}/conductor_gauge", *given(visit.equipment, PLATE, names)),
            measured=Quantity(measured, "amps"),
            limit=Bounds("amps", "request", "NEC 440.35, Table 310.16 (2023)", low=needed),
        ),
    )


def conductor_drop(visit: Visit) -> float | None:
    """Volts lost along the branch circuit at running amps.

    Returns
    -------
    [V]; None where a reading is absent

    References
    ----------
    Ohm's law with NEC chapter 9 table 8.
    """
    protection, amps = visit.electrical.protection, visit.electrical.currents.compressor_amps
    if protection.conductor_gauge is None or protection.conductor_length is None or amps is None:
        return None
    per_kilofoot = copper_ohms_per_kilofoot(str(protection.conductor_gauge))
    return None if per_kilofoot is None else loop_drop(protection.conductor_length, per_kilofoot, amps)


def _drop(visit: Visit) -> tuple[Finding, ...]:
    """More than 3 % along the branch: advice of the code, not a limit."""
    volts, line = conductor_drop(visit), line_volts(visit)
    if volts is None or line is None:
        return ()
    percent, advised = 100.0 * volts / line, limit("conductors.branch-drop-percent")
    return (
        report(
            "protection.branch-drop",
            State.REVIEW if above(percent, advised.value) else State.PASS,
            given(visit.electrical.protection, BASE, ("conductor_gauge", "conductor_length")),
            measured=Quantity(percent, "percent"),
            limit=advised.as_high(),
        ),
    )


def _computed(visit: Visit) -> ProtectionComputed:
    rated = rated_amps(visit)
    ampacity = device = None
    if rated:
        ampacity = Quantity(minimum_circuit_ampacity(rated, _others(visit)), "amps")
        size = _calculated_device(visit, "conductors.device-share")
        device = None if size is None else Quantity(size, "amps")
    volts = conductor_drop(visit)
    return ProtectionComputed(ampacity, device, None if volts is None else Quantity(volts, "volts"))


def _missing(visit: Visit) -> tuple[Missing, ...]:
    protection, found = visit.electrical.protection, []
    if protection.breaker_amps is not None and visit.equipment.maximum_overcurrent_protection is None:
        found.append(Missing(f"{PLATE}/maximum_overcurrent_protection", "protection.maximum"))
    if protection.conductor_gauge is not None and circuit_ampacity(visit) is None:
        found.append(Missing(f"{PLATE}/minimum_circuit_ampacity", "protection.minimum"))
    return tuple(found)
