"""Which reading to take next: what it adds to the decision per minute, safety first, and when to stop."""

from __future__ import annotations

from collections.abc import Mapping

from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.limits import limit
from service.knowledge.readings import ReadingRow, reading_rows
from service.knowledge.row_types import matching
from service.reasoning.askable import Askable, askable, value_at
from service.reasoning.case import Case
from service.reasoning.cycle_pointers import pointers_of
from service.reasoning.decision import awaited_for_sound, is_read_out
from service.reasoning.gained import NOTHING, Gained, expected_of, gained_from_cycle
from service.reasoning.own_tests import own_tests
from service.reasoning.set_aside import contradicted
from service.reasoning.unit import motor_feed
from service.results.answer import NextReading
from service.results.finding import CONTRADICTED

MOST = 6


def next_readings(case: Case) -> tuple[NextReading, ...]:
    """Readings worth their minutes, best first; what makes the work safe comes before everything.

    What is contradicted comes first of them, and before it what tells which of it is true. What was left out as
    not fitting, what settles an undecided finding, the own test of a likely cause and, while no fault leads, what
    the outcome waits for come before what only moves the shares.
    """
    safety = _safety(case)
    from_cycle = gained_from_cycle(case.cycle.verdict, case.causes)
    shares = {cause.code: cause.probability for cause in case.causes}
    purpose = "confirm" if _is_settled(case) else "tell_apart"
    offered = []
    awaited = awaited_for_sound(case) | own_tests(case)
    deciding = set()
    for asked in askable():
        row = asked.row
        again = _again(case, row)
        pointer = again or asked.first_absent(case.visit)
        if pointer is None or not (again or asked.is_of(case.visit)) or _is_forbidden(case, asked):
            continue
        gained = from_cycle.get(row.code, NOTHING) if from_cycle and row.cycle else expected_of(row, shares)
        settled = matching(row.settles, case.findings)
        if again is not None or settled:
            awaited |= {pointer}
        if again is None and any(item.variant == CONTRADICTED for item in settled):
            deciding.add(pointer)
        if gained.bits >= limit("reasoning.worth-bits").value or pointer in awaited:
            telling = _tells_apart(row, shares)
            offered.append((gained, NextReading(pointer, row.code, gained.bits, row.minutes, telling, purpose)))
    return (*safety, *_best(case, offered, awaited, frozenset(deciding))[: MOST - len(safety)])


def _best(
    case: Case, offered: list[tuple[Gained, NextReading]], awaited: frozenset[str], deciding: frozenset[str]
) -> list[NextReading]:
    """What is awaited first, then by what it adds to the worth of the decision a minute.

    Once a fault is decided, only what may change that decision; before, information counts as well, for some
    visits are decided by several readings of which none alone decides.
    """
    if is_read_out(case):
        offered = [pair for pair in offered if pair[1].pointer in awaited]
    if case.decision.state == "fault":
        least = limit("reasoning.may-change").value
        offered = [pair for pair in offered if pair[0].changes >= least or pair[1].pointer in awaited]
    part = limit("reasoning.bits-beside-worth").value

    def place(pair: tuple[Gained, NextReading]) -> tuple[bool, bool, bool, float, str]:
        gained, item = pair
        pointer = item.pointer
        late = pointer not in deciding, pointer not in contradicted(case), pointer not in awaited
        return *late, -(gained.worth + part * gained.bits) / item.minutes, item.why

    return [item for _, item in sorted(offered, key=place)]


def _again(case: Case, row: ReadingRow) -> str | None:
    """A reading of the row that others contradict, or that fits nothing together with them: it is read again."""
    for pointer in row.pointers:
        if pointer in contradicted(case):
            return pointer
    verdict = case.cycle.verdict
    for name in verdict.left_out if verdict is not None else ():
        if name in row.cycle:
            return pointers_of(name)[0]
    return None


def _is_settled(case: Case) -> bool:
    """From here on a reading confirms the leading cause; it does not ask as if the question were open."""
    return case.lead.probability >= limit("reasoning.to-confirm").value


def _is_forbidden(case: Case, asked: Askable) -> bool:
    """Whether power or a hold forbids what is read."""
    row = asked.row
    powered = row.power == "on" and (case.decision.off or (case.decision.brief and not row.brief))
    return powered or any(
        (hold.proof_of_dead and row.power == "off") or (hold.forbids_sparks and asked.sparks)
        for hold in (hold_rows()[item.code] for item in case.holds)
    )


def _safety(case: Case) -> tuple[NextReading, ...]:
    """While dead is not proven, that is the next reading, whatever else it tells."""
    holds = [hold_rows()[hold.code] for hold in case.holds]
    if not any(hold.proof_of_dead for hold in holds):
        return ()
    rows = [row for row in reading_rows().values() if row.safety and motor_feed(case.visit) in row.feeds]
    again = [pointer for hold in holds for pointer in hold.reads_again]
    wanted = [(pointer, row.code) for row in rows for pointer in row.pointers]
    absent = [item for item in wanted if value_at(case.visit, item[0]) is None]
    charged = [item for item in wanted if item[0] in again]
    pointer, code = (absent or charged or wanted[2:])[0]
    return (NextReading(pointer, code, 0.0, limit("reasoning.isolation-minutes").value, (), "make_safe"),)


def _tells_apart(row: ReadingRow, shares: Mapping[str, float]) -> tuple[str, ...]:
    """The two or three likeliest causes that this reading points at or clears."""
    named = [cause for cause in shares if cause in row.abnormal]
    others = [cause for cause in shares if cause not in row.abnormal]
    return tuple(named[:2] + others[:1])
