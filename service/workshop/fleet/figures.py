"""Shares with their intervals, and how far stated shares are from what came true."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

Z = 1.959964  # two-sided 95 % of the normal distribution
BINS = 10
LEAST_SHARE = 0.0025
"""A cause that an answer does not show lies below 0.005; half of that stands for it in a logarithm."""


def share(count: int, of: int) -> dict[str, Any]:
    """Share with its 95 % Wilson score interval (Wilson 1927); without cases, the counts alone.

    Source: E. B. Wilson, Probable inference, the law of succession, and statistical inference, Journal of the
    American Statistical Association 22 (1927), 209-212; the form as in the NIST/SEMATECH e-Handbook, 7.2.4.1.

    >>> share(8, 10)
    {'count': 8, 'of': 10, 'share': 0.8, 'low': 0.4902, 'high': 0.9433}
    """
    if of == 0:
        return {"count": 0, "of": 0}
    found, z2 = count / of, Z * Z
    middle = (found + z2 / (2 * of)) / (1 + z2 / of)
    half = Z / (1 + z2 / of) * math.sqrt(found * (1 - found) / of + z2 / (4 * of * of))
    low, high = max(0.0, middle - half), min(1.0, middle + half)
    return {"count": count, "of": of, "share": round(found, 4), "low": round(low, 4), "high": round(high, 4)}


@dataclass(slots=True)
class Bin:
    """Answers whose leading share lies in one tenth: how many, their shares summed, how many were right."""

    number: int = 0
    shares: float = 0.0
    right: int = 0

    def add(self, stated: float, right: bool) -> None:
        """Count one answer."""
        self.number += 1
        self.shares += stated
        self.right += right


class Reliability:
    """Stated shares against what came true, in ten bins of equal width."""

    def __init__(self) -> None:
        self.bins = [Bin() for _ in range(BINS)]

    def add(self, stated: float, right: bool) -> None:
        """Count one answer by the share of its leading cause."""
        self.bins[min(int(stated * BINS), BINS - 1)].add(stated, right)

    @property
    def number(self) -> int:
        """Answers counted."""
        return sum(item.number for item in self.bins)

    def error(self) -> float:
        """Expected calibration error: mean distance of stated from observed share, bins weighted by number."""
        distances = (abs(item.shares - item.right) for item in self.bins)
        return sum(distances) / max(self.number, 1)

    def table(self) -> list[dict[str, Any]]:
        """The bins that hold answers."""
        return [
            {
                "from": index / BINS,
                "to": (index + 1) / BINS,
                "stated": round(item.shares / item.number, 4),
                "right": share(item.right, item.number),
            }
            for index, item in enumerate(self.bins)
            if item.number
        ]


def log_loss(causes: Sequence[tuple[str, float]], truth: str) -> float:
    """Natural-log loss of one answer [nat]: minus the logarithm of the share it gave to what proved true."""
    given = next((stated for code, stated in causes if code == truth), 0.0)
    return -math.log(max(given, LEAST_SHARE))
