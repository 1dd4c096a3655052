"""How many people are sent: common practice, no source, but stated as rows and not in code."""

import pytest

from service.knowledge.crew import crew_rows, people_for


@pytest.mark.parametrize(
    ("needed", "location", "people"),
    [
        ((), None, 1),
        (("part.contactor", "part.run-capacitor"), "ground", 1),
        (("part.contactor",), "roof", 2),
        ((), "attic", 2),
        (("part.compressor", "part.drier"), "ground", 2),
        (("part.compressor",), "roof", 2),
    ],
)
def test_nobody_lifts_a_compressor_or_works_on_a_roof_alone(needed, location, people):
    assert people_for(needed, location) == people


def test_the_contract_holds_whoever_is_sent():
    assert all(2 <= row.people <= 4 for row in crew_rows().values())
    assert all(bool(row.parts) != bool(row.locations) for row in crew_rows().values())
