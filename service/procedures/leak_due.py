"""By when a leak is to be repaired, and a year's additions are to be reported."""

from datetime import date, timedelta

from service.knowledge.rule_book import Place
from service.procedures.leak_additions import Additions
from service.results.finding import Finding, State
from service.results.procedures.leak_rate import LeakRateRequest
from service.results.record import Record
from service.verdicts.report import report

CODE = "leak-rate.repair-due"
INDUSTRIAL = "industrial_process_refrigeration"


class Due(Record):
    """Last days for the repair and for the report, as far as they arise."""

    findings: tuple[Finding, ...] = ()
    repair: date | None = None
    report: date | None = None


def due_dates(
    request: LeakRateRequest, place: Place, kept: Additions, day: date | None, *, owed: bool, chronic: bool
) -> Due:
    """Dates from the day of the last addition. owed: a repair is; chronic: a report on the fullest year is."""
    rules, last, year = place.rules("leak_repair", day), kept.last_day, kept.fullest_year()
    reported = None
    if chronic and year is not None and year < date.max.year:
        reported = date(year + 1, 3, 1)
    if not owed or not rules or last is None:
        return Due(report=reported)
    rule = rules[0]
    days = int(rule.thresholds["days_process_shutdown" if _shuts_down(request) else "days"])
    if last > date.max - timedelta(days=days):
        return Due(report=reported)
    due = last + timedelta(days=days)
    state, variant = _state(request, last, due, day)
    values = {"due": due.isoformat(), "added": last.isoformat(), "rule": rule.title}
    finding = report(CODE, state, ("/additions",), values=values, variant=variant)
    return Due((finding,), due, reported)


def _shuts_down(request: LeakRateRequest) -> bool:
    return bool(request.process_shutdown) and request.appliance_class == INDUSTRIAL


def _state(request: LeakRateRequest, last: date, due: date, day: date | None) -> tuple[State, str]:
    """Whether it was repaired since the addition, in time; if not, whether time is left."""
    repaired = None if request.last_repair_date is None else date.fromisoformat(request.last_repair_date)
    if repaired is not None and repaired >= last:
        return (State.PASS, "") if repaired <= due else (State.FAIL, "late")
    if day is not None and day > due:
        return State.FAIL, ""
    return State.REVIEW, ""
