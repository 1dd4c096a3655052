"""The compressor by its rating coefficients (AHRI 540), at the pressures and the suction gas that were read."""

from functools import partial

from service.checks.refrigerant.running_state import RunningState, high_side_pointer
from service.knowledge.limit_codes import LimitCode
from service.knowledge.limits import limit
from service.physics.compressor_map import density_corrected, rating
from service.physics.refrigerant_properties import RefrigerantProperties
from service.physics.uncertainty import Uncertain, propagate, propagate_all, read
from service.results.record import Record
from service.results.units import POUND, ZERO_CELSIUS
from service.results.visit import Visit
from service.results.visit.kept import kept
from service.verdicts.measured import measured

HOUR = 3600.0  # s


class Suction(Record):
    """What the compressor breathes and pushes against: pressures [Pa], gas temperature [K], refrigerant."""

    pressure: Uncertain
    temperature: Uncertain
    high_pressure: Uncertain
    properties: RefrigerantProperties


@kept
def suction_gas(visit: Visit, state: RunningState) -> Suction | None:
    """The suction state; None when a reading is missing or the gas is not superheated."""
    pressure = measured(visit, "/running/suction_pressure")
    temperature = measured(visit, "/running/reversing_valve_suction_out_temperature") or measured(
        visit, "/running/suction_line_temperature"
    )
    high = measured(visit, high_side_pointer(visit))
    if state.refrigerant is None or pressure is None or temperature is None or high is None:
        return None
    if high.value <= pressure.value:
        return None
    return Suction(pressure, temperature, high, state.refrigerant.properties)


def rated_power(visit: Visit, state: RunningState) -> Uncertain | None:
    """Input power by the rating.

    Returns
    -------
    [W]; None without coefficients or off the range in which a map is trusted

    References
    ----------
    AHRI Standard 540 (form from memory).
    """
    coefficients = visit.equipment.compressor.rating_coefficients.power
    at = _dew_temperatures(visit, state) if coefficients else None
    if at is None:
        return None
    power = propagate(partial(_rated, visit, coefficients), *at)
    return power if power.value > 0.0 else None


@kept
def rated_mass_flow(visit: Visit, state: RunningState) -> Uncertain | None:
    """Mass flow by the rating, corrected to the density of the suction gas that was read.

    Returns
    -------
    [kg/s]; None without coefficients or readings

    References
    ----------
    AHRI Standard 540 (form from memory); Dabiri and Rice 1981, ASHRAE Transactions 87(2).
    """
    coefficients = visit.equipment.compressor.rating_coefficients.mass_flow
    if not coefficients:
        return None
    at, suction = _dew_temperatures(visit, state), suction_gas(visit, state)
    if at is None or suction is None:
        return None
    try:
        share = propagate(partial(_density_share, visit, suction), suction.pressure, suction.temperature)
    except ValueError:
        return None
    flow = propagate(partial(_rated, visit, coefficients), *at) * share * _flow_unit(visit)
    return flow if flow.value > 0.0 else None


def _rated(visit: Visit, coefficients: tuple[float, ...], suction: float, discharge: float) -> float:
    return rating(coefficients, _map_unit(visit, suction), _map_unit(visit, discharge))


def _map_unit(visit: Visit, kelvin: float) -> float:
    celsius = kelvin - ZERO_CELSIUS
    return celsius if _is_si(visit) else celsius * 1.8 + 32.0


def _flow_unit(visit: Visit) -> float:
    return 1.0 / HOUR if _is_si(visit) else POUND / HOUR


def _is_si(visit: Visit) -> bool:
    return visit.equipment.compressor.rating_coefficients.unit_system == "si"


@kept
def _dew_temperatures(visit: Visit, state: RunningState) -> tuple[Uncertain, Uncertain] | None:
    """Suction and discharge dew temperatures [K] within the range of comfort cooling's rating maps."""
    suction, high = state.suction_saturation_temperature, measured(visit, high_side_pointer(visit))
    if state.refrigerant is None or suction is None or high is None:
        return None
    discharge = propagate(state.refrigerant.saturation.dew_temperature, high)
    inside = _between(suction, "compressor.map-suction-lowest", "compressor.map-suction-highest") and _between(
        discharge, "compressor.map-discharge-lowest", "compressor.map-discharge-highest"
    )
    return (suction, discharge) if inside else None


def _between(read: Uncertain, lowest: LimitCode, highest: LimitCode) -> bool:
    return limit(lowest).value <= read.value <= limit(highest).value


def _density_share(visit: Visit, suction: Suction, pressure: float, temperature: float) -> float:
    """Factor on the rated flow. Raises: OutOfRange off the superheated vapour's range."""
    vapour = suction.properties.superheated
    dew = vapour.saturation.dew_temperature(pressure)
    superheat = visit.equipment.compressor.rating_superheat
    rated_at = dew + (superheat if superheat is not None else limit("compressor.rating-superheat").value)
    return density_corrected(1.0, vapour.density(pressure, rated_at), vapour.density(pressure, temperature))


@kept
def refrigerant_capacity(visit: Visit, state: RunningState) -> Uncertain | None:
    """Cooling that the rated flow carries between the liquid line and the suction line.

    Returns
    -------
    [W]; None without coefficients or readings

    References
    ----------
    Energy balance; accuracy of the rating by the row `compressor.rating-accuracy`.
    """
    flow = rated_mass_flow(visit, state)
    gain = enthalpy_gain(visit, state) if flow is not None else None
    if flow is None or gain is None:
        return None
    capacity = flow * gain
    accuracy = limit("compressor.rating-accuracy").value
    return capacity + read("rating coefficients", 0.0, capacity.value * accuracy)


@kept
def enthalpy_gain(visit: Visit, state: RunningState) -> Uncertain | None:
    """What a mass of refrigerant takes up from the liquid line to the suction line.

    Returns
    -------
    [J/kg]; None without readings, or where the liquid line may hold vapour

    References
    ----------
    Energy balance, with the tables built from CoolProp.
    """
    suction, liquid = suction_gas(visit, state), measured(visit, "/running/liquid_line_temperature")
    if suction is None or liquid is None or not _is_liquid(state):
        return None
    try:
        enthalpy, _ = heat_of(suction)
        return enthalpy - propagate(suction.properties.saturated.liquid_enthalpy, liquid)
    except ValueError:
        return None


def heat_of(suction: Suction) -> tuple[Uncertain, Uncertain]:
    """Specific enthalpy and entropy of the suction gas.

    Returns
    -------
    [J/kg] and [J/(kg K)]

    Raises
    ------
    OutOfRange
        off the tables

    References
    ----------
    The tables built from CoolProp.
    """
    formula = suction.properties.superheated.enthalpy_and_entropy
    enthalpy, entropy = propagate_all(formula, suction.pressure, suction.temperature)
    return enthalpy, entropy


def _is_liquid(state: RunningState) -> bool:
    """Only with subcooling does the liquid line's temperature tell its enthalpy."""
    return state.subcooling is not None and state.subcooling.value > 0.0
