"""What an evacuation's answer computes: rates, plateau, water's temperature."""

from service.physics.vacuum_rise import Rise
from service.physics.water_vapour import TRIPLE_POINT_PRESSURE, boiling_temperature
from service.procedures.series import Series
from service.results.out_of_range import OutOfRange
from service.results.procedures.evacuation import EvacuationComputed
from service.results.quantity import Quantity
from service.results.record import replace

SECONDS = 60.0


def rise_rate(rise: Rise) -> Quantity:
    """Mean rise per second, with its 95 % half-width.

    Returns
    -------
    [Pa/s]

    References
    ----------
    Slope of the least squares line; JCGM 100:2008 (GUM) for its width.
    """
    return Quantity(rise.rate / SECONDS, "vacuum_rate", rise.rate_uncertainty / SECONDS)


def evacuation_computed(
    whole: Series, rise: Rise | None, curve: str, volume: float | None, wait: Quantity | None
) -> EvacuationComputed:
    """The computed members; each only where the readings bear it."""
    water, state = _water(whole)
    known = EvacuationComputed(
        curve=curve, water_boiling_temperature=water, water_state=state, minutes_to_decide=wait
    )
    if rise is None:
        return known
    if curve == "moisture":
        known = replace(known, plateau=_plateau(rise))
    if curve == "leak" and volume is not None:
        known = replace(known, leak_rate=_leak(rise_rate(rise), volume))
    return replace(known, rise_rate=rise_rate(rise))


def _plateau(rise: Rise) -> Quantity:
    half_width = (rise.plateau_reported.high - rise.plateau_reported.low) / 2.0
    return Quantity(rise.plateau, "vacuum", half_width)


def _leak(rate: Quantity, volume: float) -> Quantity:
    """Throughput into a known volume: pressure rise times volume."""
    width = rate.uncertainty
    return Quantity(rate.value * volume, "gas_flow", None if width is None else width * volume)


def _water(whole: Series) -> tuple[Quantity | None, str | None]:
    """Where water boils or ice sublimes at the last reading; nothing at a reading of zero."""
    try:
        temperature = boiling_temperature(float(whole.values[-1])) if whole.places else None
    except OutOfRange:
        temperature = None
    if temperature is None:
        return None, None
    return Quantity(temperature, "temperature"), "ice" if whole.values[-1] < TRIPLE_POINT_PRESSURE else "liquid"
