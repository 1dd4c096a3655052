"""Refrigerant properties as polynomials, quick enough for a population of systems.

They are fitted offline to a reference library (see ``service.workshop.build.population_fluids``). Dew and bubble
curves are kept apart so that blends with glide are treated rightly.
"""

from collections.abc import Mapping

import numpy as np

from service.physics.arrays import Array
from service.results.record import Record


class RefrigerantFit(Record):
    """Fitted properties of one refrigerant.

    Parameters: designation (ASHRAE 34); lowest, highest saturation temperature [K]; lowest and highest natural
    logarithm of saturation pressure [Pa]; greatest enthalpy above dew [J/kg] and entropy above dew [J/(kg K)] of
    the fit; lowest and highest liquid enthalpy [J/kg]; critical temperature [K] and pressure [Pa]; curves:
    coefficients by name.
    """

    designation: str
    lowest: float
    highest: float
    log_pressure: tuple[float, float]
    enthalpy_span: float
    entropy_span: float
    liquid_enthalpy: tuple[float, float]
    critical_temperature: float
    critical_pressure: float
    curves: Mapping[str, Array]

    def at_temperature(self, name: str, temperature: Array) -> Array:
        """One saturation property at a saturation temperature [K], clipped to the fitted range."""
        scaled = _scaled(temperature, self.lowest, self.highest)
        return _series(self.curves[name], scaled)

    def bubble_pressure(self, temperature: Array) -> Array:
        """Bubble pressure [Pa] at a temperature [K]."""
        return np.exp(self.at_temperature("log_bubble_pressure", temperature))

    def dew_pressure(self, temperature: Array) -> Array:
        """Dew pressure [Pa] at a temperature [K]."""
        return np.exp(self.at_temperature("log_dew_pressure", temperature))

    def bubble_temperature(self, pressure: Array) -> Array:
        """Bubble temperature [K] at a pressure [Pa]."""
        return self._at_pressure("bubble_temperature", pressure)

    def dew_temperature(self, pressure: Array) -> Array:
        """Dew temperature [K] at a pressure [Pa]."""
        return self._at_pressure("dew_temperature", pressure)

    def liquid_temperature(self, enthalpy: Array) -> Array:
        """Temperature [K] of liquid holding an enthalpy [J/kg], taken as on the bubble line."""
        scaled = _scaled(enthalpy, *self.liquid_enthalpy)
        return _series(self.curves["liquid_temperature"], scaled)

    def superheat(self, dew: Array, enthalpy_above: Array) -> Array:
        """Superheat [K] of vapour an enthalpy [J/kg] above its dew point [K]; 0 in the wet region."""
        above = np.maximum(enthalpy_above, 0.0)
        return above * self._surface("superheat_per_enthalpy", dew, above / self.enthalpy_span)

    def vapour_density(self, dew: Array, enthalpy_above: Array) -> Array:
        """Density [kg/m3] of vapour above its dew point, continued linearly in quality below it."""
        above = np.maximum(enthalpy_above, 0.0)
        thinning = above * self._surface("thinning_per_enthalpy", dew, above / self.enthalpy_span)
        quality = 1.0 + np.minimum(enthalpy_above, 0.0) / self.latent(dew)
        return self.at_temperature("vapour_density", dew) * np.exp(-thinning) / np.maximum(quality, 0.3)

    def vapour_entropy(self, dew: Array, enthalpy_above: Array) -> Array:
        """Entropy [J/(kg K)] of vapour above its dew point, continued at the dew temperature below it."""
        above = np.maximum(enthalpy_above, 0.0)
        rise = above * self._surface("entropy_per_enthalpy", dew, above / self.enthalpy_span)
        wet = np.minimum(enthalpy_above, 0.0) / dew
        return self.at_temperature("vapour_entropy", dew) + rise + wet

    def enthalpy_above_dew(self, dew: Array, entropy: Array) -> Array:
        """Enthalpy [J/kg] above dew at an entropy [J/(kg K)]: the isentropic end point."""
        rise = entropy - self.at_temperature("vapour_entropy", dew)
        above = np.maximum(rise, 0.0)
        return above * self._surface("enthalpy_per_entropy", dew, above / self.entropy_span) + dew * np.minimum(
            rise, 0.0
        )

    def latent(self, dew: Array) -> Array:
        """Enthalpy [J/kg] from the bubble to the dew line at the dew pressure of a temperature [K]."""
        bubble = self.bubble_temperature(self.dew_pressure(dew))
        return self.at_temperature("vapour_enthalpy", dew) - self.at_temperature("liquid_enthalpy", bubble)

    def _at_pressure(self, name: str, pressure: Array) -> Array:
        scaled = _scaled(np.log(pressure), *self.log_pressure)
        return _series(self.curves[name], scaled)

    def _surface(self, name: str, dew: Array, fraction: Array) -> Array:
        table = self.curves[name]
        first = _chebyshev_rows(_scaled(dew, self.lowest, self.highest), table.shape[0])
        second = _chebyshev_rows(_scaled(fraction, 0.0, 1.0), table.shape[1])
        return np.asarray(((table @ second) * first).sum(axis=0), dtype=np.float64)


def _series(coefficients: Array, scaled: Array) -> Array:
    """Power series by Horner's rule, in place: most of the time of a simulation is spent here."""
    total = np.full_like(scaled, coefficients[-1])
    for coefficient in coefficients[-2::-1]:
        total *= scaled
        total += coefficient
    return total


def _scaled(value: Array, low: float, high: float) -> Array:
    """Map [low, high] to [-1, 1], clipped: a series must never be read outside its range."""
    return np.clip((2.0 * value - low - high) / (high - low), -1.0, 1.0)


def _chebyshev_rows(scaled: Array, count: int) -> Array:
    rows = np.empty((count, scaled.size))
    rows[0] = 1.0
    rows[1] = scaled
    for order in range(2, count):
        rows[order] = 2.0 * scaled * rows[order - 1] - rows[order - 2]
    return rows
