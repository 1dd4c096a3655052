"""A small client of the service, to start from.

python samples/python_client.py [http://127.0.0.1:8650] [samples/visits/weak-capacitor.json]
"""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path
from typing import Any

import requests

SECONDS = 10.0
TRIES = 4
UNAVAILABLE = 503


class Refused(Exception):
    """The service refused a request; `errors` points at what is wrong in it."""

    def __init__(self, problem: dict[str, Any]) -> None:
        super().__init__(problem["detail"])
        self.status: int = problem["status"]
        self.errors: list[dict[str, Any]] = problem["errors"]


class Diagnosis:
    """The service at an address; keeps its connection."""

    def __init__(self, address: str, key: str | None = None, language: str = "en") -> None:
        self.address = address.rstrip("/")
        self.session = requests.Session()
        self.session.headers["Accept-Language"] = language
        if key is not None:
            self.session.headers["X-Api-Key"] = key

    def assess(self, visit: dict[str, Any]) -> dict[str, Any]:
        """Judge a visit document. Raises: Refused."""
        return self._post("/v1/assessment", visit)

    def saturation(self, refrigerant: str, pressures: list[float]) -> list[dict[str, float]]:
        """Bubble and dew temperatures [degF] at gauge pressures [psig]. Raises: Refused."""
        points = [{"pressure": pressure} for pressure in pressures]
        answer = self._post("/v1/saturation", {"refrigerant": refrigerant, "points": points})
        found: list[dict[str, float]] = answer["points"]
        return found

    def _post(self, path: str, document: dict[str, Any]) -> dict[str, Any]:
        response = self._sent(path, document)
        if response.headers["Content-Type"].startswith("application/problem+json"):
            raise Refused(response.json())
        response.raise_for_status()
        answer: dict[str, Any] = response.json()
        return answer

    def _sent(self, path: str, document: dict[str, Any]) -> requests.Response:
        """A full or stopping instance says when to try again; the service keeps nothing, so that is safe."""
        for _ in range(TRIES):
            response = self.session.post(self.address + path, json=document, timeout=SECONDS)
            if response.status_code != UNAVAILABLE:
                break
            time.sleep(float(response.headers.get("Retry-After", "1")))
        return response


def main(address: str, visit_file: str) -> None:
    """Judge a visit and print what the dispatcher needs; holds first."""
    service = Diagnosis(address)
    for point in service.saturation("R-410A", [118.0, 340.0]):
        print(
            f"{point['pressure']} psig: bubble {point['bubble_temperature']}, dew {point['dew_temperature']} degF"
        )
    answer = service.assess(json.loads(Path(visit_file).read_text(encoding="utf-8")))
    for hold in answer["holds"]:
        print(f"HOLD {hold['title']}: {hold['instruction']}")
    print(f"{answer['outcome']['state']}, {answer['outcome']['run_permission']}: {answer['outcome']['summary']}")
    for cause in answer["causes"][:3]:
        print(f"{cause['probability']:.0%} {cause['title']}")
    for step in answer["next_steps"]:
        print(f"{step['order']}. [power {step['power']}] {step['text']}")
    try:
        service.assess({"running": {"suction_pressure": "118"}})
    except Refused as refused:
        for error in refused.errors:
            print(f"refused at {error['pointer']}: {error['detail']}")


if __name__ == "__main__":
    given = sys.argv[1:]
    main(
        given[0] if given else "http://127.0.0.1:8650",
        given[1] if given[1:] else "samples/visits/weak-capacitor.json",
    )
