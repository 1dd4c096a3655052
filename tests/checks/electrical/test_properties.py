"""What holds for every reading: no verdict without proof, monotone severity, names and kinds kept apart.

Properties of circuit logic and of the order of work (NFPA 70E Article 120); no numbers of the trade.
"""

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.checks.electrical.dead_readings import GROUNDS, dead_readings
from service.results.finding import State
from tests.checks.electrical.visits import PROVEN, judged, ohms, states, visit

RANK = {"pass": 0, "review": 1, "undecided": 1, "fail": 2}
FEW = settings(max_examples=150, deadline=None)
OHMS = st.one_of(st.none(), st.sampled_from([0.0, 0.1, 0.5, 0.9, 2.8, 3.7]), st.floats(0.0, 60.0)).map(ohms)
TO_SHELL = st.one_of(st.none(), st.floats(0.0, 1e9)).map(ohms)
DRIVES = st.sampled_from([None, "single_phase", "three_phase", "inverter"])


def some(**members):
    return st.fixed_dictionaries({}, optional=members)


ELECTRICAL = some(
    windings=st.one_of(
        some(common_run=OHMS, common_start=OHMS, run_start=OHMS),
        some(one_two=OHMS, two_three=OHMS, one_three=OHMS),
    ),
    insulation=some(
        instrument=st.sampled_from(["ohmmeter", "insulation_tester"]),
        common_to_shell=TO_SHELL,
        one_to_shell=TO_SHELL,
        minimum_megohms=st.floats(0.1, 100.0),
        test_volts=st.sampled_from([250, 500, 1000]),
    ),
    run_capacitors=st.lists(
        some(
            serves=st.sampled_from(["compressor", "outdoor_fan", "indoor_blower"]),
            rated_microfarads=st.floats(1.0, 80.0),
            measured_microfarads=st.floats(0.0, 100.0),
            terminal_ohms=OHMS,
            case_ohms=TO_SHELL,
        ),
        max_size=2,
    ),
    outdoor_fan=some(common_run=OHMS, common_start=OHMS, run_start=OHMS, to_frame=TO_SHELL),
    indoor_blower=some(common_run=OHMS, common_start=OHMS, run_start=OHMS, to_frame=TO_SHELL),
    control=some(coil_resistance=OHMS, crankcase_heater_resistance=OHMS),
    start_components=some(relay_contact_resistance=OHMS, relay_coil_resistance=OHMS, solid_state_ohms=OHMS),
)
INSPECTION = some(
    shell_touch=st.sampled_from(["cool", "warm", "hot"]),
    shell_temperature=st.floats(40.0, 250.0),
    wires_off_terminals=st.booleans(),
)


@FEW
@given(ELECTRICAL, INSPECTION, DRIVES, st.sampled_from(sorted(set(PROVEN) - {"line3_to_ground_volts"})))
def test_no_verdict_without_proof(electrical, inspection, drive, left_out):
    """A dead reading gets neither pass nor fail nor review while a needed part of the proof is not there."""
    isolation = {name: value for name, value in PROVEN.items() if name != left_out}
    if left_out in ("drive_bus_volts", "capacitor_residual_volts") or left_out.startswith("line2_to_line3"):
        drive = {"drive_bus_volts": "inverter", "capacitor_residual_volts": "single_phase"}.get(
            left_out, "three_phase"
        )
    if left_out == "line1_to_line3_volts":
        drive = "three_phase"
    parts = {"electrical": electrical, "inspection": inspection, "isolation": isolation, "drive": drive}
    dead = set(dead_readings(visit(**parts)))
    checked = judged(**parts)
    for finding in checked.findings:
        if dead & set(finding.evidence):
            assert finding.state is State.UNDECIDED, finding
    assert not dead or states(checked)["isolation.dead-proven"] == "undecided"


@FEW
@given(ELECTRICAL, INSPECTION, DRIVES, st.sampled_from([230, 50, 51.5]))
def test_no_verdict_while_a_line_is_live(electrical, inspection, drive, volts):
    parts = {"electrical": electrical, "inspection": inspection, "drive": drive}
    checked = judged(**parts, isolation={**PROVEN, "line_to_line_volts": volts})
    assert states(checked)["isolation.voltage-present"] == "fail"
    dead = set(dead_readings(visit(**parts)))
    judgements = [item for item in checked.findings if dead & set(item.evidence)]
    assert all(item.state is State.UNDECIDED for item in judgements)


@FEW
@given(ELECTRICAL, INSPECTION, DRIVES)
def test_every_hazard_survives_a_missing_proof(electrical, inspection, drive):
    """A ground that is found with proof is still kept, undecided, without it."""
    parts = {"electrical": electrical, "inspection": inspection, "drive": drive}
    proven, unproven = judged(**parts), judged(**parts, isolation={})
    grounded = {
        item.code
        for item in proven.findings
        if item.code in GROUNDS and item.state in (State.FAIL, State.UNDECIDED)
    }
    kept = {item.code for item in unproven.findings if item.state is State.UNDECIDED}
    assert grounded <= kept


@FEW
@given(st.lists(OHMS, min_size=3, max_size=3), INSPECTION, DRIVES)
def test_renaming_terminals_changes_names_only(readings, inspection, drive):
    """The three terminals may be numbered in any order: the same verdicts, the names follow."""
    pairs = {frozenset("12"): readings[0], frozenset("23"): readings[1], frozenset("13"): readings[2]}
    seen = set()
    for order in permutations("123"):
        renamed = dict(zip("123", order, strict=True))
        windings = {
            name: pairs[frozenset(renamed[end] for end in ends)]
            for name, ends in (("one_two", "12"), ("two_three", "23"), ("one_three", "13"))
        }
        checked = judged(drive=drive, electrical={"windings": windings}, inspection=inspection)
        computed = checked.computed.windings
        names = tuple(renamed[end] if end else None for end in (computed.common, computed.run, computed.start))
        verdicts = tuple(sorted((item.code, item.state, item.variant) for item in checked.findings))
        seen.add((verdicts, names, computed.sum_ohms, computed.unbalance_percent))
    assert len({item[0] for item in seen}) == 1
    assert len({item[1] for item in seen}) == 1


SINGLE_ONLY = {
    "windings.sum-rule",
    "windings.run-winding-open",
    "windings.start-winding-open",
    "windings.common-open",
    "windings.terminals-identified",
    "windings.terminals-mislabeled",
    "windings.run-and-start-swapped",
}
THREE_ONLY = {"windings.phases-equal", "windings.phase-open", "windings.star-open"}


@FEW
@given(ELECTRICAL, INSPECTION)
def test_single_and_three_phase_rules_are_never_mixed(electrical, inspection):
    for drive in ("single_phase", "three_phase", "inverter"):
        found = set(states(judged(drive=drive, electrical=electrical, inspection=inspection)))
        assert not found & (THREE_ONLY if drive == "single_phase" else SINGLE_ONLY)
    unknown = set(states(judged(drive=None, electrical=electrical, inspection=inspection)))
    assert not (unknown & SINGLE_ONLY and unknown & THREE_ONLY)


@FEW
@given(ELECTRICAL, st.sampled_from(["single_phase", "three_phase", "inverter"]))
def test_a_hot_shell_never_condemns_an_open_winding(electrical, drive):
    """Gate G4: with the shell hot no open circuit is a failure."""
    checked = judged(drive=drive, electrical=electrical, inspection={"shell_touch": "hot"})
    opens = ("windings.common-open", "windings.run-winding-open", "windings.start-winding-open")
    opens += ("windings.terminal-open", "windings.phase-open", "windings.star-open")
    assert not [item for item in checked.findings if item.code in opens and item.state is State.FAIL]


def _insulation(value):
    return {"insulation": {"instrument": "ohmmeter", "common_to_shell": {"ohms": 1e9 / (1.0 + value)}}}


def _tester(value):
    return {"insulation": {"instrument": "insulation_tester", "common_to_shell": {"ohms": 1e9 / (1.0 + value)}}}


def _capacitor(value):
    return {
        "run_capacitors": [
            {"serves": "compressor", "rated_microfarads": 45, "measured_microfarads": max(0.0, 45.0 - value)}
        ]
    }


def _drop(value):
    return {"supply": {"running_volts": 230}, "contactor": {"drop_volts_pole1": value}}


def _sag(value):
    return {"supply": {"idle_volts": 240, "starting_volts": max(0.0, 240.0 - value)}}


def _unbalance(value):
    return {"supply": {"volts_ab": 230 + value, "volts_bc": 230, "volts_ca": 230 - value}}


def _line_low(value):
    return {"supply": {"idle_volts": max(51.0, 230.0 - value)}}


def _load(value):
    return {"currents": {"compressor_amps": 10.0 + value}}


def _breaker(value):
    return {"protection": {"breaker_amps": 20.0 + value}}


MONOTONE = {
    "insulation.winding-grounded": (_insulation, 1e7),
    "insulation.sound": (_tester, 1e3),
    "capacitors.compressor": (_capacitor, 60.0),
    "contactor.contact-drop": (_drop, 10.0),
    "supply.start-sag": (_sag, 200.0),
    "supply.voltage-unbalance": (_unbalance, 30.0),
    "supply.voltage": (_line_low, 60.0),  # below it is a lost leg's
    "currents.compressor": (_load, 40.0),
    "protection.breaker-size": (_breaker, 60.0),
}


@pytest.mark.parametrize("code", MONOTONE)
@FEW
@given(data=st.data())
def test_severity_is_monotone(code, data):
    """A worse reading never gets a milder verdict."""
    made, most = MONOTONE[code]
    better, worse = sorted(data.draw(st.lists(st.floats(0.0, most), min_size=2, max_size=2)))
    equipment = {
        "nominal_voltage": "230",
        "maximum_overcurrent_protection": 40,
        "compressor": {"rated_load_amps": 20},
    }

    def rank(value):
        checked = judged(equipment=equipment, electrical=made(value))
        found = [RANK[str(item.state)] for item in checked.findings if item.code.startswith(code)]
        return max(found, default=0)

    assert rank(better) <= rank(worse)
