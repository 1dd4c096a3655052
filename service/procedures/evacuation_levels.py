"""How far an appliance is drawn down before it is opened (40 CFR 82.156)."""

from dataclasses import dataclass

from service.knowledge.limits import limit
from service.knowledge.procedure_tables import INCH_OF_MERCURY, evacuation_level
from service.knowledge.refrigerant import Refrigerant
from service.results.finding import Bounds, Finding, Missing, State
from service.results.procedures.recovery import RecoveryRequest
from service.results.quantity import Quantity
from service.results.units import STANDARD_ATMOSPHERE
from service.verdicts.report import report

CODE = "recovery.evacuation-level"


@dataclass(frozen=True, slots=True)
class DrawDown:
    """The pressure or the share that the rule asks for, and what was lacking to know it."""

    finding: Finding
    pressure: Quantity | None = None
    percent: Quantity | None = None
    missing: tuple[Missing, ...] = ()


def draw_down(request: RecoveryRequest, refrigerant: Refrigerant | None) -> DrawDown:
    """The level required, by pressure class, full charge and age of the recovery machine."""
    if request.small_appliance:
        return _small(request)
    if refrigerant is None:
        return DrawDown(report(CODE, State.UNDECIDED, ()))
    charge, pointer = full_charge(request)
    if charge is None:
        missing = (Missing("/full_charge", "missing.recovery-full-charge"),)
        return DrawDown(report(CODE, State.UNDECIDED, ()), missing=missing)
    level = evacuation_level(refrigerant.pressure_class, charge)
    asked = level.before_1993 if request.recovery_machine_before_1993 else level.after_1993
    # Where the air is thinner, nothing above the site's own pressure can count as drawn down.
    pressure = min(asked, request.site_pressure)
    finding = report(
        CODE,
        State.PASS,
        (pointer,),
        limit=Bounds("pressure", "table", level.source, high=pressure),
        values={
            "pressure": Quantity(pressure, "pressure"),
            "vacuum": round((STANDARD_ATMOSPHERE - asked) / INCH_OF_MERCURY, 1),
            "class": refrigerant.pressure_class.replace("_", "-"),
            "source": level.source,
        },
    )
    return DrawDown(finding, Quantity(pressure, "pressure"))


def full_charge(request: RecoveryRequest) -> tuple[float | None, str]:
    """Full charge of the appliance [kg] and where it was said."""
    if request.full_charge is not None:
        return request.full_charge, "/full_charge"
    if request.equipment.factory_charge is not None:
        return request.equipment.factory_charge, "/equipment/factory_charge"
    return request.expected_charge, "/expected_charge"


def _small(request: RecoveryRequest) -> DrawDown:
    """A small appliance: a share of its charge, more with the compressor running."""
    code = "running" if request.compressor_runs else "stopped"
    share = limit(f"procedures.small-appliance-{code}-percent")
    percent = Quantity(share.value, "percent")
    finding = report(
        CODE,
        State.PASS,
        ("/small_appliance",),
        limit=share.as_low(),
        values={"percent": percent},
        variant="small-appliance",
    )
    return DrawDown(finding, percent=percent)
