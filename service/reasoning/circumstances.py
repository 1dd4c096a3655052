"""What the nameplate and the history say of the causes before anything is read."""

from collections.abc import Iterable, Iterator

from service.knowledge.catalogues import symptoms as symptom_rows
from service.knowledge.circumstances import circumstance_rows
from service.knowledge.kinds import kind_row
from service.knowledge.limits import limit
from service.reasoning.case import Case
from service.reasoning.unit import is_cooling_only, motor_feed
from service.results.visit import Visit
from service.verdicts.refrigerant_held import is_flammable


def weights_of_circumstances(case: Case) -> dict[str, float]:
    """Natural-log likelihood ratio by cause, summed over the circumstances that count in this case.

    Once somebody is there, age and history stay out: the cycle model's own prior carries them. Whether the unit
    runs at all is out too where running readings were weighed, which say so for themselves.
    """
    visit = case.visit
    if case.profile.prepares:
        return _summed(circumstances(visit))
    runs = () if case.cycle.weighing is not None else _running(visit)
    return _summed((*_nameplate(visit), *runs, *_followed_up(visit)))


def _summed(codes: Iterable[str]) -> dict[str, float]:
    weights: dict[str, float] = {}
    for code in codes:
        for cause, weight in circumstance_rows()[code].items():
            weights[cause] = weights.get(cause, 0.0) + weight
    return weights


def circumstances(visit: Visit) -> tuple[str, ...]:
    """Codes of the circumstances that hold; what the document does not say says nothing."""
    return (*_nameplate(visit), *_age(visit), *_history(visit), *_running(visit), *_followed_up(visit))


def _running(visit: Visit) -> Iterator[str]:
    """Whether the compressor runs at all; a complaint that says both says neither."""
    stands, runs = does_not_start(visit), _says(visit, "runs")
    if stands and not runs:
        yield "does_not_start"
    if runs and not stands:
        yield "it_runs"


def _followed_up(visit: Visit) -> Iterator[str]:
    """What was answered when a symptom was asked about further; each answer that tells has a row."""
    complaint = visit.complaint
    said = (("trips", complaint.trip_timing), ("noise", complaint.noise), ("water", complaint.water_at))
    yield from (f"{what}_{word}" for what, word in said if word is not None)
    if complaint.other_appliances:
        yield "other_appliances"


def _nameplate(visit: Visit) -> Iterator[str]:
    equipment = visit.equipment
    if equipment.compressor.drive is not None or equipment.phases is not None:
        yield motor_feed(visit)
    if equipment.compressor.drive in ("single_phase", "three_phase"):
        yield "fixed_speed"
    if is_cooling_only(visit):
        yield "cooling_only"
    kind, complaint = kind_row(visit.equipment.kind), visit.complaint
    yield from kind.circumstances
    if kind.sealed and not (complaint.recent_work or complaint.charge_added_recently):
        yield "never_opened"
    if equipment.mode is not None:
        yield f"asks_{equipment.mode}"
    if equipment.refrigerant_named is not None:
        yield "flammable" if is_flammable(visit) else "not_flammable"


def does_not_start(visit: Visit) -> bool:
    """True where the complaint says that the compressor does not start."""
    return _says(visit, "stands")


def _says(visit: Visit, word: str) -> bool:
    return any(symptom_rows()[symptom].says == word for symptom in visit.complaint.symptoms)


def _age(visit: Visit) -> Iterator[str]:
    years = age_in_years(visit)
    if years is not None and years >= limit("replacement.age-years").value:
        yield "old"
    if years is not None and years <= limit("intake.new-years").value:
        yield "new"


def age_in_years(visit: Visit) -> int | None:
    """Calendar years since the unit was made; None where date or year is not given, or the date comes before."""
    made = visit.equipment.year_made
    if made is None or visit.visit_date is None:
        return None
    years = int(visit.visit_date[:4]) - made
    return years if years >= 0 else None


def _history(visit: Visit) -> Iterator[str]:
    complaint = visit.complaint
    if complaint.recent_work:
        yield "recent_work"
    if complaint.charge_added_recently:
        yield "charge_added"
    if complaint.days_since_ok is not None:
        if complaint.days_since_ok <= limit("intake.sudden-days").value:
            yield "sudden"
        elif complaint.days_since_ok >= limit("intake.slow-days").value:
            yield "slow"
