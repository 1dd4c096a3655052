"""The gauges as the unit starts: suction must fall, discharge must rise.

What it means when they do not depends on the current and the sound: a motor that stands still is an electrical or
a seized one, a three-phase scroll that turns backwards hardly pumps, and only a motor that turns the right way
and moves nothing has lost its pump (or has an open bypass).
"""

from collections.abc import Iterator

from service.checks.plausible.refusals import refuse_impossible
from service.knowledge.limits import limit
from service.physics.uncertainty import Uncertain
from service.results.computed import StartUpComputed
from service.results.finding import Bounds, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.asked import asked_of
from service.verdicts.bounded import evidence, settling
from service.verdicts.judge import above, below
from service.verdicts.measured import measured, present
from service.verdicts.mode import asks_heating, direction, judges_cooling
from service.verdicts.report import Checked, report

READINGS = ("suction_pressure_before", "suction_pressure_after", "liquid_pressure_before", "liquid_pressure_after")
ONE_SIDE: dict[tuple[int | None, int | None], str] = {(-1, 0): "suction-only", (0, 1): "discharge-only"}
NOT_TURNING = ("hum", "buzz", "click_off")
STANDING_STILL, TURNING, UNKNOWN, IDLE = "standing still", "turning", "unknown", "idle"


def check_start_up(visit: Visit) -> Checked:
    """Judge the start; computed is a StartUpComputed. Raises: Refusal for a reading of the closed list."""
    refuse_impossible(visit)
    suction, liquid = _change(visit, "suction"), _change(visit, "liquid")
    computed = StartUpComputed(_quantity(suction), _quantity(liquid))
    heard = (*_sound(visit), *_assist_trial(visit))
    if suction is None and liquid is None:
        return Checked(heard, computed=computed)
    findings = (*heard, *(tuple(_not_now(visit, suction, liquid)) or _judge(visit, suction, liquid)))
    missing = tuple(_missing(visit, suction, liquid))
    return Checked(findings, (*missing, *settling(findings)), computed=computed)


def _sound(visit: Visit) -> Iterator[Finding]:
    """A motor that hums, buzzes or clicks off at the start does not turn; what holds it, other tests tell."""
    if visit.start_up.sound in NOT_TURNING:
        yield report("start-up.sound", State.REVIEW, ("/start_up/sound",))
    elif visit.start_up.sound == "normal":
        yield report("start-up.sound", State.PASS, ("/start_up/sound",))


def _assist_trial(visit: Visit) -> Iterator[Finding]:
    """A compressor that a start kit frees was held by its start circuit; one that stays locked is seized."""
    if visit.start_up.assist_trial is not None:
        state = State.PASS if visit.start_up.assist_trial == "started" else State.FAIL
        yield report("start-up.assist-trial", state, ("/start_up/assist_trial",))


def _not_now(visit: Visit, suction: Uncertain | None, liquid: Uncertain | None) -> Iterator[Finding]:
    """Heating, too soon after the start, or an inverter still coming up to speed: nothing can be said."""
    pumps = (_moved(suction), _moved(liquid)) == (-1, 1)
    if not judges_cooling(visit):
        pointers = ("/equipment/mode",) if asks_heating(visit) else direction(visit).evidence
        yield report("start-up.pumps", State.NOT_APPLICABLE, pointers)
    elif _too_soon(visit):
        yield report("start-up.pumps", State.UNDECIDED, ("/start_up/seconds_after", *evidence(suction, liquid)))
    elif visit.equipment.compressor.drive == "inverter" and not pumps:
        pointers = (*evidence(suction, liquid), "/equipment/compressor/drive")
        yield report("start-up.pumps", State.UNDECIDED, pointers, variant="inverter")


def _judge(visit: Visit, suction: Uncertain | None, liquid: Uncertain | None) -> tuple[Finding, ...]:
    reversed_gauges = (_moved(suction), _moved(liquid)) == (1, -1)
    sides = () if reversed_gauges else _sides(suction, liquid)
    return (*sides, *_together(visit, suction, liquid))


def _quantity(value: Uncertain | None) -> Quantity | None:
    return value.quantity("pressure_difference") if value is not None else None


def _change(visit: Visit, side: str) -> Uncertain | None:
    """After less before [Pa]. One gauge read twice: its calibration error cancels, its repeatability does not."""
    before = measured(visit, f"/start_up/{side}_pressure_before")
    after = measured(visit, f"/start_up/{side}_pressure_after")
    if before is None or after is None:
        return None
    own = limit("instruments.gauge-repeatability").value
    return _own_error(after, own) - _own_error(before, own)


def _own_error(reading: Uncertain, share: float) -> Uncertain:
    return Uncertain(reading.value, {source: width * share for source, width in reading.shares.items()})


def _too_soon(visit: Visit) -> bool:
    seconds = visit.start_up.seconds_after
    return seconds is not None and below(seconds, limit("start-up.least-seconds").value)


def _least(change: Uncertain) -> float:
    """What counts as movement [Pa]: more than the limit and more than the gauge can tell."""
    return max(limit("start-up.least-change").value, change.half_width)


def _moved(change: Uncertain | None) -> int | None:
    """+1 rose, -1 fell, 0 stayed, None not read."""
    if change is None:
        return None
    if above(change.value, _least(change)):
        return 1
    return -1 if below(change.value, -_least(change)) else 0


def _sides(suction: Uncertain | None, liquid: Uncertain | None) -> Iterator[Finding]:
    for code, change, sign in (("start-up.suction-falls", suction, -1), ("start-up.discharge-rises", liquid, 1)):
        if change is not None:
            least = _least(change)
            source = limit("start-up.least-change")
            bounds: Bounds = source.bounds(high=-least) if sign < 0 else source.bounds(low=least)
            yield report(
                code,
                State.PASS if _moved(change) == sign else State.FAIL,
                evidence(change),
                measured=change.quantity("pressure_difference"),
                limit=bounds,
            )


def _together(visit: Visit, suction: Uncertain | None, liquid: Uncertain | None) -> Iterator[Finding]:
    moved = (_moved(suction), _moved(liquid))
    pointers = evidence(suction, liquid)
    if moved == (-1, 1):
        yield report("start-up.pumps", State.PASS, pointers)
    elif moved == (1, -1):
        yield report("readings.gauges-reversed", State.FAIL, pointers)
    elif moved == (0, 0):
        yield from _nothing_moved(visit, pointers)
    elif None not in moved:
        yield report("start-up.pumps", State.REVIEW, pointers, variant=ONE_SIDE.get(moved, "wrong-way"))


def _nothing_moved(visit: Visit, pointers: tuple[str, ...]) -> Iterator[Finding]:
    """Neither gauge moved: why depends on whether the motor turns, and which way."""
    asked = asked_of(visit)
    if asked.outdoor_may_stand:
        yield report("start-up.pumps", State.UNDECIDED, (*pointers, *asked.outdoor_by), variant="not-asked")
        return
    motor = motor_state(visit)
    also = present(
        visit,
        "/electrical/currents/compressor_amps",
        "/electrical/currents/compressor_starting_amps",
        "/start_up/sound",
    )
    found = pointers + also
    if motor == STANDING_STILL:
        yield report("start-up.rotor-locked", State.FAIL, found)
    elif motor == IDLE:
        yield report("start-up.motor-idle", State.FAIL, found)
    elif _may_turn_backwards(visit):
        yield report("start-up.rotation", State.REVIEW, found)
    elif motor == TURNING:
        yield report("start-up.not-pumping", State.FAIL, found)
    else:
        yield report("start-up.not-pumping", State.UNDECIDED, found)


def _may_turn_backwards(visit: Visit) -> bool:
    """A three-phase scroll or rotary compressor pumps one way only; unknown types count as such."""
    compressor = visit.equipment.compressor
    three_phase = compressor.drive == "three_phase" or (compressor.drive is None and visit.equipment.phases == 3)
    return three_phase and compressor.type != "reciprocating"


def motor_state(visit: Visit) -> str:
    """Whether the compressor motor turns, by current and sound."""
    currents, compressor = visit.electrical.currents, visit.equipment.compressor
    amps, locked = currents.compressor_amps, compressor.locked_rotor_amps
    drawn = max(amps or 0.0, _lasting_starting_amps(visit))
    if locked is not None and drawn >= locked * limit("start-up.locked-share").value / 100.0:
        return STANDING_STILL
    if visit.start_up.sound in NOT_TURNING:
        return STANDING_STILL
    rated = compressor.rated_load_amps
    if amps is None or rated is None:
        return UNKNOWN
    return IDLE if amps < rated * limit("start-up.idle-share").value / 100.0 else TURNING


def _lasting_starting_amps(visit: Visit) -> float:
    """Every motor draws its locked-rotor current for an instant; only one that stays tells of a locked rotor."""
    currents = visit.electrical.currents
    lasted = currents.seconds_at_starting_amps or 0.0
    stays = lasted >= limit("start-up.locked-seconds").value
    return (currents.compressor_starting_amps or 0.0) if stays else 0.0


def _missing(visit: Visit, suction: Uncertain | None, liquid: Uncertain | None) -> Iterator[Missing]:
    for name in READINGS:
        if getattr(visit.start_up, name) is None:
            yield Missing(f"/start_up/{name}", "start-up.both-gauges")
    if (_moved(suction), _moved(liquid)) == (0, 0) and motor_state(visit) == UNKNOWN:
        yield Missing("/electrical/currents/compressor_amps", "start-up.compressor-amps")
