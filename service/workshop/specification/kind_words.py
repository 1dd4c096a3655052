"""Writes service/results/visit/kinds.py: the words of the kinds of unit, from the rows of data/kinds."""

from pathlib import Path

from service.knowledge.kinds import kind_rows
from service.results.visit import kinds

FILE = Path(kinds.__file__)
HEAD = '"""Kinds of unit, as data/kinds has them; written by `python -m service spec`, not by hand."""\n\n'


def words_text() -> str:
    """The module as it belongs there, a word a line, so that branches that add one each can be merged."""
    lines = "".join(f'    "{code}",\n' for code in kind_rows())
    return f"{HEAD}KINDS = (\n{lines})\n"


def write_words() -> bool:
    """Write the module anew. Returns whether it differed: what was made of it before then has to be made anew."""
    made = words_text()
    differs = FILE.read_text("utf-8") != made
    FILE.write_text(made, encoding="utf-8")
    return differs
