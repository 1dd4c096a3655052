"""Reads the ways in which a refrigerant's name is written."""

from __future__ import annotations

import re

_NUMBERED = re.compile(
    r"(?:(?:r|hcfc|cfc|hfc|hfo|hc)[ -]*)?"  # prefix: the trade's R or the kind of fluid
    r"(\d{2,4})"  # number, ASHRAE Standard 34
    r"[ -]?([a-z]{0,2})"  # isomer or composition letter
    r"[ -]?(?:\(([ez])\)|([ez]))?",  # E or Z of an olefin
    re.ASCII,
)


def reading_key(name: str) -> str:
    """Return what is left of a name when the freedom of spelling is taken away.

    "R-410A", "R410A", "r 410a", "410a" and "HFC-410A" give one key, and so do "R-1234ze(E)" and
    "1234zeE". A name that is not a number with letters is only folded to lower case, so that
    "Propane" and "propane" are one.

    Parameters
    ----------
    name : the name as written

    Returns
    -------
    The key by which names are compared.
    """
    folded = " ".join(name.casefold().split())
    match = _NUMBERED.fullmatch(folded)
    if match is None:
        return folded
    number, letters, in_brackets, bare = match.groups(default="")
    return f"{number}{letters}{in_brackets}{bare}"
