"""From a request to the vectors the mixtures speak: values, errors of instruments, conditions, humidity nodes."""

from collections.abc import Mapping, Sequence
from math import hypot

import numpy as np
from numpy.typing import NDArray

from service.knowledge.cycle_readings import cycle_readings
from service.physics.arrays import Array
from service.physics.cycle import air
from service.physics.cycle.readings import NOMINAL_AIRFLOW, NOMINAL_CAPACITY, READINGS
from service.results.cycle import CycleConditions, CycleInputs, CycleReadings
from service.results.record import Record

AIRFLOW_PER_CAPACITY = NOMINAL_AIRFLOW / NOMINAL_CAPACITY
CONDITIONS = ("outdoor_dry_bulb", "return_dry_bulb", "return_wet_bulb")
# Indoor relative humidity where no wet bulb was read, and its chances; a choice of this project.
HUMIDITY_NODES = np.array([0.32, 0.42, 0.51, 0.6, 0.69])
HUMIDITY_WEIGHTS = np.array([0.12, 0.23, 0.30, 0.23, 0.12])
# Half the step between nodes, as an error of wet bulb [K].
NODE_DEVIATION = 0.5
_ONE_NODE, _NODE_WEIGHTS = np.zeros(1), np.log(HUMIDITY_WEIGHTS)


class Read(Record):
    """What was read: coordinates, values by name, deviations of all 14 instruments and of the three conditions.

    The instrument of a reading that was not taken is sized by a sound unit where its error is relative.
    """

    index: tuple[int, ...]
    values: dict[str, float]
    instruments: list[float]
    condition_deviations: list[float]

    @property
    def deviations(self) -> list[float]:
        """Deviations of the instruments of the readings taken."""
        return [self.instruments[at] for at in self.index]


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


def read(values: dict[str, float], accuracies: Mapping[str, float], humid: bool, volts_known: bool = True) -> Read:
    """Arrange readings and their errors; accuracies: 95 % half-widths that were stated."""
    instruments = [deviation(name, accuracies, values.get(name, 1.0), volts_known) for name in READINGS]
    conditions = [deviation(name, accuracies, 0.0) for name in CONDITIONS]
    if not humid:
        conditions[2] = NODE_DEVIATION
    return Read(tuple(at for at, name in enumerate(READINGS) if name in values), values, instruments, conditions)


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
        own = hypot(own, 0.5 * cycle_readings().rows["unknown_voltage"].half_width * scale)
    return own


def condition_nodes(visits: Sequence[CycleConditions]) -> tuple[Array, Array]:
    """Conditions (v, h, 5) and logarithm of the weights (h): one node where the wet bulb was read, five where not.

    Columns: 1, outdoor, return dry bulb, return wet bulb [K], pressure [Pa]. The wet bulb was read at every visit
    or at none.
    """
    found = np.array([[_row(one)] for one in visits])
    if visits[0].return_wet_bulb is not None:
        return found, _ONE_NODE
    found = np.repeat(found, HUMIDITY_NODES.size, axis=1)
    dry, pressure = found[..., 2], found[..., 4]
    ratio = air.ratio_from_relative_humidity(dry, HUMIDITY_NODES, pressure)
    found[..., 3] = air.wet_bulb(dry, ratio, pressure)
    return found, _NODE_WEIGHTS


def _row(one: CycleConditions) -> list[float]:
    dry = one.return_dry_bulb
    wet = dry if one.return_wet_bulb is None else min(one.return_wet_bulb, dry)
    return [1.0, one.outdoor_dry_bulb, dry, wet, one.barometric_pressure]


def noise(slope: Array, index: NDArray[np.int64], visits: Sequence[Read]) -> Array:
    """Covariance (v, g, o, o) of the errors of readings: their own and, by the slope (v, g, 14, 3),
    conditions'.
    """
    deviations = np.array([one.condition_deviations for one in visits])
    shifted = slope.take(index, axis=2) * deviations[:, None, None]
    found = shifted @ shifted.swapaxes(-1, -2)
    own = np.array([one.deviations for one in visits])
    found.reshape(*found.shape[:2], -1)[..., :: index.size + 1] += (own * own)[:, None]
    return np.asarray(found)
