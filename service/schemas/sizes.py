"""How much of an answer is sent: all of it, without what passed, or what the office books with."""

from collections.abc import Mapping
from typing import Any

FULL, SHORT, OUTCOME = "full", "short", "outcome"
SIZES = (FULL, SHORT, OUTCOME)
PASSED = ("pass",)
TOLD = ("fail", "review", "undecided")
LEAST_SHARE = 0.01
"""A cause with a smaller share is left out of a short answer; project choice."""
KEPT = frozenset(
    {"reference", "outcome", "holds", "questions", "load_list", "baseline_to_keep", "read", "units", "provenance"}
)
"""What the smallest size keeps: holds stop the work, so they never go missing."""


def sized(body: Mapping[str, Any], size: str) -> dict[str, Any]:
    """An answer in the size asked for; every list stays a list, so that one shape holds for all sizes.

    body: the answer as dump.py writes it. size: full (nothing left out), short (what passed is a list of codes,
    causes under 1 % are left out) or outcome (every list but the holds is empty).
    """
    made: dict[str, Any] = {"size": size, **body}
    if size == SHORT:
        made["findings"] = [item for item in body["findings"] if item["state"] in TOLD]
        made["causes"] = [item for item in body["causes"] if item["probability"] >= LEAST_SHARE]
        made["passed"] = _codes(body)
    if size == OUTCOME:
        made = {name: value if name in KEPT or name == "size" else type(value)() for name, value in made.items()}
    return made


def _codes(body: Mapping[str, Any]) -> list[str]:
    """Codes of the checks that passed and that no other reading failed, in the order of the findings."""
    told = {item["code"] for item in body["findings"] if item["state"] in TOLD}
    passed = (item["code"] for item in body["findings"] if item["state"] in PASSED)
    return [code for code in dict.fromkeys(passed) if code not in told]
