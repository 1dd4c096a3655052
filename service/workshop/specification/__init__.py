"""python -m service spec: write the OpenAPI document, check it against the committed one, release it."""

from __future__ import annotations

import argparse
import subprocess
import sys

from service.workshop.specification.document import DOCUMENT, document_bytes
from service.workshop.specification.kind_words import write_words
from service.workshop.specification.limit_codes import write_codes
from service.workshop.specification.reading_uses import write_uses
from service.workshop.specification.releasing import AlreadyReleased, release, released

RAISE = "raise CONTRACT in service/results/contract.py to the next version with -dev, then python -m service spec"


def main(arguments: list[str]) -> int:
    """Write the contract and what else follows from code and rows; --check writes nothing, 1 where it differs.

    The declarations were made of the words of the kinds: where those are new, it begins anew.
    """
    parser = argparse.ArgumentParser(prog="python -m service spec", description="Write the OpenAPI document.")
    parser.add_argument("--check", action="store_true", help="compare only; exit status 1 when it differs")
    parser.add_argument(
        "--release", action="store_true", help="also keep it under openapi/released/; `release` asks for it"
    )
    given = parser.parse_args(arguments)
    if given.check:
        return _check(document_bytes())
    write_codes()
    if write_words():
        return subprocess.run([sys.executable, "-m", "service", "spec", *arguments], check=False).returncode
    write_uses()
    made = document_bytes()
    DOCUMENT.write_bytes(made)
    return _release(made) if given.release else 0


def _check(made: bytes) -> int:
    """The committed document is what the code says, and what a release said under its version stays so."""
    if not DOCUMENT.exists() or DOCUMENT.read_bytes() != made:
        print("openapi/openapi.json is not what the code says: run python -m service spec", file=sys.stderr)
        return 1
    kept = released()
    if kept.exists() and kept.read_bytes() != made:
        print(f"openapi/released/{kept.name} says otherwise: {RAISE}", file=sys.stderr)
        return 1
    return 0


def _release(made: bytes) -> int:
    try:
        release(made)
    except AlreadyReleased as already:
        print(f"openapi/released/{already} is there already: {RAISE}", file=sys.stderr)
        return 1
    return 0
