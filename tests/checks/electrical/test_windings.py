"""Windings: the paths that the golden cases leave out. Circuit logic unless a test says otherwise."""

import pytest

from tests.checks.electrical.visits import asked, judged, ohms, one, states

OPEN = ohms(None)


def named(common_run=None, common_start=None, run_start=None, **others):
    pairs = {"common_run": common_run, "common_start": common_start, "run_start": run_start}
    return {"windings": {**{name: pair for name, pair in pairs.items() if pair is not None}, **others}}


def numbered(one_two=None, two_three=None, one_three=None, **others):
    pairs = {"one_two": one_two, "two_three": two_three, "one_three": one_three}
    return {"windings": {**{name: pair for name, pair in pairs.items() if pair is not None}, **others}}


def test_broken_meter_leads_void_every_reading():
    checked = judged(electrical=named(OPEN, OPEN, OPEN, lead_ohms=OPEN))
    assert set(states(checked)) & {"windings.all-open"} == set()
    assert one(checked, "windings.readings-inconsistent").variant == "leads-open"


def test_three_phases_said_by_the_supply_alone():
    checked = judged(drive=None, equipment={"phases": 3}, electrical=named(ohms(1), ohms(1), ohms(1)))
    assert "/equipment/phases" in one(checked, "windings.readings-inconsistent").evidence


def test_one_phase_said_by_the_supply_alone():
    checked = judged(drive=None, equipment={"phases": 1}, electrical=numbered(ohms(3.7), ohms(2.8), ohms(0.9)))
    assert states(checked)["windings.sum-rule"] == "pass"


def test_kind_unknown_and_open_is_asked():
    checked = judged(drive=None, electrical=numbered(OPEN, ohms(2.8), OPEN), inspection={"shell_touch": "cool"})
    assert one(checked, "windings.terminal-open").values["terminal"] == "1"
    assert "/equipment/compressor/drive" in asked(checked)


@pytest.mark.parametrize(
    ("touch", "code", "state"),
    [
        ("cool", "windings.terminal-open", "fail"),
        ("hot", "windings.overload-open-hot", "undecided"),
        ("warm", "windings.overload-open-hot", "undecided"),
    ],
)
def test_unnamed_open_terminal_may_be_common(touch, code, state):
    checked = judged(electrical=numbered(OPEN, ohms(2.8), OPEN), inspection={"shell_touch": touch})
    assert states(checked)[code] == state


def test_two_open_pairs_alone_name_nothing():
    assert one(judged(electrical=named(OPEN, OPEN)), "windings.all-open").variant == "not-enough"


def test_all_open_and_hot_waits():
    checked = judged(electrical=named(OPEN, OPEN, OPEN), inspection={"shell_temperature": 180})
    assert "windings.overload-open-hot" in states(checked)


@pytest.mark.parametrize(
    ("pairs", "code"),
    [
        (named(OPEN, ohms(2.8)), "windings.run-winding-open"),
        (named(ohms(0.9), OPEN), "windings.start-winding-open"),
    ],
)
def test_the_third_pair_is_owed(pairs, code):
    checked = judged(electrical=pairs, inspection={"shell_touch": "cool"})
    assert one(checked, code).variant == "one-pair-owed"
    assert "/electrical/windings/run_start" in asked(checked)


def test_common_open_with_a_pair_owed():
    pairs = named(OPEN, None, ohms(3.7))
    checked = judged(electrical=pairs, inspection={"shell_touch": "cool"})
    assert one(checked, "windings.common-open").variant == "one-pair-owed"


@pytest.mark.parametrize(
    ("minutes", "code"),
    [(29, "windings.overload-open-hot"), (30, "windings.common-open"), (1440, "windings.common-open")],
)
def test_a_cool_shell_must_have_rested(minutes, code):
    """A locked rotor trips the overload before the shell is warm: 30 min (common practice)."""
    pairs = named(OPEN, OPEN, ohms(3.7), minutes_off=minutes)
    assert code in states(judged(electrical=pairs, inspection={"shell_touch": "cool"}))


@pytest.mark.parametrize(
    ("minutes", "code"), [(1439, "windings.overload-open-hot"), (1440, "windings.common-open")]
)
def test_a_day_of_rest_stands_in_for_the_shell(minutes, code):
    """Up to 24 h when very hot (common practice)."""
    assert code in states(judged(electrical=named(OPEN, OPEN, ohms(3.7), minutes_off=minutes)))


@pytest.mark.parametrize(
    ("wires_off", "value", "state"),
    [(True, 0.0, "fail"), (None, 0.0, "fail"), (False, 0.0, "undecided"), (True, 0.1, "review")],
)
def test_dead_short_by_wires_and_meter(wires_off, value, state):
    """Project choice: 0.15 ohm; the last digit of the meter is 0.1 ohm, so 0.1 ohm cannot be told from it."""
    inspection = {} if wires_off is None else {"wires_off_terminals": wires_off}
    pairs = named(ohms(value), ohms(2.8), ohms(2.8))
    assert states(judged(electrical=pairs, inspection=inspection))["windings.dead-short"] == state


def test_dead_short_beside_an_unread_pair():
    assert states(judged(electrical=named(ohms(0.0), ohms(2.8))))["windings.dead-short"] == "fail"


def test_the_sum_may_not_fall_short():
    """Highest pair above the sum of the others: a bad contact, never a winding."""
    checked = judged(electrical=named(ohms(0.9), ohms(2.8), ohms(6.0)))
    assert one(checked, "windings.readings-inconsistent").variant == "series"


def test_leads_are_subtracted():
    checked = judged(electrical=named(ohms(1.1), ohms(3.0), ohms(3.9), lead_ohms=0.2))
    assert checked.computed.windings.sum_difference_ohms.value == pytest.approx(0.0)
    assert "windings.leads-not-nulled" not in {item.code for item in checked.assumptions}


def test_leads_not_nulled_widen_the_resistance_against_the_published_value():
    plate = {"compressor": {"winding_ohms": {"common_run": 1.0}}}
    wide = judged(equipment=plate, electrical=named(ohms(0.9), ohms(2.8), ohms(3.7), winding_temperature=77))
    narrow = judged(
        equipment=plate, electrical=named(ohms(0.9), ohms(2.8), ohms(3.7), winding_temperature=77, lead_ohms=0)
    )
    code = "windings.published-match"
    assert one(wide, code).measured.uncertainty > one(narrow, code).measured.uncertainty
    assert one(wide, code).confidence == "borderline"


def test_a_better_meter_narrows_the_verdict():
    """JCGM 100: percent of reading and last digit combine."""
    pairs = named(ohms(9.0), ohms(28.0), ohms(37.0), lead_ohms=0)
    poor = judged(electrical=pairs, instruments={"electrical_accuracy_percent": 5})
    good = judged(electrical=pairs, instruments={"electrical_accuracy_percent": 0.5})
    widths = [item.computed.windings.sum_difference_ohms.uncertainty for item in (poor, good)]
    assert widths[0] == pytest.approx((0.05**2 * (9**2 + 28**2 + 37**2) + 3 * 0.1**2) ** 0.5)
    assert widths[1] < widths[0]


def test_published_without_a_temperature_is_never_a_failure():
    plate = {"compressor": {"winding_ohms": {"common_run": 2.0}}}
    inspection = {"wires_off_terminals": True}
    checked = judged(equipment=plate, inspection=inspection, electrical=named(ohms(1.0), ohms(6.0), ohms(7.0)))
    assert states(checked)["windings.published-match"] == "review"
    assert {"windings.at-25-c", "windings.published-at-25-c"} <= {item.code for item in checked.assumptions}


def test_published_at_another_temperature():
    """Copper 234.5: 2.0 ohm at 25 C is 2.15 ohm at 45 C."""
    plate = {"compressor": {"winding_ohms": {"common_run": 2.1541}, "winding_ohms_temperature": 45}}
    checked = judged(
        units={"temperature": "degC"},
        equipment=plate,
        electrical=named(ohms(2.0), ohms(6.0), ohms(8.0), winding_temperature=25, lead_ohms=0),
    )
    assert one(checked, "windings.published-match").measured.value == pytest.approx(100.0, abs=0.05)


def test_published_open_is_no_value():
    plate = {"compressor": {"winding_ohms": {"common_run": OPEN}}}
    checked = judged(equipment=plate, electrical=named(ohms(0.9), ohms(2.8), ohms(3.7)))
    assert "windings.published-match" not in states(checked)


def test_physical_bound_within_the_meter_is_review():
    """230 V over 96 A is 2.396 ohm; a reading of 2.45 ohm lies within the meter's 0.1 ohm of it."""
    plate = {"nominal_voltage": "230", "compressor": {"locked_rotor_amps": 96}}
    checked = judged(equipment=plate, electrical=named(ohms(2.45), ohms(7.0), ohms(9.45)))
    assert states(checked)["windings.above-physical-bound"] == "review"


def test_two_closed_pairs_of_an_unnamed_motor_say_no_sum():
    checked = judged(electrical=numbered(ohms(0.9), ohms(2.8)))
    assert checked.computed.windings.sum_ohms is None


def test_three_phase_two_readings_decide_nothing():
    checked = judged("three_phase", electrical=numbered(ohms(1.0), ohms(1.0)))
    assert not [code for code in states(checked) if code.startswith("windings.")]


@pytest.mark.parametrize(
    ("pairs", "code", "variant"),
    [
        (numbered(OPEN, OPEN), "windings.all-open", "not-enough"),
        (numbered(OPEN, ohms(1.0)), "windings.phase-open", "one-pair-owed"),
        (numbered(OPEN, ohms(1.0), OPEN, read_at="lead_ends"), "windings.phase-open", "lead-ends"),
        (numbered(OPEN, OPEN, OPEN, read_at="lead_ends"), "windings.star-open", "lead-ends"),
    ],
)
def test_three_phase_opens_that_are_not_yet_verdicts(pairs, code, variant):
    checked = judged("three_phase", electrical=pairs, inspection={"shell_touch": "cool"})
    assert one(checked, code).variant == variant
    assert states(checked)[code] == "undecided"


def test_three_phase_all_open_with_the_shell_not_known():
    checked = judged("three_phase", electrical=numbered(OPEN, OPEN, OPEN))
    assert one(checked, "windings.overload-open-hot").variant == "not-known"
    assert "/inspection/shell_temperature" in asked(checked)


@pytest.mark.parametrize(
    ("wires_off", "low", "state"), [(True, 0.0, "fail"), (False, 0.0, "undecided"), (True, 0.1, "review")]
)
def test_three_phase_dead_short(wires_off, low, state):
    pairs = numbered(ohms(low), ohms(2.0), ohms(2.0))
    checked = judged("three_phase", electrical=pairs, inspection={"wires_off_terminals": wires_off})
    assert states(checked)["windings.dead-short"] == state
    assert "windings.phases-equal" not in states(checked)


def test_three_near_zero_need_a_better_meter():
    checked = judged("inverter", electrical=numbered(ohms(0.0), ohms(0.0), ohms(0.0)))
    assert one(checked, "windings.phases-equal").variant == "low-ohm"
    assert checked.computed.windings.unbalance_percent is None


def test_three_phase_wires_left_on_is_review():
    checked = judged(
        "three_phase",
        electrical=numbered(ohms(10.0), ohms(10.0), ohms(5.0)),
        inspection={"wires_off_terminals": False},
    )
    assert states(checked)["windings.phases-equal"] == "review"
