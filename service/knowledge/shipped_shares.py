"""The shares of causes as shipped: before anything is read, for what the customer says."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from service.knowledge.catalogues import causes


@lru_cache(maxsize=4096)
def shipped_shares(symptoms: tuple[str, ...]) -> Mapping[str, float]:
    """Share of each cause among visits with this complaint, summing to 1; symptoms: of the visit document.

    A share is the cause's prior times what each symptom says of it, normalised.
    """
    weights = {
        code: row.prior * math.exp(sum(row.symptoms.get(symptom, 0.0) for symptom in symptoms))
        for code, row in causes().items()
    }
    total = sum(weights.values())
    return MappingProxyType({code: weight / total for code, weight in weights.items()})
