"""From a row of a data file to its record: each member is declared once, with its type.

A member without a default is required, one that is not declared is refused, and every value is brought to the
declared type, so that a wrong row stops the service at start and says which file, row and member it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, TypeVar

from service.knowledge.row_files import wrong
from service.knowledge.rows import by_code, check_basis
from service.results.finding import Finding, Severity, State
from service.results.record import ABSENT, fields

Row = TypeVar("Row")
Value = TypeVar("Value")
_STATES = frozenset(state.value for state in State)

PerState = Mapping[str, Value]
"""Values by `state`, or by `state/variant` where one variant of a state differs from the others."""


def of_state(by_state: Mapping[str, Value], finding: Finding, otherwise: Value) -> Value:
    """What a row says of a finding: of its state and variant, else of its state, else `otherwise`."""
    if not by_state:
        return otherwise
    if finding.variant:
        return by_state.get(f"{finding.state}/{finding.variant}", by_state.get(str(finding.state), otherwise))
    return by_state.get(str(finding.state), otherwise)


def catalogue(folder: str, of: type[Row]) -> dict[str, Row]:
    """Rows of a folder by code, in file and row order.

    Raises: KnowledgeError for an unknown or missing member, a value of another type, or a code given twice.
    """
    declared = {item.name: item for item in fields(of) if item.name != "code"}  # type: ignore[arg-type]
    required = {name: item.default is ABSENT for name, item in declared.items()}
    return {code: _made(of, row) for code, row in by_code(folder, **required).items()}


def _made(of: type[Row], row: dict[str, Any]) -> Row:
    if "basis" in row:
        check_basis(row)
    made: dict[str, Any] = {}
    for item in fields(of):  # type: ignore[arg-type]
        value = row.get(item.name)
        if value is None:
            continue
        try:
            made[item.name] = _AS[str(item.type)](value)
        except (KeyError, TypeError, ValueError, AttributeError):
            raise wrong(row["code"], f"{item.name} is no {item.type}: {value!r}") from None
    return of(**made)


def _text(value: Any) -> str:
    if isinstance(value, bool | list | dict):
        raise TypeError
    return str(value)


def _flag(value: Any) -> bool:
    if not isinstance(value, bool):
        raise TypeError
    return value


def _texts(value: Any) -> tuple[str, ...]:
    if not isinstance(value, list):
        raise TypeError
    return tuple(_text(item) for item in value)


def _groups(value: Any) -> tuple[tuple[str, ...], ...]:
    return tuple(_texts(item) for item in value)


def _pair(value: Any) -> tuple[float, float]:
    low, high = value
    return float(low), float(high)


def _numbers(value: Any) -> dict[str, float]:
    return {_text(key): float(number) for key, number in value.items()}


def _by_state(of: Callable[[Any], Value]) -> Callable[[Any], dict[str, Value]]:
    def read(value: Any) -> dict[str, Value]:
        if {key.split("/")[0] for key in value} - _STATES:
            raise ValueError
        return {key: of(item) for key, item in value.items()}

    return read


def _states(value: Any) -> tuple[str, ...]:
    found = _texts(value)
    if {state.split("/")[0] for state in found} - _STATES:
        raise ValueError
    return found


def _words(value: Any) -> dict[str, str]:
    return {_text(key): _text(item) for key, item in value.items()}


_AS: dict[str, Callable[[Any], Any]] = {
    "str": _text,
    "bool": _flag,
    "int": int,
    "float": float,
    "Severity": Severity,
    "tuple[str, ...]": _texts,
    "tuple[float, float]": _pair,
    "Groups": _groups,
    "States": _states,
    "Numbers": _numbers,
    "Words": _words,
    "PerState[str]": _by_state(_text),
    "PerState[tuple[str, ...]]": _by_state(_texts),
    "PerState[Numbers]": _by_state(_numbers),
    "PerState[Words]": _by_state(_words),
    "Choices": lambda value: {_text(key): _texts(words) for key, words in value.items()},
    "ByFinding": lambda value: {_text(code): _states(states) for code, states in value.items()},
}

Numbers = Mapping[str, float]
Words = Mapping[str, str]
Choices = Mapping[str, tuple[str, ...]]
Groups = tuple[tuple[str, ...], ...]
States = tuple[str, ...]
ByFinding = Mapping[str, States]
"""Finding codes with the states, or `state/variant`, in which they count."""


def matches(wanted: ByFinding, finding: Finding) -> bool:
    """Whether a finding is one of those wanted, in one of their states."""
    states = wanted.get(finding.code, ())
    return str(finding.state) in states or f"{finding.state}/{finding.variant}" in states


def matching(wanted: ByFinding, found: Iterable[Finding]) -> list[Finding]:
    """Those of the findings that are wanted, in one of their states."""
    return [item for item in found if item.code in wanted and matches(wanted, item)] if wanted else []
