"""The change of pressure that temperature does not explain, over all readings of the shut-in gas."""

from math import exp, hypot

import numpy as np

from service.knowledge.limits import limit
from service.physics.gas_law import expected_pressure, expected_pressure_uncertainty
from service.physics.series import SteadyRate, steady_rate
from service.procedures.accuracy import COVERAGE, pressure_deviation, temperature_deviation
from service.procedures.series import Series, judged_stretch, series
from service.results.procedures.pressure_test import PressureTestRequest
from service.results.record import Record, replace

SETTLING_SHARES = (0.2, 0.4, 0.8)  # time constants of settling, over the longest it takes; project choice
HOUR = 60.0


class Change(Record):
    """What all readings say together: [Pa], [min]; half-widths at k = 2.

    stretch: the readings judged, each brought to the temperature of the first of all. first, last: as read.
    settled_before: time from the start of the settling to the first reading judged.
    """

    stretch: Series
    steady: SteadyRate
    first: float
    last: float
    expected: float
    expected_uncertainty: float
    uncertainty: float
    settled_before: float

    @property
    def minutes(self) -> float:
        """Time watched.

        Returns
        -------
        [min]

        References
        ----------
        The readings.
        """
        return self.stretch.duration

    @property
    def change(self) -> float:
        """Last reading less the expected one.

        Returns
        -------
        [Pa]

        References
        ----------
        Ideal-gas law at constant volume for the expected one.
        """
        return self.last - self.expected

    @property
    def smallest_leak(self) -> float:
        """The leak a test must be able to see.

        Returns
        -------
        [Pa/min]

        References
        ----------
        The row `procedures.smallest-leak-percent`.
        """
        return self.first * limit("procedures.smallest-leak-percent").value / 100.0 / HOUR

    @property
    def leaks(self) -> bool:
        """Whether gas is surely lost, whatever settling can do.

        Where settling was seen and a leak that matters would have shown, the loss must be more than a pass can
        leave unexplained, and what is surely lost must be readable: a slow end of the settling is no leak.
        """
        sure = -self.steady.high * self.minutes
        readable = self._is_much and sure > COVERAGE * float(self.stretch.deviations[-1])
        slow_end = self.steady.settled > 0.0 and self.sees_smallest_leak and not readable
        return sure > 0.0 and not slow_end

    @property
    def lost(self) -> bool:
        """Whether more went than a pass can leave unexplained: not seen to settle, or going on after it."""
        return self._is_much and (self.steady.settled <= 0.0 or self.steady.high < 0.0)

    @property
    def _is_much(self) -> bool:
        most = self.first * limit("procedures.unexplained-loss-percent").value / 100.0
        return -self.steady.rate * self.minutes > max(most, self.uncertainty)

    @property
    def rose(self) -> bool:
        """Whether the pressure surely went up."""
        return self.steady.low > 0.0 or self.steady.settled < -COVERAGE * float(self.stretch.deviations[0])

    @property
    def sees_smallest_leak(self) -> bool:
        """Whether the smallest leak that matters would have shown."""
        return -self.steady.low < self.smallest_leak

    def one_more(self, wait: float) -> "Change":
        """The change should the gas go on as it has, read once more after `wait` [min]."""
        found = self.stretch
        longer = replace(
            found,
            places=(*found.places, found.places[-1]),
            minutes=np.append(found.minutes, found.minutes[-1] + wait),
            values=np.append(found.values, found.values[-1] + self.steady.rate * wait),
            deviations=np.append(found.deviations, found.deviations[-1]),
        )
        return replace(self, stretch=longer, steady=_steady(longer, self.first, self.settled_before))


def measured_change(request: PressureTestRequest) -> Change | None:
    """The change over the readings after the last step; None without two complete readings apart in time."""
    whole = corrected(request)
    if not whole.apart:
        return None
    stretch = judged_stretch(whole)
    settled_before = 0.0 if stretch.minutes[0] > whole.minutes[0] else float(stretch.minutes[0])
    if not stretch.apart:
        stretch, settled_before = replace(whole, seen=stretch.seen), float(whole.minutes[0])
    first, last = (request.samples[stretch.places[end]] for end in (0, -1))
    assert first.pressure is not None
    assert last.pressure is not None
    assert first.temperature is not None
    assert last.temperature is not None
    expected = expected_pressure(first.pressure, first.temperature, last.temperature)
    width = _width(request, first.pressure, first.temperature, last.temperature)
    return Change(
        stretch,
        _steady(stretch, first.pressure, settled_before),
        first.pressure,
        last.pressure,
        expected,
        width,
        hypot(width, COVERAGE * pressure_deviation(request.instruments, last.pressure)),
        settled_before,
    )


def corrected(request: PressureTestRequest) -> Series:
    """Complete readings, each brought to the temperature of the first by p / T."""
    complete = [
        (sample.minutes, index, sample.pressure, sample.temperature)
        for index, sample in enumerate(request.samples)
        if sample.minutes is not None and sample.pressure is not None and sample.temperature is not None
    ]
    if not complete:
        return series([])
    reference = min(complete)[3]
    return series(
        [
            (
                minutes,
                index,
                expected_pressure(pressure, warm, reference),
                _width(request, pressure, warm, reference) / COVERAGE,
            )
            for minutes, index, pressure, warm in complete
        ]
    )


def _width(request: PressureTestRequest, pressure: float, warm: float, later: float) -> float:
    """Half-width of a reading brought to another temperature: one gauge and one thermometer against themselves."""
    gauge = COVERAGE * pressure_deviation(request.instruments, pressure)
    thermometer = COVERAGE * temperature_deviation(request.instruments)
    follows = limit("procedures.temperature-not-followed-percent").value / 100.0
    not_followed = follows * (later - warm) * pressure / warm
    return hypot(expected_pressure_uncertainty(pressure, warm, later, gauge, thermometer), not_followed)


def _steady(stretch: Series, pressure: float, settled_before: float) -> SteadyRate:
    longest = limit("procedures.settling-time").value
    constants = tuple(share * longest for share in SETTLING_SHARES)
    most = pressure * limit("procedures.settling-percent").value / 100.0
    most *= exp(-settled_before / constants[-1])
    return steady_rate(stretch.minutes, stretch.values, stretch.deviations, max(most, 1.0), constants)
