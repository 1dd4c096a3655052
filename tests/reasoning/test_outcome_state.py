"""What establishes a fault: one check at the edge of its limit does not, nor one against all readings together.

Choices of this project; their worth is measured on simulated visits by `python -m tests.simulated.marks`.
"""

import pytest

from service.knowledge.catalogues import sound
from service.results.answer import Argument, Cause
from service.results.finding import Confidence, Finding, Severity, State
from service.results.record import replace
from tests.reasoning.cases import state_of, steps_of

NONE_FOUND = sound().code

SOUND = (Cause(NONE_FOUND, 0.8, (), (), ()),)
DOUBTFUL_CAUSE = (Cause("cause.non-condensables", 0.4, (Argument("argument.for", 1.0, {}),), (), ()),)
CERTAIN_CAUSE = (replace(DOUBTFUL_CAUSE[0], probability=0.9),)
HIGH = Finding(
    "charge.subcooling-high",
    State.FAIL,
    Severity.WARNING,
    ("/running/liquid_pressure", "/running/liquid_line_temperature"),
)
EDGE = replace(HIGH, confidence=Confidence.BORDERLINE)
LOW_VOLTS = Finding("supply.voltage-low", State.FAIL, Severity.WARNING, ("/electrical/supply/idle_volts",))
GROUNDED = Finding("insulation.winding-grounded", State.FAIL, Severity.CRITICAL, ("/electrical/insulation",))
PASSED = tuple(
    Finding(code, State.PASS, Severity.INFO, ("/running/liquid_pressure",))
    for code in ("charge.correct", "air.split-normal")
)


@pytest.mark.parametrize(
    ("finding", "causes", "state"),
    [
        (HIGH, SOUND, "undecided"),
        (HIGH, DOUBTFUL_CAUSE, "fault"),
        (EDGE, DOUBTFUL_CAUSE, "undecided"),
        (EDGE, CERTAIN_CAUSE, "undecided"),
        (LOW_VOLTS, SOUND, "fault"),
        (replace(LOW_VOLTS, confidence=Confidence.BORDERLINE), SOUND, "undecided"),
        (replace(GROUNDED, confidence=Confidence.BORDERLINE), SOUND, "fault"),
    ],
)
def test_what_establishes_a_fault(finding, causes, state):
    assert state_of((*PASSED, finding), (), causes) == state


@pytest.mark.parametrize("cause", ["cause.overcharge", "cause.undercharge"])
@pytest.mark.parametrize("confidence", [Confidence.FIRM, Confidence.BORDERLINE])
def test_a_charge_that_is_correct_by_its_own_test_is_no_established_fault(cause, confidence):
    # A heat pump measured sound (tests/laboratory) passed the published charge test in all weather while the cycle
    # model of that day took it for undercharged.
    causes = (replace(CERTAIN_CAUSE[0], code=cause, probability=0.95),)
    correct, *others = PASSED
    findings = (replace(correct, confidence=confidence), *others)
    assert state_of(findings, (), causes) == "undecided"
    planned = {step.code for step in steps_of(findings, (), causes)}
    assert not planned & {"step.repair-leak-and-weigh-in", "step.recover-excess"}


@pytest.mark.parametrize(
    ("finding", "together", "state"),
    [
        (HIGH, State.REVIEW, "undecided"),
        (HIGH, State.FAIL, "fault"),
        (HIGH, State.UNDECIDED, "fault"),
        (LOW_VOLTS, State.REVIEW, "fault"),
        (replace(HIGH, severity=Severity.CRITICAL), State.REVIEW, "fault"),
    ],
)
def test_one_running_check_does_not_outvote_all_readings_together(finding, together, state):
    """Where all of them together show no fault, or one too small to name, the outcome cannot say fault."""
    named = Finding("cycle.like-a-sound-unit", together, Severity.WARNING, ("/running/liquid_pressure",))
    assert state_of((*PASSED, named, finding), (), DOUBTFUL_CAUSE) == state
    said = replace(named, state=State.FAIL, values={"cause": CERTAIN_CAUSE[0].code})
    assert state_of((*PASSED, said), (), CERTAIN_CAUSE) == "fault"


@pytest.mark.parametrize(
    ("cause", "share", "test", "state"),
    [
        # A unit with a small condenser reads like one with a blocked coil: the coil is looked at first.
        ("cause.outdoor-coil-blocked", 0.75, "", "undecided"),
        ("cause.outdoor-coil-blocked", 0.75, "inspection.outdoor-coil-dirty", "fault"),
        ("cause.outdoor-coil-blocked", 0.9, "", "fault"),
        ("cause.compressor-not-pumping", 0.75, "", "undecided"),
        ("cause.compressor-not-pumping", 0.75, "compressor.pump-down-holds", "fault"),
        # No test of its own is asked for: all readings together are enough.
        ("cause.low-indoor-airflow", 0.65, "", "fault"),
        ("cause.low-indoor-airflow", 0.55, "", "undecided"),
    ],
)
def test_a_cause_whose_own_test_was_not_made_needs_a_greater_share(cause, share, test, state):
    named = Finding("cycle.like-a-sound-unit", State.FAIL, Severity.WARNING, ("/running/liquid_pressure",))
    findings = [*PASSED[1:], replace(named, values={"cause": cause})]
    if test:
        # Doubtful edges establish nothing by themselves.
        made = Finding(test, State.FAIL, Severity.WARNING, ("/inspection",), confidence=Confidence.BORDERLINE)
        findings.append(made)
    assert state_of(tuple(findings), (), (replace(CERTAIN_CAUSE[0], code=cause, probability=share),)) == state


@pytest.mark.parametrize(("state", "outcome"), [(State.REVIEW, "sound"), (State.FAIL, "undecided")])
def test_a_disagreement_within_accuracy_does_not_spoil_a_sound_unit(state, outcome):
    clamps = ("/running/drier_inlet_temperature", "/running/drier_outlet_temperature")
    warmer = Finding("readings.drier-outlet-warmer", state, Severity.WARNING, clamps)
    assert state_of((*PASSED, warmer), (), SOUND) == outcome
    assert state_of(PASSED, (), SOUND) == "sound"


def test_a_correct_charge_does_not_clear_a_leak_detector():
    # A detector trips on far less than a charge test can tell; common practice, no source.
    causes = (replace(CERTAIN_CAUSE[0], code="cause.leak-detection-lockout", probability=0.95),)
    tripped = Finding("control.leak-sensor", State.FAIL, Severity.CRITICAL, ("/electrical/control/leak_sensor",))
    assert state_of((*PASSED, tripped), (), causes) == "fault"
    assert "step.leak-search" in {step.code for step in steps_of((*PASSED, tripped), (), causes)}
