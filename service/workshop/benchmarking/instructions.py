"""Bytecode instructions that a visit takes: the same number on every machine, however busy it is.

Counted are instructions of the interpreter, in whatever Python code they stand: ours, the standard library's,
other packages'. What C code does within one of them is not: arithmetic on arrays counts as the calls that ask
for it. Hardware counters would see that too, but a virtual machine seldom has them.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from types import FrameType
from typing import Any

from service.library import assess_one
from service.wire.responding import encode

WARM_UP = 2
"""Turns before counting: what is read once and kept is not part of a visit."""


def instructions_of(document: dict[str, Any]) -> int:
    """Bytecode instructions from a visit document to the bytes of its full answer in English, everything warm."""
    for _ in range(WARM_UP):
        _answer(document)
    return counted(lambda: _answer(document))


def counted(work: Callable[[], object]) -> int:
    """Bytecode instructions that `work` executes in this thread. A tracer that was set is put back afterwards."""
    count = 0

    def step(frame: FrameType, event: str, _: object) -> Any:
        nonlocal count
        if event == "opcode":
            count += 1
        else:
            frame.f_trace_opcodes, frame.f_trace_lines = True, False
        return step

    before = sys.gettrace()
    sys.settrace(step)
    try:
        work()
    finally:
        sys.settrace(before)
    return count


def _answer(document: dict[str, Any]) -> bytes:
    return encode(assess_one(document).document())
