"""How far simulated likelihoods are believed: by how well and how many readings fit any simulated unit."""

import numpy as np
import pytest

from service.knowledge.cycle_priors import cycle_priors
from service.reasoning.cycle.case import exponent


@pytest.mark.parametrize("count", [0, 4, 13])
def test_up_to_the_usual_distance_likelihoods_are_taken_at_their_word_and_no_more(count):
    usual = cycle_priors().fit_usual * count
    assert exponent(np.array([0.0, 0.5 * usual, usual]), count) == pytest.approx(1.0)


def test_readings_that_fit_no_simulated_unit_are_believed_ever_less():
    found = exponent(np.array([6.5, 30.0, 1e3, 1e9]), 13)
    assert (np.diff(found) < 0.0).all()
    assert found[-1] < 1e-6


def test_few_readings_tell_little_of_how_a_unit_spreads():
    """Four readings nearly always fit: twice the usual distance of them moves less than of thirteen."""
    few, many = (exponent(np.array([2.0 * cycle_priors().fit_usual * count]), count)[0] for count in (4, 13))
    assert many < few < 1.0
