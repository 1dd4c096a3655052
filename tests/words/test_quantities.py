"""Quantities in words: long times are told in hours."""

import pytest

from service.results.quantity import Quantity
from service.results.units import STANDARD_ATMOSPHERE, Units
from service.words.quantities import spoken_quantity


@pytest.mark.parametrize(
    ("minutes", "said"), [(30, "30 min"), (179, "179 min"), (180, "3 h"), (250, "4 h 10 min"), (1440, "24 h")]
)
def test_long_times_are_told_in_hours(minutes, said):
    assert spoken_quantity(Quantity(minutes, "minutes"), Units(), STANDARD_ATMOSPHERE) == said
