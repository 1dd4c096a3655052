"""Writes data/reading_uses: which findings name which member as evidence, over every golden case and sample."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import yaml

from service.workshop.specification.asking import ROOT, quietly

FILE = ROOT / "service" / "knowledge" / "data" / "reading_uses" / "reading_uses.yaml"
HEAD = "# Made by `python -m service spec` from the evidence of all golden cases and samples; not to be edited.\n"
ONE_VISIT = ("assessment", "electrical", "charge", "air", "compressor", "intake")
_PLACE = re.compile(r"/\d+(?=/|$)")


def write_uses() -> None:
    """Write the file anew; what no case reaches is not in it."""
    uses: dict[str, set[str]] = {}
    for endpoint, visit in posted_visits():
        answer = quietly("POST", endpoint, json=visit)
        if answer.status_code == 200:
            _note(answer.get_json()["findings"], uses)
    lines = [
        f"- {{code: {pointer}, findings: [{', '.join(sorted(codes))}]}}\n"
        for pointer, codes in sorted(uses.items())
    ]
    FILE.parent.mkdir(exist_ok=True)
    FILE.write_text(HEAD + "".join(lines), encoding="utf-8")


def _note(findings: list[dict[str, Any]], uses: dict[str, set[str]]) -> None:
    for finding in findings:
        for pointer in finding["evidence"]:
            uses.setdefault(_PLACE.sub("/0", pointer), set()).add(finding["code"])


def posted_visits() -> Iterator[tuple[str, dict[str, Any]]]:
    """Endpoint and document of every golden case about one visit, and every sample visit as an assessment."""
    for file in sorted((ROOT / "tests" / "cases").rglob("*.yaml")):
        for case in yaml.load(file.read_bytes(), yaml.CSafeLoader):
            endpoint = str(case.get("endpoint", ""))
            if endpoint.removeprefix("/v1/") in ONE_VISIT and "request" in case:
                yield endpoint, case["request"]
    for file in sorted((ROOT / "samples" / "visits").glob("*.json")):
        yield "/v1/assessment", json.loads(file.read_text(encoding="utf-8"))
