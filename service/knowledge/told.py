"""What the rows say of the findings of a visit: only those whose rows say anything are looked at.

A visit has some thirty findings, and each question that the reasoning asks of them concerns a few.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from service.knowledge.catalogues import findings
from service.knowledge.row_types import of_state
from service.results.finding import Finding


def told(found: Iterable[Finding], member: str) -> list[tuple[Finding, Any]]:
    """Findings with what their rows say of them in a member by state (`raises`, `steps`, `run` ...), in order."""
    telling = _telling(member)
    asked = [(item, of_state(telling[item.code], item, None)) for item in found if item.code in telling]
    return [(item, said) for item, said in asked if said is not None]


def in_states(found: Iterable[Finding], member: str) -> list[Finding]:
    """Findings whose rows name the state that they are in, in a member of states (`leak_sign`, `unsafe` ...)."""
    telling = _telling(member)
    return [item for item in found if item.code in telling and str(item.state) in telling[item.code]]


def marked(found: Iterable[Finding], member: str) -> list[Finding]:
    """Findings whose rows have a mark (`together`, `disagreement` ...)."""
    telling = _telling(member)
    return [item for item in found if item.code in telling]


@cache
def _telling(member: str) -> Mapping[str, Any]:
    """What rows say in a member, by code, of those that say anything there."""
    return {row.code: said for row in findings().values() if (said := getattr(row, member))}
