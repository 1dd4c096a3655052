"""The contactor: coil, armature, contacts."""

from service.checks.electrical.contactor_drop import check_drop
from service.checks.electrical.control_levels import is_fed, is_unfed
from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.isolation import dead_is_proven
from service.checks.electrical.meters import ohm_error
from service.checks.electrical.supply import line_volts
from service.checks.plausible.exclusions import held
from service.knowledge.limits import limit
from service.results.finding import Confidence, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import below, confidence
from service.verdicts.report import Checked, report

CONTROL, CONTACTOR = "/electrical/control", "/electrical/contactor"


def check_contactor(visit: Visit) -> Checked:
    """Judge coil, pull-in, welded and open contacts, and the drop across each closed pole.

    Source: Electricity for HVACR Technicians (RSES), 3 % of line voltage; coil and armature by circuit logic.
    """
    coil = _coil(visit)
    findings = as_proven(coil, dead_is_proven(visit)) + _pull_in(visit, coil) + _contacts(visit)
    drop = check_drop(visit)
    return Checked(findings + drop.findings, _missing(visit), computed=drop.computed)


def _coil(visit: Visit) -> tuple[Finding, ...]:
    """Open or shorted coil (E01, E02)."""
    reading = visit.electrical.control.coil_resistance
    pointer = (f"{CONTROL}/coil_resistance",)
    if reading is None:
        return ()
    if reading.ohms is None:
        return (report("contactor.coil", State.FAIL, pointer, variant="open"),)
    line = limit("contactor.coil-shorted")
    error = ohm_error(visit, reading.ohms)
    shorted = below(reading.ohms, line.value)
    return (
        report(
            "contactor.coil",
            State.FAIL if shorted else State.PASS,
            pointer,
            measured=Quantity(reading.ohms, "ohms", error),
            limit=line.as_low(),
            confidence=confidence(reading.ohms, error, low=line.value),
            variant="shorted" if shorted else "",
        ),
    )


def _pull_in(visit: Visit, coil: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """24 V on the coil: does it pull in, and if not, is it the coil or the armature (E01, E03)?"""
    control, contactor = visit.electrical.control, visit.electrical.contactor
    if not is_fed(control.coil_volts) or contactor.pulled_in is None:
        return ()
    evidence = (*given(control, CONTROL, ("coil_volts", "coil_resistance")), f"{CONTACTOR}/pulled_in")
    if contactor.pulled_in:
        return (report("contactor.pulls-in", State.PASS, evidence),)
    if not coil or not dead_is_proven(visit):
        return (report("contactor.pulls-in", State.UNDECIDED, evidence),)
    variant = "jammed" if coil[0].state is State.PASS else "coil"
    return (report("contactor.pulls-in", State.FAIL, evidence, variant=variant),)


def _contacts(visit: Visit) -> tuple[Finding, ...]:
    """Welded: load fed without the coil (E06). Open pole: line in, coil in, nothing out (E07)."""
    control, contactor = visit.electrical.control, visit.electrical.contactor
    if is_unfed(control.coil_volts) and contactor.pulled_in:
        return (_contact_finding(visit, "contactor.welded", State.FAIL, "stuck"),)
    load = contactor.load_volts
    if load is None:
        return _drawing(visit)
    live = not below(load, limit("isolation.hazardous-volts").value)
    if is_unfed(control.coil_volts):
        return (_contact_finding(visit, "contactor.welded", State.FAIL if live else State.PASS),)
    if live and control.coil_volts is None and control.thermostat_calling is False:
        return (_contact_finding(visit, "contactor.welded", State.UNDECIDED),)
    if not contactor.pulled_in or line_volts(visit) is None or not _line_is_live(visit):
        return ()
    share = limit("contactor.open-pole-percent").value / 100.0
    dead = below(load, share * (line_volts(visit) or 0.0))
    return (_contact_finding(visit, "contactor.open-pole", State.FAIL if dead else State.PASS),)


def _drawing(visit: Visit) -> tuple[Finding, ...]:
    """The compressor draws current without its coil, or without a call; an open switch or a delay since explains
    both."""
    control, draws = visit.electrical.control, held(visit, "state.compressor-draws")
    idle, fed = (
        control.thermostat_calling is False,
        control.coil_volts is not None and not is_unfed(control.coil_volts),
    )
    if draws is None or fed or held(visit, "state.switch-open") is not None:
        return ()
    if not (idle or is_unfed(control.coil_volts)):
        return ()
    sure = idle and is_unfed(control.coil_volts)
    return (
        report(
            "contactor.welded",
            State.FAIL if sure else State.UNDECIDED,
            (*draws.evidence, *given(control, CONTROL, ("coil_volts", "thermostat_calling"))),
            measured=draws.measured,
            variant="draws",
        ),
    )


def _line_is_live(visit: Visit) -> bool:
    supply = visit.electrical.supply
    read = (supply.idle_volts, supply.running_volts, supply.volts_ab, supply.volts_bc, supply.volts_ca)
    volts = [value for value in read if value is not None]
    return bool(volts) and min(volts) >= limit("supply.no-volts").value


def _contact_finding(visit: Visit, code: str, state: State, variant: str = "") -> Finding:
    contactor = visit.electrical.contactor
    names = ("idle_volts", "running_volts", "volts_ab", "volts_bc", "volts_ca")
    evidence = given(contactor, CONTACTOR, ("pulled_in", "load_volts"))
    if code == "contactor.open-pole":
        evidence += given(visit.electrical.supply, "/electrical/supply", names)
    else:
        evidence += given(visit.electrical.control, CONTROL, ("coil_volts", "thermostat_calling"))
    load = contactor.load_volts
    return report(
        code,
        state,
        evidence,
        measured=None if load is None else Quantity(load, "volts"),
        confidence=Confidence.FIRM,
        variant=variant,
    )


def _missing(visit: Visit) -> tuple[Missing, ...]:
    control, contactor = visit.electrical.control, visit.electrical.contactor
    if contactor.load_volts is not None and control.coil_volts is None:
        return (Missing(f"{CONTROL}/coil_volts", "contactor.coil-volts"),)
    if is_fed(control.coil_volts) and contactor.pulled_in is False and control.coil_resistance is None:
        return (Missing(f"{CONTROL}/coil_resistance", "contactor.coil"),)
    return ()
