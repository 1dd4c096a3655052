"""What a repair has overtaken: a rule of the service's own, so the cases say what must follow from it."""

import pytest

from service.results.refusal import Refusal
from service.results.stale import dated_parts, stale_parts, stale_pointers, undated_parts
from service.results.visit import Visit
from service.schemas.documents import load

BEFORE, REPAIR, AFTER = "2026-07-01T09:00:00-05:00", "2026-07-01T15:30:00Z", "2026-07-01T11:00:00-05:00"


def visit(**members):
    return load(Visit, {"repaired_at": REPAIR, **members})


def test_seven_parts_say_when_they_were_read():
    assert dated_parts() == ("isolation", "inspection", "electrical", "standing", "start_up", "running", "air")


def test_what_was_read_before_the_repair_is_stale_and_nothing_else():
    """09:00 at five hours behind UTC is 14:00 UTC, before 15:30; 11:00 there is 16:00, after it."""
    read = visit(
        running={"suction_pressure": 118, "read_at": BEFORE},
        air={"return_dry_bulb": 75, "read_at": AFTER},
        electrical={"windings": {"read_at": "terminals", "common_run": {"ohms": 1.2}}, "read_at": BEFORE},
    )
    assert stale_parts(read) == ("electrical", "running")
    assert stale_pointers(read) == {
        "/electrical",
        "/electrical/windings",
        "/electrical/windings/common_run",
        "/electrical/windings/read_at",
        "/running",
        "/running/suction_pressure",
    }


def test_a_part_without_a_time_is_not_called_stale_but_known_to_be_undated():
    read = visit(running={"suction_pressure": 118}, air={"read_at": AFTER, "return_dry_bulb": 75})
    assert stale_parts(read) == ()
    assert undated_parts(read) == ("running",)


def test_without_a_repair_nothing_is_stale():
    read = load(Visit, {"running": {"suction_pressure": 118, "read_at": BEFORE}})
    assert stale_parts(read) == ()
    assert stale_pointers(read) == frozenset()
    assert undated_parts(read) == ()


def test_the_same_moment_is_fresh_however_it_is_written():
    assert stale_parts(visit(air={"read_at": "2026-07-01T10:30:00.000-05:00"})) == ()
    assert stale_parts(visit(air={"read_at": "2026-07-01T10:29:59.999-05:00"})) == ("air",)


@pytest.mark.parametrize(
    "given",
    [
        "2026-07-01",
        "2026-07-01T09:00:00",
        "2026-07-01 09:00:00Z",
        "2026-13-01T09:00:00Z",
        "20260701T090000Z",
        1,
        True,
        "0001-01-01T00:00:00+23:00",
        "2026-07-01T24:61:00Z",
        "2026-07-01T09:00:00+99:00",
    ],
)
def test_a_time_that_is_none_is_refused_with_its_place(given):
    """RFC 3339, section 5.6: a full date, T, a full time with an offset."""
    with pytest.raises(Refusal) as refused:
        load(Visit, {"running": {"read_at": given}})
    assert [(item.pointer, item.code) for item in refused.value.errors] == [
        ("/running/read_at", "document.not-a-date-time")
    ]
