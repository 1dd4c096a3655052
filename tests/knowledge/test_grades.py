"""What a row may do is limited by what it rests on: a hold by anything, a pass in a matter of safety not."""

import pytest

from service.knowledge import catalogues, row_types
from service.knowledge.catalogues import causes, findings, steps
from service.knowledge.rows import DECIDING, KnowledgeError, by_code
from service.reasoning.assessment import assess
from service.workshop import rules as command
from tests.checks.electrical.visits import ohms, visit

OFF = {"inspection": {"wires_off_terminals": True, "shell_temperature": 77}}
PUBLISHED = {"compressor": {"winding_ohms": {"common_run": {"ohms": 2.0}, "common_start": {"ohms": 6.0}}}}


def windings(common_run, common_start, run_start):
    return {"lead_ohms": ohms(0), "common_run": ohms(common_run), "common_start": ohms(common_start),
            "run_start": ohms(run_start)}  # fmt: skip


ADDS_UP, SHORTED = windings(1.2, 6.0, 7.2), windings(1.2, 6.0, 6.3)


def test_the_tests_that_condemn_a_compressor_rest_on_what_may_decide():
    proofs = {code for row in causes().values() if row.condemns for code in row.proof}
    assert proofs
    assert {code for code in proofs if findings()[code].basis not in DECIDING} == set()


def test_every_condemning_cause_can_be_established_by_what_may_decide():
    """A cause without a proof of its own needs a finding of a deciding basis that speaks for it in its failure."""
    for row in causes().values():
        if row.condemns:
            told = {
                code for code, item in findings().items() if item.speaks.get("fail", {}).get(row.code, 0.0) > 0.0
            }
            assert any(findings()[code].basis in DECIDING for code in told | set(row.proof)), row.code


def condemned(**parts):
    answer = assess(visit(**parts))
    return answer, "part.compressor" in {part.code for part in answer.outcome.parts}


@pytest.mark.parametrize(
    ("read", "equipment", "finding"),
    [(SHORTED, {}, "windings.sum-rule"), (ADDS_UP, PUBLISHED, "windings.published-match")],
)
def test_one_weak_check_orders_an_insulation_test_and_no_compressor(read, equipment, finding):
    """The allowance of the sum rule and 70 % of published are common practice, no source."""
    assert findings()[finding].basis not in DECIDING
    answer, sold = condemned(electrical={"windings": read}, equipment=equipment, **OFF)
    assert {item.code: str(item.state) for item in answer.findings}[finding] == "fail"
    assert answer.causes[0].code == "cause.winding-shorted"
    assert "step.insulation-test" in {step.code for step in answer.next_steps}
    assert not sold


def test_two_weak_checks_that_agree_condemn_it():
    _, sold = condemned(electrical={"windings": SHORTED}, equipment=PUBLISHED, **OFF)
    assert sold


def test_one_check_of_a_deciding_basis_condemns_it():
    """Circuit logic: open on both sides of one winding."""
    assert findings()["windings.run-winding-open"].basis in DECIDING
    _, sold = condemned(electrical={"windings": windings(None, 3.0, None)}, **OFF)
    assert sold


def test_what_passes_a_matter_of_safety_is_marked():
    marked = {row.code for row in findings().values() if row.safety}
    assert {"weighed-charge.room", "recovery.cylinder-pressure", "isolation.dead-proven"} <= marked


def test_a_pass_that_calls_for_a_step_rests_on_what_may_decide():
    """What sends a technician on (recover, evacuate, weigh in) is no common practice."""
    risky = {code for code, row in steps().items() if row.tools and row.hazards}
    sending = {row.code: row.basis for row in findings().values() if risky & set(row.steps.get("pass", ()))}
    assert len(sending) >= 4
    assert {code for code, basis in sending.items() if basis not in DECIDING} == set()


def test_pressure_and_cylinders_are_matters_of_safety():
    """Test gas, test pressure, contents and the cylinder as a whole: each passes what can burst or explode."""
    asked = ("pressure-test.gas", "pressure-test.above-design", "recovery.cylinder-contents", "recovery.cylinder")
    assert all(findings()[code].safety for code in asked)


def test_a_weak_row_may_not_pass_a_matter_of_safety(monkeypatch):
    def weakened(folder, **keys):
        found = by_code(folder, **keys)
        if folder == "findings":
            found["weighed-charge.room"] = found["weighed-charge.room"] | {"basis": "from memory"}
        return found

    monkeypatch.setattr(row_types, "by_code", weakened)
    with pytest.raises(KnowledgeError, match=r"weighed-charge\.room.*matter of safety"):
        catalogues.findings.__wrapped__()


def test_the_command_counts_every_row_by_what_it_rests_on(capsys):
    assert command.main(["--basis"]) == 0
    told = capsys.readouterr().out
    counted = {
        line.rsplit(None, 1)[0].strip(): int(line.split()[-1]) for line in told.splitlines() if line[:1] != "#"
    }
    assert sum(counted[basis] for basis in DECIDING) > 250
    assert counted["all"] == sum(number for basis, number in counted.items() if basis != "all")
