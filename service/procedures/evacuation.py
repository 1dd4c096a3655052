"""Is the circuit dry and tight? Reads the rise of the vacuum with the pump valved off."""

from service.knowledge.limits import limit
from service.physics.vacuum_rise import Rise
from service.physics.water_vapour import TRIPLE_POINT_PRESSURE, boiling_temperature, vapour_pressure
from service.procedures.accuracy import vacuum_deviation
from service.procedures.evacuation_computed import SECONDS, evacuation_computed, rise_rate
from service.procedures.gauge_stop import Stop, gauge_stop
from service.procedures.rests_on import rests_on
from service.procedures.rise_shape import call, call_two, fitted, pair_rate
from service.procedures.series import Series, judged_stretch, series
from service.results.finding import Assumption, Bounds, Finding, Missing, State, Value
from service.results.procedures.evacuation import EvacuationRequest
from service.results.quantity import Quantity
from service.results.record import replace
from service.verdicts.report import Checked, report

STATES = {"tight": State.PASS, "leak": State.FAIL, "moisture": State.REVIEW, "undecided": State.UNDECIDED}
ROOM = 298.15  # K: water's pressure where no temperature was given is that of a warm room; project choice


def evacuation(request: EvacuationRequest) -> Checked:
    """Judge an evacuation by the readings after the pump was valved off."""
    whole = _readings(request)
    stop = gauge_stop(whole, request.instruments)
    stretch = judged_stretch(whole.kept(stop.below))
    rise = fitted(stretch)
    curve, variant = _called(request, stretch, rise, stop)
    if curve == "tight" and _hides_ice(request):
        curve, variant = "undecided", "too-cold"
    wait = _wait(request, whole) if curve == "undecided" and variant != "too-cold" else None
    finding = _finding(request, whole, stretch, rise, curve, variant, wait)
    findings = [finding, *_reached(request, whole), *_ice(whole, curve), *_seen(stretch)]
    computed = evacuation_computed(whole, rise, curve, request.volume, wait)
    if curve == "tight":
        computed = replace(computed, rests_on=rests_on(request, "evacuation", _pointers(stretch)))
    return Checked(tuple(findings), _missing(request, whole, stop), _assumptions(request), computed)


def _readings(request: EvacuationRequest) -> Series:
    """Complete readings in order of time."""
    return series(
        [
            (sample.minutes, index, sample.vacuum, vacuum_deviation(request.instruments, sample.vacuum))
            for index, sample in enumerate(request.samples)
            if sample.minutes is not None and sample.vacuum is not None
        ]
    )


def _called(request: EvacuationRequest, stretch: Series, rise: Rise | None, stop: Stop) -> tuple[str, str]:
    """The curve and, where undecided, why: a gauge at its stop and a moved valve come before the shape."""
    target, hold = _target(request), _hold(request)
    if rise is not None:
        curve, variant = call(rise, target, hold, _ceiling(request))
    else:
        curve, variant = call_two(stretch, target, hold)
    if stop.reached and curve != "leak":
        return "undecided", "at-stop" if stop.stated else "perhaps-at-stop"
    if curve == "undecided" and any(seen.what != "stray" for seen in stretch.seen):
        return "undecided", "moved"
    return curve, variant


def _target(request: EvacuationRequest) -> float:
    given = request.target_vacuum
    return limit("procedures.target-vacuum").value if given is None else given


def _hold(request: EvacuationRequest) -> float:
    given = request.hold_minutes
    return limit("procedures.vacuum-hold").value if given is None else given


def _hides_ice(request: EvacuationRequest) -> bool:
    """Whether ice at the coldest part gives off no more than the target: a hold there proves nothing dry."""
    cold = request.ambient_temperature
    return cold is not None and vapour_pressure(cold) <= _target(request)


def _ceiling(request: EvacuationRequest) -> float:
    """The highest pressure that water can bring the circuit to [Pa]."""
    return vapour_pressure(ROOM if request.ambient_temperature is None else request.ambient_temperature)


def _wait(request: EvacuationRequest, whole: Series) -> Quantity:
    """Read on to the end of the hold, or as long again where that is past."""
    watched = whole.duration
    hold = _hold(request)
    return Quantity(hold - watched if watched < hold else watched, "minutes")


def _finding(
    request: EvacuationRequest,
    whole: Series,
    stretch: Series,
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
    elif stretch.apart:
        values["rate"] = Quantity(pair_rate(stretch) / SECONDS, "vacuum_rate")
    if variant == "too-cold" and request.ambient_temperature is not None:
        values["cold"] = Quantity(request.ambient_temperature, "temperature")
        values["ice"] = Quantity(vapour_pressure(request.ambient_temperature), "vacuum")
    if curve == "tight" and rise is None:
        variant = "two-readings"
    if curve == "moisture" and rise is not None:
        values["plateau"] = Quantity(rise.plateau, "vacuum")
        values["water"] = Quantity(boiling_temperature(rise.plateau), "temperature")
    return report(
        "evacuation.curve",
        STATES[curve],
        ("/samples",) if request.samples else (),
        measured=Quantity(float(whole.values[-1]), "vacuum") if whole.places else None,
        limit=_bounds(request),
        values=values,
        variant=variant,
    )


def _bounds(request: EvacuationRequest) -> Bounds:
    if request.target_vacuum is None:
        return limit("procedures.target-vacuum").as_high()
    return Bounds("vacuum", "request", "target of the request", high=request.target_vacuum)


def _reached(request: EvacuationRequest, whole: Series) -> tuple[Finding, ...]:
    """Whether the pump brought the circuit down to the target before it was valved off."""
    if not whole.places:
        return ()
    pressure = float(whole.values[0])
    return (
        report(
            "evacuation.target",
            State.PASS if pressure <= _target(request) else State.REVIEW,
            (f"/samples/{whole.places[0]}/vacuum",),
            measured=Quantity(pressure, "vacuum"),
            limit=_bounds(request),
        ),
    )


def _ice(whole: Series, curve: str) -> tuple[Finding, ...]:
    """Water left below its triple point is ice, and ice gives way slowly."""
    if curve != "moisture" or whole.values[-1] >= TRIPLE_POINT_PRESSURE:
        return ()
    water = Quantity(boiling_temperature(float(whole.values[-1])), "temperature")
    return (report("evacuation.ice", State.REVIEW, _pointers(whole)[-1:], values={"water": water}),)


def _seen(stretch: Series) -> tuple[Finding, ...]:
    """Each step, gap or stray reading."""
    return tuple(
        report(
            "evacuation.series",
            State.REVIEW,
            tuple(f"/samples/{place}/vacuum" for place in seen.evidence),
            measured=Quantity(seen.after, "vacuum"),
            values={
                "before": Quantity(seen.before, "vacuum"),
                "start": Quantity(seen.start, "minutes"),
                "end": Quantity(seen.end, "minutes"),
            },
            variant=seen.what,
        )
        for seen in stretch.seen
    )


def _pointers(stretch: Series) -> tuple[str, ...]:
    """The first and the last reading."""
    return tuple(f"/samples/{stretch.places[end]}/vacuum" for end in (0, -1))


def _missing(request: EvacuationRequest, whole: Series, stop: Stop) -> tuple[Missing, ...]:
    """Readings that are incomplete, the next reading where there are too few, and what would sharpen the call."""
    missing = [
        Missing(f"/samples/{index}/{name}", "missing.evacuation-reading")
        for index, sample in enumerate(request.samples)
        for name in ("minutes", "vacuum")
        if getattr(sample, name) is None
    ]
    if not whole.apart and not missing:
        missing.append(Missing(f"/samples/{len(request.samples)}", "missing.evacuation-reading"))
    if request.ambient_temperature is None:
        missing.append(Missing("/ambient_temperature", "missing.evacuation-ambient-temperature"))
    if stop.reached and not stop.stated:
        missing.append(Missing("/instruments/vacuum_maximum", "missing.vacuum-maximum"))
    return tuple(missing)


def _assumptions(request: EvacuationRequest) -> tuple[Assumption, ...]:
    found = []
    if request.target_vacuum is None:
        oil = "assumption.evacuation-target"
        if request.equipment.oil in ("poe", "pve"):
            oil = "assumption.evacuation-target-hygroscopic-oil"
        found.append(Assumption(oil, "/target_vacuum", {"target": Quantity(_target(request), "vacuum")}))
    if request.hold_minutes is None:
        hold = {"hold_time": Quantity(_hold(request), "minutes")}
        found.append(Assumption("assumption.evacuation-hold", "/hold_minutes", hold))
    return tuple(found)
