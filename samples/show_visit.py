"""Post a visit document to a running service and print what a technician would want to read.

python samples/show_visit.py http://127.0.0.1:8650 samples/visits/weak-capacitor.json
"""

import json
import sys
import textwrap
from pathlib import Path
from typing import Any

import requests


def show(answer: dict[str, Any]) -> None:
    """Holds first, then verdicts, causes, the next reading and the next steps."""
    outcome = answer["outcome"]
    title = f"{answer['reference']}: {outcome['state']}, {outcome['run_permission'].replace('_', ' ')}"
    print(f"\n{title}\n{'=' * len(title)}")
    for hold in answer["holds"]:
        _print(f"HOLD  {hold['title']}. {hold['instruction']}")
    for finding in answer["findings"]:
        if finding["state"] in ("fail", "review", "undecided"):
            _print(f"{finding['state']:<9} {finding['title']}: {finding['detail']}")
    for cause in answer["causes"][:3]:
        _print(f"cause     {cause['title']} ({min(99, 100 * cause['probability']):.0f} %)")
    for reading in answer["next_readings"][:2]:
        _print(f"read next {reading['title']}: {reading['why']}")
    for step in answer["next_steps"]:
        _print(f"step {step['order']:>2}   [power {step['power']}] {step['title']}. {step['text']}")
    _print(f"office    {outcome['summary']}")


def _print(text: str) -> None:
    print(textwrap.fill(text, 110, subsequent_indent=" " * 10))


if __name__ == "__main__":
    address, visit = sys.argv[1:3]
    response = requests.post(f"{address}/v1/assessment", json=json.loads(Path(visit).read_text()), timeout=10)
    response.raise_for_status()
    show(response.json())
