"""Properties of superheated vapour of one refrigerant, and the end of an isentropic compression."""

from __future__ import annotations

from functools import lru_cache
from math import exp, sqrt

from service.physics.chebyshev_table import ChebyshevTable, Series, series_value, side_by_side, value_and_slope
from service.physics.saturated_properties import SaturatedProperties
from service.physics.saturation import SaturationCurve
from service.results.out_of_range import OutOfRange
from service.results.record import Record

WETTEST = 0.1
"""Largest share of liquid for which the end of a compression is still computed."""
_ENTROPY_ERROR = 1e-9
"""[J/(kg K)] Less than a millionth of a joule per kilogram in enthalpy."""
_MOST_STEPS = 60


class Isobar(Record, eq=False):
    """What is left of the tables at one pressure: place in them, dew temperature [K], series over superheat."""

    x: float
    dew: float
    enthalpy: Series
    entropy: Series


class SuperheatedVapour(Record, eq=False):
    """Vapour from the dew line up to `highest_superheat` above it.

    The tables run over the fourth root of pressure and the square root of superheat, in which enthalpy,
    entropy and density bend evenly; near the critical point they do not, so `highest_pressure` stays
    below 0.92 of the critical pressure. Reference state as in `SaturatedProperties`.

    Outside its range every method raises `OutOfRange`.

    Attributes
    ----------
    lowest_pressure, highest_pressure : [Pa] absolute
    highest_superheat : [K] above dew

    References
    ----------
    Tables built from CoolProp by `python -m service tables`, held against it in tests/physics.
    """

    lowest_pressure: float
    highest_pressure: float
    highest_superheat: float
    enthalpy_table: ChebyshevTable
    entropy_table: ChebyshevTable
    log_compressibility_table: ChebyshevTable
    saturation: SaturationCurve
    saturated: SaturatedProperties

    def enthalpy(self, pressure: float, temperature: float) -> float:
        """Specific enthalpy.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure
        temperature : [K], from dew to highest_superheat above it

        Returns
        -------
        [J/kg]

        Raises
        ------
        OutOfRange
            outside the range
        """
        isobar = self._isobar(pressure)
        return series_value(isobar.enthalpy, self._place(isobar.dew, temperature))

    def entropy(self, pressure: float, temperature: float) -> float:
        """Specific entropy.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure
        temperature : [K], from dew to highest_superheat above it

        Returns
        -------
        [J/(kg K)]

        Raises
        ------
        OutOfRange
            outside the range
        """
        isobar = self._isobar(pressure)
        return series_value(isobar.entropy, self._place(isobar.dew, temperature))

    def enthalpy_and_entropy(self, pressure: float, temperature: float) -> tuple[float, float]:
        """`enthalpy` and `entropy` of one state.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure
        temperature : [K], from dew to highest_superheat above it

        Returns
        -------
        [J/kg] and [J/(kg K)]

        Raises
        ------
        OutOfRange
            outside the range
        """
        isobar = self._isobar(pressure)
        place = self._place(isobar.dew, temperature)
        return series_value(isobar.enthalpy, place), series_value(isobar.entropy, place)

    def density(self, pressure: float, temperature: float) -> float:
        """Density.

        Parameters
        ----------
        pressure : [Pa] absolute, lowest_pressure to highest_pressure
        temperature : [K], from dew to highest_superheat above it

        Returns
        -------
        [kg/m3]

        Raises
        ------
        OutOfRange
            outside the range
        """
        # The table holds ln(density x dew temperature / pressure), which varies far less than density.
        isobar = self._isobar(pressure)
        place = self._place(isobar.dew, temperature)
        return exp(self.log_compressibility_table.value(isobar.x, place)) * pressure / isobar.dew

    def isentropic_enthalpy(self, pressure: float, entropy: float) -> float:
        """Specific enthalpy where a compression at constant entropy ends.

        A compression that ends with up to a tenth of liquid in the vapour (refrigerants whose dew line leans over,
        with little superheat at the start) is followed along dh = T ds at constant pressure, exact for a pure
        fluid.

        Parameters
        ----------
        pressure : [Pa] absolute at the end, lowest_pressure to highest_pressure
        entropy : [J/(kg K)] at the start

        Returns
        -------
        [J/kg]

        Raises
        ------
        OutOfRange
            pressure outside the range, or the end neither within `highest_superheat` nor nearly dry

        References
        ----------
        Definition of the isentropic process; Moran and Shapiro, Fundamentals of Engineering Thermodynamics,
        section 6 (from memory).
        """
        isobar = self._isobar(pressure)
        low, high = series_value(isobar.entropy, -1.0), series_value(isobar.entropy, 1.0)
        if entropy < low:
            return self._wet_enthalpy(pressure, entropy, low, high)
        if not entropy <= high:
            raise OutOfRange("entropy", entropy, low, high)
        return series_value(isobar.enthalpy, _root(isobar.entropy, entropy, low, high))

    def _wet_enthalpy(self, pressure: float, entropy: float, dry: float, high: float) -> float:
        liquid = self.saturated.liquid_entropy(self.saturation.bubble_temperature(pressure))
        wettest = dry - WETTEST * (dry - liquid)
        if entropy < wettest:
            raise OutOfRange("entropy", entropy, wettest, high)
        dew = self.saturation.dew_temperature(pressure)
        return self.enthalpy(pressure, dew) - dew * (dry - entropy)

    def _place(self, dew: float, temperature: float) -> float:
        if not dew <= temperature <= dew + self.highest_superheat:
            raise OutOfRange("temperature", temperature, dew, dew + self.highest_superheat)
        return 2.0 * sqrt((temperature - dew) / self.highest_superheat) - 1.0

    @lru_cache(maxsize=256)  # noqa: B019 - the tables stay, and a formula is asked again and again at one pressure
    def _isobar(self, pressure: float) -> Isobar:
        x = self._pressure_place(pressure)
        enthalpy, entropy = side_by_side(self.enthalpy_table, self.entropy_table).along(x)
        return Isobar(x, self.saturation.dew_temperature(pressure), enthalpy, entropy)

    def _pressure_place(self, pressure: float) -> float:
        if not self.lowest_pressure <= pressure <= self.highest_pressure:
            raise OutOfRange("pressure", pressure, self.lowest_pressure, self.highest_pressure)
        low, high = _fourth_root(self.lowest_pressure), _fourth_root(self.highest_pressure)
        return (2.0 * _fourth_root(pressure) - low - high) / (high - low)


def _fourth_root(pressure: float) -> float:
    return sqrt(sqrt(pressure))


def _root(series: Series, wanted: float, low_value: float, high_value: float) -> float:
    """Return where a rising series, known at both ends, has the wanted value.

    Newton's rule, kept between the ends by halving wherever it would leave them (Press and others, Numerical
    Recipes, section 9.4, from memory): three or four evaluations.
    """
    low, high = -1.0, 1.0
    place = low + 2.0 * (wanted - low_value) / (high_value - low_value)
    for _ in range(_MOST_STEPS):
        value, slope = value_and_slope(series, place)
        error = value - wanted
        if abs(error) < _ENTROPY_ERROR:
            break
        low, high = (place, high) if error < 0.0 else (low, place)
        next_place = place - error / slope if slope > 0.0 else low
        place = next_place if low < next_place < high else 0.5 * (low + high)
    return place
