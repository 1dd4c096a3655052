"""Both leak rates from the additions on record."""

from datetime import date

from service.physics.leak_rate import YEAR, annualizing_rate, rolling_average_rate
from service.results.finding import Missing
from service.results.procedures.leak_rate import Addition, LeakRateRequest
from service.results.record import Record
from service.verdicts.judge import above

ADDITION = "missing.leak-rate-addition"
FILLED_NEW = ("new_installation", "after_retrofit")


class Additions(Record):
    """Additions by day [kg] that replaced what was lost, in order.

    missing: what is incomplete. full_on: other days on which the appliance was brought to its full charge.
    began: the day of its installation or its last retrofit; what was added before says nothing of it.
    """

    additions: tuple[tuple[date, float], ...]
    missing: tuple[Missing, ...]
    full_on: tuple[date, ...] = ()
    began: date | None = None

    @property
    def last_day(self) -> date | None:
        """Day of the last addition."""
        return self.additions[-1][0] if self.additions else None

    def fullest_year(self) -> int | None:
        """Calendar year in which most was added."""
        years = sorted({day.year for day, _ in self.additions})
        return max(years, key=self._added_in, default=None)

    def most_in_a_year(self) -> float:
        """Most refrigerant added in one calendar year.

        Returns
        -------
        [kg], 0 without additions

        References
        ----------
        Sum of the additions.
        """
        year = self.fullest_year()
        return 0.0 if year is None else self._added_in(year)

    def _added_in(self, year: int) -> float:
        return sum(mass for day, mass in self.additions if day.year == year)


class Rates(Record):
    """Rates [%] by both methods, None where unknown; least: what the annualizing rate is at the least."""

    annualizing: float | None
    rolling_average: float | None
    least: float | None
    missing: tuple[Missing, ...]


def record(request: LeakRateRequest) -> Additions:
    """The complete additions, those of one day taken together."""
    by_day: dict[date, float] = {}
    full_on, began = [], []
    missing = [] if request.additions else [Missing("/additions", ADDITION)]
    for index, addition in enumerate(request.additions):
        lacking = _lacking(addition)
        missing += [Missing(f"/additions/{index}/{name}", text) for name, text in lacking]
        if addition.date is None or addition.mass is None:
            continue
        day = date.fromisoformat(addition.date)
        if addition.reason in FILLED_NEW:
            began.append(day)
        elif addition.reason == "service":
            full_on.append(day)
        lost = 0.0 if lacking else _lost(addition, addition.mass)
        if lost > 0.0:
            by_day[day] = by_day.get(day, 0.0) + lost
    first = max(began, default=None)
    kept = sorted((day, lost) for day, lost in by_day.items() if first is None or day >= first)
    return Additions(tuple(kept), tuple(missing), (*full_on, *began), first)


def _lacking(addition: Addition) -> list[tuple[str, str]]:
    """Members that the addition lacks, each with why it is asked for."""
    wanted = {"date": ADDITION, "mass": ADDITION}
    if addition.reason == "service":
        wanted["recovered"] = "missing.leak-rate-recovered"
    if addition.reason == "seasonal_variance":
        wanted["seasonal_removed"] = "missing.leak-rate-seasonal"
    return [(name, text) for name, text in wanted.items() if getattr(addition, name) is None]


def _lost(addition: Addition, added: float) -> float:
    """What of an addition replaced refrigerant that was lost [kg].

    None of a first filling or of one after a retrofit, nor of a seasonal variance: no more goes back than was
    taken out for the season. After a service only what is more than was recovered. Source: 40 CFR 82.152,
    82.157(b), 84.102, 84.106(b), from memory.
    """
    if addition.reason in FILLED_NEW:
        return 0.0
    if addition.reason == "service":
        return max(added - (addition.recovered or 0.0), 0.0)
    return 0.0 if _seasonal(addition, added) else added


def _seasonal(addition: Addition, added: float) -> bool:
    """A seasonal variance: no more goes back than was taken out for the season, within 12 months.

    Source: 40 CFR 82.152, 84.102 (one consecutive 12-month period).
    """
    removed = addition.seasonal_removed
    if removed is None or above(added, removed):
        return False
    if addition.seasonal_removed_date is None or addition.date is None:
        return True
    out, back = date.fromisoformat(addition.seasonal_removed_date), date.fromisoformat(addition.date)
    return 0 <= (back - out).days <= YEAR


def rates(request: LeakRateRequest, kept: Additions, full_charge: float) -> Rates:
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


def _in_window(request: LeakRateRequest, kept: Additions, last: date) -> float:
    """Mass added in the 365 days to the last addition, or since the repair where that is later [kg]."""
    repaired = None if request.last_repair_date is None else date.fromisoformat(request.last_repair_date)
    if repaired is not None and repaired >= last:
        repaired = None
    return sum(
        mass for day, mass in kept.additions if (last - day).days < YEAR and (repaired is None or day > repaired)
    )


def _full_before(request: LeakRateRequest, kept: Additions, last: date) -> date | None:
    """The day before the last addition on which the appliance was known to be full."""
    known = [*(day for day, _ in kept.additions if day < last), *kept.full_on]
    if request.last_full_date is not None:
        known.append(date.fromisoformat(request.last_full_date))
    return max((day for day in known if day < last), default=None)
