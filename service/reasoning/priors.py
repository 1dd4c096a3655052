"""Shares of causes that a fleet has learnt, mixed into the shipped ones.

score = ln prior + evidence becomes ln mixed prior + evidence / temperature. The mixture is the weighted mean of
both shares, the shipped ones counting as a stated number of labels; no cause is shifted further than a stated
ratio, so that one which this fleet has never met can still be found. Holds follow from findings and stay.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from service.knowledge.limits import limit
from service.knowledge.shipped_shares import shipped_shares
from service.results.visit.priors import Priors

LEAST = 1e-9


def mixed_shares(shipped: Mapping[str, float], learnt: Mapping[str, float], labels: float) -> dict[str, float]:
    """Prior to prior: the shipped shares with a fleet's own mixed in; both sum to 1 over the same causes.

    labels: number of labels that `learnt` rests on, above 0. Returns: shares that sum to 1.
    """
    weight, most = limit("priors.shipped-weight").value, limit("priors.most-shift").value
    found = {}
    for code, own in shipped.items():
        together = (weight * own + labels * learnt.get(code, 0.0)) / (weight + labels)
        shift = math.log(max(together, LEAST) / max(own, LEAST))
        found[code] = own * math.exp(min(max(shift, -most), most))
    total = sum(found.values())
    return {code: share / total for code, share in found.items()}


def reweighed(scores: Mapping[str, float], symptoms: tuple[str, ...], priors: Priors) -> dict[str, float]:
    """Scores of causes (natural logarithm, up to a constant) under a fleet's own priors, not the shipped ones.

    symptoms: of the complaint, whose weights the shipped shares and the scores have in them already.
    """
    shipped = shipped_shares(symptoms)
    mixed = mixed_shares(shipped, completed(shipped, priors), priors.labels or 0)
    temperature = priors.temperature or 1.0
    return {
        code: math.log(mixed[code]) + (score - math.log(shipped[code])) / temperature
        for code, score in scores.items()
    }


def completed(shipped: Mapping[str, float], priors: Priors) -> dict[str, float]:
    """The learnt shares over all causes; what is left goes to those not named, as shipped among themselves."""
    named = {item.cause: item.share or 0.0 for item in priors.shares if item.cause is not None}
    others = sum(share for code, share in shipped.items() if code not in named)
    left = max(0.0, 1.0 - sum(named.values()))
    found = {code: named.get(code, left * share / max(others, LEAST)) for code, share in shipped.items()}
    total = sum(found.values())
    return {code: share / total for code, share in found.items()}


def posterior(scores: Mapping[str, float]) -> dict[str, float]:
    """Normalised exponentials of scores."""
    top = max(scores.values())
    weights = {code: math.exp(score - top) for code, score in scores.items()}
    total = sum(weights.values())
    return {code: weight / total for code, weight in weights.items()}


def replayed(causes: Sequence[tuple[str, float]], symptoms: tuple[str, ...], priors: Priors) -> dict[str, float]:
    """The shares that an answer shows, as a fleet's own priors would have them; what it folds away stays away."""
    scores = {code: math.log(max(share, LEAST)) for code, share in causes}
    return posterior(reweighed(scores, symptoms, priors))
