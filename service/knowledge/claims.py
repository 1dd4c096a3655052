"""Texts that tell a duty, a law or a standard, with the rules and limits they rest on."""

from functools import cache

from service.knowledge.limits import all_limits
from service.knowledge.rows import KnowledgeError, by_code
from service.knowledge.rule_book import book
from service.results.record import Record


class Claim(Record):
    """code: folder and code of the text; rests_on: codes of rules or limits, none for what is plain practice."""

    code: str
    rests_on: tuple[str, ...]


@cache
def claims() -> dict[str, Claim]:
    """Every claim by the code of its text.

    Raises: KnowledgeError for one that names no rule or limit that there is, or both rules and plain practice.
    """
    found = by_code("claims", rests_on=False, practice=False)
    for row in found.values():
        named = row.get("rests_on") or []
        unknown = [code for code in named if code not in book().rules and code not in all_limits()]
        if unknown or bool(named) is bool(row.get("practice")):
            raise KnowledgeError(f"claims: {row['code']}: unknown {unknown}; rests on rules, or is practice")
    return {code: Claim(code, tuple(row.get("rests_on") or ())) for code, row in found.items()}


@cache
def told_in() -> dict[str, tuple[str, ...]]:
    """The texts that rest on a rule or a limit, by its code."""
    found: dict[str, list[str]] = {}
    for claim in claims().values():
        for code in claim.rests_on:
            found.setdefault(code, []).append(claim.code)
    return {code: tuple(texts) for code, texts in found.items()}
