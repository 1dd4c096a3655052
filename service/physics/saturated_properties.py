"""Properties of saturated liquid and saturated vapour of one refrigerant."""

from __future__ import annotations

from math import exp, sqrt

from service.physics.cubic_table import CubicTable
from service.results.out_of_range import OutOfRange
from service.results.record import Record


class SaturatedProperties(Record, eq=False):
    """Liquid on the bubble line by temperature [K], vapour on the dew line by absolute pressure [Pa].

    Liquid well below its saturation pressure's temperature hardly differs from saturated liquid of the
    same temperature; so the liquid methods serve subcooled liquid too. Enthalpy and entropy count from
    200 kJ/kg and 1 kJ/(kg K) for saturated liquid at 0 C (reference state of the International Institute
    of Refrigeration); only differences within one refrigerant mean anything.

    Outside its range every method raises `OutOfRange`.

    Attributes
    ----------
    lowest_temperature, highest_temperature : [K], range of the liquid methods
    lowest_pressure, highest_pressure : [Pa] absolute, range of the vapour methods

    References
    ----------
    Tables built from CoolProp by `python -m service tables`, held against it in tests/physics.
    """

    lowest_temperature: float
    highest_temperature: float
    lowest_pressure: float
    highest_pressure: float
    liquid_density_table: CubicTable
    liquid_enthalpy_table: CubicTable
    liquid_entropy_table: CubicTable
    liquid_reciprocal_specific_heat_table: CubicTable
    vapour_log_density_table: CubicTable
    vapour_enthalpy_table: CubicTable
    vapour_entropy_table: CubicTable
    vapour_reciprocal_specific_heat_table: CubicTable

    def liquid_density(self, temperature: float) -> float:
        """Density of saturated liquid.

        Parameters
        ----------
        temperature : [K], lowest_temperature to highest_temperature

        Returns
        -------
        [kg/m3]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return self.liquid_density_table.value(self._temperature(temperature))

    def liquid_enthalpy(self, temperature: float) -> float:
        """Specific enthalpy of saturated liquid.

        Parameters
        ----------
        temperature : [K], lowest_temperature to highest_temperature

        Returns
        -------
        [J/kg]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return self.liquid_enthalpy_table.value(self._temperature(temperature))

    def liquid_entropy(self, temperature: float) -> float:
        """Specific entropy of saturated liquid.

        Parameters
        ----------
        temperature : [K], lowest_temperature to highest_temperature

        Returns
        -------
        [J/(kg K)]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return self.liquid_entropy_table.value(self._temperature(temperature))

    def liquid_specific_heat(self, temperature: float) -> float:
        """Isobaric specific heat of saturated liquid.

        Parameters
        ----------
        temperature : [K], lowest_temperature to highest_temperature

        Returns
        -------
        [J/(kg K)]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return 1.0 / self.liquid_reciprocal_specific_heat_table.value(self._temperature(temperature))

    def vapour_density(self, pressure: float) -> float:
        """Density of saturated vapour.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [kg/m3]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return exp(self.vapour_log_density_table.value(self._fourth_root(pressure)))

    def vapour_enthalpy(self, pressure: float) -> float:
        """Specific enthalpy of saturated vapour.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [J/kg]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return self.vapour_enthalpy_table.value(self._fourth_root(pressure))

    def vapour_entropy(self, pressure: float) -> float:
        """Specific entropy of saturated vapour.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [J/(kg K)]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return self.vapour_entropy_table.value(self._fourth_root(pressure))

    def vapour_specific_heat(self, pressure: float) -> float:
        """Isobaric specific heat of saturated vapour.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure

        Returns
        -------
        [J/(kg K)]

        Raises
        ------
        OutOfRange
            outside the range
        """
        return 1.0 / self.vapour_reciprocal_specific_heat_table.value(self._fourth_root(pressure))

    def _temperature(self, temperature: float) -> float:
        if not self.lowest_temperature <= temperature <= self.highest_temperature:
            raise OutOfRange("temperature", temperature, self.lowest_temperature, self.highest_temperature)
        return temperature

    def _fourth_root(self, pressure: float) -> float:
        if not self.lowest_pressure <= pressure <= self.highest_pressure:
            raise OutOfRange("pressure", pressure, self.lowest_pressure, self.highest_pressure)
        return sqrt(sqrt(pressure))
