"""Members of the refrigerant rows against lists that others keep; what was not read says so in its source."""

import csv
from math import hypot
from pathlib import Path

import pytest

from service.checks.refrigerant.running_state import running_values, saturation_at
from service.knowledge.refrigerant_rows import refrigerant_data
from service.knowledge.refrigerants import all_refrigerants, find, known_but_not_computed
from service.physics.uncertainty import read
from service.results.visit import Visit
from service.schemas.documents import load
from service.verdicts.measured import measured
from service.words.locale import text
from tests.guard import nothing_found

POINTERS = ("/running/suction_pressure", "/running/suction_line_temperature")
PSI, FAHRENHEIT = 6894.757293168361, 1.8
FILE = Path(__file__).parent / "published_blends.csv"
ROWS = list(csv.DictReader(line for line in FILE.read_text().splitlines() if line[0] != "#"))
PUBLISHED = {name: {r["component"]: float(r["percent"]) for r in ROWS if r["designation"] == name} for name in
             dict.fromkeys(row["designation"] for row in ROWS)}  # fmt: skip
HELD = {row.designation: {share.designation: share.mass_percent for share in row.composition}
        for row in (*all_refrigerants(), *known_but_not_computed())}  # fmt: skip
NOT_LISTED = {"R-500", "R-502", "R-507A", "R-513A", "R-515B"}
WITHOUT_HYDROFLUOROCARBON = {"R-409A"}
FLUOROCARBONS = {"R-32", "R-125", "R-134a", "R-143a", "R-152a", "R-227ea", "R-236fa"}


@pytest.mark.parametrize("designation", PUBLISHED)
def test_shares_of_hydrofluorocarbons(designation):
    """GHG Protocol, table of blends, 2026.0.1; it has R-422D as 65.0, which ASHRAE 34 has as 65.1."""
    held = {name: share for name, share in HELD[designation].items() if name in FLUOROCARBONS}
    assert held == pytest.approx(PUBLISHED[designation], abs=0.11)


def test_every_blend_was_looked_up():
    blends = {name for name, shares in HELD.items() if len(shares) > 1}
    missed = sorted(blends - set(PUBLISHED) - NOT_LISTED - WITHOUT_HYDROFLUOROCARBON)
    mend = "its shares as a published table has them, in tests/knowledge/published_blends.csv, or NOT_LISTED here"
    nothing_found(missed, mend, "knowledge/test_refrigerant_sources.py")


# AR4, as a public list has them by Regulation (EU) 517/2014, rounded to whole numbers (R-407F 1825, R-417A 2346).
AR4 = {
    "R-32": 675, "R-134a": 1430, "R-404A": 3922, "R-407A": 2107, "R-407C": 1774, "R-407F": 1825, "R-407H": 1495,
    "R-410A": 2088, "R-417A": 2346, "R-422B": 2526, "R-422D": 2729, "R-427A": 2138, "R-448A": 1386, "R-449A": 1396,
    "R-450A": 601, "R-452A": 2139, "R-452B": 697, "R-454A": 237, "R-454B": 465, "R-454C": 146, "R-455A": 146,
    "R-507A": 3985, "R-513A": 629, "R-744": 1,
}  # fmt: skip


@pytest.mark.parametrize(("designation", "gwp"), AR4.items())
def test_global_warming_potential_by_the_fourth_report(designation, gwp):
    """The list counts the unsaturated ones a little lower (R-1234yf 0.5, R-1234ze(E) 1.4): within 4."""
    assert find(designation).gwp_ar4 == pytest.approx(gwp, abs=4.0)


@pytest.mark.parametrize(
    ("component", "gwp"),
    [("R-125", 3170), ("R-134a", 1300), ("R-143a", 4800), ("R-152a", 138), ("R-227ea", 3350)],
)
def test_global_warming_potential_by_the_fifth_report(component, gwp):
    """IPCC AR5 (2013), 100 years, as a public list has them."""
    assert refrigerant_data().components[component].gwp_ar5 == gwp


# UN numbers as in lists for road transport and for emergency response, read in copies.
UN = {
    "R-12": 1028, "R-22": 1018, "R-32": 3252, "R-134a": 3159, "R-290": 1978, "R-404A": 3337, "R-407A": 3338,
    "R-407C": 3340, "R-410A": 3163, "R-448A": 3163, "R-449A": 3163, "R-452A": 3163, "R-454B": 3161, "R-454C": 3161,
    "R-455A": 3161, "R-502": 1973, "R-507A": 1078, "R-600a": 1969, "R-744": 1013, "R-1233zd(E)": 3163,
    "R-1234yf": 3161, "R-1234ze(E)": 3163, "R-1270": 1077,
}  # fmt: skip


@pytest.mark.parametrize(("designation", "number"), UN.items())
def test_numbers_for_transport(designation, number):
    assert find(designation).row.transport.un_number == number


@pytest.mark.parametrize("refrigerant", all_refrigerants(), ids=lambda item: item.designation)
def test_what_burns_travels_as_flammable_gas(refrigerant):
    """49 CFR 173.115(a) (from memory). R-1234ze(E) does not ignite at 20 C, so it travels as 2.2."""
    transport = refrigerant.row.transport
    if transport is None:
        assert refrigerant.designation == "R-123"  # no number was found
        return
    burns = refrigerant.lower_flammability_limit is not None and refrigerant.designation != "R-1234ze(E)"
    assert (transport.division == "2.1") is burns


def test_the_lower_of_the_lists():
    """ASHRAE 34-2019 addendum f: R-32 0.306, R-454C 0.2895; ASHRAE 34 R-600a 1.6 % (from memory) is 0.038."""
    limits = {name: find(name).lower_flammability_limit for name in ("R-32", "R-454C", "R-600a")}
    assert limits == {"R-32": 0.306, "R-454C": 0.2895, "R-600a": 0.038}
    by_gas_law = 0.016 * 101325.0 * 0.0581222 / (8.314462618 * 296.15)
    assert limits["R-600a"] == pytest.approx(by_gas_law, rel=0.02)


@pytest.mark.parametrize(("psig", "dew", "bubble"), [(120, 0.6, 0.6), (420, 0.8, 0.8)])
def test_the_table_of_r454b_widens_what_is_worked_out(psig, dew, bubble):
    """NIST, J. Phys. Chem. Ref. Data 52, 013101, abstract: bubble and dew pressures within 1 %."""
    pressure = read("/running/suction_pressure", (psig + 14.696) * PSI, 0.0)
    lines = saturation_at(find("R-454B"), pressure)
    assert [round(line.half_width * FAHRENHEIT, 1) for line in lines] == [dew, bubble]
    assert [line.half_width for line in saturation_at(find("R-410A"), pressure)] == [0.0, 0.0]


def test_superheat_of_r454b_is_told_with_gauge_thermometer_and_table():
    """Root sum of squares (JCGM 100:2008, 5.1.2): the same gauge and thermometer, and 0.6 F more."""
    document = {"equipment": {"refrigerant": "R-454B"},
                "running": {"suction_pressure": 120.0, "suction_line_temperature": 55.0}}  # fmt: skip
    told = running_values(load(Visit, document)).superheat
    _, slope = find("R-454B").saturation.dew_temperature_and_slope((120.0 + 14.696) * PSI)
    gauge, thermometer = (measured(load(Visit, document), pointer).half_width for pointer in POINTERS)
    table = 0.6 / FAHRENHEIT
    assert told.uncertainty == pytest.approx(hypot(slope * gauge, thermometer, table), abs=0.01)


@pytest.mark.parametrize("designation", ["R-424A", "R-438A", "R-453A", "R-458A"])
def test_conversions_without_a_published_pressure_are_refused_with_the_reason(designation):
    """No table or measured pressure that could be checked was found; a mixing rule alone is no source."""
    row = next(row for row in known_but_not_computed() if row.designation == designation)
    reason = text("en", "refusals", row.reason)
    assert "o published pressure" in reason
    assert "manufacturer" in reason


def test_every_member_names_its_source():
    sources = refrigerant_data().sources
    assert {"composition", "safety_class", "lower_flammability_limit", "gwp", "transport", "saturation"} <= set(
        sources
    )
    for name, source in sources.items():
        told = ("memory", "computed", "CoolProp", "CFR", "read in", "no source")
        assert any(word in source for word in told), f"{name}: {source}"
