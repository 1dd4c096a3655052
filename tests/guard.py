"""How a guard speaks to whoever made a change: what was found, file by file, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable


def nothing_found(found: Iterable[object], mend: str, again: str) -> None:
    """Pass where nothing was found; else list it, with how to mend it and the command that asks again.

    Parameters
    ----------
    found : one item for each place, with its file and its code
    mend : what to do
    again : arguments of `bash tests/run --fast`
    """
    listed = "\n  ".join(str(item) for item in found)
    assert not listed, f"\n  {listed}\nmend: {mend}\nagain: bash tests/run --fast {again}"
