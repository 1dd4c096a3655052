"""The table of electrical patterns, from the knowledge files: pattern -> finding -> holds and steps.

    python -m service.workshop.build.pattern_table

writes openapi/electrical-patterns.md; a test holds the file against the knowledge.
"""

import re
from pathlib import Path

from service.knowledge.catalogues import FindingRow, findings

TARGET = Path(__file__).parents[3] / "openapi" / "electrical-patterns.md"
FAMILIES = {"G": 8, "W": 19, "T": 11, "K": 12, "E": 23, "F": 11, "B": 3}
HEAD = """# Electrical patterns

Written from the knowledge files by `python -m service.workshop.build.pattern_table`. G: gates before any verdict;
W: windings of a single-phase compressor; T: three phases and inverter; K: capacitors and start gear;
E: contactor, control and supply; F: fans and blower; B: burn-out.

| pattern | finding | state | raises | steps |
|---|---|---|---|---|
"""


def all_patterns() -> tuple[str, ...]:
    """Every pattern id in order: G1 .. G8, W01 .. W19 and so on."""
    return tuple(
        f"{family}{number}" if family == "G" else f"{family}{number:02d}"
        for family, count in FAMILIES.items()
        for number in range(1, count + 1)
    )


def patterns_of(row: FindingRow) -> tuple[str, ...]:
    """The pattern ids of a finding; `K01-K03, K08` names four."""
    found: list[str] = []
    for item in filter(None, re.split(r",\s*", row.pattern)):
        first, _, last = item.partition("-")
        width, end = len(first) - 1, int((last or first)[1:])
        found += [f"{first[0]}{number:0{width}d}" for number in range(int(first[1:]), end + 1)]
    return tuple(found)


def pattern_table() -> str:
    """The table as Markdown, one line for each pattern, finding and state that has consequences."""
    lines = [
        f"| {pattern} | {row.code} | {state} | {raises} | {steps} |"
        for pattern in all_patterns()
        for row in findings().values()
        if pattern in patterns_of(row)
        for state, raises, steps in _consequences(row)
    ]
    return HEAD + "\n".join(lines) + "\n"


def _consequences(row: FindingRow) -> list[tuple[str, str, str]]:
    states = list(dict.fromkeys([*row.raises, *row.steps])) or ["-"]
    return [
        (state, ", ".join(row.raises.get(state, ())) or "-", ", ".join(row.steps.get(state, ())) or "-")
        for state in states
    ]


def main() -> None:
    """Write the table."""
    TARGET.write_text(pattern_table(), encoding="utf-8")


if __name__ == "__main__":
    main()
