"""What stands in the way of a release, each with the file and what to do."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date

from service.knowledge import rule_book
from service.workshop.releasing.checkout import CHANGELOG, NOT_YET, TEXTS, VERSION_FILE, Checkout

NUMBERS = re.compile(r"(\d+)\.(\d+)\.(\d+)")
DRAFT = re.compile(r"#\s*draft\b", re.IGNORECASE)
CODE = re.compile(r"(?:- \{?code: |(?=[a-z]))([^\s,:]+)")
"""At the head of a line: of a row, or of a text of a locale file."""


def obstacles(version: str, checkout: Checkout, today: date) -> list[str]:
    """Every reason not to release this version today; empty where there is none."""
    if NUMBERS.fullmatch(version) is None:
        return [f"{version}: a version has three numbers, e.g. 1.0.0"]
    return [
        *_history(version, checkout),
        *_version(version, checkout),
        *_changelog(checkout),
        *drafts(checkout),
        *_rules(today),
    ]


def drafts(checkout: Checkout) -> Iterator[str]:
    """Texts that are marked with the comment `# draft`: they are not final, or not yet translated."""
    for file in sorted(file for room in TEXTS for file in (checkout.root / room).rglob("*.yaml")):
        code = ""
        for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1):
            code = found[1] if (found := CODE.match(line)) else code
            if DRAFT.search(line):
                place = f"{file.relative_to(checkout.root)}:{number}"
                yield f"{place}: {code} is a draft: finish it, then take the mark away"


def _history(version: str, checkout: Checkout) -> Iterator[str]:
    if checkout.git("status", "--porcelain").strip():
        yield "the working copy has changes: commit or stash them first"
    if checkout.git("tag", "--list", f"v{version}").strip():
        yield f"the tag v{version} is there already: take the next version"


def _version(version: str, checkout: Checkout) -> Iterator[str]:
    now = checkout.version()
    wanted = now.removesuffix("-dev")
    if now == wanted:
        yield f'{VERSION_FILE}: {now} has been released: set CONTRACT = "{version}-dev", tell of it in {CHANGELOG}'
    elif version != wanted:
        yield f'{VERSION_FILE}: the code is {now}: release {wanted}, or set CONTRACT = "{version}-dev"'


def _changelog(checkout: Checkout) -> Iterator[str]:
    now = checkout.version()
    told = checkout.section(now)
    if told is None:
        yield f"{CHANGELOG}: no section '## {now}': tell what changes for users"
    elif not told.replace(NOT_YET, "").strip():
        yield f"{CHANGELOG}: the section '## {now}' tells nothing"


def _rules(today: date) -> Iterator[str]:
    for rule in rule_book.overdue(today):
        yield f"rule {rule.code} was to be read again by {rule.review_by}: python -m service rules --review"
