"""A flammable refrigerant becomes a hold by a leak sign, or by a step that opens the circuit."""

from collections.abc import Callable, Iterable

from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.catalogues import steps as step_rows
from service.reasoning.case import Case
from service.reasoning.leak_signs import leak_signs
from service.results.answer import Hold
from service.results.record import replace
from service.verdicts.refrigerant_held import is_flammable


def with_opening_hold(case: Case, wanted_of: Callable[[Case], Iterable[str]]) -> Case:
    """The case with the hold of an opened flammable circuit where it applies, in the order of the catalogue.

    wanted_of: codes of the steps that a case calls for; before anybody is there nothing is opened yet.
    """
    code = next(row.code for row in hold_rows().values() if row.opening)
    if not is_flammable(case.visit) or any(hold.code == code for hold in case.holds):
        return case
    opening = () if case.profile.prepares else opening_steps(wanted_of(case))
    raised_by = (*leak_signs(case), *opening)
    if not raised_by:
        return case
    found = {hold.code: hold for hold in (*case.holds, Hold(code, raised_by))}
    return replace(case, holds=tuple(found[code] for code in hold_rows() if code in found))


def opening_steps(wanted: Iterable[str]) -> tuple[str, ...]:
    """Which wanted steps open the refrigerant circuit."""
    return tuple(code for code in wanted if code in step_rows() and step_rows()[code].opens_circuit)
