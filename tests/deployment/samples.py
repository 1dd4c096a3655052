"""The drawings of the samples: the note and the chart of every sample visit."""

from __future__ import annotations

from itertools import product
from pathlib import Path

from service.results.record import Record
from tests.deployment.tools import TOP

LANGUAGE = "es"
"""It has all letters of English, and more."""


class Drawing(Record):
    """What is asked for, of which sample."""

    kind: str
    visit: Path

    @property
    def path(self) -> str:
        """Where it is asked for."""
        return {"note": "/v1/assessment", "chart": "/v1/chart"}[self.kind]

    @property
    def headers(self) -> dict[str, str]:
        """How it is asked for."""
        media = {"note": "text/html", "chart": "image/svg+xml"}[self.kind]
        return {"Content-Type": "application/json", "Accept": media, "Accept-Language": LANGUAGE}

    def is_whole(self, text: str) -> bool:
        """Whether an answer is such a drawing to its end; a note has pictures where a pressure was read."""
        if self.kind == "chart":
            return "<svg" in text and text.rstrip().endswith("</svg>")
        pictured = "_pressure" not in self.visit.read_text("utf-8") or "data:image/svg+xml" in text
        return pictured and text.rstrip().endswith("</html>")


def drawings() -> list[Drawing]:
    """Every one of them."""
    visits = sorted((TOP / "samples/visits").glob("*.json"))
    return [Drawing(*chosen) for chosen in product(("note", "chart"), visits)]
