"""What a dispatcher books with, in sentences: when, how long, who, and what to load."""

from collections.abc import Sequence

from service.reasoning.case import Case
from service.results.planned import Minutes, RefrigerantLoad, Sentence
from service.results.quantity import Quantity

LONG, HALF = 90.0, 30.0  # min: from here on times are said in half hours; common practice, no source


def booked(
    case: Case,
    urgency: str,
    times: Sequence[Minutes | None],
    certificates: Sequence[str],
    crew: int,
    refrigerant: RefrigerantLoad | None,
) -> tuple[Sentence, ...]:
    """The sentences after the cause and the permission. times: of this visit and of the next one."""
    spent = (
        _spent(code, _rounded(each.low), _rounded(each.high))
        for code, each in zip(("summary.time", "summary.return"), times, strict=True)
        if each is not None
    )
    load = refrigerant is not None and refrigerant.likely and refrigerant.designation
    return (
        Sentence(f"summary.when.{urgency}"),
        *spent,
        *(Sentence("summary.who", {"who": f"certificate.{code}"}) for code in certificates),
        *((Sentence("summary.two"),) if crew > 1 else ()),
        *(Sentence("summary.load", {"part": part.code}) for part in case.plan.needed),
        *((Sentence("summary.refrigerant", {"refrigerant": load}),) if load else ()),
    )


def _spent(code: str, low: Quantity, high: Quantity) -> Sentence:
    """How long it takes; one time where both ends are the same as said."""
    return Sentence(f"{code}-one", {"low": low}) if low == high else Sentence(code, {"low": low, "high": high})


def _rounded(minutes: float) -> Quantity:
    """Minutes, from ninety on to the half hour."""
    return Quantity(HALF * round(minutes / HALF) if minutes >= LONG else minutes, "minutes")
