"""Writes service/knowledge/limit_codes.py: the codes of all limits, so that the type checker finds a wrong one."""

from pathlib import Path

from service.knowledge import limit_codes
from service.knowledge.limits import all_limits, limit_tables

FILE = Path(limit_codes.__file__)
HEAD = '''"""The codes of all limits for the type checker; written by `python -m service spec`, not by hand."""

from typing import Literal

'''


def codes_text() -> str:
    """The module as it belongs there."""
    tables = limit_tables()
    of_tables = {f"{code}-{key}" for code, rows in tables.items() for key in rows}
    single = [code for code in all_limits() if code not in of_tables]
    return f"{HEAD}LimitCode = Literal[\n{_lines(single)}]\nTableCode = Literal[\n{_lines(list(tables))}]\n"


def write_codes() -> None:
    """Write the module anew."""
    FILE.write_text(codes_text(), encoding="utf-8")


def _lines(codes: list[str]) -> str:
    """A code a line, so that branches that add one each can be merged."""
    return "".join(f'    "{code}",\n' for code in sorted(codes))
