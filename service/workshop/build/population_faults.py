"""The classes a population is made of, and how a class changes what a unit runs in.

Ranges of fault size follow the design study: from barely noticeable to plainly broken, uniform in between.
"""

from collections.abc import Callable

import numpy as np

from service.knowledge.cycle_model import FAULT_LEVELS, SOUND
from service.physics.arrays import Array
from service.results.record import replace
from service.workshop.cycle.unit import Operation

Fault = Callable[[Operation, Array, bool], Operation]


def apply_fault(operation: Operation, name: str, share: Array, has_valve: bool) -> Operation:
    """Operation with a fault of one class.

    Parameters: name: one of CLASSES; share [0..1]: place of each sample in the class's range of size.
    """
    for part in name.split("+") if name != SOUND else ():
        low, high = FAULT_LEVELS[part]
        operation = _FAULTS[part](operation, low + (high - low) * share, has_valve)
    return operation


def _undercharge(operation: Operation, level: Array, _: bool) -> Operation:
    return replace(operation, charge=operation.charge * (1.0 - level))


def _overcharge(operation: Operation, level: Array, _: bool) -> Operation:
    return replace(operation, charge=operation.charge * (1.0 + level))


def _low_indoor_airflow(operation: Operation, level: Array, _: bool) -> Operation:
    return replace(operation, indoor_flow=operation.indoor_flow * (1.0 - level))


def _outdoor_coil_blocked(operation: Operation, level: Array, _: bool) -> Operation:
    return replace(
        operation, outdoor_flow=operation.outdoor_flow * (1.0 - level), outdoor_conductance=1.0 - 0.25 * level
    )


def _liquid_line_restriction(operation: Operation, level: Array, _: bool) -> Operation:
    return replace(operation, restriction=level)


def _non_condensables(operation: Operation, level: Array, _: bool) -> Operation:
    return replace(operation, foreign_gas=level)


def _compressor_not_pumping(operation: Operation, level: Array, _: bool) -> Operation:
    return replace(operation, leakage=1.0 - (1.0 - operation.leakage) * (1.0 - level))


def _metering_overfeeding(operation: Operation, level: Array, has_valve: bool) -> Operation:
    if has_valve:
        return replace(operation, setpoint_shift=-12.0 * level)
    return replace(operation, orifice_area=1.0 + 0.6 * level)


def _metering_underfeeding(operation: Operation, level: Array, has_valve: bool) -> Operation:
    if has_valve:
        return replace(operation, opening_limit=1.0 - level)
    return replace(operation, orifice_area=np.asarray(1.0 - level))


_FAULTS: dict[str, Fault] = {
    "undercharge": _undercharge,
    "overcharge": _overcharge,
    "low_indoor_airflow": _low_indoor_airflow,
    "outdoor_coil_blocked": _outdoor_coil_blocked,
    "liquid_line_restriction": _liquid_line_restriction,
    "non_condensables": _non_condensables,
    "compressor_not_pumping": _compressor_not_pumping,
    "metering_overfeeding": _metering_overfeeding,
    "metering_underfeeding": _metering_underfeeding,
}
