"""Kinds of unit and what is true of each, from data/kinds; of one that is not stated nothing is taken for true."""

from __future__ import annotations

from functools import cache

from service.knowledge.row_types import catalogue
from service.knowledge.yaml_files import KnowledgeError
from service.results.record import Record
from service.results.visit.kinds import KINDS


class KindRow(Record):
    """A kind of unit; what each member means stands at the head of its file."""

    code: str
    basis: str
    since: str
    source: str = ""
    ducted: bool = False
    one_cabinet: bool = False
    sealed: bool = False
    cools_only: bool = False
    variable_speed: bool = False
    meters_outdoors: bool = False
    several_lines: bool = False
    circumstances: tuple[str, ...] = ()
    stands_as: str = ""
    lacks: tuple[str, ...] = ()
    lacks_parts: tuple[str, ...] = ()
    lacks_tools: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    said_in: tuple[str, ...] = ()

    @property
    def ducted_split(self) -> bool:
        """Indoor and outdoor unit, air through ducts."""
        return self.ducted and not self.one_cabinet

    def has_reading(self, pointer: str) -> bool:
        """Whether there is something to read at a pointer of the visit document."""
        return not pointer.startswith(self.lacks)


NOT_STATED = KindRow("", "circuit logic", "")


@cache
def kind_rows() -> dict[str, KindRow]:
    """Every kind by its word in the document."""
    return catalogue("kinds", KindRow)


def kind_row(kind: str | None) -> KindRow:
    """What is true of a kind; of one that is not stated, nothing."""
    return NOT_STATED if kind is None else kind_rows()[kind]


def require_known_kinds() -> None:
    """The words of the contract are the codes of the rows.

    Raises: KnowledgeError that names what differs and the command that writes the words anew.
    """
    strange = set(KINDS) ^ set(kind_rows())
    if strange:
        raise KnowledgeError(
            f"service/results/visit/kinds.py: {', '.join(sorted(strange))}: in a row of data/kinds or in the list "
            "of words, not in both; `python -m service spec` writes the list"
        )
