"""Visits for the tests of the cooling side, in the units of the wire."""

from copy import deepcopy
from typing import Any

from service.checks.refrigerant.cooling import check_cooling
from service.knowledge.refrigerants import find
from service.results.finding import Finding
from service.results.units import Units, from_si, to_si
from service.results.visit import Visit
from service.schemas.documents import load
from service.verdicts.report import Checked
from service.words.say import Speaker

UNITS, SEA_LEVEL = Units(), 101325.0
SPEAKER = Speaker(UNITS, SEA_LEVEL)


def psig(pressure: float) -> float:
    """[Pa absolute] -> psig at sea level."""
    return from_si(pressure, "pressure", UNITS, SEA_LEVEL)


def kelvin(fahrenheit: float) -> float:
    """F -> [K]."""
    return to_si(fahrenheit, "temperature", UNITS, SEA_LEVEL)


def fahrenheit(temperature: float) -> float:
    """[K] -> F."""
    return from_si(temperature, "temperature", UNITS, SEA_LEVEL)


def suction_psig(refrigerant: str, saturation: float) -> float:
    """Suction pressure with that dew temperature [F]."""
    return psig(find(refrigerant).saturation.dew_pressure(kelvin(saturation)))


def liquid_psig(refrigerant: str, saturation: float) -> float:
    """Liquid pressure with that bubble temperature [F]."""
    return psig(find(refrigerant).saturation.bubble_pressure(kelvin(saturation)))


def valve_unit(superheat: float = 12.0, subcooling: float = 10.0, refrigerant: str = "R-410A") -> dict[str, Any]:
    """A unit with an expansion valve, 10 F target subcooling, at 90 F outdoors."""
    return _unit("thermostatic_expansion_valve", superheat, subcooling, refrigerant) | {
        "equipment": {
            "refrigerant": refrigerant,
            "metering_device": "thermostatic_expansion_valve",
            "target_subcooling": 10,
        }
    }


def orifice_unit(superheat: float = 12.0, subcooling: float = 10.0, refrigerant: str = "R-22") -> dict[str, Any]:
    """A unit with a fixed orifice at 95 F outdoors and 67 F return wet bulb: the target superheat is 12 F."""
    return _unit("fixed_orifice", superheat, subcooling, refrigerant)


def _unit(device: str, superheat: float, subcooling: float, refrigerant: str) -> dict[str, Any]:
    suction, liquid = suction_psig(refrigerant, 42.0), liquid_psig(refrigerant, 115.0)
    # Back from the pressures, so that superheat and subcooling are exactly what the test asks for.
    curve = find(refrigerant).saturation
    dew = curve.dew_temperature(to_si(suction, "pressure", UNITS, SEA_LEVEL))
    bubble = curve.bubble_temperature(to_si(liquid, "pressure", UNITS, SEA_LEVEL))
    return {
        "equipment": {"refrigerant": refrigerant, "metering_device": device},
        "running": {
            "minutes_running": 20,
            "suction_pressure": suction,
            "liquid_pressure": liquid,
            "suction_line_temperature": fahrenheit(dew) + superheat,
            "liquid_line_temperature": fahrenheit(bubble) - subcooling,
        },
        "air": {
            "outdoor_dry_bulb": 95,
            "return_dry_bulb": 80,
            "return_wet_bulb": 67,
            "supply_dry_bulb": 61.7,
        },
    }


def changed(document: dict[str, Any], **parts: dict[str, Any]) -> dict[str, Any]:
    """A copy with members of parts replaced, or removed where the value is None."""
    copy = deepcopy(document)
    for part, members in parts.items():
        for name, value in members.items():
            copy.setdefault(part, {})[name] = value
            if value is None:
                del copy[part][name]
    return copy


def visit_of(document: dict[str, Any]) -> Visit:
    """The visit as the checks see it."""
    return load(Visit, document)


def checked(document: dict[str, Any]) -> Checked:
    """What the cooling side says of a document."""
    return spoken(check_cooling(visit_of(document)))


def spoken(found: Checked) -> Checked:
    """The same, after every finding, missing reading and assumption was put into words."""
    for item in found.findings:
        assert SPEAKER.detail(item)
        assert SPEAKER.title("findings", item.code)
    assert all(SPEAKER.missing(item) for item in found.missing)
    assert all(SPEAKER.assumption(item) for item in found.assumptions)
    return found


def states(found: Checked) -> dict[str, str]:
    """Finding codes with their states."""
    return {finding.code: finding.state.value for finding in found.findings}


def finding(found: Checked, code: str) -> Finding:
    """The one finding of that code."""
    (only,) = [item for item in found.findings if item.code == code]
    return only
