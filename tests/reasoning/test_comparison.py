"""Before and after a repair; circuit logic: nothing counts as repaired that was not read again."""

import pytest

from service.reasoning.comparison import compare
from service.results.answer import Hold
from service.results.finding import Finding, Severity, State
from service.results.units import Units
from service.results.visit import Visit
from service.results.visit.cooling import Running
from service.words.say import Speaker

SUCTION, LINE = "/running/suction_pressure", "/running/suction_line_temperature"
READ_AGAIN = Visit(running=Running(suction_pressure=9e5, suction_line_temperature=285.0))
HALF_READ = Visit(running=Running(suction_pressure=9e5))


def finding(code, state, *evidence):
    return Finding(code, State(state), Severity.WARNING, evidence or (SUCTION, LINE))


def changes(before, after, visit=READ_AGAIN, holds=()):
    checked = compare(before, after, visit, holds)
    said = Speaker(Units(), 101325.0).detail(checked.findings[0])
    assert said
    assert " 0" not in said
    return (
        {item.code: (item.before, item.after, item.change) for item in checked.computed.changes},
        checked.computed.repair,
        [item.pointer for item in checked.missing],
    )


def test_a_fault_that_passes_afterwards_is_gone_and_the_repair_proven():
    before, after = [finding("charge.superheat-high", "fail")], [finding("charge.superheat-high", "pass")]
    assert changes(before, after) == ({"charge.superheat-high": ("fail", "pass", "gone")}, "proven", [])


def test_a_fault_that_still_fails_is_not_repaired():
    before, after = [finding("a.a", "fail")], [finding("a.a", "fail")]
    assert changes(before, after) == ({"a.a": ("fail", "fail", "still")}, "not_proven", [])


def test_a_doubt_that_remains_leaves_it_open():
    before, after = [finding("a.a", "fail")], [finding("a.a", "review")]
    assert changes(before, after) == ({"a.a": ("fail", "review", "still")}, "undecided", [])


def test_what_was_not_read_again_is_not_repaired():
    assert changes([finding("a.a", "fail")], [], HALF_READ) == (
        {"a.a": ("fail", None, "not_reread")},
        "undecided",
        ["/after" + LINE],
    )


def test_a_fault_whose_readings_were_all_taken_again_and_was_not_found_is_gone():
    assert changes([finding("a.a", "fail")], []) == ({"a.a": ("fail", None, "gone")}, "proven", [])


def test_a_fault_that_rests_on_no_reading_cannot_be_read_again():
    bare = Finding("a.a", State.FAIL, Severity.WARNING, ())
    assert changes([bare], []) == ({"a.a": ("fail", None, "not_reread")}, "undecided", [])


@pytest.mark.parametrize("state", ["undecided", "not_applicable"])
def test_a_check_that_could_not_decide_proves_nothing(state):
    found, repair, _ = changes([finding("a.a", "fail")], [finding("a.a", state)])
    assert found == {"a.a": ("fail", state, "not_reread")}
    assert repair == "undecided"


def test_a_new_fault_spoils_the_proof():
    before = [finding("a.a", "fail"), finding("b.b", "pass")]
    after = [finding("a.a", "pass"), finding("b.b", "fail"), finding("c.c", "review")]
    found, repair, _ = changes(before, after)
    assert found["b.b"] == ("pass", "fail", "new")
    assert found["c.c"] == (None, "review", "new")
    assert repair == "not_proven"


def test_a_new_doubt_leaves_it_open():
    before, after = [finding("a.a", "fail")], [finding("a.a", "pass"), finding("b.b", "review")]
    assert changes(before, after)[1] == "undecided"


def test_one_of_two_alike_still_failing_speaks_for_both():
    before = [finding("a.a", "fail"), finding("a.a", "pass")]
    after = [finding("a.a", "pass"), finding("a.a", "fail")]
    assert changes(before, after) == ({"a.a": ("fail", "fail", "still")}, "not_proven", [])


def test_nothing_wrong_before_proves_no_repair():
    assert changes([finding("a.a", "pass")], [finding("a.a", "pass")]) == ({}, "undecided", [])


def of_old_faults(before, after, holds=()):
    return compare(before, after, READ_AGAIN, holds).computed.old_faults


def test_a_new_fault_stands_beside_the_old_one_that_is_gone():
    before, after = [finding("a.a", "fail")], [finding("a.a", "pass"), finding("b.b", "fail")]
    assert of_old_faults(before, after) == "proven"
    assert changes(before, after)[1] == "not_proven"


def test_a_permanent_remark_is_no_part_of_the_verdict():
    """What the nameplate says of a retrofit stays true however well it was done."""
    remark = finding("r.retrofit", "review", "/equipment/refrigerant", "/equipment/nameplate_refrigerant")
    before, after = [finding("a.a", "fail"), remark], [finding("a.a", "pass"), remark]
    assert changes(before, after)[1] == "proven"
    assert [item.remark for item in compare(before, after, READ_AGAIN).computed.changes] == [False, True]
    doubt = finding("r.retrofit", "review", "/equipment/refrigerant", SUCTION)
    assert changes([finding("a.a", "fail"), doubt], [finding("a.a", "pass"), doubt])[1] == "undecided"


def test_nothing_is_proven_under_a_hold():
    before, after = [finding("a.a", "fail")], [finding("a.a", "pass")]
    assert changes(before, after)[1] == "proven"
    assert changes(before, after, holds=(Hold("hold.isolation-not-proven", ("b.b",)),))[1] == "undecided"
    still = [finding("a.a", "fail")]
    assert changes(before, still, holds=(Hold("hold.isolation-not-proven", ("b.b",)),))[1] == "not_proven"
