"""Hazards in the findings become holds, gravest first."""

from collections.abc import Sequence

from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.told import told
from service.reasoning.case import Case
from service.results.answer import Hold
from service.results.finding import Finding
from service.results.record import replace


def raise_holds(case: Case) -> Case:
    """The case with the holds of all its findings, also of those set aside later and of older readings."""
    return replace(case, holds=holds_of((*case.raw, *case.overtaken)))


def holds_of(findings: Sequence[Finding]) -> tuple[Hold, ...]:
    """Holds that the findings raise, in the order of the catalogue; each names the findings behind it."""
    raised: dict[str, list[str]] = {}
    for finding, codes in told(findings, "raises"):
        for code in codes:
            raised.setdefault(code, [])
            if finding.code not in raised[code]:
                raised[code].append(finding.code)
    return tuple(Hold(code, tuple(raised[code])) for code in hold_rows() if code in raised)


def keeps_off(holds: Sequence[Hold]) -> bool:
    """True while any hold forbids power; readings that contradict alone do not."""
    return any(not hold_rows()[hold.code].allows_watched for hold in holds)


def contradicts(holds: Sequence[Hold]) -> bool:
    """True while readings contradict one another."""
    return any(hold_rows()[hold.code].contradiction for hold in holds)


def owes(holds: Sequence[Hold]) -> bool:
    """True while a reading that could clear the compressor is still owed."""
    return any(hold_rows()[hold.code].owes for hold in holds)


def ends_call(holds: Sequence[Hold]) -> bool:
    """Whether everybody has to get out: nothing more is asked, guessed, measured, repaired or loaded."""
    return bool(ending_holds(holds))


def ending_holds(holds: Sequence[Hold]) -> tuple[Hold, ...]:
    """The holds that everybody has to get out for."""
    return tuple(hold for hold in holds if hold_rows()[hold.code].ends_call)
