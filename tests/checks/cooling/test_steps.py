"""What the refrigerant steps owe to law and safety, row by row, and where adding refrigerant stands.

Sources: 40 CFR 82.154, 82.156 (no venting), 82.161 (Section 608 certificates); order of work: common practice.
"""

import pytest

from service.knowledge.catalogues import findings, steps

OPENING = [row for row in steps().values() if row.opens_circuit]
ADDING = {"step.repair-leak-and-weigh-in", "step.charge-by-weight", "step.recover-evacuate-weigh-in"}
REPAIR_REFRIGERANT = 6
AREAS = ("charge", "refrigerant", "readings", "running", "restriction", "metering", "standing", "start-up", "air")


@pytest.mark.parametrize("row", OPENING, ids=lambda row: row.code)
def test_opening_the_circuit_needs_a_certificate(row):
    assert "refrigerant-handling" in row.certificates


@pytest.mark.parametrize("code", sorted(ADDING | {"step.recover-excess", "step.replace-drier"}))
def test_refrigerant_work_carries_its_cautions(code):
    row = steps()[code]
    assert {"caution.no-venting", "caution.refrigerant-certificate", "caution.frostbite"} <= set(row.hazards)
    assert "caution.flammable-refrigerant" in row.hazards
    assert row.stage == REPAIR_REFRIGERANT


def test_a_shortage_asks_for_air_and_leak_before_anything_is_added():
    wanted = findings()["charge.undercharged"].steps["fail"]
    assert wanted == ("step.check-airflow", "step.leak-search")
    assert all(steps()[code].stage < REPAIR_REFRIGERANT for code in wanted)


def test_no_reading_by_itself_asks_for_adding_refrigerant():
    for row in findings().values():
        if row.code.split(".")[0] in AREAS:
            wanted = {code for codes in row.steps.values() for code in codes}
            assert not wanted & {"step.repair-leak-and-weigh-in", "step.recover-excess"}


def test_a_pump_down_never_asks_a_scroll_into_a_vacuum():
    from service.words.locale import text

    assert "never into a vacuum" in text("en", "steps", "step.pump-down-test")["text"]
    assert steps()["step.pump-down-test"].power == "on"
