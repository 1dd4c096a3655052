"""The explicit prior of the cycle judgement: shares of causes and what history changes, from data/cycle_priors."""

from dataclasses import dataclass
from functools import cache
from math import isclose

from service.knowledge.cycle_model import CLASSES
from service.knowledge.rows import KnowledgeError, by_code, check_basis


@dataclass(frozen=True, slots=True)
class CyclePriors:
    """Version of the file, share of each class, and factors on single causes by code of what was said or seen.

    temper [0..1]: exponent on simulated likelihoods; unmodelled [0..1]: share of a posterior that stays at the
    prior; fitted_on: the sets of visits that both were chosen on.
    """

    version: str
    shares: dict[str, float]
    factors: dict[str, dict[str, float]]
    fitted_on: str
    temper: float
    unmodelled: float


@cache
def cycle_priors() -> CyclePriors:
    """The prior. Raises: KnowledgeError when a class lacks a share, or the shares do not sum to 1."""
    found = by_code("cycle_priors", basis=True, share=False, factors=False, source=False, note=False, text=False)
    for row in found.values():
        check_basis(row)
    shares = {name: float(found[f"prior.{name}"]["share"]) for name in CLASSES if f"prior.{name}" in found}
    if len(shares) != len(CLASSES) or not isclose(sum(shares.values()), 1.0, abs_tol=1e-9):
        raise KnowledgeError("cycle_priors: a share is missing or the shares do not sum to 1")
    factors = {code: _factors(code, row["factors"]) for code, row in found.items() if "factors" in row}
    beliefs = [float(found[f"belief.{name}"]["share"]) for name in ("temper", "unmodelled")]
    if not all(0.0 <= value <= 1.0 for value in beliefs):
        raise KnowledgeError("cycle_priors: temper and unmodelled lie between 0 and 1")
    fitted_on = str(found["belief.fitted-on"]["text"])
    return CyclePriors(str(found["version"]["text"]), shares, factors, fitted_on, *beliefs)


def _factors(code: str, values: dict[str, float]) -> dict[str, float]:
    known = {part for name in CLASSES for part in name.split("+")}
    if not set(values) <= known or not all(value > 0.0 for value in values.values()):
        raise KnowledgeError(f"cycle_priors: {code}: unknown cause or a factor not above 0")
    return {name: float(value) for name, value in values.items()}
