"""python -m service rules: the rules held, which of them are to be read again, and what knowledge rests on."""

from __future__ import annotations

import argparse
import os
import sys
from collections import Counter
from datetime import date
from typing import Any

from service import settings
from service.knowledge import rule_book
from service.knowledge.row_files import kinds
from service.knowledge.rows import DECIDING, KnowledgeError, rows

LATE, WRONG = 1, 2


def main(arguments: list[str]) -> int:
    """List rules; with --review only those whose day of review has passed, and fail if there are any."""
    parser = argparse.ArgumentParser(
        prog="python -m service rules", description="The rules held, by jurisdiction."
    )
    parser.add_argument("--review", action="store_true", help="only rules to be read again; exit status 1 if any")
    parser.add_argument("--basis", action="store_true", help="count the rows of knowledge by what they rest on")
    parser.add_argument("--on", type=date.fromisoformat, default=None, help="as of that day, YYYY-MM-DD; today")
    given = parser.parse_args(arguments)
    if given.basis:
        return _count()
    try:
        chosen = settings.from_environment(os.environ)
        rule_book.install(chosen.default_jurisdiction, chosen.rules_folder)
    except (settings.SettingsError, KnowledgeError) as error:
        print(error, file=sys.stderr)
        return WRONG
    # The one place besides the metrics that asks the clock: an answer is judged by the date of its visit.
    listed = (
        rule_book.overdue(given.on or date.today()) if given.review else tuple(rule_book.book().rules.values())
    )
    for rule in listed:
        print(f"{rule.review_by}  {rule.code:40} {rule.title}, {rule.clause} ({rule.read_as} of {rule.read_on})")
    print(f"{len(listed)} of {len(rule_book.book().rules)} rules{' to be read again' if given.review else ''}")
    return LATE if given.review and listed else 0


def _bases(row: dict[str, Any]) -> list[str]:
    """What a row rests on; of a table of limits, each of its rows."""
    held = row["values"].values() if "values" in row else (row,)
    bases = (each.get("basis") if isinstance(each, dict) else None for each in held)
    return [basis for basis in (own or row.get("basis") for own in bases) if basis is not None]


def _count() -> int:
    """Print how many rows of knowledge rest on what; a row without a basis is not counted."""
    counted = Counter(basis for kind in kinds() for row in rows(kind) for basis in _bases(row))
    print(f"# may decide alone: {', '.join(sorted(DECIDING))}")
    for basis, number in counted.most_common():
        print(f"{basis:16} {number:4}")
    print(f"{'all':16} {counted.total():4}")
    return 0
