"""Saturation of water at vacuum-gauge pressures: boiling above the triple point, sublimation below it."""

from math import exp, sqrt

from service.results.out_of_range import OutOfRange

TRIPLE_POINT_PRESSURE = 611.657  # Pa, IAPWS R14-08(2011)
TRIPLE_POINT_TEMPERATURE = 273.16  # K
_LOWEST_ICE_TEMPERATURE = 130.0  # K, far under every vacuum gauge
_HIGHEST_WATER_TEMPERATURE = 623.15  # K, end of the range used here

# IAPWS R7-97(2012), Industrial Formulation 1997, Table 34.
_N = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)
# IAPWS R14-08(2011), Table 2 (ice Ih, sublimation).
_ICE = (
    (-0.212144006e2, 0.333333333e-2),
    (0.273203819e2, 0.120666667e1),
    (-0.610598130e1, 0.170333333e1),
)


def boiling_temperature(pressure: float) -> float:
    """Temperature at which water boils, or below the triple point ice sublimes, at a pressure.

    Parameters
    ----------
    pressure : [Pa] absolute, 1e-6 to 1e7

    Returns
    -------
    [K]

    Raises
    ------
    OutOfRange
        pressure outside that range

    References
    ----------
    IAPWS R7-97(2012) equation 31 and table 36; below 611.657 Pa IAPWS R14-08(2011) equation 6, inverted.

    Examples
    --------
    >>> round(boiling_temperature(0.1e6), 6)
    372.755919
    """
    if not 1e-6 <= pressure <= 1e7:
        raise OutOfRange("pressure", pressure, 1e-6, 1e7)
    if pressure < TRIPLE_POINT_PRESSURE:
        return _sublimation_temperature(pressure)
    beta = sqrt(sqrt(pressure * 1e-6))
    e = beta**2 + _N[2] * beta + _N[5]
    f = _N[0] * beta**2 + _N[3] * beta + _N[6]
    g = _N[1] * beta**2 + _N[4] * beta + _N[7]
    d = 2.0 * g / (-f - sqrt(f * f - 4.0 * e * g))
    n10 = _N[9]
    return (n10 + d - sqrt((n10 + d) ** 2 - 4.0 * (_N[8] + n10 * d))) / 2.0


def vapour_pressure(temperature: float) -> float:
    """Saturation pressure of water, over ice below 273.16 K.

    Parameters
    ----------
    temperature : [K], 130 to 623.15

    Returns
    -------
    [Pa]

    Raises
    ------
    OutOfRange
        temperature outside that range

    References
    ----------
    IAPWS R7-97(2012) equation 30 and table 35; IAPWS R14-08(2011) equation 6 and table 3.

    Examples
    --------
    >>> round(vapour_pressure(300.0), 5)
    3536.58941
    >>> round(vapour_pressure(230.0), 5)
    8.94735
    """
    if not _LOWEST_ICE_TEMPERATURE <= temperature <= _HIGHEST_WATER_TEMPERATURE:
        raise OutOfRange("temperature", temperature, _LOWEST_ICE_TEMPERATURE, _HIGHEST_WATER_TEMPERATURE)
    if temperature < TRIPLE_POINT_TEMPERATURE:
        return _over_ice(temperature)
    theta = temperature + _N[8] / (temperature - _N[9])
    a = theta**2 + _N[0] * theta + _N[1]
    b = _N[2] * theta**2 + _N[3] * theta + _N[4]
    c = _N[5] * theta**2 + _N[6] * theta + _N[7]
    return 1e6 * float((2.0 * c / (-b + sqrt(b * b - 4.0 * a * c))) ** 4)


def _over_ice(temperature: float) -> float:
    theta = temperature / TRIPLE_POINT_TEMPERATURE
    return TRIPLE_POINT_PRESSURE * exp(sum(a * theta**b for a, b in _ICE) / theta)


def _sublimation_temperature(pressure: float) -> float:
    # The pressure rises steadily with temperature, so halving the interval cannot miss.
    low, high = _LOWEST_ICE_TEMPERATURE, TRIPLE_POINT_TEMPERATURE
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _over_ice(middle) < pressure else (low, middle)
    return 0.5 * (low + high)
