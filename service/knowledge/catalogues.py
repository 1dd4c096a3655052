"""The code lists: findings, holds, causes, steps, hazards (cautions), parts, certificates, sources."""

from dataclasses import dataclass, field
from functools import cache
from typing import Any

from service.knowledge.rows import KnowledgeError, by_code, check_basis
from service.results.finding import Severity, State


@dataclass(frozen=True, slots=True)
class FindingRow:
    """What a finding means: its severity, what it rests on, and what follows from each state.

    raises: state -> hold codes; speaks: state -> cause code -> natural-log likelihood ratio;
    steps and cautions: state -> codes. stands: stays as it is though its readings are contradicted, because it
    explains the contradiction or protects the unit meanwhile. keeps_off: state -> states of the outcome in which
    the unit is not left running.
    """

    code: str
    severity: Severity
    basis: str
    source: str
    since: str
    pattern: str
    raises: dict[str, tuple[str, ...]]
    speaks: dict[str, dict[str, float]]
    steps: dict[str, tuple[str, ...]]
    cautions: dict[str, tuple[str, ...]]
    stands: bool
    keeps_off: dict[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class HoldRow:
    """unsafe: outcome state becomes unsafe; allows_watched: may_run_watched is possible while it stands."""

    code: str
    unsafe: bool
    allows_watched: bool
    steps: tuple[str, ...]
    cautions: tuple[str, ...]
    since: str


@dataclass(frozen=True, slots=True)
class CauseRow:
    """A cause: its share of calls before anything is read, and how it is confirmed and put right.

    cycle_class: which class of the refrigerant-cycle model it looks like (healthy for most electrical ones).
    proof: findings, by code, of which one must come out in one of these states before the repair is planned.
    refuted_by: findings, by code, whose firm result in one of these states leaves the cause undecided, however
    likely everything else makes it.
    proof_waived_on: metering devices on which the proof cannot be made.
    """

    code: str
    prior: float
    cycle_class: str
    confirm_by: tuple[str, ...]
    repair: tuple[str, ...]
    parts: tuple[str, ...]
    symptoms: dict[str, float]
    basis: str
    since: str
    condemns: bool = False
    proof: dict[str, tuple[str, ...]] = field(default_factory=dict)
    refuted_by: dict[str, tuple[str, ...]] = field(default_factory=dict)
    proof_waived_on: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StepRow:
    """A step of the work: stage orders steps (1 make safe .. 9 close out).

    only_for: in a whole visit it is taken only while the readings put one of these causes in suspicion.
    heat_pump_only: on a part that a unit which only cools does not have. brief: power is on for the seconds of a
    test, so a motor that stands still may have it.
    """

    code: str
    stage: int
    power: str
    touches_conductors: bool
    opens_circuit: bool
    heat_pump_only: bool
    only_for: tuple[str, ...]
    brief: bool
    hazards: tuple[str, ...]
    certificates: tuple[str, ...]
    tools: tuple[str, ...]
    parts: tuple[str, ...]
    low: float
    high: float
    since: str


@dataclass(frozen=True, slots=True)
class CautionRow:
    """A caution; severity critical (can kill), warning or info."""

    code: str
    severity: Severity
    basis: str
    source: str
    since: str
    mark: str = field(default="")


_STATES = frozenset(state.value for state in State)


def _per_state(row: dict[str, Any], key: str) -> dict[str, tuple[str, ...]]:
    content = row.get(key) or {}
    if set(content) - _STATES:
        raise KnowledgeError(f"findings: {row['code']}: unknown state in {key}")
    return {state: tuple(codes) for state, codes in content.items()}


def _tested(row: dict[str, Any], key: str) -> dict[str, tuple[str, ...]]:
    content = row.get(key) or {}
    if any(set(states) - _STATES for states in content.values()) or set(content) - set(findings()):
        raise KnowledgeError(f"causes: {row['code']}: unknown finding or state in {key}")
    return {code: tuple(states) for code, states in content.items()}


@cache
def findings() -> dict[str, FindingRow]:
    """Every finding code."""
    found = by_code(
        "findings",
        severity=True,
        basis=True,
        source=False,
        since=True,
        pattern=False,
        raises=False,
        speaks=False,
        steps=False,
        cautions=False,
        stands=False,
        keeps_off=False,
    )
    return {code: _finding(row) for code, row in found.items()}


def _finding(row: dict[str, Any]) -> FindingRow:
    check_basis(row, "findings")
    speaks = row.get("speaks") or {}
    if set(speaks) - _STATES:
        raise KnowledgeError(f"findings: {row['code']}: unknown state in speaks")
    return FindingRow(
        row["code"],
        Severity(row["severity"]),
        row["basis"],
        row.get("source") or "",
        str(row["since"]),
        row.get("pattern") or "",
        _per_state(row, "raises"),
        {state: {cause: float(weight) for cause, weight in said.items()} for state, said in speaks.items()},
        _per_state(row, "steps"),
        _per_state(row, "cautions"),
        bool(row.get("stands")),
        _per_state(row, "keeps_off"),
    )


@cache
def holds() -> dict[str, HoldRow]:
    """Every hold, in order of gravity."""
    found = by_code("holds", unsafe=True, allows_watched=False, steps=True, cautions=True, since=True)
    return {
        code: HoldRow(
            code,
            bool(row["unsafe"]),
            bool(row.get("allows_watched")),
            tuple(row["steps"]),
            tuple(row["cautions"]),
            str(row["since"]),
        )
        for code, row in found.items()
    }


@cache
def causes() -> dict[str, CauseRow]:
    """Every cause with its prior."""
    found = by_code(
        "causes",
        prior=True,
        cycle_class=True,
        confirm_by=True,
        repair=False,
        parts=False,
        symptoms=False,
        basis=True,
        since=True,
        condemns=False,
        proof=False,
        refuted_by=False,
        proof_waived_on=False,
    )
    for row in found.values():
        check_basis(row, "causes")
    return {
        code: CauseRow(
            code,
            float(row["prior"]),
            row["cycle_class"],
            tuple(row["confirm_by"]),
            tuple(row.get("repair") or ()),
            tuple(row.get("parts") or ()),
            {key: float(value) for key, value in (row.get("symptoms") or {}).items()},
            row["basis"],
            str(row["since"]),
            bool(row.get("condemns")),
            _tested(row, "proof"),
            _tested(row, "refuted_by"),
            tuple(row.get("proof_waived_on") or ()),
        )
        for code, row in found.items()
    }


@cache
def steps() -> dict[str, StepRow]:
    """Every step."""
    found = by_code(
        "steps",
        stage=True,
        power=True,
        touches_conductors=False,
        opens_circuit=False,
        heat_pump_only=False,
        only_for=False,
        brief=False,
        hazards=True,
        certificates=False,
        tools=False,
        parts=False,
        minutes=True,
        since=True,
    )
    return {code: _step(row) for code, row in found.items()}


def _step(row: dict[str, Any]) -> StepRow:
    if row["power"] not in ("off", "on", "either"):
        raise KnowledgeError(f"steps: {row['code']}: power {row['power']!r}")
    return StepRow(
        row["code"],
        int(row["stage"]),
        row["power"],
        bool(row.get("touches_conductors")),
        bool(row.get("opens_circuit")),
        bool(row.get("heat_pump_only")),
        tuple(row.get("only_for") or ()),
        bool(row.get("brief")),
        tuple(row["hazards"]),
        tuple(row.get("certificates") or ()),
        tuple(row.get("tools") or ()),
        tuple(row.get("parts") or ()),
        float(row["minutes"][0]),
        float(row["minutes"][1]),
        str(row["since"]),
    )


@cache
def cautions() -> dict[str, CautionRow]:
    """Every caution (hazard), gravest first."""
    found = by_code("cautions", severity=True, basis=True, source=False, since=True, mark=False)
    for row in found.values():
        check_basis(row, "cautions")
    ranked = sorted(found.values(), key=lambda row: list(Severity).index(Severity(row["severity"])), reverse=True)
    return {
        row["code"]: CautionRow(
            row["code"],
            Severity(row["severity"]),
            row["basis"],
            row.get("source") or "",
            str(row["since"]),
            row.get("mark") or "",
        )
        for row in ranked
    }
