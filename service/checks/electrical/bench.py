"""All electrical checks over one visit."""

from service.checks.electrical.blower import check_blower
from service.checks.electrical.burnout import check_burnout
from service.checks.electrical.capacitors import check_capacitors
from service.checks.electrical.contactor import check_contactor
from service.checks.electrical.control import check_control
from service.checks.electrical.currents import check_currents
from service.checks.electrical.drive import check_drive
from service.checks.electrical.fans import check_fans
from service.checks.electrical.insulation import check_insulation
from service.checks.electrical.isolation import check_isolation
from service.checks.electrical.locked_rotor import check_locked_rotor
from service.checks.electrical.protection import check_protection
from service.checks.electrical.reversing_valve import check_reversing_valve
from service.checks.electrical.rotation import check_rotation
from service.checks.electrical.start_components import check_start_components
from service.checks.electrical.supply import check_supply
from service.checks.electrical.windings import check_windings
from service.checks.plausible.exclusions import check_exclusions
from service.checks.seen.inspection import check_inspection
from service.results.computed import ElectricalComputed
from service.results.visit import Visit
from service.verdicts.report import Checked


def check_electrical(visit: Visit) -> Checked:
    """Judge everything electrical: gates, grounds, supply, overload, capacitors, control; the mechanics last.

    Source of the order: common practice; a later verdict never stands on readings that an earlier one explains.
    """
    parts = {
        "windings": check_windings(visit),
        "run_capacitors": check_capacitors(visit),
        "start_capacitor": check_start_components(visit),
        "supply": check_supply(visit),
        "contactor": check_contactor(visit),
        "insulation": check_insulation(visit),
        "currents": check_currents(visit),
        "protection": check_protection(visit),
    }
    rest = (
        check_control(visit),
        check_reversing_valve(visit),
        check_fans(visit),
        check_blower(visit),
        check_inspection(visit),
        check_rotation(visit),
        check_exclusions(visit),
    )
    first = (check_isolation(visit), *parts.values(), *rest)
    found = tuple(finding for check in first for finding in check.findings)
    last = (check_locked_rotor(visit, found), check_drive(visit, found), check_burnout(visit, found))
    computed = ElectricalComputed(**{name: check.computed for name, check in parts.items()})
    return _together((*first, *last), computed)


def _together(checked: tuple[Checked, ...], computed: ElectricalComputed) -> Checked:
    return Checked(
        tuple(finding for check in checked for finding in check.findings),
        tuple(dict.fromkeys(item for check in checked for item in check.missing)),
        tuple(item for check in checked for item in check.assumptions),
        computed,
    )
