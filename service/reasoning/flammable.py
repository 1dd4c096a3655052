"""A flammable refrigerant becomes a hold by a leak sign, or by a step that opens the circuit."""

from collections.abc import Sequence

from service.knowledge.catalogues import holds as hold_rows
from service.knowledge.refrigerants import UnknownRefrigerant, find
from service.reasoning.leak_signs import leak_signs
from service.reasoning.steps import opening_steps, wanted_steps
from service.results.answer import Cause, Hold
from service.results.finding import Finding
from service.results.visit import Visit

HOLD = "hold.flammable-refrigerant"
CLASSES = ("A2L", "A2", "A3", "B2L", "B2", "B3")


def is_flammable(visit: Visit) -> bool:
    """True when what is in the unit has an ASHRAE 34 flammability class above 1."""
    name = visit.equipment.refrigerant or visit.equipment.nameplate_refrigerant
    try:
        return name is not None and find(name).safety_class in CLASSES
    except UnknownRefrigerant:
        return False


def flammable_hold(
    visit: Visit,
    findings: Sequence[Finding],
    holds: tuple[Hold, ...],
    causes: Sequence[Cause],
    *,
    whole: bool = False,
) -> tuple[Hold, ...]:
    """The holds, with the flammable one where it applies, in the order of the catalogue; whole: of the steps."""
    if not is_flammable(visit) or any(hold.code == HOLD for hold in holds):
        return holds
    raised_by = [*leak_signs(visit), *opening_steps(wanted_steps(visit, findings, holds, causes, whole=whole))]
    if not raised_by:
        return holds
    found = {hold.code: hold for hold in (*holds, Hold(HOLD, tuple(raised_by)))}
    return tuple(found[code] for code in hold_rows() if code in found)
