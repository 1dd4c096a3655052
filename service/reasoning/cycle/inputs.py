"""From a request to the vectors the mixtures speak: values, errors of instruments, conditions, humidity nodes."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_readings import cycle_readings
from service.physics.cycle import air
from service.physics.cycle.fluid import Array
from service.physics.cycle.readings import READINGS
from service.physics.cycle.unit import NOMINAL_AIRFLOW, NOMINAL_CAPACITY
from service.results.cycle import CycleConditions, CycleInputs, CycleReadings

AIRFLOW_PER_CAPACITY = NOMINAL_AIRFLOW / NOMINAL_CAPACITY
CONDITIONS = ("outdoor_dry_bulb", "return_dry_bulb", "return_wet_bulb")
# Indoor relative humidity where no wet bulb was read, and its chances; a choice of this project.
HUMIDITY_NODES = np.array([0.32, 0.42, 0.51, 0.6, 0.69])
HUMIDITY_WEIGHTS = np.array([0.12, 0.23, 0.30, 0.23, 0.12])
# Half the step between nodes, as an error of wet bulb [K].
NODE_DEVIATION = 0.5


@dataclass(frozen=True)
class Read:
    """What was read: coordinates (o), values (o), deviations of instruments (o) and of conditions (3)."""

    index: NDArray[np.int64]
    values: Array
    deviations: Array
    condition_deviations: Array


def values_of(readings: CycleReadings, inputs: CycleInputs | None = None) -> dict[str, float]:
    """Readings that were taken, by the model's names and measures."""
    amps = readings.compressor_amps_ratio
    volts = 1.0 if readings.voltage_ratio is None else readings.voltage_ratio
    flow = readings.airflow_per_capacity
    found = {name: getattr(readings, name, None) for name in READINGS}
    found["airflow_ratio"] = None if flow is None else flow / AIRFLOW_PER_CAPACITY
    found["compressor_amps_ratio"] = None if amps is None else amps * volts
    if inputs is not None:
        found["target_subcooling"] = inputs.target_subcooling
        found["target_superheat"] = inputs.target_superheat
    return {name: float(value) for name, value in found.items() if value is not None}


def read(
    values: Mapping[str, float], accuracies: Mapping[str, float], humid: bool, volts_known: bool = True
) -> Read:
    """Arrange readings and their errors; accuracies: 95 % half-widths that were stated."""
    names = [name for name in READINGS if name in values]
    deviations = [deviation(name, accuracies, values[name], volts_known) for name in names]
    conditions = [deviation(name, accuracies, 0.0) for name in CONDITIONS]
    if not humid:
        conditions[2] = NODE_DEVIATION
    return Read(
        np.array([READINGS.index(name) for name in names], dtype=np.int64),
        np.array([values[name] for name in names]),
        np.array(deviations),
        np.array(conditions),
    )


def deviation(name: str, accuracies: Mapping[str, float], value: float, volts_known: bool = True) -> float:
    """One standard deviation of a reading's instrument, in the reading's measure."""
    row = cycle_readings().rows[name]
    scale = abs(value) if row.relative else 1.0
    if name == "airflow_ratio" and "airflow_per_capacity" in accuracies:
        half_width = accuracies["airflow_per_capacity"] / AIRFLOW_PER_CAPACITY
    else:
        half_width = accuracies.get(name, row.half_width * scale)
    own = 0.5 * half_width
    if name == "compressor_amps_ratio" and not volts_known:
        own = float(np.hypot(own, 0.5 * cycle_readings().rows["unknown_voltage"].half_width * scale))
    return own


def condition_nodes(conditions: CycleConditions) -> tuple[Array, Array]:
    """Conditions (h, 4) and weights (h): one node where the wet bulb was read, five where it was not."""
    outdoor, dry, pressure = (
        np.array([value])
        for value in (conditions.outdoor_dry_bulb, conditions.return_dry_bulb, conditions.barometric_pressure)
    )
    if conditions.return_wet_bulb is not None:
        wet = np.array([min(conditions.return_wet_bulb, conditions.return_dry_bulb)])
        weights = np.ones(1)
    else:
        dry_nodes, pressure_nodes = (np.repeat(value, HUMIDITY_NODES.size) for value in (dry, pressure))
        ratio = air.ratio_from_relative_humidity(dry_nodes, HUMIDITY_NODES, pressure_nodes)
        wet, weights = air.wet_bulb(dry_nodes, ratio, pressure_nodes), HUMIDITY_WEIGHTS
    one = np.ones_like(wet)
    return np.stack([outdoor * one, dry * one, wet, pressure * one], axis=1), weights


def noise(slope: Array, taken: Read) -> Array:
    """Covariance (m, o, o) of the errors of readings: their own and, by the reference's slope, conditions'."""
    shifted = slope[:, taken.index, :] * taken.condition_deviations
    return np.asarray(shifted @ shifted.transpose(0, 2, 1) + np.diag(taken.deviations**2))
