"""Two legs of a single-phase supply: is one lost, or was one leg read to ground?"""

from __future__ import annotations

from service.checks.electrical.meters import electrical
from service.checks.electrical.nameplate import marked_volts
from service.knowledge.limits import limit
from service.results.finding import Finding, Missing, State, Value
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below
from service.verdicts.report import report

BASE = "/electrical/supply"
LEGS = ("line1_to_ground_volts", "line2_to_ground_volts")
DISCONNECT = "disconnect_line_volts"


def check_legs(visit: Visit, name: str, volts: float) -> tuple[Finding, ...]:
    """What line to line of about one leg's volts, or of none, says of the two legs.

    Parameters
    ----------
    name : the reading line to line that is furthest off
    volts : its value [V]

    Returns
    -------
    The verdict; nothing where the reading says nothing of a single leg

    References
    ----------
    Circuit logic: each leg of a 120/240 V or 208Y/120 V service reads about 120 V to ground.
    """
    if not _needs_two_legs(visit):
        return ()
    legs, half = [getattr(visit.electrical.supply, leg) for leg in LEGS], _is_one_leg(volts)
    alive = [volts is not None and not below(volts, limit("supply.one-leg-lowest").value) for volts in legs]
    if None in legs:
        return (_by_others(visit, name, volts),) if half else ()
    if all(alive):
        variant, state = ("", State.REVIEW) if half else ("fed-back", State.FAIL)
        return (_found(visit, name, volts, state, variant),)
    if any(alive):
        return (_found(visit, name, volts, State.FAIL, _place(visit)),)
    return ()


def missing_legs(visit: Visit, found: tuple[Finding, ...]) -> tuple[Missing, ...]:
    """What a lost leg still asks for."""
    supply = visit.electrical.supply
    if not any(item.code == "supply.leg-lost" and item.state is not State.REVIEW for item in found):
        return ()
    legs = tuple(Missing(f"{BASE}/{leg}", "supply.legs") for leg in LEGS if getattr(supply, leg) is None)
    at = Missing(f"{BASE}/{DISCONNECT}", "supply.at-disconnect")
    return (*legs, at) if supply.disconnect_line_volts is None else legs


def _needs_two_legs(visit: Visit) -> bool:
    marked, lowest, highest = (
        marked_volts(visit),
        limit("supply.two-legs-lowest"),
        limit("supply.two-legs-highest"),
    )
    single = visit.equipment.phases != 3 and visit.equipment.compressor.drive != "three_phase"
    return single and marked is not None and lowest.value <= marked[0] and marked[1] <= highest.value


def _is_one_leg(volts: float) -> bool:
    lowest, highest = limit("supply.one-leg-lowest").value, limit("supply.one-leg-highest").value
    return not below(volts, lowest) and not above(volts, highest)


def _place(visit: Visit) -> str:
    """Where the leg is lost, by the volts on the line side of the disconnect."""
    volts = visit.electrical.supply.disconnect_line_volts
    if volts is None:
        return ""
    return "at-disconnect" if above(volts, limit("supply.one-leg-highest").value) else "upstream"


def _by_others(visit: Visit, name: str, volts: float) -> Finding:
    """Without the legs: what the disconnect or the control transformer says of them, else undecided."""
    variant = "at-disconnect" if _place(visit) == "at-disconnect" else ""
    variant = variant or ("transformer-half" if _is_halved(visit, volts) else "")
    return _found(visit, name, volts, State.FAIL if variant else State.UNDECIDED, variant)


def _is_halved(visit: Visit, volts: float) -> bool:
    """Whether the control transformer puts out as small a share of its volts as the line of the nameplate's."""
    secondary, marked = visit.electrical.control.secondary_volts, marked_volts(visit)
    if secondary is None or marked is None:
        return False
    share = secondary / limit("control.nominal").value
    near = limit("supply.tolerance-percent").value / 100.0
    return any(abs(share - volts / nominal) <= near for nominal in marked)


def _found(visit: Visit, name: str, volts: float, state: State, variant: str = "") -> Finding:
    supply = visit.electrical.supply
    told = {"line1": supply.line1_to_ground_volts, "line2": supply.line2_to_ground_volts}
    told["disconnect"] = supply.disconnect_line_volts
    values: dict[str, Value] = {
        word: electrical(visit, read, "volts") for word, read in told.items() if read is not None
    }
    by = ("/electrical/control/secondary_volts",) if variant == "transformer-half" else ()
    return report(
        "supply.leg-lost",
        state,
        (f"{BASE}/{name}", *given(supply, BASE, (*LEGS, DISCONNECT)), *by, "/equipment/nominal_voltage"),
        measured=electrical(visit, volts, "volts"),
        values=values,
        variant=variant,
    )
