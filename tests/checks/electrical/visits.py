"""Visits for the electrical checks, written in the words and units of the wire."""

from service.checks.electrical.bench import check_electrical
from service.results.visit import Visit
from service.schemas.documents import load
from service.words.say import Speaker

PROVEN = {
    "disconnect_locked": True,
    "meter_proved_before": True,
    "meter_proved_after": True,
    "line_to_line_volts": 0,
    "line1_to_ground_volts": 0,
    "line2_to_ground_volts": 0,
    "line2_to_line3_volts": 0,
    "line1_to_line3_volts": 0,
    "line3_to_ground_volts": 0,
    "capacitor_residual_volts": 0,
    "drive_bus_volts": 0,
}
OPEN = {"over_limit": True}


def ohms(value):
    """A resistance as the wire writes it; None is over the limit."""
    return dict(OPEN) if value is None else {"ohms": value}


def visit(drive="single_phase", isolation=None, **parts):
    """A visit whose isolation is proven unless told otherwise."""
    document = {"isolation": PROVEN if isolation is None else isolation, **parts}
    if drive is not None:
        equipment = document.get("equipment", {})
        compressor = {"drive": drive, **equipment.get("compressor", {})}
        document["equipment"] = {**equipment, "compressor": compressor}
    return load(Visit, document)


def judged(*arguments, **parts):
    """All that the electrical checks say; every finding must have its words."""
    seen = visit(*arguments, **parts)
    checked = check_electrical(seen)
    speaker = Speaker(seen.units, seen.site_pressure)
    for finding in checked.findings:
        assert speaker.detail(finding)
        assert finding.evidence
    for item in checked.missing:
        assert speaker.missing(item)
    for item in checked.assumptions:
        assert speaker.assumption(item)
    return checked


def states(checked):
    """code -> state of the findings."""
    return {finding.code: str(finding.state) for finding in checked.findings}


def one(checked, code):
    """The only finding of that code."""
    (found,) = [finding for finding in checked.findings if finding.code == code]
    return found


def asked(checked):
    """Pointers of the readings that are missing."""
    return {item.pointer for item in checked.missing}
