"""The explicit prior of the cycle judgement: shares of causes and what history changes, from data/cycle_priors."""

from functools import cache
from math import isclose

from service.knowledge.cycle_model import CLASSES
from service.knowledge.rows import KnowledgeError, by_code, check_basis
from service.results.record import Record


class CyclePriors(Record):
    """Version of the file, share of each class, and factors on single causes by code of what was said or seen.

    unmodelled [0..1]: share of a posterior that stays at the prior; fit_readings, above 0: for how many readings
    it counts beforehand that a unit spreads about the simulated ones as they do; fit_usual [0..1]: squared
    distance a reading from the nearest of them at which likelihoods are taken at their word; fitted_on: the sets
    of visits that all three were chosen on.
    """

    version: str
    shares: dict[str, float]
    factors: dict[str, dict[str, float]]
    fitted_on: str
    unmodelled: float
    fit_readings: float
    fit_usual: float


@cache
def cycle_priors() -> CyclePriors:
    """The prior. Raises: KnowledgeError when a class lacks a share, or the shares do not sum to 1."""
    found = by_code(
        "cycle_priors", basis=True, share=False, count=False, factors=False, source=False, note=False, text=False
    )
    for row in found.values():
        check_basis(row)
    shares = {name: float(found[f"prior.{name}"]["share"]) for name in CLASSES if f"prior.{name}" in found}
    if len(shares) != len(CLASSES) or not isclose(sum(shares.values()), 1.0, abs_tol=1e-9):
        raise KnowledgeError("cycle_priors: a share is missing or the shares do not sum to 1")
    factors = {code: _factors(code, row["factors"]) for code, row in found.items() if "factors" in row}
    unmodelled, usual = (float(found[f"belief.{name}"]["share"]) for name in ("unmodelled", "fit-usual"))
    beforehand = float(found["belief.fit-readings"]["count"])
    if not (0.0 <= unmodelled <= 1.0 and 0.0 < usual <= 1.0 and beforehand > 0.0):
        raise KnowledgeError("cycle_priors: unmodelled and fit-usual lie between 0 and 1, fit-readings above 0")
    fitted_on = str(found["belief.fitted-on"]["text"])
    return CyclePriors(str(found["version"]["text"]), shares, factors, fitted_on, unmodelled, beforehand, usual)


def _factors(code: str, values: dict[str, float]) -> dict[str, float]:
    known = {part for name in CLASSES for part in name.split("+")}
    if not set(values) <= known or not all(value > 0.0 for value in values.values()):
        raise KnowledgeError(f"cycle_priors: {code}: unknown cause or a factor not above 0")
    return {name: float(value) for name, value in values.items()}
