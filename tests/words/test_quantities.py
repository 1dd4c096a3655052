"""Numbers as they are said and written: the arithmetic of `results/units`, the rounding of a field instrument."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.results.quantity import Quantity
from service.results.units import KINDS, Units, written, written_width
from service.words.quantities import Measures, spoken_quantity

METRIC = Units(temperature="degC", pressure="kPag", airflow="L/s", capacity="kW", enthalpy="kJ/kg")


@given(
    st.sampled_from(sorted(KINDS)), st.floats(-1e6, 1e6), st.floats(5e4, 1.1e5), st.sampled_from([Units(), METRIC])
)
def test_a_measure_writes_as_the_units_do_at_every_site(kind, value, site_pressure, units):
    measure = Measures(units, site_pressure).of(kind)
    assert measure.written(value) == written(value, kind, units, site_pressure)
    assert measure.width(abs(value)) == written_width(abs(value), kind, units)
    assert measure.code == units.code(kind)


@pytest.mark.parametrize(
    ("value", "kind", "said"),
    [
        (300.0, "temperature", "80.3 °F"),
        (101325.0 + 6894.757293168361 * 118.4, "pressure", "118 psig"),
        (6894.757293168361 * 2.0, "pressure_difference", "2 psi"),
        (10550.0, "capacity", "35,998 Btu/h"),
        (0.123456, "ratio", "0.123"),
        (1234.5, "hertz", "1,234 Hz"),
        (1e-12, "ratio", "0"),
    ],
)
def test_numbers_are_said_as_an_instrument_shows_them(value, kind, said):
    assert spoken_quantity(Quantity(value, kind), Units(), 101325.0) == said


def test_one_sites_zero_is_not_the_next_ones():
    low = Measures(Units(), 80000.0)
    assert low.of("pressure").written(101325.0) > 0.0
    shared = low.of("temperature")
    high = Measures(Units(), 101325.0)
    assert high.of("pressure").written(101325.0) == 0.0
    assert high.of("temperature") is shared


@pytest.mark.parametrize(
    ("minutes", "said"), [(30, "30 min"), (179, "179 min"), (180, "3 h"), (250, "4 h 10 min"), (1440, "24 h")]
)
def test_long_times_are_told_in_hours(minutes, said):
    assert spoken_quantity(Quantity(minutes, "minutes"), Units(), 101325.0) == said
