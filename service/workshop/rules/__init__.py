"""python -m service rules: the rules held, and which of them are to be read again."""

from __future__ import annotations

import argparse
import os
import sys
from datetime import date

from service import settings
from service.knowledge import rule_book
from service.knowledge.rows import KnowledgeError

LATE, WRONG = 1, 2


def main(arguments: list[str]) -> int:
    """List rules; with --review only those whose day of review has passed, and fail if there are any."""
    parser = argparse.ArgumentParser(
        prog="python -m service rules", description="The rules held, by jurisdiction."
    )
    parser.add_argument("--review", action="store_true", help="only rules to be read again; exit status 1 if any")
    parser.add_argument("--on", type=date.fromisoformat, default=None, help="as of that day, YYYY-MM-DD; today")
    given = parser.parse_args(arguments)
    try:
        chosen = settings.from_environment(os.environ)
        rule_book.install(chosen.default_jurisdiction, chosen.rules_folder)
    except (settings.SettingsError, KnowledgeError) as error:
        print(error, file=sys.stderr)
        return WRONG
    # The one place besides the metrics that asks the clock: an answer is judged by the date of its visit.
    rows = rule_book.overdue(given.on or date.today()) if given.review else tuple(rule_book.book().rules.values())
    for rule in rows:
        print(f"{rule.review_by}  {rule.code:40} {rule.title}, {rule.clause} ({rule.read_as} of {rule.read_on})")
    print(f"{len(rows)} of {len(rule_book.book().rules)} rules{' to be read again' if given.review else ''}")
    return LATE if given.review and rows else 0
