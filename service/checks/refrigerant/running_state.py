"""What follows from the running readings: saturation, superheat, subcooling, ratios, each with its uncertainty."""

from functools import cache

from service.checks.plausible.refusals import refrigerant_in
from service.knowledge.limits import limit
from service.knowledge.refrigerant import Refrigerant
from service.knowledge.target_tables import Blank, target_table
from service.physics.uncertainty import Uncertain, combine, propagate, read
from service.results.computed import RunningComputed
from service.results.declare import declared_members
from service.results.out_of_range import OutOfRange
from service.results.record import Record, fields
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.measured import measured, return_wet_bulb

FIXED = frozenset({"fixed_orifice", "capillary_tube"})
VALVES = frozenset({"thermostatic_expansion_valve", "electronic_expansion_valve"})
TABLE_ROUNDING = "table rounding"
DEW_LINE, BUBBLE_LINE = "dew line of the table", "bubble line of the table"


class RunningState(Record, eq=False):
    """Values in SI, None where a reading is missing; the first thirteen are members of the answer.

    refrigerant: what is in the unit; suction_bubble_temperature and liquid_dew_temperature: the other end of the
    glide; no_target: why there is no target superheat ("blank", "outside", "").
    """

    suction_saturation_temperature: Uncertain | None = None
    liquid_saturation_temperature: Uncertain | None = None
    superheat: Uncertain | None = None
    subcooling: Uncertain | None = None
    total_superheat: Uncertain | None = None
    target_superheat: Uncertain | None = None
    target_subcooling: Uncertain | None = None
    condensing_over_outdoor: Uncertain | None = None
    compression_ratio: Uncertain | None = None
    discharge_superheat: Uncertain | None = None
    drier_temperature_drop: Uncertain | None = None
    charge_deviation_percent: Uncertain | None = None
    evaporator_superheat: Uncertain | None = None
    refrigerant: Refrigerant | None = None
    suction_bubble_temperature: Uncertain | None = None
    liquid_dew_temperature: Uncertain | None = None
    no_target: str = ""


def running_values(visit: Visit) -> RunningComputed:
    """The computed members of the running readings."""
    return computed_of(running_state(visit))


def computed_of(state: RunningState) -> RunningComputed:
    """As members of an answer, each with its kind from the declaration."""
    read = ((name, kind, getattr(state, name)) for name, kind in _kinds())
    return RunningComputed(**{name: value.quantity(kind) for name, kind, value in read if value is not None})


@cache
def _kinds() -> tuple[tuple[str, str], ...]:
    """Names and kinds of the members that are computed here."""
    ours = {item.name for item in fields(RunningState)}
    return tuple(
        (name, str(member.choices[0])) for name, member in declared_members(RunningComputed) if name in ours
    )


@kept
def running_state(visit: Visit) -> RunningState:
    """Compute what the readings allow.

    Raises: Refusal for an unknown refrigerant, OutOfRange for a pressure that `refuse_impossible` would refuse.
    """
    refrigerant = refrigerant_in(visit)
    suction, suction_bubble = _saturation(visit, refrigerant, "suction_pressure", dew_first=True)
    liquid, liquid_dew = _saturation(visit, refrigerant, "liquid_pressure", dew_first=False)
    discharge_dew = liquid_dew
    if visit.running.discharge_pressure is not None:
        discharge_dew, _ = saturation_at(refrigerant, measured(visit, "/running/discharge_pressure"))
    superheat = _minus(_line(visit, "suction_line_temperature"), suction)
    subcooling = _minus(liquid, _line(visit, "liquid_line_temperature")) if _has_liquid_line(visit) else None
    at_compressor = _line(visit, "reversing_valve_suction_out_temperature")
    target, no_target = _target_superheat(visit)
    target_subcooling = _nameplate(visit.equipment.target_subcooling)
    return RunningState(
        suction_saturation_temperature=suction,
        liquid_saturation_temperature=liquid,
        superheat=superheat,
        subcooling=subcooling,
        total_superheat=_minus(at_compressor, suction) if at_compressor is not None else superheat,
        target_superheat=target,
        target_subcooling=target_subcooling,
        condensing_over_outdoor=_minus(liquid, measured(visit, "/air/outdoor_dry_bulb")),
        compression_ratio=_ratio(visit),
        discharge_superheat=_minus(_line(visit, "discharge_line_temperature"), discharge_dew),
        drier_temperature_drop=_minus(
            _line(visit, "drier_inlet_temperature"), _line(visit, "drier_outlet_temperature")
        ),
        charge_deviation_percent=_charge_deviation(superheat, subcooling, target, target_subcooling),
        evaporator_superheat=_minus(_line(visit, "evaporator_outlet_temperature"), suction),
        refrigerant=refrigerant,
        suction_bubble_temperature=suction_bubble,
        liquid_dew_temperature=liquid_dew,
        no_target=no_target,
    )


def _has_liquid_line(visit: Visit) -> bool:
    """With the metering device outdoors the small line carries a mixture: there is no subcooling to read."""
    return visit.equipment.metering_location != "outdoor"


def high_side_pointer(visit: Visit) -> str:
    """The reading that stands for the discharge pressure: at the discharge, else at the liquid valve."""
    if visit.running.discharge_pressure is not None:
        return "/running/discharge_pressure"
    return "/running/liquid_pressure"


def _line(visit: Visit, name: str) -> Uncertain | None:
    return measured(visit, f"/running/{name}")


def _minus(left: Uncertain | None, right: Uncertain | None) -> Uncertain | None:
    return left - right if left is not None and right is not None else None


def _nameplate(value: float | None) -> Uncertain | None:
    return Uncertain(value) if value is not None else None


def _saturation(
    visit: Visit, refrigerant: Refrigerant | None, name: str, *, dew_first: bool
) -> tuple[Uncertain | None, Uncertain | None]:
    """Saturation temperature that counts and the other end of the glide."""
    dew, bubble = saturation_at(refrigerant, measured(visit, f"/running/{name}"))
    return (dew, bubble) if dew_first else (bubble, dew)


def saturation_at(
    refrigerant: Refrigerant | None, pressure: Uncertain | None
) -> tuple[Uncertain | None, Uncertain | None]:
    """Dew and bubble temperature at a pressure, with the gauge's error through the curve's own slope.

    Where the saturation table itself has a published uncertainty, its two lines are off apart from one another.

    Parameters
    ----------
    pressure : [Pa] absolute

    Returns
    -------
    [K] and [K], dew and bubble; None where refrigerant or pressure is not known

    Raises
    ------
    OutOfRange
        off the curve

    References
    ----------
    The tables built from CoolProp; JCGM 100:2008 (GUM), clause 5.1.3.
    """
    if refrigerant is None or pressure is None:
        return None, None
    curve = refrigerant.saturation
    dew, dew_slope = curve.dew_temperature_and_slope(pressure.value)
    bubble, bubble_slope = curve.bubble_temperature_and_slope(pressure.value)
    lines = combine(dew, (dew_slope,), pressure), combine(bubble, (bubble_slope,), pressure)
    off = pressure.value * refrigerant.row.saturation_percent / 100.0
    if not off:
        return lines
    return lines[0] + read(DEW_LINE, 0.0, dew_slope * off), lines[1] + read(BUBBLE_LINE, 0.0, bubble_slope * off)


def _ratio(visit: Visit) -> Uncertain | None:
    high, low = measured(visit, high_side_pointer(visit)), measured(visit, "/running/suction_pressure")
    return high / low if high is not None and low is not None else None


def _target_superheat(visit: Visit) -> tuple[Uncertain | None, str]:
    """Target superheat [K]: the nameplate's, else the published table's (fixed orifice); why there is none."""
    if visit.equipment.target_superheat is not None:
        return Uncertain(visit.equipment.target_superheat), ""
    outdoor, wet_bulb = measured(visit, "/air/outdoor_dry_bulb"), return_wet_bulb(visit)
    if visit.equipment.metering_device not in FIXED or outdoor is None or wet_bulb is None:
        return None, ""
    try:
        target = propagate(target_table("target-superheat").target, outdoor, wet_bulb)
    except OutOfRange:
        return None, "outside"
    except Blank:
        return None, "blank"
    return target + read(TABLE_ROUNDING, 0.0, limit("charge.table-rounding").value), ""


def _charge_deviation(
    superheat: Uncertain | None,
    subcooling: Uncertain | None,
    target_superheat: Uncertain | None,
    target_subcooling: Uncertain | None,
) -> Uncertain | None:
    """Charge deviation [%] by superheat and subcooling (virtual refrigerant charge sensor, Li and Braun 2009)."""
    over_target = _minus(superheat, target_superheat)
    over_subcooling = _minus(subcooling, target_subcooling)
    if over_target is None or over_subcooling is None:
        return None
    excess = over_subcooling - over_target * limit("charge.deviation-superheat-share").value
    percent = excess * (100.0 / limit("charge.deviation-span").value)
    return percent + read("charge estimate", 0.0, limit("charge.deviation-accuracy").value)
