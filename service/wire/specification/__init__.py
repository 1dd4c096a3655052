"""python -m service spec: write the OpenAPI document, or check that the committed one is what the code says."""

from __future__ import annotations

import argparse
import sys

from service.wire.specification.document import DOCUMENT, document_bytes


def main(arguments: list[str]) -> int:
    """Write openapi/openapi.json; with --check write nothing and return 1 when it differs."""
    parser = argparse.ArgumentParser(prog="python -m service spec", description=__doc__)
    parser.add_argument("--check", action="store_true", help="compare only; exit status 1 when it differs")
    check = parser.parse_args(arguments).check
    made = document_bytes()
    if DOCUMENT.exists() and DOCUMENT.read_bytes() == made:
        return 0
    if check:
        print("openapi/openapi.json is not what the code says: run python -m service spec", file=sys.stderr)
        return 1
    DOCUMENT.write_bytes(made)
    return 0
