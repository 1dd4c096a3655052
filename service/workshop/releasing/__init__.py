"""python -m service release VERSION: version, changelog, contract and counts kept, commit and tag.

Service and contract carry one version. After a release the first change of the contract raises it again: CONTRACT
in service/results/contract.py to the next one with `-dev`, and a section of that name on top of the changelog.
"""

from __future__ import annotations

import argparse
import sys
from datetime import date

from service.workshop.releasing import obstacles
from service.workshop.releasing.checkout import Checkout


def main(arguments: list[str], checkout: Checkout | None = None) -> int:
    """Release; with --check only say what stands in the way. 1 where anything does: then nothing is changed."""
    parser = argparse.ArgumentParser(prog="python -m service release", description="Release service and contract.")
    parser.add_argument("version", help="three numbers, e.g. 1.0.0")
    parser.add_argument("--check", action="store_true", help="only say what stands in the way")
    given = parser.parse_args(arguments)
    place = checkout or Checkout()
    today = date.today()
    found = obstacles.obstacles(given.version, place, today)
    for line in found:
        print(line, file=sys.stderr)
    if found:
        return 1
    if given.check:
        print(f"{given.version} can be released")
        return 0
    place.write_version(given.version, today)
    place.write_contract()
    place.keep_counts(given.version)
    place.commit_and_tag(given.version)
    print(f"v{given.version} is committed and tagged: git push --follow-tags")
    return 0
