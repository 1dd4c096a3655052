"""Which model is at work: one word over everything that a learnt share or temperature was learnt against."""

from __future__ import annotations

import hashlib
import json
from functools import cache
from importlib import resources

from service.knowledge.row_files import kinds
from service.knowledge.rows import rows

DIGITS = 12


@cache
def model_version() -> str:
    """Twelve hexadecimal digits over rows and tables of causes and likelihoods; the same only if they are.

    What rows say, and the file that they stand in, are no part of it: a better word leaves learnt shares valid.
    """
    digest = hashlib.sha256()
    for kind in kinds():
        held = sorted(json.dumps(row, sort_keys=True, default=str) for row in rows(kind))
        digest.update(f"{kind}\0{len(held)}\0".encode() + "\n".join(held).encode())
    for folder, suffix in (("data", ".yaml"), ("cycle_tables", ".npz")):
        for file in sorted((resources.files("service.knowledge") / folder).iterdir(), key=lambda file: file.name):
            if file.name.endswith(suffix):
                digest.update(file.name.encode() + b"\0" + hashlib.sha256(file.read_bytes()).digest())
    return digest.hexdigest()[:DIGITS]
