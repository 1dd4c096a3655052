"""Saturation of one refrigerant: pressure and temperature, bubble and dew kept apart.

The lines are kept as ln p over 1/T and as 1/T over ln p, because in these variables they are nearly
straight (Clausius-Clapeyron), so that few cubic pieces carry them.
"""

from __future__ import annotations

from math import exp, log

import numpy as np

from service.physics.cubic_table import CubicTable, FloatArray
from service.results.out_of_range import OutOfRange
from service.results.record import Record


class SaturationCurve(Record, eq=False):
    """The bubble and the dew line of one refrigerant.

    Every pressure is absolute [Pa], every temperature is in [K]. Bubble is where the first bubble
    forms in liquid (subcooling is counted from it), dew where the last drop goes (superheat is
    counted from it); for a pure fluid the two are one.

    The ranges are a rectangle in which all four questions have an answer, laid so that the pressures
    of every accepted temperature are accepted as well. Outside it, and for a value that is not a
    number, every method raises `OutOfRange`; there is no extrapolation.

    Attributes
    ----------
    lowest_temperature, highest_temperature : [K], accepted temperatures
    lowest_pressure, highest_pressure : [Pa] absolute, accepted pressures

    References
    ----------
    Tables built from CoolProp by `python -m service tables`, held against it in tests/physics.
    """

    lowest_temperature: float
    highest_temperature: float
    lowest_pressure: float
    highest_pressure: float
    bubble_by_pressure: CubicTable
    dew_by_pressure: CubicTable
    bubble_by_temperature: CubicTable
    dew_by_temperature: CubicTable

    def bubble_temperature(self, pressure: float) -> float:
        """Bubble temperature at a pressure.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [K]

        Raises
        ------
        OutOfRange
            outside the range
        """
        if not self.lowest_pressure <= pressure <= self.highest_pressure:
            raise self._pressure_refused(pressure)
        return 1.0 / self.bubble_by_pressure.value(log(pressure))

    def dew_temperature(self, pressure: float) -> float:
        """Dew temperature at a pressure.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [K]

        Raises
        ------
        OutOfRange
            outside the range
        """
        if not self.lowest_pressure <= pressure <= self.highest_pressure:
            raise self._pressure_refused(pressure)
        return 1.0 / self.dew_by_pressure.value(log(pressure))

    def temperatures(self, pressure: float) -> tuple[float, float]:
        """Bubble and dew temperature at a pressure.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [K], bubble and dew

        Raises
        ------
        OutOfRange
            outside the range
        """
        if not self.lowest_pressure <= pressure <= self.highest_pressure:
            raise self._pressure_refused(pressure)
        at = log(pressure)
        return 1.0 / self.bubble_by_pressure.value(at), 1.0 / self.dew_by_pressure.value(at)

    def bubble_pressure(self, temperature: float) -> float:
        """Bubble pressure at a temperature.

        Parameters
        ----------
        temperature : [K], lowest_temperature to highest_temperature

        Returns
        -------
        [Pa] absolute

        Raises
        ------
        OutOfRange
            outside the range
        """
        if not self.lowest_temperature <= temperature <= self.highest_temperature:
            raise self._temperature_refused(temperature)
        return exp(self.bubble_by_temperature.value(1.0 / temperature))

    def dew_pressure(self, temperature: float) -> float:
        """Dew pressure at a temperature.

        Parameters
        ----------
        temperature : [K], lowest_temperature to highest_temperature

        Returns
        -------
        [Pa] absolute

        Raises
        ------
        OutOfRange
            outside the range
        """
        if not self.lowest_temperature <= temperature <= self.highest_temperature:
            raise self._temperature_refused(temperature)
        return exp(self.dew_by_temperature.value(1.0 / temperature))

    def bubble_temperature_slope(self, pressure: float) -> float:
        """How fast the bubble temperature rises with pressure.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [K/Pa]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return self.bubble_temperature_and_slope(pressure)[1]

    def dew_temperature_slope(self, pressure: float) -> float:
        """How fast the dew temperature rises with pressure.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [K/Pa]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return self.dew_temperature_and_slope(pressure)[1]

    def bubble_temperature_and_slope(self, pressure: float) -> tuple[float, float]:
        """Bubble temperature and its slope at a pressure.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [K] and [K/Pa]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return self._temperature_and_slope(self.bubble_by_pressure, pressure)

    def dew_temperature_and_slope(self, pressure: float) -> tuple[float, float]:
        """Dew temperature and its slope at a pressure.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [K] and [K/Pa]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return self._temperature_and_slope(self.dew_by_pressure, pressure)

    def bubble_temperature_array(self, pressure: FloatArray) -> FloatArray:
        """Bubble temperatures at pressures.

        Parameters
        ----------
        pressure : [Pa] absolute, one dimension, lowest_pressure to highest_pressure

        Returns
        -------
        [K], of the same shape

        Raises
        ------
        OutOfRange
            one of them is outside the range
        """
        return self._temperatures(self.bubble_by_pressure, pressure)

    def dew_temperature_array(self, pressure: FloatArray) -> FloatArray:
        """Dew temperatures at pressures.

        Parameters
        ----------
        pressure : [Pa] absolute, one dimension, lowest_pressure to highest_pressure

        Returns
        -------
        [K], of the same shape

        Raises
        ------
        OutOfRange
            one of them is outside the range
        """
        return self._temperatures(self.dew_by_pressure, pressure)

    def bubble_pressure_array(self, temperature: FloatArray) -> FloatArray:
        """Bubble pressures at temperatures.

        Parameters
        ----------
        temperature : [K], one dimension, lowest_temperature to highest_temperature

        Returns
        -------
        [Pa] absolute, of the same shape

        Raises
        ------
        OutOfRange
            one of them is outside the range
        """
        return self._pressures(self.bubble_by_temperature, temperature)

    def dew_pressure_array(self, temperature: FloatArray) -> FloatArray:
        """Dew pressures at temperatures.

        Parameters
        ----------
        temperature : [K], one dimension, lowest_temperature to highest_temperature

        Returns
        -------
        [Pa] absolute, of the same shape

        Raises
        ------
        OutOfRange
            one of them is outside the range
        """
        return self._pressures(self.dew_by_temperature, temperature)

    def _temperature_and_slope(self, table: CubicTable, pressure: float) -> tuple[float, float]:
        if not self.lowest_pressure <= pressure <= self.highest_pressure:
            raise self._pressure_refused(pressure)
        reciprocal, slope = table.value_and_slope(log(pressure))
        temperature = 1.0 / reciprocal
        # y = 1/T and x = ln p give dT/dp = -T2 (dy/dx) / p.
        return temperature, -(temperature**2) * slope / pressure

    def _temperatures(self, table: CubicTable, pressure: FloatArray) -> FloatArray:
        accepted = (pressure >= self.lowest_pressure) & (pressure <= self.highest_pressure)
        if not accepted.all():
            raise self._pressure_refused(float(pressure[~accepted][0]))
        return 1.0 / table.values(np.log(pressure))

    def _pressures(self, table: CubicTable, temperature: FloatArray) -> FloatArray:
        accepted = (temperature >= self.lowest_temperature) & (temperature <= self.highest_temperature)
        if not accepted.all():
            raise self._temperature_refused(float(temperature[~accepted][0]))
        result: FloatArray = np.exp(table.values(1.0 / temperature))
        return result

    def _pressure_refused(self, value: float) -> OutOfRange:
        return OutOfRange("pressure", value, self.lowest_pressure, self.highest_pressure)

    def _temperature_refused(self, value: float) -> OutOfRange:
        return OutOfRange("temperature", value, self.lowest_temperature, self.highest_temperature)
