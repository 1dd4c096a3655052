"""What is to be kept of a visit: how this unit reads when nothing is wrong with it."""

from __future__ import annotations

from typing import ClassVar

from service.results.declare import sent
from service.results.record import Record, field
from service.results.visit import Baseline


class KeptBaseline(Record):
    """Readings of a unit whose repair is proven, or that came out sound at commissioning or maintenance.

    code: of its text.
    """

    text: ClassVar[str] = field(metadata=sent("text", "What to do with it.", said="keep"))
    document: Baseline = field(
        metadata=sent("posted", "Keep it, and post it as `baseline` with this unit's later visits.", part=Baseline)
    )
    code: str = "baseline.keep"
