"""What rests on readings that cannot all be true is not judged; what nothing contradicts stays judged.

Basis: physics (a running compressor raises the pressure, vapour is no colder than its dew point).
"""

import pytest

from service.reasoning.assessment import assess
from service.results.finding import CONTRADICTED, State
from service.results.visit import Visit
from service.schemas.documents import load
from service.words.locale import LANGUAGES
from service.words.say import Speaker

EQUIPMENT = {
    "kind": "split_air_conditioner",
    "refrigerant": "R-410A",
    "metering_device": "thermostatic_expansion_valve",
    "compressor": {"drive": "single_phase", "rated_load_amps": 14},
}
SWAPPED = {
    "minutes_running": 20,
    "suction_pressure": 340,
    "liquid_pressure": 120,
    "suction_line_temperature": 55,
    "liquid_line_temperature": 100,
}
AIR = {"outdoor_dry_bulb": 95, "return_dry_bulb": 78, "return_wet_bulb": 65, "supply_dry_bulb": 58}


def judged(**parts):
    answer = assess(load(Visit, {"equipment": EQUIPMENT, **parts}))
    return answer, {finding.code: finding for finding in answer.findings}


def test_swapped_hoses_condemn_nothing():
    answer, found = judged(running=SWAPPED, air=AIR)
    assert found["readings.suction-above-liquid"].state is State.FAIL
    assert found["metering.overfed"].variant == CONTRADICTED
    assert found["running.floodback"].variant == CONTRADICTED  # superheat 50 F below nothing is no liquid
    assert (answer.outcome.state, answer.outcome.disposition) == ("undecided", "more_readings")
    assert not answer.outcome.parts
    assert "step.check-hoses" in [step.code for step in answer.next_steps]


def test_liquid_that_may_come_back_protects_the_unit_meanwhile():
    """R-410A at 120 psig is 41 F (CoolProp): a line at 37 F may be wet behind a gauge a little off."""
    running = {**SWAPPED, "suction_pressure": 120, "liquid_pressure": 340, "suction_line_temperature": 37}
    answer, found = judged(running=running, air=AIR)
    assert found["readings.superheat-negative"].state is State.FAIL
    assert found["running.floodback"].state is State.FAIL
    assert not answer.outcome.parts


def test_air_that_nothing_contradicts_stays_judged():
    _, found = judged(running=SWAPPED, air={**AIR, "supply_dry_bulb": 50})
    assert found["air.split-high"].state is State.FAIL
    _, found = judged(air={**AIR, "supply_dry_bulb": 90})
    assert found["readings.supply-warmer"].state is State.FAIL
    assert found["air.split-low"].state is State.UNDECIDED


def test_a_fault_of_another_part_stays_a_fault():
    answer, found = judged(running=SWAPPED, inspection={"capacitor_case": "bulged"})
    assert found["inspection.capacitor-case"].state is State.FAIL
    assert answer.outcome.state == "fault"


def test_an_unsafe_pressure_keeps_its_hold():
    answer, _ = judged(running={**SWAPPED, "suction_pressure": 640, "liquid_pressure": 630})
    assert {"hold.pressure-unsafe", "hold.readings-contradict"} <= {hold.code for hold in answer.holds}
    assert answer.outcome.state == "unsafe"


@pytest.mark.parametrize("language", LANGUAGES)
def test_it_is_said_in_every_language(language):
    visit = load(Visit, {"equipment": EQUIPMENT, "running": SWAPPED})
    answer = assess(visit)
    aside = [finding for finding in answer.findings if finding.variant == CONTRADICTED]
    said = {Speaker(visit.units, visit.site_pressure, language).detail(finding) for finding in aside}
    assert len(aside) > 3
    assert len(said) == 1
