"""Is it the refrigerant it is said to be? Nameplate, oil, topping up, and whether the readings fit another one."""

from collections.abc import Iterator

from service.checks.refrigerant.running_state import RunningState
from service.knowledge.limits import limit
from service.knowledge.refrigerant import Refrigerant
from service.knowledge.refrigerants import find
from service.results.finding import Finding, State
from service.results.out_of_range import OutOfRange
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.measured import measured, present
from service.verdicts.mode import judges_cooling
from service.verdicts.report import report

# What is met in comfort cooling, in the order in which it is met; common practice, no source.
COMMON = ("R-410A", "R-22", "R-32", "R-454B", "R-407C", "R-134a", "R-404A")
# Findings that doubt the refrigerant itself.
DOUBTED = {"refrigerant.fits-another": (State.REVIEW,), "refrigerant.retrofit": (State.UNDECIDED,)}
PRESSURES = ("/running/suction_pressure", "/running/liquid_pressure", "/running/discharge_pressure")
RUNNING = ("suction_pressure", "liquid_pressure", "suction_line_temperature", "liquid_line_temperature")


@kept
def check_refrigerant(visit: Visit, state: RunningState) -> tuple[Finding, ...]:
    """Doubts about what is in the unit."""
    if state.refrigerant is None:
        return ()
    return (
        *_nameplate(visit, state.refrigerant),
        *_oil(visit, state.refrigerant),
        *_topped_up(visit, state.refrigerant),
        *_fits_another(visit, state.refrigerant),
    )


def is_doubted(visit: Visit, state: RunningState) -> bool:
    """Whether the running pressures may be another refrigerant's: their saturation temperatures tell nothing."""
    doubts = (item for item in check_refrigerant(visit, state) if item.state in DOUBTED.get(item.code, ()))
    return any(not set(PRESSURES).isdisjoint(item.evidence) for item in doubts)


def _nameplate(visit: Visit, refrigerant: Refrigerant) -> Iterator[Finding]:
    """A retrofit: nameplate targets and charge were made for another refrigerant.

    No unit is converted from a refrigerant without ozone depletion back to one with it, nor one made for a
    flammable refrigerant to one that does not burn, so one of the two names is a slip; and no flammable one goes
    into a unit that was not made for it.
    """
    if visit.equipment.refrigerant is None or visit.equipment.nameplate_refrigerant is None:
        return
    nameplate = find(visit.equipment.nameplate_refrigerant)
    if nameplate.designation == refrigerant.designation:
        return
    pointers = ("/equipment/refrigerant", "/equipment/nameplate_refrigerant")
    values = {"stated": refrigerant.designation, "nameplate": nameplate.designation}
    back_to_ozone = refrigerant.ozone_depleting and not nameplate.ozone_depleting
    if back_to_ozone or (nameplate.is_flammable and not refrigerant.is_flammable):
        judged = (*pointers, *present(visit, *PRESSURES))
        yield report("refrigerant.retrofit", State.UNDECIDED, judged, values=values, variant="backwards")
    else:
        yield report("refrigerant.retrofit", State.REVIEW, pointers, values=values)
    if refrigerant.is_flammable and not nameplate.is_flammable:
        yield report("refrigerant.flammable-conversion", State.FAIL, pointers, values=values)


def _oil(visit: Visit, refrigerant: Refrigerant) -> Iterator[Finding]:
    """Oil that does not mix with the refrigerant does not come back to the compressor."""
    oil = visit.equipment.oil
    if oil is not None:
        fits = oil in refrigerant.oils
        pointers = ("/equipment/oil", *present(visit, "/equipment/refrigerant"))
        values = {"oil": oil, "refrigerant": refrigerant.designation}
        yield report("refrigerant.oil", State.PASS if fits else State.REVIEW, pointers, values=values)


def _topped_up(visit: Visit, refrigerant: Refrigerant) -> Iterator[Finding]:
    """A blend with glide that leaked and was topped up may no longer have its composition."""
    glide = refrigerant.glide_at_dew_5_c
    if visit.complaint.charge_added_recently and glide > limit("charge.glide-worth-a-word").value:
        pointers = ("/complaint/charge_added_recently", *present(visit, "/equipment/refrigerant"))
        yield report(
            "refrigerant.topped-up", State.REVIEW, pointers, values={"refrigerant": refrigerant.designation}
        )


def _fits_another(visit: Visit, refrigerant: Refrigerant) -> Iterator[Finding]:
    """The readings lie far off the stated refrigerant's curve and on another common one's."""
    for misfit, pointers in (
        (_standing_misfit, _standing_pointers(visit)),
        (_running_misfit, _running_pointers(visit)),
    ):
        off = misfit(visit, refrigerant)
        if off is None or off < limit("charge.fit-better-by").value:
            continue
        fitting = [name for name in COMMON if misfit(visit, find(name)) == 0.0]
        if fitting:
            values = {"stated": refrigerant.designation, "others": ", ".join(fitting[:3])}
            yield report("refrigerant.fits-another", State.REVIEW, pointers, values=values)
            return


def _standing_pointers(visit: Visit) -> tuple[str, ...]:
    return present(visit, "/standing/pressure", "/standing/ambient_temperature", "/standing/indoor_temperature")


def _running_pointers(visit: Visit) -> tuple[str, ...]:
    return present(visit, *(f"/running/{name}" for name in RUNNING), "/air/outdoor_dry_bulb")


def _standing_misfit(visit: Visit, refrigerant: Refrigerant) -> float | None:
    """How far [K] the standing pressure's saturation lies outside the two temperatures; 0 within the accuracy."""
    pressure = measured(visit, "/standing/pressure")
    ambient, indoor = visit.standing.ambient_temperature, visit.standing.indoor_temperature
    off = visit.standing.minutes_off
    settled = off is None or off >= limit("standing.least-minutes-off").value
    if pressure is None or ambient is None or indoor is None or not settled:
        return None
    curve = refrigerant.saturation
    try:
        dew, bubble = curve.dew_temperature(pressure.value), curve.bubble_temperature(pressure.value)
        allowed = _allowed(visit) + curve.dew_temperature_slope(pressure.value) * pressure.half_width
    except OutOfRange:
        return None
    low, high = min(ambient, indoor) - allowed, max(ambient, indoor) + allowed
    return max(low - dew, bubble - high, 0.0)


def _allowed(visit: Visit) -> float:
    ambient = measured(visit, "/standing/ambient_temperature") or measured(visit, "/air/outdoor_dry_bulb")
    return ambient.half_width if ambient is not None else 0.0


def _running_misfit(visit: Visit, refrigerant: Refrigerant) -> float | None:
    """How far [K] superheat, subcooling and condensing over outdoor lie outside what a running unit can have."""
    read = {name: measured(visit, f"/running/{name}") for name in RUNNING}
    outdoor = visit.air.outdoor_dry_bulb
    if outdoor is None or not judges_cooling(visit) or visit.equipment.metering_location == "outdoor":
        return None
    values = [value for value in read.values() if value is not None]
    if len(values) < len(RUNNING):
        return None
    suction, liquid, suction_line, liquid_line = values
    try:
        dew = refrigerant.saturation.dew_temperature(suction.value)
        bubble = refrigerant.saturation.bubble_temperature(liquid.value)
    except OutOfRange:
        return None
    return _outside(suction_line.value - dew, bubble - liquid_line.value, bubble - outdoor, _allowed(visit))


def _outside(superheat: float, subcooling: float, approach: float, allowed: float) -> float:
    below = [-value - 2.0 * allowed for value in (superheat, subcooling, approach)]
    over = (
        superheat - limit("refrigerant.most-superheat").value,
        subcooling - limit("refrigerant.most-subcooling").value,
        approach - limit("refrigerant.most-condensing").value,
    )
    return max(*below, *over, 0.0)
