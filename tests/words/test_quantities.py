"""Numbers as they are said and written: the arithmetic of `results/units`, the rounding of a field instrument."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.results.finding import Bounds, State
from service.results.quantity import Quantity
from service.results.units import KINDS, Units, written, written_width
from service.verdicts.report import report
from service.words.quantities import Measures, spoken_quantity
from service.words.say import Speaker

METRIC = Units(temperature="degC", pressure="kPag", airflow="L/s", capacity="kW", enthalpy="kJ/kg")


@given(
    st.sampled_from(sorted(KINDS)), st.floats(-1e6, 1e6), st.floats(5e4, 1.1e5), st.sampled_from([Units(), METRIC])
)
def test_a_measure_writes_as_the_units_do_at_every_site(kind, value, site_pressure, units):
    measure = Measures(units, site_pressure)[kind]
    assert measure.written(value) == written(value, kind, units, site_pressure)
    assert measure.width(abs(value)) == written_width(abs(value), kind, units)
    assert measure.code == units.code(kind)


@pytest.mark.parametrize(
    ("value", "kind", "said"),
    [
        (300.0, "temperature", "80 °F"),
        (10.0 / 1.8, "temperature_difference", "10 °F"),
        (9.4 / 1.8, "temperature_difference", "9.4 °F"),
        (-0.04 / 1.8, "temperature_difference", "0 °F"),
        (13.9 / 1.8, "temperature_difference", "14 °F"),
        (0.4, "ohms", "0.4 Ω"),
        (1100.0, "ohms", "1.1 kΩ"),
        (20e6, "megohms", "20 MΩ"),
        (230e3, "megohms", "230 kΩ"),
        (2e9, "ohms", "2 GΩ"),
        (240.3, "volts", "240 V"),
        (24.13, "volts", "24.1 V"),
        (0.123, "volts", "0.123 V"),
        (99.0, "percent", "99%"),
        (101325.0 + 6894.757293168361 * 118.4, "pressure", "118 psig"),
        (6894.757293168361 * 2.0, "pressure_difference", "2 psi"),
        (6894.757293168361 * 0.4, "pressure_difference", "0.4 psi"),
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
    assert low["pressure"].written(101325.0) > 0.0
    shared = low["temperature"]
    high = Measures(Units(), 101325.0)
    assert high["pressure"].written(101325.0) == 0.0
    assert high["temperature"] is shared


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(30, "30 min"), (89, "89 min"), (90, "1½ h"), (180, "3 h"), (250, "4 h 10 min"), (1440, "24 h")],
)
def test_long_times_are_told_in_hours(minutes, said):
    assert spoken_quantity(Quantity(minutes, "minutes"), Units(), 101325.0) == said


def test_percent_is_set_as_the_language_sets_it():
    ninety_nine = Quantity(99.0, "percent")
    assert Speaker(Units(), 101325.0, "en").say(ninety_nine) == "99%"
    assert Speaker(Units(), 101325.0, "es").say(ninety_nine) == "99 %"


def test_a_difference_is_that_of_the_numbers_shown():
    """30.4 and 43.6 °F are shown as 30 and 44, so they are 14 apart, not 13."""
    values = {
        "reading": "suction_saturation_temperature",
        "measured": Quantity((30.4 - 32.0) / 1.8 + 273.15, "temperature"),
        "expected": Quantity((43.6 - 32.0) / 1.8 + 273.15, "temperature"),
        "difference": Quantity(-13.2 / 1.8, "temperature_difference"),
    }
    said = Speaker(Units(), 101325.0).fill_named("{measured}, {expected}, {difference}", values)
    assert said == "30 °F, 44 °F, 14 °F"


def test_a_value_outside_its_bound_never_reads_like_the_bound():
    finding = report(
        "charge.valve-superheat-high",
        State.FAIL,
        (),
        measured=Quantity(30.4 / 1.8, "temperature_difference"),
        limit=Bounds("temperature_difference", "table", "", high=30.0 / 1.8),
    )
    assert "30.4 °F (high limit 30 °F)" in Speaker(Units(), 101325.0).detail(finding)
