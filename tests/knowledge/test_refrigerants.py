"""Refrigerants by name, what follows from their rows, and tables that do not belong."""

import json
from importlib import resources
from importlib.metadata import version

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from service.knowledge import refrigerant_rows, refrigerants
from service.knowledge.refrigerant_names import reading_key
from service.knowledge.refrigerant_rows import Share, composition, refrigerant_data
from service.knowledge.refrigerant_tables import TableMismatch, checked_table, identity
from service.knowledge.refrigerants import (
    UnknownRefrigerant,
    all_refrigerants,
    find,
    known_but_not_computed,
)
from service.results.out_of_range import OutOfRange
from service.results.record import replace

DESIGNATIONS = [item.designation for item in all_refrigerants()]

# GWP over 100 years AR4, AR5; glide [K] at 5 C dew and at 40 C bubble; computed once with
# CoolProp 8.0.0 and component values from memory; R-32 675, R-454B 466, R-410A 2088, R-22 1810 seen in sources.
CONSTANTS = {
    "R-22": (1810.0, 1760.0, 0.0, 0.0),
    "R-410A": (2087.5, 1923.5, 0.11, 0.12),
    "R-407C": (1773.8, 1624.2, 6.15, 4.9),
    "R-32": (675.0, 677.0, 0.0, 0.0),
    "R-454B": (466.3, 466.8, 1.48, 1.46),
    "R-134a": (1430.0, 1300.0, 0.0, 0.0),
    "R-404A": (3921.6, 3942.8, 0.49, 0.33),
    "R-448A": (1387.1, 1273.5, 6.01, 4.98),
    "R-449A": (1397.0, 1281.9, 5.59, 4.66),
    "R-290": (3.0, 3.0, 0.0, 0.0),
}

# Critical temperature [C] and pressure [kPa]. R-22, R-410A, R-407C: fluid files of Lemmon (2003), Int. J.
# Thermophys. 24(4):991-1006; R-134a: EnergyPlus FluidPropertiesRefData.idf; R-448A, R-449A: data generated with
# NIST REFPROP 10 (as in tests/cases/saturation/published.yaml). Blends stand on other mixing rules: 0.5 K, 1 %.
CRITICAL = {
    "R-22": (96.145, 4990.0),
    "R-410A": (71.344, 4901.2),
    "R-407C": (86.195, 4631.7),
    "R-134a": (101.06, 4059.28),
    "R-448A": (82.684, 4594.5),
    "R-449A": (82.073, 4499.7),
}


def test_at_least_twenty_five_refrigerants_are_known():
    assert len(DESIGNATIONS) >= 25
    assert {"R-22", "R-410A", "R-407C", "R-32", "R-454B", "R-134a", "R-290"} <= set(DESIGNATIONS)


@pytest.mark.parametrize(
    ("spelling", "designation"),
    [
        ("R-410A", "R-410A"),
        ("R410A", "R-410A"),
        ("410a", "R-410A"),
        (" r 410 A ", "R-410A"),
        ("HFC-134a", "R-134a"),
        ("HCFC22", "R-22"),
        ("hfo-1234yf", "R-1234yf"),
        ("R1234ZE(E)", "R-1234ze(E)"),
        ("r-1234zee", "R-1234ze(E)"),
        ("R-1234ze", "R-1234ze(E)"),
        ("Propane", "R-290"),
        ("carbon  dioxide", "R-744"),
    ],
)
def test_common_spellings_are_read(spelling, designation):
    assert find(spelling).designation == designation


@given(
    designation=st.sampled_from(DESIGNATIONS),
    prefix=st.sampled_from(["R-", "R", "r", "r ", "", "hfc-", "HFC", "hc ", "HFO-", "CFC-", "hcfc"]),
    upper=st.booleans(),
    space=st.sampled_from(["", " ", "\t", "  "]),
)
def test_prefix_case_and_space_are_free(designation, prefix, upper, space):
    number = designation.removeprefix("R-")
    written = space + prefix + (number.upper() if upper else number.lower()) + space
    assert find(written).designation == designation


NAMES = [name for row in refrigerant_data().refrigerants for name in (row.designation, *row.spellings)]


@given(st.text(max_size=20) | st.from_regex(r"\A[Rr]?[ -]?[0-9]{1,5}[A-Za-z]{0,3}\Z"))
def test_any_other_text_is_refused(text):
    if reading_key(text) in {reading_key(name) for name in NAMES}:
        assert find(text).designation in DESIGNATIONS
    else:
        with pytest.raises(UnknownRefrigerant):
            find(text)


@pytest.mark.parametrize(
    "name", ["", "R-", "R-41", "R-4100A", "R-410Z", "R-410A!", "4 1 0 a", "R-٤١٠A", "R-1234ze(Z)"]
)
def test_what_is_not_a_refrigerant_is_refused(name):
    with pytest.raises(UnknownRefrigerant, match=r"refrigerant\.none-such"):
        find(name)


@pytest.mark.parametrize("name", ["R-438A", "r438a", "438A"])
def test_a_blend_that_cannot_be_mixed_is_refused_by_name_with_the_reason(name):
    with pytest.raises(UnknownRefrigerant, match="pentane") as refusal:
        find(name)
    assert refusal.value.name == "R-438A"


@pytest.mark.parametrize("row", known_but_not_computed(), ids=lambda row: row.designation)
def test_what_is_refused_by_name_is_not_computed(row):
    assert sum(share.mass_percent for share in row.composition) == pytest.approx(100.0)
    with pytest.raises(UnknownRefrigerant) as refusal:
        find(row.designation)
    assert refusal.value.reason == row.reason


def test_nothing_is_loaded_twice():
    assert find("410a") is find("R-410A")
    assert all_refrigerants() is all_refrigerants()
    assert find("R-32").properties is find("R-32").properties


@pytest.mark.parametrize(("designation", "expected"), CONSTANTS.items())
def test_gwp_and_glide(designation, expected):
    """GWP to its last printed digit; glide to 0.01 K."""
    found = find(designation)
    ar4, ar5, low, high = expected
    assert (found.gwp_ar4, found.gwp_ar5) == pytest.approx((ar4, ar5), abs=0.06)
    assert (found.glide_at_dew_5_c, found.glide_at_bubble_40_c) == pytest.approx((low, high), abs=0.011)


@pytest.mark.parametrize(("designation", "expected"), CRITICAL.items())
def test_critical_points(designation, expected):
    found = find(designation)
    assert found.critical_temperature - 273.15 == pytest.approx(expected[0], abs=0.5)
    assert found.critical_pressure / 1e3 == pytest.approx(expected[1], rel=0.01)


def test_carbon_dioxide_has_no_glide_where_it_does_not_condense():
    assert find("R-744").glide_at_bubble_40_c is None
    with pytest.raises(OutOfRange):
        find("R-744").saturation.bubble_pressure(313.15)


@pytest.mark.parametrize(
    ("designation", "pressure_class"),
    # 40 CFR 82.152 (limits from memory); R-32 is 359.4 psia at 104 F in a published table.
    [
        ("R-123", "low"),
        ("R-134a", "medium"),
        ("R-22", "high"),
        ("R-407C", "high"),
        ("R-410A", "high"),
        ("R-454B", "high"),
        ("R-32", "very_high"),
        ("R-744", "very_high"),
    ],
)
def test_pressure_classes(designation, pressure_class):
    assert find(designation).pressure_class == pressure_class


@pytest.mark.parametrize("refrigerant", all_refrigerants(), ids=lambda item: item.designation)
def test_each_refrigerant_is_whole(refrigerant):
    assert sum(share.mass_percent for share in refrigerant.composition) == pytest.approx(100.0)
    assert (refrigerant.kind == "pure") == (len(refrigerant.composition) == 1)
    flammable = refrigerant.safety_class in {"A2L", "A2", "A3"}
    assert (refrigerant.lower_flammability_limit is not None) == flammable
    assert ("caution.flammable-refrigerant" in refrigerant.cautions) == flammable
    assert set(refrigerant.oils) <= {"mineral", "alkylbenzene", "poe", "pve"}
    assert refrigerant.saturation.highest_temperature < refrigerant.critical_temperature
    assert refrigerant.saturation.highest_pressure < refrigerant.critical_pressure
    assert refrigerant.saturation.lowest_temperature <= 217.2
    assert all(refrigerant.sources.values())


@pytest.mark.parametrize(
    ("designation", "codes"),
    [
        ("R-410A", {"charge-as-liquid"}),
        ("R-407C", {"charge-as-liquid", "high-glide"}),
        ("R-22", {"ozone-depleting-refrigerant"}),
        ("R-32", {"flammable-refrigerant", "very-high-pressure-refrigerant"}),
        ("R-123", {"higher-toxicity-refrigerant", "ozone-depleting-refrigerant"}),
        ("R-507A", set()),
    ],
)
def test_cautions_follow_from_the_row(designation, codes):
    found = find(designation)
    assert set(found.cautions) == {f"caution.{code}" for code in codes}
    assert found.charging_phase == ("liquid" if "charge-as-liquid" in codes else "either")


def test_the_tables_are_of_the_property_library_that_is_installed():
    assert refrigerant_data().property_library == f"CoolProp {version('CoolProp')}"


@pytest.mark.parametrize(
    ("member", "value"),
    [
        ("schema", 0),
        ("property_library", "CoolProp 7.0.0"),
        ("designation", "R-32"),
        ("composition", {"R-32": 49.0, "R-125": 51.0}),
        ("pseudo_pure", ""),
    ],
)
def test_a_table_of_another_release_is_refused(member, value):
    row = find("R-410A").row
    assert checked_table(json.dumps(identity(row)).encode(), row) == identity(row)
    with pytest.raises(TableMismatch, match=member):
        checked_table(json.dumps(identity(row) | {member: value}).encode(), row)


def test_a_composition_that_does_not_add_up_is_refused():
    assert composition({"designation": "R-1", "composition": {"R-32": 100}}) == (Share("R-32", 100.0),)
    with pytest.raises(ValueError, match="100 percent"):
        composition({"designation": "R-1", "composition": {"R-32": 50, "R-125": 49}})


def test_one_spelling_for_two_refrigerants_is_refused(monkeypatch):
    data = refrigerant_data()
    first, second, *rest = data.refrigerants
    doubled = replace(data, refrigerants=(first, replace(second, spellings=(first.designation,)), *rest))
    monkeypatch.setattr(refrigerants, "refrigerant_data", lambda: doubled)
    with pytest.raises(ValueError, match="names two refrigerants"):
        refrigerants._rows_by_key.__wrapped__()


def test_the_data_file_has_no_member_that_nobody_reads():
    text = (refrigerant_rows.files("service.knowledge") / "data" / "refrigerants.yaml").read_text("utf-8")
    read = {
        "designation",
        "composition",
        "pseudo_pure",
        "safety_class",
        "lower_flammability_limit",
        "room_rule_limit",
        "oils",
        "spellings",
        "saturation_percent",
        "un",
    }
    for row in yaml.safe_load(text)["refrigerants"]:
        assert set(row) <= read


def changed_data(monkeypatch, change):
    content = yaml.safe_load(
        resources.files("service.knowledge").joinpath("data/refrigerants.yaml").read_text("utf-8")
    )
    change(content["refrigerants"])
    monkeypatch.setattr(refrigerant_rows, "read_yaml", lambda *_: content)


def test_a_designation_that_is_given_twice_is_refused(monkeypatch):
    changed_data(monkeypatch, lambda rows: rows.append(rows[0]))
    with pytest.raises(ValueError, match="given twice: R-12"):
        refrigerant_rows.refrigerant_data.__wrapped__()


def test_a_un_number_without_a_shipping_name_is_refused_by_name(monkeypatch):
    changed_data(monkeypatch, lambda rows: rows[0].update(un=9998))
    with pytest.raises(ValueError, match="R-12: `un` has no row under `transport`"):
        refrigerant_rows.refrigerant_data.__wrapped__()
