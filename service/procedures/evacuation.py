"""Is the circuit dry and tight? Reads the rise of the vacuum with the pump valved off."""

import numpy as np

from service.knowledge.limits import limit
from service.physics.vacuum_rise import FEWEST_SAMPLES, Rise, fit_rise
from service.physics.water_vapour import TRIPLE_POINT_PRESSURE, boiling_temperature, vapour_pressure
from service.procedures.evacuation_computed import Reading, evacuation_computed, rise_rate
from service.procedures.rise_shape import call
from service.results.finding import Assumption, Bounds, Finding, Missing, State, Value
from service.results.procedures.evacuation import EvacuationRequest
from service.results.quantity import Quantity
from service.verdicts.report import Checked, report

STATES = {"tight": State.PASS, "leak": State.FAIL, "moisture": State.REVIEW, "undecided": State.UNDECIDED}
INSTANT = 0.01  # min: readings closer together are one reading
ROOM = 298.15  # K: water's pressure where no temperature was given is that of a warm room; project choice


def evacuation(request: EvacuationRequest) -> Checked:
    """Judge an evacuation by the readings after the pump was valved off."""
    read = _readings(request)
    rise = _fitted(read)
    curve, variant = ("undecided", "too-few-readings")
    if rise is not None:
        curve, variant = call(rise, _target(request), _hold(request), _ceiling(request))
    wait = _wait(request, read) if curve == "undecided" else None
    finding = _finding(request, read, rise, curve, variant, wait)
    findings = [finding, *_reached(request, read), *_ice(read, curve)]
    computed = evacuation_computed(read, rise, curve, request.volume, wait)
    return Checked(tuple(findings), _missing(request, rise), _assumptions(request), computed)


def _readings(request: EvacuationRequest) -> list[Reading]:
    """Complete readings in order of time."""
    return sorted(
        (sample.minutes, index, sample.vacuum)
        for index, sample in enumerate(request.samples)
        if sample.minutes is not None and sample.vacuum is not None
    )


def _fitted(read: list[Reading]) -> Rise | None:
    if len(read) < FEWEST_SAMPLES or read[-1][0] - read[0][0] < INSTANT:
        return None
    pressure = np.array([item[2] for item in read])
    step, percent = limit("procedures.vacuum-gauge-step").value, limit("procedures.vacuum-gauge-percent").value
    repeatability = step + percent / 100.0 * float(pressure.max())
    return fit_rise(np.array([item[0] for item in read]), pressure, repeatability)


def _target(request: EvacuationRequest) -> float:
    given = request.target_vacuum
    return limit("procedures.target-vacuum").value if given is None else given


def _hold(request: EvacuationRequest) -> float:
    given = request.hold_minutes
    return limit("procedures.vacuum-hold").value if given is None else given


def _ceiling(request: EvacuationRequest) -> float:
    """The highest pressure that water can bring the circuit to [Pa]."""
    return vapour_pressure(ROOM if request.ambient_temperature is None else request.ambient_temperature)


def _wait(request: EvacuationRequest, read: list[Reading]) -> Quantity:
    """Read on to the end of the hold, or as long again where that is past."""
    watched = read[-1][0] - read[0][0] if read else 0.0
    hold = _hold(request)
    return Quantity(hold - watched if watched < hold else watched, "minutes")


def _finding(
    request: EvacuationRequest,
    read: list[Reading],
    rise: Rise | None,
    curve: str,
    variant: str,
    wait: Quantity | None,
) -> Finding:
    values: dict[str, Value] = {
        "target": Quantity(_target(request), "vacuum"),
        "hold_time": Quantity(_hold(request), "minutes"),
    }
    if wait is not None:
        values["wait"] = wait
    if rise is not None:
        values["rate"] = rise_rate(rise)
    if curve == "moisture" and rise is not None:
        values["plateau"] = Quantity(rise.plateau, "vacuum")
        values["water"] = Quantity(boiling_temperature(rise.plateau), "temperature")
    return report(
        "evacuation.curve",
        STATES[curve],
        ("/samples",) if request.samples else (),
        measured=Quantity(read[-1][2], "vacuum") if read else None,
        limit=_bounds(request),
        values=values,
        variant=variant,
    )


def _bounds(request: EvacuationRequest) -> Bounds:
    if request.target_vacuum is None:
        return limit("procedures.target-vacuum").as_high()
    return Bounds("vacuum", "request", "target of the request", high=request.target_vacuum)


def _reached(request: EvacuationRequest, read: list[Reading]) -> tuple[Finding, ...]:
    """Whether the pump brought the circuit down to the target before it was valved off."""
    if not read:
        return ()
    _, index, pressure = read[0]
    return (
        report(
            "evacuation.target",
            State.PASS if pressure <= _target(request) else State.REVIEW,
            (f"/samples/{index}/vacuum",),
            measured=Quantity(pressure, "vacuum"),
            limit=_bounds(request),
        ),
    )


def _ice(read: list[Reading], curve: str) -> tuple[Finding, ...]:
    """Water left below its triple point is ice, and ice gives way slowly."""
    if curve != "moisture" or read[-1][2] >= TRIPLE_POINT_PRESSURE:
        return ()
    water = Quantity(boiling_temperature(read[-1][2]), "temperature")
    pointer = f"/samples/{read[-1][1]}/vacuum"
    return (report("evacuation.ice", State.REVIEW, (pointer,), values={"water": water}),)


def _missing(request: EvacuationRequest, rise: Rise | None) -> tuple[Missing, ...]:
    """Readings that are incomplete, the next reading where there are too few, and what would sharpen the call."""
    missing = [
        Missing(f"/samples/{index}/{name}", "missing.evacuation-reading")
        for index, sample in enumerate(request.samples)
        for name in ("minutes", "vacuum")
        if getattr(sample, name) is None
    ]
    if rise is None and not missing:
        missing.append(Missing(f"/samples/{len(request.samples)}", "missing.evacuation-reading"))
    if request.ambient_temperature is None:
        missing.append(Missing("/ambient_temperature", "missing.evacuation-ambient-temperature"))
    return tuple(missing)


def _assumptions(request: EvacuationRequest) -> tuple[Assumption, ...]:
    found = []
    if request.target_vacuum is None:
        oil = "assumption.evacuation-target"
        if request.equipment.oil in ("poe", "pve"):
            oil = "assumption.evacuation-target-thirsty-oil"
        found.append(Assumption(oil, "/target_vacuum", {"target": Quantity(_target(request), "vacuum")}))
    if request.hold_minutes is None:
        hold = {"hold_time": Quantity(_hold(request), "minutes")}
        found.append(Assumption("assumption.evacuation-hold", "/hold_minutes", hold))
    return tuple(found)
