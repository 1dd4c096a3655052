"""Which causes a reading not yet taken would tell apart."""

from itertools import combinations
from math import sqrt
from statistics import fmean

from service.knowledge.cycle_model import CLASSES
from service.reasoning.cycle.gain import Predicted

WORTH_TELLING = 0.04


class Apart:
    """The likely causes of one visit, and how far apart their predictions stand."""

    def __init__(self, predicted: Predicted, at: int) -> None:
        self._mean, self._covariance = predicted.mean[at], predicted.covariance[at]
        leading = predicted.leading
        labels = [leading.present[place] for place in leading.place[at].tolist()]
        self._weighted = list(zip(labels, leading.weights[at].tolist(), strict=True))
        shares: dict[int, float] = {}
        for label, weight in self._weighted:
            shares[label] = shares.get(label, 0.0) + weight
        self._shares = {label: shares[label] for label in sorted(shares) if shares[label] > WORTH_TELLING}

    def told_by(self, columns: tuple[int, ...]) -> tuple[str, ...]:
        """The two likely causes whose predictions of a candidate stand farthest apart."""
        apart: dict[tuple[int, int], float] = {}
        for at in columns:
            centre = self._centres(at)
            spread = sqrt(fmean(self._covariance[:, at, at].tolist()))
            for pair in combinations(self._shares, 2):
                apart[pair] = max(apart.get(pair, 0.0), abs(centre[pair[0]] - centre[pair[1]]) / spread)
        if not apart:
            return ()
        return tuple(CLASSES[label] for label in max(apart, key=lambda pair: apart[pair]))

    def _centres(self, at: int) -> dict[int, float]:
        found = dict.fromkeys(self._shares, 0.0)
        for (label, weight), mean in zip(self._weighted, self._mean[:, at].tolist(), strict=True):
            if label in found:
                found[label] += weight * mean / self._shares[label]
        return found
