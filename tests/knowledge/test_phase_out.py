"""What has ended for a refrigerant, by place, kind of equipment and day of the visit."""

import pytest

from service.knowledge.phase_out import phased_out

SPLIT, PACKAGED, FLOW = "split_air_conditioner", "packaged_air_conditioner", "multi_split"


@pytest.mark.parametrize(
    ("refrigerant", "day", "kind", "place", "codes"),
    [
        # 40 CFR 82.16: from 2020-01-01; 82.4: from 1996-01-01 (from memory).
        ("R-22", "2019-12-31", SPLIT, "US", []),
        ("R-22", "2020-01-01", SPLIT, "US", ["us.supply.class-two"]),
        ("R-12", "1995-12-31", SPLIT, "US", []),
        ("R-12", "1996-01-01", SPLIT, "US", ["us.supply.class-one"]),
        # 40 CFR 84.54: from 2025-01-01; 91 FR 31284: from 2026-07-27.
        ("R-410A", "2024-12-31", SPLIT, "US", []),
        ("R-410A", "2025-01-01", SPLIT, "US", ["us.new-equipment.split-until-2026"]),
        ("R-410A", "2026-07-26", SPLIT, "US", ["us.new-equipment.split-until-2026"]),
        ("R-410A", "2026-07-27", SPLIT, "US", ["us.new-equipment.split"]),
        ("R-410A", "2026-07-27", PACKAGED, "US", ["us.new-equipment.packaged"]),
        ("R-410A", "2025-12-31", FLOW, "US", []),
        ("R-410A", "2026-01-01", FLOW, "US", ["us.new-equipment.variable-flow"]),
        ("R-410A", "2026-07-27", None, "US", ["us.new-equipment.any"]),
        ("R-454B", "2026-07-27", SPLIT, "US", []),
        # 17 CCR 95374(c) from 2025-01-01; SB 1206 above GWP 2200 from 2025-01-01, above 1500 from 2030-01-01.
        ("R-410A", "2026-07-27", SPLIT, "US-CA", ["us-ca.new-equipment", "us.new-equipment.split"]),
        ("R-422D", "2024-12-31", SPLIT, "US-CA", []),
        ("R-422D", "2025-01-01", FLOW, "US-CA", ["us-ca.supply.above-2200"]),
        (
            "R-410A",
            "2029-12-31",
            FLOW,
            "US-CA",
            ["us-ca.new-equipment.variable-flow", "us.new-equipment.variable-flow"],
        ),
        ("R-22", "2026-07-27", SPLIT, "US-CA", ["us.supply.class-two"]),
        # Without a date: what held when it was read, never what begins later.
        ("R-410A", None, SPLIT, "US-CA", ["us-ca.new-equipment", "us.new-equipment.split"]),
        ("R-410A", "2026-07-27", SPLIT, "BR", []),
        ("R-410A", "2026-07-27", SPLIT, "FR", []),
    ],
)
def test_what_has_ended(refrigerant, day, kind, place, codes):
    assert [rule.code for rule in phased_out(refrigerant, day, kind, place)] == codes


def test_bulk_sales_and_new_equipment_are_told_side_by_side():
    codes = [rule.code for rule in phased_out("R-410A", "2030-01-01", SPLIT, "US-CA")]
    assert codes == ["us-ca.supply.above-1500", "us-ca.new-equipment", "us.new-equipment.split"]
