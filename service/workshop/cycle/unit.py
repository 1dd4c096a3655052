"""What describes a simulated air conditioner, the weather and faults it runs in, and a solved state.

Every field is an array over samples. Extensive quantities are per nominal ton (3,517 W).
"""

from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from service.physics.arrays import Array
from service.results.record import Record, fields, replace

RATED_OUTDOOR = 308.15
RATED_RETURN = 299.8167
RATED_RETURN_WET_BULB = 292.5944
STANDARD_PRESSURE = 101_325.0
AMPLE_OPENING = 4.0

Table = TypeVar("Table", "Design", "Unit", "Operation", "State")


class Design(Record):
    """A unit by what it does at rating A (35 degC outdoors, 26.7/19.4 degC indoors) and by its constants.

    Temperatures [K]; differences [K]; airflow as a fraction of NOMINAL_AIRFLOW; volumes [m3]; line_length [m].
    """

    evaporating: Array
    condensing_over_outdoor: Array
    superheat: Array
    subcooling: Array
    airflow: Array
    volumetric_intercept: Array
    volumetric_slope: Array
    efficiency_peak: Array
    efficiency_peak_ratio: Array
    efficiency_curvature: Array
    shell_loss: Array
    air_side_share: Array
    airflow_exponent: Array
    condenser_effectiveness: Array
    desuperheat_conductance: Array
    subcool_conductance: Array
    superheat_conductance: Array
    resistance_ratio: Array
    condenser_volume: Array
    evaporator_volume: Array
    line_length: Array
    suction_loss: Array
    suction_gain: Array
    condenser_loss: Array
    liquid_loss: Array
    throat_ratio: Array
    valve_reserve: Array
    valve_gain: Array
    slip_exponent: Array
    remix_share: Array
    blower_power: Array
    published_tube: Array
    tube_length_ratio: Array


class Unit(Record):
    """A sized unit: the design and the parameters backed out of it (see ``sizing``)."""

    design: Design
    displacement: Array
    air_mass_flow: Array
    transfer_units: Array
    condenser_air: Array
    condenser_conductance: Array
    metering: Array
    half_open_superheat: Array
    suction_conductance: Array
    suction_density: Array
    suction_resistance: Array
    condenser_resistance: Array
    liquid_resistance: Array
    mass_flow: Array
    lift: Array
    liquid_density: Array
    charge: Array


class Operation(Record):
    """Conditions and faults: temperatures [K], humidity ratio [kg/kg], pressure [Pa], the rest factors of 1."""

    outdoor: Array
    return_dry_bulb: Array
    return_ratio: Array
    pressure: Array
    charge: Array
    indoor_flow: Array
    outdoor_flow: Array
    outdoor_conductance: Array
    leakage: Array
    restriction: Array
    drier_loss: Array
    foreign_gas: Array
    opening_limit: Array
    orifice_area: Array
    setpoint_shift: Array


class State(Record):
    """A solved steady state. Temperatures [K], pressures [Pa], heat and power [W], mass flow [kg/s]."""

    evaporating: Array
    condensing: Array
    suction_pressure: Array
    liquid_pressure: Array
    suction_enthalpy: Array
    suction_temperature: Array
    liquid_enthalpy: Array
    liquid_temperature: Array
    discharge_temperature: Array
    discharge_enthalpy: Array
    coil_superheat: Array
    mass_flow: Array
    meter_flow: Array
    power: Array
    compressor_heat: Array
    line_gain: Array
    capacity: Array
    evaporator_error: Array
    condenser_error: Array
    condenser_duty: Array
    charge: Array
    supply_dry_bulb: Array
    supply_ratio: Array
    condenser_leaving: Array
    drier_outlet_temperature: Array
    foreign_pressure: Array


def rated_operation(count: int) -> Operation:
    """Rating A without any fault, for a number of samples."""
    from service.physics.cycle import air

    one, zero = np.ones(count), np.zeros(count)
    dry, wet, pressure = RATED_RETURN * one, RATED_RETURN_WET_BULB * one, STANDARD_PRESSURE * one
    return Operation(
        RATED_OUTDOOR * one,
        dry,
        air.humidity_ratio(dry, wet, pressure),
        pressure,
        one,
        one,
        one,
        one,
        zero,
        zero,
        zero,
        zero,
        AMPLE_OPENING * one,
        one,
        zero,
    )


def take(table: Table, index: NDArray[np.int64] | NDArray[np.bool_]) -> Table:
    """The chosen samples of a table of arrays."""
    changes: dict[str, Any] = {}
    for field in fields(table):
        value = getattr(table, field.name)
        changes[field.name] = take(value, index) if isinstance(value, Design) else value[index]
    return replace(table, **changes)


def between(first: Operation, second: Operation, share: float) -> Operation:
    """An operation part of the way from one to another (continuation)."""
    values = {
        field.name: (1.0 - share) * getattr(first, field.name) + share * getattr(second, field.name)
        for field in fields(first)
    }
    return Operation(**values)
