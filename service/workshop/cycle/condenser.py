"""The outdoor coil: desuperheating, condensing and subcooling zones that all see outdoor air."""

import numpy as np

from service.physics.arrays import Array
from service.results.record import Record
from service.workshop.cycle.evaporator import transfer_units_of

SMALLEST_CONDENSING_SHARE = 0.02


class Outdoor(Record):
    """Outdoor coil: air temperature [K] and capacity rate [W/K], conductance [W/K], relative zone conductances."""

    temperature: Array
    air_rate: Array
    conductance: Array
    desuperheat: Array
    subcool: Array


class Hot(Record):
    """Refrigerant through the coil: temperatures [K] and the heats [W] of its outer zones."""

    discharge: Array
    dew: Array
    bubble: Array
    subcooling: Array
    desuperheat_heat: Array
    subcool_heat: Array


def zone_shares(coil: Outdoor, hot: Hot) -> tuple[Array, Array]:
    """Shares of the coil that desuperheat and that subcool."""
    floor = coil.temperature + 0.2
    over = np.maximum(hot.dew, floor) - coil.temperature
    drop = np.maximum(hot.discharge - hot.dew, 1e-6)
    rate = hot.desuperheat_heat / drop
    first = (
        np.log1p(np.maximum(hot.discharge - hot.dew, 0.0) / over) * rate / (coil.desuperheat * coil.conductance)
    )
    under = np.maximum(hot.bubble, floor) - coil.temperature
    subcooling = np.maximum(hot.subcooling, 1e-6)
    liquid_rate = hot.subcool_heat / subcooling
    last = transfer_units_of(hot.subcooling / under) * liquid_rate / (coil.subcool * coil.conductance)
    return np.asarray(first), np.asarray(np.where(hot.subcooling > 1e-6, last, 0.0))


def condensing_heat(coil: Outdoor, hot: Hot) -> Array:
    """Heat [W] given off by the condensing zone."""
    first, last = zone_shares(coil, hot)
    left = np.maximum(1.0 - first - last, SMALLEST_CONDENSING_SHARE)
    # A blend condenses over a band; its middle drives the heat flow.
    mean = 0.5 * (hot.dew + hot.bubble)
    reach = -np.expm1(-coil.conductance / coil.air_rate)
    return np.asarray(left * reach * coil.air_rate * (mean - coil.temperature))


def conductance_factor(flow: Array, share: Array, exponent: Array) -> Array:
    """Factor on the overall conductance when the air slows to ``flow`` of its design; ``share``: air-side part."""
    return np.asarray(1.0 / (1.0 - share + share * flow**-exponent))
