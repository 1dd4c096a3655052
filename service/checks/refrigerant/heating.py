"""A heat pump in heating: what head pressure, outdoor coil and supply air say when the indoor coil condenses.

Source: physics of the two coils; a manufacturer's service manual lists in its heating chart a dirty filter and
restricted indoor air for high head, a frosted outdoor coil and low charge for low suction. The bounds are common
practice, no source. The charge is not judged here: it is weighed in, or judged by a chart made for heating.
"""

from collections.abc import Iterator

from service.checks.refrigerant.charge_conditions import part_load
from service.checks.refrigerant.running_state import RunningState
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain
from service.results.finding import Finding, State
from service.results.visit import Visit
from service.verdicts.bounded import judged
from service.verdicts.judge import above, below
from service.verdicts.measured import measured
from service.verdicts.mode import LIQUID, SUCTION, asks_heating, direction, has_hot_line, pressures_are_level
from service.verdicts.report import report

DEFROST = "/electrical/control/defrost_works"
RISE, LINE = "/air/supply_dry_bulb", "/running/suction_line_temperature"


def check_heating(visit: Visit, state: RunningState) -> tuple[Finding, ...]:
    """Findings of a unit that is asked to heat and does; none of one in a defrost, which tells of neither."""
    if not asks_heating(visit):
        return ()
    defrost = tuple(_defrost(visit))
    if direction(visit).state in (State.FAIL, State.REVIEW, State.UNDECIDED):
        return defrost
    port = tuple(_suction_port(visit))
    coil = () if port else (*_cold_coil(visit, state), *_warm_coil(visit, state))
    return (*defrost, *port, *_head(visit, state), *coil, *_rise(visit))


def _suction_port(visit: Visit) -> Iterator[Finding]:
    """In heating the large service valve carries discharge gas: a gauge there tells no suction."""
    if pressures_are_level(visit):
        variant = "vapor-valve" if has_hot_line(visit) else ""
        yield report("heating.suction-port", State.UNDECIDED, (SUCTION, LIQUID), variant=variant)


def _defrost(visit: Visit) -> Iterator[Finding]:
    works = visit.electrical.control.defrost_works
    if works is not None:
        yield report("heating.defrost", State.PASS if works else State.FAIL, (DEFROST,))


def _is_steady(visit: Visit) -> bool:
    """Run long enough, with the outdoor fan on: in a defrost it stands."""
    minutes = visit.running.minutes_running
    settled = minutes is None or not below(minutes, limit("charge.least-run-time").value)
    return settled and visit.running.outdoor_fan_on is not False


def _head(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Condensing over the air of the house: the indoor coil gets low airflow, or holds too much."""
    over = _minus(state.liquid_saturation_temperature, measured(visit, "/air/return_dry_bulb"))
    if over is not None:
        most = limit("heating.condensing-over-return").as_high()
        yield judged("heating.head-high", over, most, worst=State.REVIEW, decided=_is_steady(visit))


def _below_outdoor(visit: Visit, state: RunningState) -> Uncertain | None:
    """Evaporating below the outdoor air [K]."""
    return _minus(measured(visit, "/air/outdoor_dry_bulb"), state.suction_saturation_temperature)


def _cold_coil(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """Far below the outdoor air the coil gets low airflow (ordinary superheat) or is starved (much of it)."""
    under = _below_outdoor(visit, state)
    if under is None:
        return
    most = limit("heating.evaporating-below-outdoor")
    variant = _fed(state) if above(under.value, most.value) and _is_steady(visit) else ""
    also = (LINE,) if variant else ()
    yield judged(
        "heating.outdoor-coil-cold",
        under,
        most.as_high(),
        worst=State.REVIEW,
        decided=_is_steady(visit),
        also=also,
        variant=variant,
    )


def _fed(state: RunningState) -> str:
    """`starved` with much superheat, `air` with little, nothing where it was not read."""
    if state.superheat is None:
        return ""
    return "starved" if above(state.superheat.value, limit("charge.valve-superheat-highest").value) else "air"


def _warm_coil(visit: Visit, state: RunningState) -> Iterator[Finding]:
    """A coil about as warm as the air takes no heat: gas goes round through the valve or the compressor."""
    under = _below_outdoor(visit, state)
    if under is not None:
        least = limit("heating.evaporating-least-below").as_low()
        decided = _is_steady(visit) and not part_load(visit)
        yield judged("heating.outdoor-coil-warm", under, least, worst=State.REVIEW, decided=decided)


def _rise(visit: Visit) -> Iterator[Finding]:
    """Supply over return air: little is little heat, very much is heat strips or little air."""
    rise = _minus(measured(visit, RISE), measured(visit, "/air/return_dry_bulb"))
    if rise is None:
        return
    decided = _is_steady(visit) and not part_load(visit)
    low, high = limit("heating.rise-lowest").as_low(), limit("heating.rise-highest").as_high()
    yield judged("heating.rise-low", rise, low, worst=State.REVIEW, decided=decided)
    yield judged("heating.rise-high", rise, high, worst=State.REVIEW, decided=decided)


def _minus(left: Uncertain | None, right: Uncertain | None) -> Uncertain | None:
    return left - right if left is not None and right is not None else None
