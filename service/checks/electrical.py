"""All electrical checks over one visit."""

from service.checks.capacitors import check_capacitors
from service.checks.insulation import check_insulation
from service.checks.isolation import check_isolation
from service.checks.report import Checked
from service.checks.supply import check_supply
from service.checks.windings import check_windings
from service.results.computed import ElectricalComputed
from service.results.visit import Visit


def check_electrical(visit: Visit) -> Checked:
    """Judge everything electrical: gates first, then supply, capacitors, windings and the rest."""
    windings, insulation = check_windings(visit), check_insulation(visit)
    capacitors, supply = check_capacitors(visit), check_supply(visit)
    checked = (check_isolation(visit), insulation, supply, windings, capacitors)
    computed = ElectricalComputed(
        windings=windings.computed,
        run_capacitors=capacitors.computed,
        supply=supply.computed,
        insulation=insulation.computed,
    )
    return Checked(
        tuple(finding for check in checked for finding in check.findings),
        tuple(dict.fromkeys(item for check in checked for item in check.missing)),
        tuple(item for check in checked for item in check.assumptions),
        computed,
    )
