"""What the first request of each kind would otherwise wait for, done once in the master before the workers fork.

Codes, texts and tables are read by whoever needs them first. Read before the fork, they are read once and lie in
memory once, and no caller is turned away because of the time it takes.
"""

from __future__ import annotations

import gc
import json
from importlib import resources
from typing import Any

from service.knowledge import parsed
from service.knowledge.refrigerants import all_refrigerants
from service.library import assess_one
from service.wire.responding import encode
from service.words.locale import LANGUAGES


def typical_visit() -> dict[str, Any]:
    """A visit of 25 readings: gauges, lines, air side, supply, control, currents, with a complaint."""
    file = resources.files("service.wire") / "typical_visit.json"
    found: dict[str, Any] = json.loads(file.read_bytes())
    return found


def warm_up() -> None:
    """Judge a visit, say it in every language, read every table; then tell the collector that all this stays.

    What of it is garbage stays as well: to look for it takes a tenth of the start and frees nothing that shows.
    What was parsed for it is kept for the next start.
    """
    all_refrigerants()
    assessed = assess_one(typical_visit())
    for language in LANGUAGES:
        encode(assessed.document(language))
    parsed.keep()
    gc.freeze()
    gc.enable()
