"""The refusal carries its range, through a process boundary too."""

import pickle

from service.results.out_of_range import OutOfRange


def test_the_refusal_carries_the_range():
    refusal = pickle.loads(pickle.dumps(OutOfRange("pressure", 1.0, 2.0, 3.0)))
    assert (refusal.quantity, refusal.value, refusal.low, refusal.high) == ("pressure", 1.0, 2.0, 3.0)
    assert str(refusal) == "pressure 1 is outside 2 to 3"
