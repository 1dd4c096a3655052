"""The indoor coil: a two-phase and a superheat zone, wet or dry by the enthalpy-effectiveness method."""

import numpy as np

from service.physics.arrays import Array
from service.physics.cycle import air
from service.results.record import Record

LARGEST_EFFECTIVENESS = 0.97
LARGEST_SUPERHEAT_SHARE = 0.95


class CoilAir(Record):
    """Air entering the coil: dry bulb [K], humidity ratio, enthalpy [J/kg], pressure [Pa], flow [kg/s]."""

    dry_bulb: Array
    ratio: Array
    enthalpy: Array
    pressure: Array
    flow: Array


class Coil(Record):
    """Air-side transfer units, air over refrigerant-side conductance, and the superheat zone's relative one."""

    transfer_units: Array
    resistance_ratio: Array
    superheat_conductance: Array


def superheat_share(coil: Coil, entering: CoilAir, dew: Array, superheat: Array, heat: Array) -> Array:
    """Share of the coil [0..0.95] that superheats the gas by ``superheat`` [K] with ``heat`` [W]."""
    driving = np.maximum(entering.dry_bulb - dew, 0.5)
    effectiveness = superheat / driving
    units = transfer_units_of(effectiveness)
    capacity_rate = heat / np.maximum(superheat, 1e-6)
    conductance = coil.superheat_conductance * coil.transfer_units * entering.flow * air.SPECIFIC_HEAT
    share = units * capacity_rate / conductance * (1.0 + coil.resistance_ratio)
    return np.asarray(np.minimum(np.where(superheat > 1e-6, share, 0.0), LARGEST_SUPERHEAT_SHARE))


def transfer_units_of(effectiveness: Array) -> Array:
    """-ln(1 - e), continued linearly above e = 0.97 so that a solver never meets a pole."""
    inner = -np.log1p(-np.minimum(effectiveness, LARGEST_EFFECTIVENESS))
    beyond = np.maximum(effectiveness - LARGEST_EFFECTIVENESS, 0.0) / (1.0 - LARGEST_EFFECTIVENESS)
    return np.asarray(inner + beyond)


def two_phase_heat(coil: Coil, entering: CoilAir, surface: Array) -> Array:
    """Heat [W] a whole coil at one refrigerant temperature [K] takes from the air.

    The larger of the all-dry and the all-wet result. Source: Braun (1988) enthalpy-effectiveness method, as
    documented in open heat-pump models.
    """
    units, ratio = coil.transfer_units, coil.resistance_ratio
    dry_driving = entering.dry_bulb - surface
    dry = -np.expm1(-units / (1.0 + ratio)) * air.SPECIFIC_HEAT * dry_driving
    saturated = air.saturation_enthalpy(surface, entering.pressure)
    slope = (air.saturation_enthalpy(surface + 3.0, entering.pressure) - saturated) / 3.0
    wet = -np.expm1(-units / (1.0 + ratio * slope / air.SPECIFIC_HEAT)) * (entering.enthalpy - saturated)
    return np.asarray(entering.flow * np.maximum(dry, wet))


def leaving_air(coil: Coil, entering: CoilAir, heat: Array) -> tuple[Array, Array]:
    """Dry bulb [K] and humidity ratio of the air leaving, by an effective coil surface."""
    per_mass = heat / entering.flow
    reach = -np.expm1(-coil.transfer_units)
    surface = air.saturation_temperature(entering.enthalpy - per_mass / reach, entering.pressure)
    dry_bulb = surface + (entering.dry_bulb - surface) * (1.0 - reach)
    moist_heat = air.SPECIFIC_HEAT + entering.ratio * air.VAPOUR_SPECIFIC_HEAT
    dry_bulb = np.maximum(dry_bulb, entering.dry_bulb - per_mass / moist_heat)
    celsius = dry_bulb - air.ZERO_CELSIUS
    left = entering.enthalpy - per_mass
    ratio = (left - air.SPECIFIC_HEAT * celsius) / (air.LATENT_AT_ZERO + air.VAPOUR_SPECIFIC_HEAT * celsius)
    return np.asarray(dry_bulb), np.asarray(np.minimum(ratio, entering.ratio))
