"""What a release of the contract leaves behind: the document with its samples, and every code it knows."""

from __future__ import annotations

import json
from pathlib import Path

from service.results.contract import CONTRACT as VERSION
from service.workshop.specification.asking import ROOT, quietly

RELEASED = ROOT / "openapi" / "released"
LISTS = {
    "findings": "/v1/findings",
    "causes": "/v1/causes",
    "steps": "/v1/steps",
    "hazards": "/v1/hazards",
    "parts": "/v1/parts",
    "tools": "/v1/tools",
    "certificates": "/v1/certificates",
    "questions": "/v1/questions",
    "assumptions": "/v1/assumptions",
    "rules": "/v1/rules",
    "problems": "/v1/problems",
    "errors": "/v1/problems",
}
"""Lists whose codes a release promises: member of the answer, and its path. Limits (/v1/sources) come and go."""


class AlreadyReleased(Exception):
    """A release never changes; the version must rise first."""


def released(folder: Path | None = None) -> Path:
    """Where the document of this version is kept once it has been released."""
    return (folder or RELEASED) / f"openapi-{VERSION}.json"


def release(made: bytes, folder: Path = RELEASED) -> None:
    """Write the document and the codes of this version. Raises: AlreadyReleased."""
    document, codes = released(folder), folder / f"codes-{VERSION}.json"
    if document.exists():
        raise AlreadyReleased(document.name)
    folder.mkdir(parents=True, exist_ok=True)
    document.write_bytes(made)
    known = {name: codes_of(name) for name in LISTS}
    codes.write_text(json.dumps(known, indent=1) + "\n", encoding="utf-8")


def codes_of(name: str) -> list[str]:
    """The codes of one of the lists now."""
    rows = quietly("GET", LISTS[name]).get_json()[name]
    return sorted(row["code"] for row in rows)
