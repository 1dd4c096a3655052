"""Readings that cannot all be true, and what usually lies behind: swapped hoses or clamps, bad contact, the sun.

A disagreement within the instruments' accuracy is for review; beyond it, it fails (and raises the hold on
contradicting readings). Each finding names the readings.
"""

from collections.abc import Iterator

from service.checks.plausible.bounds import check_bounds
from service.checks.plausible.unit_slips import check_units
from service.checks.refrigerant.before_port import below_outdoor, flashes_below_outdoor, is_below_outdoor
from service.checks.refrigerant.refrigerant_doubts import is_doubted
from service.checks.refrigerant.running_state import FIXED, RunningState
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain, propagate
from service.results.finding import Finding, State
from service.results.visit import Visit
from service.verdicts.bounded import evidence
from service.verdicts.measured import measured, measured_air, present
from service.verdicts.mode import judges_cooling
from service.verdicts.report import report

DIFFERENCE, PRESSURE = "temperature_difference", "pressure_difference"


def check_readings(visit: Visit, state: RunningState) -> tuple[Finding, ...]:
    """Every contradiction among the readings of gauges, lines and air."""
    cooling = judges_cooling(visit)
    groups = (
        _pressures(visit, cooling),
        _discharge(state),
        _humidities(visit),
        _zero(visit),
        check_units(visit, state),
        *(
            (
                _lines(visit),
                _saturated_lines(visit, state),
                _airs(visit),
                _outdoors(visit, state),
                check_bounds(visit, state),
            )
            if cooling
            else ()
        ),
    )
    return tuple(finding for group in groups for finding in group)


def _gap(
    code: str,
    high: Uncertain | None,
    low: Uncertain | None,
    kind: str = DIFFERENCE,
    *,
    nor_equal: bool = False,
    margin: float = 0.0,
) -> Iterator[Finding]:
    """`high` must not lie above `low` (nor_equal: nor on it): fails beyond both accuracies and a margin, else for
    review."""
    if high is None or low is None:
        return
    gap = high - low
    if gap.value > 0.0 or (nor_equal and gap.value == 0.0):
        state = State.FAIL if gap.value > gap.half_width + margin else State.REVIEW
        yield report(code, state, evidence(gap), measured=gap.quantity(kind))


def _pressures(visit: Visit, cooling: bool) -> Iterator[Finding]:
    """In heating the large service valve carries discharge gas: a gauge there stands no lower than the other."""
    suction = measured(visit, "/running/suction_pressure")
    liquid = measured(visit, "/running/liquid_pressure")
    discharge = measured(visit, "/running/discharge_pressure")
    if cooling:
        yield from _gap("readings.suction-above-liquid", suction, liquid, PRESSURE, nor_equal=True)
        yield from _gap("readings.suction-above-discharge", suction, discharge, PRESSURE)
    yield from _gap("readings.liquid-above-discharge", liquid, discharge, PRESSURE)


def _zero(visit: Visit) -> Iterator[Finding]:
    """A fixed restriction lets both sides level out at rest; two gauges that still differ do not read alike."""
    suction = measured(visit, "/start_up/suction_pressure_before")
    liquid = measured(visit, "/start_up/liquid_pressure_before")
    if visit.equipment.metering_device in FIXED and suction is not None and liquid is not None:
        gap = liquid - suction
        if abs(gap.value) > gap.half_width:
            yield report("readings.gauge-not-zeroed", State.REVIEW, evidence(gap), measured=gap.quantity(PRESSURE))


def _saturated_lines(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Superheat or subcooling below nothing. In a blend's glide a line may be wet without contradiction; where
    nothing condenses the liquid line carries vapor, which may be as warm as it likes."""
    yield from _beyond_glide(
        "readings.superheat-negative",
        state.superheat,
        state.suction_saturation_temperature,
        state.suction_bubble_temperature,
    )
    yield from _beyond_glide(
        "readings.subcooling-negative",
        state.subcooling,
        state.liquid_saturation_temperature,
        state.liquid_dew_temperature,
        vapor=_nothing_condenses(visit, state),
    )


def _nothing_condenses(visit: Visit, state: RunningState) -> bool:
    """Whether the high side saturates below the outdoor air, by the refrigerant that nothing doubts."""
    outdoor, dew = measured(visit, "/air/outdoor_dry_bulb"), state.liquid_dew_temperature
    if outdoor is None or dew is None or is_doubted(visit, state):
        return False
    gap = outdoor - dew
    return gap.value > gap.half_width


def _beyond_glide(
    code: str, margin: Uncertain | None, near: Uncertain | None, far: Uncertain | None, *, vapor: bool = False
) -> Iterator[Finding]:
    if margin is None or near is None or far is None or margin.value >= 0.0:
        return
    glide = abs(near.value - far.value)
    beyond = -margin.value - glide > margin.half_width
    wet = not beyond and -margin.value > margin.half_width
    yield report(
        code,
        State.FAIL if beyond and not vapor else State.REVIEW,
        evidence(margin),
        measured=margin.quantity(DIFFERENCE),
        variant="wet" if wet else "vapor" if beyond and vapor else "",
    )


def _lines(visit: Visit) -> Iterator[Finding]:
    read = {
        name: measured(visit, f"/running/{name}_temperature")
        for name in ("suction_line", "liquid_line", "drier_inlet", "drier_outlet")
    }
    yield from _gap("readings.drier-outlet-warmer", read["drier_outlet"], read["drier_inlet"])
    if visit.equipment.metering_location != "outdoor":
        yield from _suction_line(visit, read["suction_line"], read["liquid_line"])


def _suction_line(visit: Visit, suction: Uncertain | None, liquid: Uncertain | None) -> Iterator[Finding]:
    """Gas of a starved coil warms up to the air around it, and on a cool day the liquid is colder than that air.

    So the suction line contradicts the liquid line only where it is warmer than the air indoors and outdoors too.
    """
    if suction is None or liquid is None:
        return
    airs = (measured(visit, "/air/return_dry_bulb"), measured(visit, "/air/outdoor_dry_bulb"))
    warm = [air for air in airs if air is not None]
    if suction.value > liquid.value and all(suction.value > air.value for air in warm):
        warmest = max((liquid, *warm), key=lambda read: read.value)
        beyond = (suction - warmest).value > (suction - warmest).half_width
        gap = suction - liquid
        state = State.FAIL if beyond and gap.value > gap.half_width else State.REVIEW
        yield report("readings.suction-line-warmer", state, evidence(gap), measured=gap.quantity(DIFFERENCE))


def _discharge(state: RunningState) -> Iterator[Finding]:
    """Gas leaving a compressor cannot be colder than its own dew point; the line outside it loses heat, and liquid
    that comes back with the gas takes all the superheat there is.
    """
    if state.discharge_superheat is not None:
        below = Uncertain(0.0) - state.discharge_superheat
        margin = limit("bounds.discharge-margin").value
        yield from _gap("readings.discharge-below-saturation", below, Uncertain(0.0), margin=margin)


def _airs(visit: Visit) -> Iterator[Finding]:
    supply, back = measured(visit, "/air/supply_dry_bulb"), measured(visit, "/air/return_dry_bulb")
    yield from _gap("readings.supply-warmer", supply, back)
    leaving, entering = (
        measured(visit, "/air/condenser_leaving_dry_bulb"),
        measured(visit, "/air/outdoor_dry_bulb"),
    )
    if visit.running.outdoor_fan_on is not False:
        yield from _gap("readings.condenser-air-colder", entering, leaving)


def _outdoors(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Liquid leaves the condenser no colder than the air there; a thermometer in the sun says otherwise."""
    below = below_outdoor(visit)
    if below is None or below.value <= 0.0 or state.subcooling is None or flashes_below_outdoor(visit, state):
        return
    doubt = State.FAIL if is_below_outdoor(below) else State.REVIEW
    yield report("readings.liquid-below-outdoor", doubt, evidence(below), measured=below.quantity(DIFFERENCE))


def _humidities(visit: Visit) -> Iterator[Finding]:
    for side in ("return", "supply"):
        dry, wet = measured(visit, f"/air/{side}_dry_bulb"), measured(visit, f"/air/{side}_wet_bulb")
        yield from _gap("readings.wet-bulb-above-dry-bulb", wet, dry)
        if dry is not None and wet is not None and measured_air(visit, side) is None:
            yield report("readings.wet-bulb-too-low", State.FAIL, evidence(dry, wet))
        yield from _two_humidities(visit, side)


def _two_humidities(visit: Visit, side: str) -> Iterator[Finding]:
    """Wet bulb and relative humidity of one air must agree."""
    air, humidity = measured_air(visit, side), measured(visit, f"/air/{side}_relative_humidity")
    if air is None or humidity is None or not air.by_wet_bulb:
        return
    by_bulbs = propagate(lambda *at: air.state(*at).relative_humidity, air.dry_bulb, air.moisture)
    gap = by_bulbs - humidity
    if abs(gap.value) > gap.half_width:
        pointers = present(
            visit, f"/air/{side}_relative_humidity", f"/air/{side}_wet_bulb", f"/air/{side}_dry_bulb"
        )
        values = {"by_bulbs": by_bulbs.quantity("humidity"), "read": humidity.quantity("humidity")}
        yield report("readings.humidity-disagrees", State.FAIL, pointers, values=values)
