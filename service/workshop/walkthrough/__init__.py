"""python -m service try: a visit in the terminal, without a server.

Asks for readings in the order in which the service wants them, what makes the work safe first, and ends with the
verdict and the document, ready to be posted. It can be stopped, kept in a file and gone on with; after a repair
the same readings are taken again and compared. A procedure's name walks through that procedure.
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

from service.knowledge.walk import walk_rows
from service.workshop.walkthrough.asking import KEYS, Stopped, said_at
from service.workshop.walkthrough.keeping import Kept, NotKept, keep, kept_in
from service.workshop.walkthrough.procedure import PROCEDURES, ProcedureWalk
from service.workshop.walkthrough.telling import show_comparison, show_procedure, show_verdict, wrapped
from service.workshop.walkthrough.walk import Walk, answer

__all__ = ["Walk", "answer", "main"]

KEPT_IN = "visit.json"
REPAIRABLE = ("fault", "unsafe")
UNITS: dict[str, dict[str, str]] = {
    "us": {},
    "si": {"temperature": "degC", "pressure": "barg", "static_pressure": "Pa", "airflow": "m3/h", "mass": "kg"},
}


def main(arguments: list[str]) -> int:
    """Walk through a visit or a procedure; the end of the input is the end of the readings."""
    parser = argparse.ArgumentParser(prog="python -m service try", description="A visit in the terminal.")
    parser.add_argument("procedure", nargs="?", choices=tuple(PROCEDURES), help="instead of a visit")
    parser.add_argument(
        "--units", choices=tuple(UNITS), default="us", help="us: degF, psig ...; si: degC, barg ..."
    )
    parser.add_argument("--file", type=Path, help="where a visit that is stopped is kept, and gone on with")
    given = parser.parse_args(arguments)
    print(wrapped(f"Type a reading. {KEYS}", ""))
    try:
        kept = kept_in(given.file) if given.file else {}
    except NotKept as reason:
        print(wrapped(str(reason), ""))
        return 2
    walk = _walk(given.procedure or kept.get("procedure"), kept, UNITS[given.units])
    return _walked(walk, given.file)


def _walk(procedure: str | None, kept: Kept, units: dict[str, str]) -> Walk | ProcedureWalk:
    row = walk_rows()[procedure] if procedure is not None else None
    usual = row.units if row is not None else {}
    document: dict[str, Any] = kept.get("document") or {"units": {**usual, **units}}
    if procedure is not None and row is not None:
        return ProcedureWalk(procedure, row, document, kept.get("asked"))
    return Walk(document, kept.get("asked"), kept.get("before"))


def _walked(walk: Walk | ProcedureWalk, file: Path | None) -> int:
    """Walk on, round by round."""
    following: Walk | ProcedureWalk | None = walk
    while following is not None:
        walk, following = following, None
        try:
            walk.run()
            found = _shown(walk)
            following = _after_repair(walk, found)
        except Stopped:
            return _stopped(walk, file)
        except (EOFError, KeyboardInterrupt):
            print()
            if following is None:
                _shown(walk)
    return 0


def _shown(walk: Walk | ProcedureWalk) -> dict[str, Any]:
    """Print the verdict and the document; the answer."""
    found = walk.verdict()
    if isinstance(walk, ProcedureWalk):
        show_procedure(found)
    elif walk.before is not None:
        show_comparison(found)
    else:
        show_verdict(found)
    print("\nThe document, to be posted:")
    print(json.dumps(walk.document, ensure_ascii=False))
    return found


def _after_repair(walk: Walk | ProcedureWalk, found: dict[str, Any]) -> Walk | None:
    """The round after the repair, where there was something to repair and somebody wants to go on."""
    if isinstance(walk, ProcedureWalk) or walk.before is not None:
        return None
    if found["outcome"]["state"] not in REPAIRABLE:
        return None
    try:
        said = said_at("\nRepaired, and ready to read again? [yes/no; stop keeps it for later] > ")
    except EOFError:
        return None
    return walk.next_round() if said.lower() in ("y", "yes") else None


def _stopped(walk: Walk | ProcedureWalk, file: Path | None) -> int:
    """Keep what there is."""
    file = file or Path(KEPT_IN)
    kept: Kept = {"document": walk.document, "asked": walk.asked}
    if isinstance(walk, ProcedureWalk):
        kept["procedure"] = walk.name
    elif walk.before is not None:
        kept["before"] = walk.before
    try:
        keep(file, kept)
    except NotKept as reason:
        print(wrapped(str(reason), ""))
        print(json.dumps(walk.document, ensure_ascii=False))
        return 2
    print(wrapped(f"Kept in {file}. Go on with: python -m service try --file {file}", ""))
    return 0
