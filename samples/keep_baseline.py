"""Keep how a unit reads when nothing is wrong with it, and let its next visit be judged by that.

python samples/keep_baseline.py [http://127.0.0.1:8650]

The answer to a proven repair, and to a sound commissioning or maintenance visit, hands out a document. It is kept
as it is with the unit's record, and posted as `baseline` with the later visits of that unit.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import requests

SAMPLES = Path(__file__).parent
SECONDS = 10.0


def posted(address: str, path: str, document: dict[str, Any]) -> dict[str, Any]:
    """The answer to a document. Raises: HTTPError where it is refused."""
    response = requests.post(address + path, json=document, timeout=SECONDS)
    response.raise_for_status()
    answer: dict[str, Any] = response.json()
    return answer


def read(name: str) -> dict[str, Any]:
    """A document of the samples."""
    document: dict[str, Any] = json.loads((SAMPLES / name).read_text(encoding="utf-8"))
    return document


def main(address: str) -> None:
    """Put a unit into service, keep its baseline, and judge a later visit without and with it."""
    answer = posted(address, "/v1/assessment", read("visits/commissioning.json"))
    kept = answer["baseline_to_keep"]
    print(kept["text"])
    print(json.dumps(kept["document"], indent=2))
    later = {name: part for name, part in read("visits/with-baseline.json").items() if name != "baseline"}
    for title, visit in (("without", later), ("with", later | {"baseline": kept["document"]})):
        answer = posted(address, "/v1/assessment", visit)
        first = answer["causes"][0]
        print(f"{title} its baseline: {first['title']} ({first['probability']:.0%}), {answer['outcome']['state']}")
    print(f"used: {answer['provenance']['baseline']}")
    repaired = posted(address, "/v1/comparison", read("comparison/charge-repaired.json"))
    print(f"repair {repaired['computed']['repair']}: {repaired['baseline_to_keep']['text']}")


if __name__ == "__main__":
    main(sys.argv[1].rstrip("/") if sys.argv[1:] else "http://127.0.0.1:8650")
