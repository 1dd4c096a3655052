"""Coverage-guided fuzzing (atheris) of the strict reader and of the fields that convert units.

.venv/bin/python -m tests.hostile.fuzz reader -max_total_time=600
.venv/bin/python -m tests.hostile.fuzz units -max_total_time=600

Further options are libFuzzer's. A finding ends the run with a traceback and leaves the input in a file crash-...
"""

from __future__ import annotations

import json
import math
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import atheris

with atheris.instrument_imports(include=["service.wire.strict_json", "service.schemas", "service.results"]):
    from service.results.declare import declared_members
    from service.results.refusal import Refusal
    from service.results.units import TABLE, from_si
    from service.results.visit import Visit
    from service.schemas.documents import load
    from service.wire import strict_json
from service.wire.problems import ProblemError

LONGEST = 65536
SEEDS = (
    b'{"running":{"suction_pressure":118,"liquid_pressure":3.4e2},"units":{"temperature":"degC"}}',
    b'{"a":"\\ud83d\\ude00","b":[1,2,{"c":null}],"a":-0.0,"d":1E400,"e":NaN}',
    b"[" * 40 + b"]" * 40,
)


def read(raw: bytes) -> None:
    """The reader gives a document that is JSON all through, or the one refusal; nothing else."""
    try:
        found = strict_json.parse(raw)
    except ProblemError as problem:
        _require(problem.kind.status == 400 and bool(problem.errors), raw)
        return
    text = json.dumps(found, allow_nan=False, ensure_ascii=False)
    text.encode("utf-8")
    assert json.loads(text) == found == json.loads(raw)
    assert _levels(found) <= strict_json.MOST_LEVELS


def _require(holds: bool, what: object) -> None:
    if not holds:
        raise AssertionError(what)


def _levels(node: Any) -> int:
    inner = node.values() if isinstance(node, dict) else node if isinstance(node, list) else None
    return 0 if inner is None else 1 + max(map(_levels, inner), default=0)


PARTS = {name: member for name, member in declared_members(Visit) if member.kind == "part"}
READINGS = [
    (part, name, member.kind)
    for part, declared in PARTS.items()
    if declared.part is not None
    for name, member in declared_members(declared.part)
]


def convert(raw: bytes) -> None:
    """A reading is taken, and comes back as it was in its unit, or is refused with its pointer."""
    given = atheris.FuzzedDataProvider(raw)
    part, name, kind = READINGS[given.ConsumeIntInRange(0, len(READINGS) - 1)]
    units = {
        unit: list(table)[given.ConsumeIntInRange(0, len(table) - 1)]
        for unit, table in TABLE.items()
        if given.ConsumeBool()
    }
    value = _value(given)
    document = {"units": units, part: {name: value}}
    try:
        visit = load(Visit, document)
    except Refusal as refusal:
        for error in refusal.errors:
            _require(error.pointer.startswith(f"/{part}") and bool(error.detail), error)
        return
    inside = getattr(getattr(visit, part), name)
    if isinstance(inside, float) and not isinstance(value, (dict, str)):
        assert math.isfinite(inside)
        back = from_si(inside, kind, visit.units, visit.site_pressure)
        assert math.isclose(back, float(value), rel_tol=1e-9, abs_tol=1e-6), (part, name, value, inside, back)


def _value(given: Any) -> Any:
    choices: tuple[Callable[[], Any], ...] = (
        given.ConsumeFloat,
        lambda: given.ConsumeInt(8),
        given.ConsumeBool,
        lambda: given.ConsumeUnicode(20),
        lambda: {"ohms": given.ConsumeFloat()},
        lambda: {"over_limit": given.ConsumeBool()},
        lambda: [given.ConsumeFloat()],
        lambda: None,
    )
    made = choices[given.ConsumeIntInRange(0, len(choices) - 1)]()
    return made if _is_json(made) else 0.0


def _is_json(value: Any) -> bool:
    """What the reader could have handed on: no NaN, no infinity."""
    try:
        json.dumps(value, allow_nan=False)
    except ValueError:
        return False
    return True


TARGETS = {"reader": read, "units": convert}


def main(arguments: list[str]) -> None:
    """Fuzz one target; the rest of the command line goes to libFuzzer."""
    name, *options = arguments[1:] or ["reader"]
    seeds = Path(tempfile.mkdtemp(prefix="seeds-"))
    for index, seed in enumerate(SEEDS):
        (seeds / str(index)).write_bytes(seed)
    corpus = [] if any(not option.startswith("-") for option in options) else [tempfile.mkdtemp(prefix="corpus-")]
    atheris.Setup([arguments[0], f"-max_len={LONGEST}", *options, *corpus, str(seeds)], TARGETS[name])
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv)
