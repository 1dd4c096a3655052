"""Request and computed members of the leak rate."""

from datetime import date

from service.results.computed import quantity
from service.results.declare import choice, flag, member, parts
from service.results.procedures.request import ProcedureRequest
from service.results.procedures.rests_on import RestsOn
from service.results.quantity import Quantity
from service.results.record import Record
from service.results.visit.ranges import mass


class Addition(Record):
    """Refrigerant added to bring the appliance back to full charge."""

    date: str | None = member("date", "Date of the addition, ISO 8601.")
    reason: str | None = choice(
        "Why it was added; leak when absent. `leak`: to replace what was lost. `service`: put back after it was "
        "recovered for a repair. `new_installation`: the first filling. `seasonal_variance`: put back after it "
        "was taken out for the season. `after_retrofit`: the first filling with another refrigerant.",
        "leak",
        "service",
        "new_installation",
        "seasonal_variance",
        "after_retrofit",
    )
    recovered: float | None = mass("What had been recovered for that service; putting it back is not a leak.")
    seasonal_removed: float | None = mass(
        "What had been taken out for the season in the 12 months before; adding no more than that is not a leak."
    )
    seasonal_removed_date: str | None = member(
        "date", "When it was taken out, ISO 8601; more than 12 months before, the addition counts as a leak."
    )
    mass: float | None = mass("Refrigerant added.")


class LeakRateRequest(ProcedureRequest):
    """Is a leak repair required?"""

    visit_date: str | None = member("date", "Date of the visit, ISO 8601; says which rule is in force.")
    refrigerant: str | None = member("text", "ASHRAE 34 designation; the equipment's when absent.", length=24)
    full_charge: float | None = mass("Full charge of the appliance; the factory charge when absent.")
    additions: tuple[Addition, ...] = parts(Addition, "Refrigerant added, with dates.", 500)
    appliance_class: str | None = choice(
        "Class in the rules. residential_light_commercial: unitary air conditioners and heat pumps.",
        "residential_light_commercial",
        "comfort_cooling",
        "commercial_refrigeration",
        "industrial_process_refrigeration",
        "other",
    )
    method: str | None = choice(
        "Method the owner has chosen; annualizing when absent.", "annualizing", "rolling_average"
    )
    last_full_date: str | None = member(
        "date", "Date the appliance was last known full before the first addition listed."
    )
    last_repair_date: str | None = member("date", "Date its leaks were last repaired.")
    process_shutdown: bool | None = flag("The repair needs an industrial process to shut down.")
    leak_detection_system: bool | None = flag("A fixed leak detection system watches the appliance.")
    hermetically_sealed: bool | None = flag("Hermetically sealed and labeled so.")


class LeakRateComputed(Record):
    """The leak rate and what follows from it."""

    leak_rate_percent: Quantity | None = quantity("percent", "By the chosen method, of full charge in 12 months.")
    annualizing_percent: Quantity | None = quantity("percent", "By the annualizing method.")
    rolling_average_percent: Quantity | None = quantity("percent", "By the rolling average method.")
    threshold_percent: Quantity | None = quantity("percent", "The rule's threshold for this class.")
    rule: str | None = member("text", "The rule that applies, with its edition; absent when none does.")
    duty: bool | None = member("boolean", "A leak repair is required.")
    repair_due: date | None = member(
        "date", "Last day for the repair, counted from the addition that showed the leak."
    )
    report_due: date | None = member("date", "Day by which the additions of a calendar year must be reported.")
    leak_check_months: Quantity | None = quantity(
        "count", "Months from one check for leaks to the next, where the place asks for such checks."
    )
    rests_on: tuple[RestsOn, ...] = parts(
        RestsOn, "What the verdict that no repair is required rests on; empty where it is not proven.", 40
    )
