"""The learnt shares of causes that this process reasons with; installed before workers and helpers are forked."""

from __future__ import annotations

from pathlib import Path

from service.library import Learnt, read_learnt


class _Installed:
    """What the setting LEARNT_FILE of this process chose."""

    learnt: Learnt | None = None


def install(file: Path | None) -> None:
    """Read a learnt file, or reason as shipped. Raises: UnusableLearntFile; it stops the start."""
    _Installed.learnt = read_learnt(file) if file is not None else None


def learnt_shares() -> Learnt | None:
    """The shares as installed; None where nothing was learnt."""
    return _Installed.learnt
