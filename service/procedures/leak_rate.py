"""Does a leak-repair duty arise? The rate, the rule that applies, and the reason where none does."""

from datetime import date

from service.knowledge.refrigerant import Refrigerant
from service.knowledge.rule_book import Place, book
from service.procedures.leak_additions import Additions, Rates, rates, record
from service.procedures.leak_check import leak_check
from service.procedures.leak_due import Due, due_dates
from service.procedures.leak_scope import Scope, class_of, scope
from service.procedures.rests_on import rests_on
from service.results.finding import Bounds, Finding, Missing, State, Value
from service.results.procedures.leak_rate import LeakRateComputed, LeakRateRequest
from service.results.quantity import Quantity
from service.results.record import Record
from service.verdicts.judge import above, below
from service.verdicts.refrigerant_refusals import known_refrigerant
from service.verdicts.report import Checked, report

CODE = "leak-rate.duty"
LEAST_CHARGE = 1e-3  # kg: no appliance holds less than a gram, and a rate of nothing means nothing
OPEN_QUESTIONS = {
    "class": "/appliance_class",
    "contested": "/appliance_class",
    "date": "/visit_date",
    "place": "/site/jurisdiction",
}


class _Case(Record):
    """What the request says, read once."""

    request: LeakRateRequest
    kept: Additions
    rates: Rates
    scope: Scope
    charge_pointer: str
    place: Place
    day: date | None

    @property
    def rate(self) -> float | None:
        """By the owner's method [%]."""
        rolling = self.request.method == "rolling_average"
        return self.rates.rolling_average if rolling else self.rates.annualizing

    @property
    def at_least(self) -> float | None:
        """The rate, or what it cannot be below [%]."""
        return self.rates.least if self.rate is None else self.rate


def leak_rate(request: LeakRateRequest) -> Checked:
    """Compute the leak rate and say whether a duty arises.

    Raises: Refusal for an unknown refrigerant.
    """
    refrigerant = _refrigerant(request)
    charge, pointer = _full_charge(request)
    if refrigerant is None or charge is None or charge < LEAST_CHARGE:
        missing = (
            *(() if refrigerant else (Missing("/refrigerant", "missing.leak-rate-refrigerant"),)),
            *(() if charge else (Missing("/full_charge", "missing.leak-rate-full-charge"),)),
        )
        return Checked((report(CODE, State.UNDECIDED, (), variant="unknown"),), missing, (), LeakRateComputed())
    kept, place = record(request), book().place(request.site.jurisdiction)
    appliance, day = class_of(request, place), _day(request, kept)
    found = scope(place, refrigerant, charge, appliance, day)
    case = _Case(request, kept, rates(request, kept, charge), found, pointer, place, day)
    checks, months = leak_check(request, place, refrigerant, (charge, pointer), day)
    duty, chronic = _duty(case), _chronic(case, charge)
    is_chronic = any(item.state is State.FAIL for item in chronic)
    due = due_dates(request, place, kept, day, owed=duty.state is State.FAIL, chronic=is_chronic)
    findings = (duty, *due.findings, *chronic, *checks)
    return Checked(findings, _missing(case), appliance.assumptions, _computed(case, duty, due, months))


def _refrigerant(request: LeakRateRequest) -> Refrigerant | None:
    if request.refrigerant is not None:
        return known_refrigerant(request.refrigerant, "/refrigerant")
    if request.equipment.refrigerant is not None:
        return known_refrigerant(request.equipment.refrigerant, "/equipment/refrigerant")
    return None


def _full_charge(request: LeakRateRequest) -> tuple[float | None, str]:
    if request.full_charge is not None:
        return request.full_charge, "/full_charge"
    return request.equipment.factory_charge, "/equipment/factory_charge"


def _day(request: LeakRateRequest, kept: Additions) -> date | None:
    """The day that decides which rule is in force: the visit, else the last addition."""
    return kept.last_day if request.visit_date is None else date.fromisoformat(request.visit_date)


def _duty(case: _Case) -> Finding:
    evidence = ("/additions", case.charge_pointer) if case.request.additions else (case.charge_pointer,)
    state, variant = _state(case)
    rules, threshold = case.scope.rules, case.scope.threshold
    cited = "; ".join(rule.cited(case.day) for rule in rules)
    return report(
        CODE,
        state,
        evidence,
        measured=None if case.at_least is None else Quantity(case.at_least, "percent"),
        limit=Bounds("percent", rules[0].origin, cited, high=threshold) if rules else None,
        values=_values(case),
        variant=variant,
    )


def _state(case: _Case) -> tuple[State, str]:
    """The verdict and its variant; an incomplete record can prove a duty, never the lack of one."""
    threshold = case.scope.threshold
    if case.scope.reason:
        return State.NOT_APPLICABLE, case.scope.reason
    if threshold is None:
        return State.UNDECIDED, case.scope.open_question
    if case.at_least is not None and above(case.at_least, threshold):
        return State.FAIL, ""
    if case.rate is None or case.kept.missing:
        return State.UNDECIDED, "record"
    return State.PASS, ""


def _values(case: _Case) -> dict[str, Value]:
    values: dict[str, Value] = {}
    rules, least, contested = case.scope.rules, case.scope.least_charge, case.scope.contested
    if rules:
        values["rule"] = " / ".join(rule.title for rule in rules)
    if contested is not None:
        values["rule_said"] = contested.code
    if not case.place.held:
        values["place"], values["held"] = case.place.asked or "-", ", ".join(book().held)
    if least is not None:
        values["least"] = Quantity(least, "mass")
    return values


def _chronic(case: _Case, charge: float) -> tuple[Finding, ...]:
    """An appliance that lost more than its charge and a quarter in a calendar year is reported."""
    if not case.scope.rules or not case.kept.additions:
        return ()
    share = case.kept.most_in_a_year() / charge * 100.0
    return tuple(
        report(
            "leak-rate.chronic",
            State.PASS if below(share, float(rule.thresholds["percent"])) else State.FAIL,
            ("/additions", case.charge_pointer),
            measured=Quantity(share, "percent"),
            limit=Bounds("percent", rule.origin, rule.cited(case.day), high=float(rule.thresholds["percent"])),
        )
        for rule in case.place.rules("leak_chronic", case.day)[:1]
    )


def _missing(case: _Case) -> tuple[Missing, ...]:
    """What the record lacks, and the question that keeps the rule open; nothing is asked where no rule applies."""
    if case.scope.reason:
        return ()
    pointer = OPEN_QUESTIONS.get(case.scope.open_question)
    named = case.scope.open_question == "place" and case.request.site.jurisdiction is not None
    question = f"missing.leak-rate-{case.scope.open_question}"
    asked = (Missing(pointer, question),) if pointer and not named else ()
    unknown = case.rates.missing if case.rate is None else ()
    return (*asked, *case.kept.missing, *unknown)


def _computed(case: _Case, duty: Finding, due: Due, months: Quantity | None) -> LeakRateComputed:
    rules, state = case.scope.rules, duty.state
    return LeakRateComputed(
        _percent(case.rate),
        _percent(case.rates.annualizing),
        _percent(case.rates.rolling_average),
        _percent(case.scope.threshold),
        "; ".join(f"{rule.title} ({rule.edition})" for rule in rules) or None,
        None if state is State.UNDECIDED else state is State.FAIL,
        due.repair,
        due.report,
        months,
        rests_on(case.request, "leak-rate", duty.evidence) if state is State.PASS else (),
    )


def _percent(value: float | None) -> Quantity | None:
    return None if value is None else Quantity(value, "percent")
