"""Units of the wire. Source of the factors: NIST SP 811 (2008), Appendix B.8; exact definitions."""

from math import inf, nextafter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.results.units import (
    BORROWED,
    FIXED,
    KINDS,
    STANDARD_ATMOSPHERE,
    TABLE,
    Units,
    from_si,
    inside_code,
    rounded,
    shown,
    shown_limit,
    to_si,
    written,
    written_width,
)

# (kind, code, value on the wire, SI value, tolerance): NIST SP 811 B.8 unless a definition is exact.
KNOWN = [
    ("temperature", "degF", 32.0, 273.15, 1e-9),
    ("temperature", "degF", -40.0, 233.15, 1e-9),
    ("temperature", "degC", 100.0, 373.15, 1e-9),
    ("temperature_difference", "degF", 18.0, 10.0, 1e-9),
    ("pressure", "psia", 14.695948775513, 101325.0, 1e-4),
    ("pressure", "psig", 0.0, 101325.0, 1e-9),
    ("pressure", "barg", 1.0, 201325.0, 1e-9),
    ("pressure_difference", "psig", 1.0, 6894.757, 1e-3),
    ("absolute_pressure", "psig", 14.695948775513, 101325.0, 1e-4),
    ("static_pressure", "inH2O", 1.0, 249.0889, 1e-3),
    ("airflow", "cfm", 1.0, 4.719474e-4, 1e-10),
    ("airflow", "m3/h", 3600.0, 1.0, 1e-12),
    ("capacity", "tonR", 1.0, 3516.853, 1e-3),
    ("capacity", "Btu/h", 12000.0, 3516.853, 1e-3),
    ("mass", "oz", 16.0, 0.45359237, 1e-12),
    ("length", "ft", 1.0, 0.3048, 1e-12),
    ("area", "ft", 1.0, 0.09290304, 1e-12),
    ("diameter", "in", 1.0, 0.0254, 1e-12),
    ("vacuum", "micron", 1000.0, 133.3224, 1e-4),
    ("enthalpy", "Btu/lb", 1.0, 2326.0, 1e-3),
    ("humidity_ratio", "gr/lb", 7000.0, 1.0, 1e-12),
    ("mass_flow", "lb/h", 3600.0, 0.45359237, 1e-9),
    ("volume", "ft3", 1.0, 0.02831685, 1e-8),
    ("humidity", "%", 50.0, 0.5, 1e-12),
    ("megohms", "Mohm", 1.0, 1e6, 1e-6),
]


def units_with(kind: str, code: str) -> Units:
    base = BORROWED.get(kind, kind)
    return Units() if kind in FIXED else Units(**{base: code})


@pytest.mark.parametrize(("kind", "code", "value", "inside", "tolerance"), KNOWN)
def test_known_values(kind, code, value, inside, tolerance):
    units = units_with(kind, code)
    # An absolute pressure and an area are in the caller's unit of pressure and length, and called what they are.
    assert units.code(kind) == {"absolute_pressure": "psia", "area": "ft2"}.get(kind, code)
    assert to_si(value, kind, units, STANDARD_ATMOSPHERE) == pytest.approx(inside, abs=tolerance)
    assert from_si(inside, kind, units, STANDARD_ATMOSPHERE) == pytest.approx(value, abs=1e-3)


@given(st.floats(-1e4, 1e4), st.floats(5e4, 1.1e5), st.data())
def test_out_and_back(value, site_pressure, data):
    kind = data.draw(st.sampled_from(sorted({*TABLE, *FIXED, *BORROWED})))
    base = BORROWED.get(kind, kind)
    units = Units() if kind in FIXED else Units(**{base: data.draw(st.sampled_from(sorted(TABLE[base])))})
    inside = to_si(value, kind, units, site_pressure)
    assert from_si(inside, kind, units, site_pressure) == pytest.approx(value, rel=1e-9, abs=1e-6)


def test_first_code_of_each_kind_is_the_default():
    assert {kind: next(iter(table)) for kind, table in TABLE.items()} == {
        kind: getattr(Units(), kind) for kind in TABLE
    }


def test_gauge_zero_moves_with_the_site_and_differences_do_not():
    units = Units()
    assert to_si(0.0, "pressure", units, 80000.0) == 80000.0
    assert to_si(10.0, "pressure_difference", units, 80000.0) == to_si(10.0, "pressure_difference", units, 1e5)


def test_written_is_rounded_and_never_negative_zero():
    assert str(written(273.15 - 32 * 5 / 9 - 1e-9, "temperature", Units(), 0.0)) == "0.0"
    assert written_width(5.0 / 9.0, "temperature_difference", Units()) == 1.0
    assert shown(101325.0, "pressure", Units(), STANDARD_ATMOSPHERE) == "0 psig"


@pytest.mark.parametrize(
    ("value", "kind", "lowest", "text"),
    [
        (20e6, "pressure", False, "2886 psig"),
        (-500.0, "length", True, "-1640 ft"),
        (5000.0, "length", False, "16400 ft"),
        (0.01, "mass", True, "0.3528 oz"),
        (213.15, "temperature", True, "-76 degF"),
        (0.0, "amps", True, "0 A"),
    ],
)
def test_a_limit_is_shown_rounded(value, kind, lowest, text):
    assert shown_limit(value, kind, Units(), STANDARD_ATMOSPHERE, lowest=lowest) == text


@given(
    st.floats(1e-6, 1e9), st.booleans(), st.sampled_from(["pressure", "mass", "length", "temperature", "airflow"])
)
def test_a_shown_limit_lies_inside_the_limit(value, lowest, kind):
    number = float(shown_limit(value, kind, Units(), STANDARD_ATMOSPHERE, lowest=lowest).split()[0])
    inside = to_si(number, kind, Units(), STANDARD_ATMOSPHERE)
    room = 1e-8 * max(abs(value), 1e-6, abs(inside)) if kind in ("mass", "length", "airflow") else 1e-3
    assert (inside >= value - room) if lowest else (inside <= value + room)


@given(st.floats(-1e12, 1e12) | st.floats(-100.0, 100.0), st.integers(0, 11))
def test_rounded_is_round(value, decimals):
    assert rounded(value, decimals) == round(value, decimals)
    assert str(rounded(value, decimals)) == str(round(value, decimals) + 0.0)


@given(st.integers(-(10**7), 10**7), st.integers(0, 5))
def test_rounded_is_round_on_and_beside_ties(number, decimals):
    tie = (number + 0.5) / 10**decimals
    for value in (tie, nextafter(tie, inf), nextafter(tie, -inf)):
        assert rounded(value, decimals) == round(value, decimals)


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_has_a_code_of_its_unit_inside(kind):
    """A list that shows what is held inside names its unit: 100 megohms are held as 1e8 ohm."""
    known = {
        "megohms": "ohm",
        "humidity": "1",
        "area": "m2",
        "pressure_difference": "Pa",
        "mass_per_length": "kg/m",
    }
    code = inside_code(kind)
    assert code
    assert code == known.get(kind, code)
    if kind in FIXED and FIXED[kind][1].scale == 1.0:
        assert code == FIXED[kind][0]
