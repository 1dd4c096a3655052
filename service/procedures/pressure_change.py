"""The change of pressure that temperature does not explain, between the first and the last reading."""

from dataclasses import dataclass

from service.knowledge.limits import limit
from service.physics.gas_law import expected_pressure, expected_pressure_uncertainty
from service.procedures.accuracy import pressure_accuracy, temperature_accuracy
from service.results.procedures.pressure_test import PressureTestRequest

INSTANT = 0.01  # min: readings closer together are one reading


@dataclass(frozen=True, slots=True)
class Change:
    """The first complete reading against the last: [Pa], [min]; half-widths at k = 2."""

    evidence: tuple[str, ...]
    minutes: float
    first: float
    expected: float
    expected_uncertainty: float
    change: float
    uncertainty: float

    @property
    def decision(self) -> float:
        """How far the change must lie from zero before it is called a leak [Pa]."""
        return limit("procedures.leak-decision-factor").value * self.uncertainty

    @property
    def smallest_leak(self) -> float:
        """The leak a test must be able to see [Pa/min]."""
        return self.first * limit("procedures.smallest-leak-percent").value / 100.0 / 60.0

    @property
    def undecided_band(self) -> bool:
        """Whether instruments of this quality leave the smallest leak unseen so far."""
        return -self.change + self.decision > self.smallest_leak * self.minutes


def measured_change(request: PressureTestRequest) -> Change | None:
    """The change between the first and the last complete reading; None without two apart in time."""
    complete = sorted(
        (sample.minutes, index, sample.pressure, sample.temperature)
        for index, sample in enumerate(request.samples)
        if sample.minutes is not None and sample.pressure is not None and sample.temperature is not None
    )
    if not complete or complete[-1][0] - complete[0][0] < INSTANT:
        return None
    (start, first_index, first, cold), (end, last_index, last, warm) = complete[0], complete[-1]
    gauge, thermometer = pressure_accuracy(request.instruments), temperature_accuracy(request.instruments)
    expected = expected_pressure(first, cold, warm)
    width = expected_pressure_uncertainty(first, cold, warm, gauge, thermometer)
    evidence = tuple(
        f"/samples/{index}/{name}"
        for index in (first_index, last_index)
        for name in ("minutes", "pressure", "temperature")
    )
    both = float((width**2 + gauge**2) ** 0.5)
    return Change(evidence, end - start, first, expected, width, last - expected, both)
