"""Both leak rates from the additions on record."""

from dataclasses import dataclass
from datetime import date

from service.physics.leak_rate import YEAR, annualizing_rate, rolling_average_rate
from service.results.finding import Missing
from service.results.procedures.leak_rate import Addition, LeakRateRequest
from service.verdicts.judge import above

ADDITION = "missing.leak-rate-addition"


@dataclass(frozen=True, slots=True)
class Record:
    """Additions by day [kg], in order; missing: what is incomplete."""

    additions: tuple[tuple[date, float], ...]
    missing: tuple[Missing, ...]

    @property
    def last_day(self) -> date | None:
        """Day of the last addition."""
        return self.additions[-1][0] if self.additions else None

    def most_in_a_year(self) -> float:
        """Most refrigerant added in one calendar year.

        Returns
        -------
        [kg], 0 without additions

        References
        ----------
        Sum of the additions.
        """
        years = {day.year for day, _ in self.additions}
        sums = (sum(mass for day, mass in self.additions if day.year == year) for year in years)
        return max(sums, default=0.0)


@dataclass(frozen=True, slots=True)
class Rates:
    """Rates [%] by both methods, None where unknown; least: what the annualizing rate is at the least."""

    annualizing: float | None
    rolling_average: float | None
    least: float | None
    missing: tuple[Missing, ...]


def record(request: LeakRateRequest) -> Record:
    """The complete additions, those of one day taken together."""
    by_day: dict[date, float] = {}
    missing = [] if request.additions else [Missing("/additions", ADDITION)]
    for index, addition in enumerate(request.additions):
        missing += [
            Missing(f"/additions/{index}/{name}", ADDITION)
            for name in ("date", "mass")
            if getattr(addition, name) is None
        ]
        if addition.date is not None and addition.mass is not None and not _seasonal(addition):
            day = date.fromisoformat(addition.date)
            by_day[day] = by_day.get(day, 0.0) + addition.mass
    return Record(tuple(sorted(by_day.items())), tuple(missing))


def _seasonal(addition: Addition) -> bool:
    """A seasonal variance: no more goes back than was taken out for the season, within 12 months.

    Source: 40 CFR 82.152, 84.102 (one consecutive 12-month period).
    """
    removed, added = addition.seasonal_removed, addition.mass
    if removed is None or added is None or above(added, removed):
        return False
    if addition.seasonal_removed_date is None or addition.date is None:
        return True
    out, back = date.fromisoformat(addition.seasonal_removed_date), date.fromisoformat(addition.date)
    return 0 <= (back - out).days <= YEAR


def rates(request: LeakRateRequest, kept: Record, full_charge: float) -> Rates:
    """Leak rates on the day of the last addition. full_charge: [kg], above 0."""
    if not kept.additions:
        return Rates(None, None, None, ())
    last, added = kept.additions[-1]
    rolling = rolling_average_rate(_in_window(request, kept, last), full_charge)
    before = _full_before(request, kept, last)
    if before is None:
        missing = (Missing("/last_full_date", "missing.leak-rate-last-full-date"),)
        return Rates(None, rolling, annualizing_rate(added, full_charge, YEAR), missing)
    rate = annualizing_rate(added, full_charge, float((last - before).days))
    return Rates(rate, rolling, rate, ())


def _in_window(request: LeakRateRequest, kept: Record, last: date) -> float:
    """Mass added in the 365 days to the last addition, or since the repair where that is later [kg]."""
    repaired = None if request.last_repair_date is None else date.fromisoformat(request.last_repair_date)
    if repaired is not None and repaired >= last:
        repaired = None
    return sum(
        mass for day, mass in kept.additions if (last - day).days < YEAR and (repaired is None or day > repaired)
    )


def _full_before(request: LeakRateRequest, kept: Record, last: date) -> date | None:
    """The day before the last addition on which the appliance was known to be full."""
    known = [day for day, _ in kept.additions if day < last]
    if request.last_full_date is not None:
        known.append(date.fromisoformat(request.last_full_date))
    return max((day for day in known if day < last), default=None)
