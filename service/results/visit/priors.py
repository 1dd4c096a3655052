"""A fleet's own shares of causes, for this visit: learnt from visits whose repair was proven."""

from service.results.declare import member, parts
from service.results.record import Record

MOST_SHARES = 100


class CauseShare(Record):
    """How often a cause proved right, of visits like this one, before anything is read."""

    cause: str | None = member("text", "Code of the cause, as /v1/causes lists it.", length=64, required=True)
    share: float | None = member("ratio", "Share of such visits, 0 to 1.", low=0.0, high=1.0, required=True)


class Priors(Record):
    """Shares of causes that a fleet has learnt, mixed into the shipped ones by the labels behind them."""

    name: str | None = member("text", "What provenance calls them.", length=64, required=True)
    model: str | None = member(
        "text", "Model they were learnt on, as the learnt file names it; another one is refused.", length=64
    )
    labels: int | None = member(
        "integer", "Visits with a proven cause that they rest on.", low=1, high=1_000_000_000, required=True
    )
    temperature: float | None = member(
        "ratio", "By what the weight of the readings is divided, 0.5 to 2; 1 when absent.", low=0.5, high=2.0
    )
    shares: tuple[CauseShare, ...] = parts(
        CauseShare, "Causes and their shares; what is left over goes to the others as shipped.", most=MOST_SHARES
    )
