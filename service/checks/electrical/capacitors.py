"""Run capacitors: on the bench, or under load by volts and amps."""

from service.checks.electrical.capacitor_readings import Reading, capacitor_computed, reading_of, tolerance
from service.checks.electrical.dead_readings import as_proven
from service.checks.electrical.isolation import dead_is_proven
from service.knowledge.limits import limit
from service.physics.capacitors import label_limits
from service.results.finding import Assumption, Bounds, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.results.visit.electrical_parts import RunCapacitor
from service.verdicts.evidence_pointers import given
from service.verdicts.judge import above, below, confidence
from service.verdicts.report import Checked, report

CODES = {
    "compressor": "capacitors.compressor",
    "outdoor_fan": "capacitors.outdoor-fan",
    "indoor_blower": "capacitors.indoor-blower",
    None: "capacitors.not-named",
}


def check_capacitors(visit: Visit) -> Checked:
    """Judge every run capacitor against its label.

    Source: label tolerance (EIA-456-A, IEC 60252-1 as restated in the trade press); under load by
    Xc = 1/(2 pi f C).
    """
    checked = [_capacitor(visit, item, index) for index, item in enumerate(visit.electrical.run_capacitors)]
    findings = tuple(finding for check in checked for finding in check.findings)
    return Checked(
        findings + _dual(visit, findings),
        tuple(item for check in checked for item in check.missing),
        tuple(item for check in checked for item in check.assumptions),
        tuple(check.computed for check in checked),
    )


def _base(index: int) -> str:
    return f"/electrical/run_capacitors/{index}"


def _capacitor(visit: Visit, item: RunCapacitor, index: int) -> Checked:
    proven = dead_is_proven(visit)
    reading = reading_of(visit, item, proven)
    computed = capacitor_computed(reading, item, tolerance(item), tolerance(item))
    ohms = as_proven(_by_ohms(item, index), proven)
    by_size = _by_size(item, index, reading)
    if reading is not None and reading.bench:
        by_size = as_proven(by_size, proven)
    failed = [finding for finding in ohms if finding.state is State.FAIL]
    findings = tuple(failed) or by_size or ohms
    return Checked(findings, _missing(item, index), _assumed(visit, item, index, reading), computed)


def _by_ohms(item: RunCapacitor, index: int) -> tuple[Finding, ...]:
    """Shorted between terminals, or grounded to the can (K03, K04)."""
    findings = []
    code = CODES[item.serves]
    line = limit("capacitors.shorted")
    if item.terminal_ohms is not None and item.terminal_ohms.ohms is not None:
        value = item.terminal_ohms.ohms
        if below(value, line.value):
            findings.append(
                report(
                    code,
                    State.FAIL,
                    given(item, _base(index), ("terminal_ohms",)),
                    measured=Quantity(value, "ohms"),
                    limit=line.as_low(),
                    variant="shorted",
                )
            )
    if item.case_ohms is not None and not item.case_ohms.over_limit:
        findings.append(report(code, State.FAIL, given(item, _base(index), ("case_ohms",)), variant="grounded"))
    return tuple(findings)


def _by_size(item: RunCapacitor, index: int, reading: Reading | None) -> tuple[Finding, ...]:
    """Capacitance against the label (K01, K02, K05, K08)."""
    rated, code = item.rated_microfarads, CODES[item.serves]
    if reading is None:
        return ()
    pointers = given(item, _base(index), (*reading.names, "rated_microfarads", "tolerance_percent"))
    if "over_limit" in reading.names:
        return (report(code, State.FAIL, pointers, variant="open"),)
    measured = Quantity(reading.microfarads, "microfarads", reading.uncertainty)
    if rated is None:
        return (report(code, State.UNDECIDED, pointers, measured=measured, variant="no-label"),)
    state, variant, applied = _verdict(item, reading, rated)
    return (
        report(
            code,
            state,
            pointers,
            measured=measured,
            limit=applied,
            confidence=confidence(reading.microfarads, reading.uncertainty, applied.low, applied.high),
            variant=variant,
        ),
    )


def _verdict(item: RunCapacitor, reading: Reading, rated: float) -> tuple[State, str, Bounds]:
    low, high = label_limits(rated, tolerance(item), tolerance(item))
    applied = _bounds(item, low, high)
    if below(reading.microfarads, limit("capacitors.open-percent").value / 100.0 * rated):
        return State.FAIL, "open", applied
    if below(reading.microfarads, low):
        return State.FAIL, "weak", applied
    if above(reading.microfarads, high):
        return State.REVIEW, "high", applied
    return State.PASS, "bench" if reading.bench else "load", applied


def _bounds(item: RunCapacitor, low: float, high: float) -> Bounds:
    if item.tolerance_percent is not None:
        return Bounds("microfarads", "request", "label tolerance, as posted", low, high)
    return limit("capacitors.run-tolerance-percent").bounds(low, high, "microfarads")


def _dual(visit: Visit, findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """One section of a dual capacitor failed: the can is one part (K07)."""
    listed = visit.electrical.run_capacitors
    shared = {_base(index) for index, item in enumerate(listed) if item.shares_can}
    bad = [finding for finding in findings if finding.state is State.FAIL and _item(finding) in shared]
    good = [finding for finding in findings if finding.state is State.PASS and _item(finding) in shared]
    if not bad or not good:
        return ()
    evidence = tuple(dict.fromkeys(pointer for finding in bad + good for pointer in finding.evidence))
    return (report("capacitors.dual-section", State.REVIEW, evidence),)


def _item(finding: Finding) -> str:
    return finding.evidence[0].rsplit("/", 1)[0]


def _missing(item: RunCapacitor, index: int) -> tuple[Missing, ...]:
    read = given(item, _base(index), ("measured_microfarads", "measured_amps", "over_limit"))
    found = []
    if item.rated_microfarads is None:
        found.append(Missing(f"{_base(index)}/rated_microfarads", "capacitors.label"))
    if not read:
        found.append(Missing(f"{_base(index)}/measured_microfarads", "capacitors.reading"))
    if item.measured_amps is not None and not item.measured_volts:
        found.append(Missing(f"{_base(index)}/measured_volts", "capacitors.volts"))
    return tuple(found)


def _assumed(visit: Visit, item: RunCapacitor, index: int, reading: Reading | None) -> tuple[Assumption, ...]:
    found = []
    if item.tolerance_percent is None and item.rated_microfarads is not None:
        found.append(Assumption("capacitors.tolerance", f"{_base(index)}/tolerance_percent"))
    if reading is not None and not reading.bench and visit.equipment.frequency is None:
        found.append(Assumption("capacitors.frequency", "/equipment/frequency"))
    return tuple(found)
