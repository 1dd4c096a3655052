"""Motors against published relations; sources beside each check."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.physics import motors

TEMPERATURES = st.floats(230.0, 450.0)


@given(st.floats(0.05, 200.0), TEMPERATURES, TEMPERATURES)
def test_resistance_and_temperature_are_inverse(ohms, known, wanted):
    """Circuit logic: bringing a resistance to a temperature and reading the temperature back."""
    at_wanted = motors.resistance_at(ohms, known, wanted)
    assert motors.winding_temperature(at_wanted, ohms, known) == pytest.approx(wanted, abs=1e-6)


def test_copper_rises_about_four_tenths_percent_per_kelvin():
    """Handbook temperature coefficient of copper at 20 C: 0.00393 1/K (from memory)."""
    assert motors.resistance_at(1.0, 293.15, 294.15) == pytest.approx(1.00393, abs=5e-5)


@pytest.mark.parametrize(
    ("rated", "frequency", "poles"), [(1075, 60, 6), (825, 60, 8), (3450, 60, 2), (1440, 50, 4)]
)
def test_poles_of_usual_motors(rated, frequency, poles):
    """Trade nameplates: 1075 and 825 rpm fans, 3450 rpm compressors, 1440 rpm at 50 Hz (common practice)."""
    assert motors.poles_nearest(rated, frequency) == poles


def test_no_motor_has_fewer_than_two_poles():
    assert motors.poles_nearest(9000.0, 60.0) == 2


def test_locked_rotor_amps_three_phase():
    """NEC 430.7(B): letter G, 6.29 kVA/hp, 10 hp, 460 V."""
    assert motors.locked_rotor_amps(10.0, 460.0, 3, 6.29) == pytest.approx(78.95, abs=0.01)


def test_highest_winding_resistance():
    """Ohm's law: 230 V, 96 A; in a wye two windings stand in series on the phase voltage, 2/sqrt(3)."""
    assert motors.highest_winding_resistance(230.0, 96.0) == pytest.approx(2.3958, abs=1e-4)
    assert motors.highest_winding_resistance(230.0, 96.0, 3) == pytest.approx(2.7665, abs=1e-4)


def test_ceiling_and_rated_amps_belong_together():
    """NEC 440.52(A)(2): 156 %."""
    assert motors.maximum_continuous_current(20.0) == pytest.approx(31.2)
    assert motors.rated_load_amps(motors.maximum_continuous_current(18.6)) == pytest.approx(18.6)
