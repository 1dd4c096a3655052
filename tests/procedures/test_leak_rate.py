"""Leak rates and the two rules kept apart: by refrigerant, size, class and date."""

import pytest

from service.results.refusal import Refusal
from tests.procedures.judging import judge

CHILLER = {
    "units": {"mass": "lb"},
    "visit_date": "2026-06-01",
    "refrigerant": "R-22",
    "full_charge": 80.0,
    "appliance_class": "comfort_cooling",
    "last_full_date": "2025-01-17",
    "additions": [{"date": "2026-06-01", "mass": 6.0}],
}


def appliance(**changes):
    return {name: value for name, value in (CHILLER | changes).items() if value is not None}


def test_the_worked_example_of_a_long_interval():
    """6 lb into 80 lb of R-22 after 500 days: days count as 365, 7.5 %, within 10 % (40 CFR 82.152, 82.157)."""
    answer = judge("leak-rate", appliance())
    assert answer.value("leak_rate_percent") == pytest.approx(7.5)
    assert answer.value("threshold_percent") == 10.0
    assert answer.computed["rule"].startswith("40 CFR 82.157")
    assert answer.computed["duty"] is False
    assert answer.states["leak-rate.duty"] == "pass"


def test_a_short_interval_annualized():
    """3 lb of 80 lb in 60 days: 22.8 %."""
    answer = judge(
        "leak-rate", appliance(last_full_date="2026-04-02", additions=[{"date": "2026-06-01", "mass": 3.0}])
    )
    assert answer.value("leak_rate_percent") == pytest.approx(3 / 80 * 365 / 60 * 100, abs=0.01)
    assert answer.computed["duty"] is True


@pytest.mark.parametrize(("pounds", "duty"), [(8.0, False), (8.1, True)])
@pytest.mark.parametrize("method", ["annualizing", "rolling_average"])
def test_both_sides_of_the_threshold(pounds, duty, method):
    """10 % of 80 lb is 8.0 lb; the duty arises above, not at the threshold."""
    document = appliance(method=method, additions=[{"date": "2026-06-01", "mass": pounds}])
    assert judge("leak-rate", document).computed["duty"] is duty


def test_the_two_methods_differ():
    """2 lb each quarter of 80 lb: annualized 10.1 % by the last, 10 % rolling."""
    days = ["2025-09-01", "2025-12-01", "2026-03-02", "2026-06-01"]
    additions = [{"date": day, "mass": 2.0} for day in days]
    answer = judge("leak-rate", appliance(additions=additions))
    assert answer.value("annualizing_percent") == pytest.approx(2 / 80 * 365 / 91 * 100, abs=0.01)
    assert answer.value("rolling_average_percent") == pytest.approx(10.0)
    assert answer.computed["duty"] is True
    assert judge("leak-rate", appliance(additions=additions, method="rolling_average")).computed["duty"] is False


def test_the_window_of_the_rolling_average():
    """Additions count for 365 days, and only those after the repair."""
    additions = [{"date": day, "mass": 4.0} for day in ("2025-05-31", "2025-06-02", "2026-06-01")]
    rolling = judge("leak-rate", appliance(additions=additions)).value("rolling_average_percent")
    assert rolling == pytest.approx(10.0)
    repaired = appliance(additions=additions, last_repair_date="2025-12-01")
    assert judge("leak-rate", repaired).value("rolling_average_percent") == pytest.approx(5.0)
    after = appliance(additions=additions, last_repair_date="2026-06-01")
    assert judge("leak-rate", after).value("rolling_average_percent") == pytest.approx(10.0)


def test_the_first_year_of_the_calendar_is_no_trouble():
    answer = judge(
        "leak-rate", appliance(additions=[{"date": "0001-01-02", "mass": 4.0}], last_full_date="0001-01-01")
    )
    assert answer.value("rolling_average_percent") == pytest.approx(5.0)


def test_additions_of_one_day_are_one():
    additions = [{"date": "2026-06-01", "mass": 2.0}, {"date": "2026-06-01", "mass": 4.0}]
    assert judge("leak-rate", appliance(additions=additions)).value("leak_rate_percent") == pytest.approx(7.5)


@pytest.mark.parametrize(
    ("refrigerant", "pounds", "kind", "date", "reason"),
    [
        ("R-410A", 9.0, "residential_light_commercial", "2026-06-01", "charge"),
        ("R-410A", 15.0, "residential_light_commercial", "2026-06-01", "class"),
        ("R-410A", 60.0, "residential_light_commercial", "2026-06-01", "class"),
        ("R-410A", 14.9, "comfort_cooling", "2026-06-01", "charge"),
        ("R-410A", 20.0, "comfort_cooling", "2025-12-31", "date"),
        ("R-22", 49.9, "comfort_cooling", "2026-06-01", "charge"),
        ("R-290", 80.0, "comfort_cooling", "2026-06-01", "refrigerant"),
        ("R-1234yf", 80.0, "comfort_cooling", "2026-06-01", "refrigerant"),
        ("R-410A", 60.0, "comfort_cooling", "2020-04-10", "date"),
    ],
)
def test_no_duty_arises_with_the_reason(refrigerant, pounds, kind, date, reason):
    """40 CFR 82.157(a) and 84.106 (15 lb, GWP above 53, from 2026-01-01, residential and light commercial out)."""
    document = appliance(refrigerant=refrigerant, full_charge=pounds, appliance_class=kind, visit_date=date)
    answer = judge("leak-rate", document)
    assert answer.states["leak-rate.duty"] == "not_applicable"
    assert answer.variants["leak-rate.duty"] == reason
    assert answer.computed["duty"] is False
    assert "rule" not in answer.computed
    assert "threshold_percent" not in answer.computed
    assert "Venting" in answer.texts["leak-rate.duty"]
    assert answer.missing == set()


@pytest.mark.parametrize(
    ("refrigerant", "pounds", "kind", "date", "rule", "threshold"),
    [
        ("R-22", 50.0, "comfort_cooling", "2026-06-01", "40 CFR 82.157", 10),
        ("R-22", 50.0, "residential_light_commercial", "2026-06-01", "40 CFR 82.157", 10),
        ("R-22", 50.0, "commercial_refrigeration", "2026-06-01", "40 CFR 82.157", 20),
        ("R-22", 50.0, "industrial_process_refrigeration", "2026-06-01", "40 CFR 82.157", 30),
        ("R-410A", 15.0, "comfort_cooling", "2026-01-01", "40 CFR 84.106", 10),
        ("R-404A", 15.0, "commercial_refrigeration", "2026-01-01", "40 CFR 84.106", 20),
        ("R-134a", 15.0, "industrial_process_refrigeration", "2026-01-01", "40 CFR 84.106", 30),
        ("R-454B", 15.0, "other", "2026-01-01", "40 CFR 84.106", 10),
        ("R-410A", 60.0, "comfort_cooling", "2020-04-09", "40 CFR 82.157", 10),
        ("R-500", 20.0, "comfort_cooling", "2026-06-01", "40 CFR 84.106", 10),
        ("R-500", 60.0, "comfort_cooling", "2026-06-01", "40 CFR 82.157", 10),
        ("R-454C", 15.0, "comfort_cooling", "2026-06-01", "40 CFR 84.106", 10),
    ],
)
def test_the_rule_that_applies(refrigerant, pounds, kind, date, rule, threshold):
    """40 CFR 82.157(c)(2); 40 CFR 84.106, 89 FR 82682."""
    document = appliance(refrigerant=refrigerant, full_charge=pounds, appliance_class=kind, visit_date=date)
    answer = judge("leak-rate", document)
    assert answer.computed["rule"].startswith(rule)
    assert answer.value("threshold_percent") == threshold


def test_an_edition_before_those_held_here():
    answer = judge("leak-rate", appliance(visit_date="2018-12-31"))
    assert answer.variants["leak-rate.duty"] == "before-edition"
    assert "duty" not in answer.computed


def test_a_split_unit_counts_as_residential_or_light_commercial_where_no_class_is_stated():
    document = appliance(refrigerant="R-410A", full_charge=20, appliance_class=None)
    assert judge("leak-rate", document).missing >= {"/appliance_class"}
    unit = document | {"equipment": {"kind": "split_air_conditioner"}}
    answer = judge("leak-rate", unit)
    assert answer.variants["leak-rate.duty"] == "class"
    assert answer.assumed == {"/appliance_class"}


@pytest.mark.parametrize("kind", ["split_air_conditioner", "multi_split", "packaged_air_conditioner"])
@pytest.mark.parametrize("stated", ["comfort_cooling", "commercial_refrigeration", "other"])
def test_a_stated_class_is_never_overruled_by_a_kind(kind, stated):
    document = appliance(refrigerant="R-410A", full_charge=20, appliance_class=stated, equipment={"kind": kind})
    answer = judge("leak-rate", document)
    assert answer.computed["rule"].startswith("40 CFR 84.106")
    assert answer.assumed == set()


def test_variable_refrigerant_flow_is_undecided_with_both_texts():
    """89 FR 82682 preamble lists it in; EPA fact sheet of January 2026, footnote 3, makes some a subsector."""
    unit = appliance(refrigerant="R-410A", full_charge=40, appliance_class=None, equipment={"kind": "multi_split"})
    answer = judge("leak-rate", unit)
    assert (answer.states["leak-rate.duty"], answer.variants["leak-rate.duty"]) == ("undecided", "contested")
    assert "89 FR 82682" in answer.texts["leak-rate.duty"]
    assert "fact sheet" in answer.texts["leak-rate.duty"]
    assert "/appliance_class" in answer.missing
    assert "duty" not in answer.computed


def test_a_packaged_unit_is_asked_for_its_class():
    """The preamble of 89 FR 82682 has only some rooftop units among the residential and light commercial ones."""
    unit = appliance(
        refrigerant="R-410A", full_charge=40, appliance_class=None, equipment={"kind": "packaged_air_conditioner"}
    )
    answer = judge("leak-rate", unit)
    assert answer.variants["leak-rate.duty"] == "class"
    assert answer.states["leak-rate.duty"] == "undecided"


def test_a_blend_of_both_falls_under_both_rules():
    """R-500 holds an ozone-depleting and a regulated substance: 84.106(a)(3)(i) says solely."""
    answer = judge("leak-rate", appliance(refrigerant="R-500", full_charge=50))
    assert "40 CFR 82.157" in answer.computed["rule"]
    assert "40 CFR 84.106" in answer.computed["rule"]


@pytest.mark.parametrize(("removed", "state"), [(4.0, "undecided"), (3.9, "fail")])
def test_a_seasonal_variance_is_no_leak(removed, state):
    """40 CFR 82.152: no more goes back than was taken out for the season (from memory)."""
    document = appliance(
        additions=[{"date": "2026-06-01", "mass": 4.0, "seasonal_removed": removed}], last_full_date="2026-05-02"
    )
    assert judge("leak-rate", document).states["leak-rate.duty"] == state


EUROPEAN = {"site": {"jurisdiction": "FR"}, "units": {"mass": "kg"}, "visit_date": "2026-06-01"}


@pytest.mark.parametrize(
    ("refrigerant", "kilograms", "months", "with_detection"),
    [
        ("R-410A", 2.39, None, None),  # 4.99 t
        ("R-410A", 2.396, 12, 24),  # 5.0 t
        ("R-410A", 23.94, 12, 24),
        ("R-410A", 23.96, 6, 12),  # 50 t
        ("R-410A", 239.6, 3, 6),  # 500 t
        ("R-290", 500.0, None, None),
    ],
)
def test_checks_for_leaks_in_the_union(refrigerant, kilograms, months, with_detection):
    """Regulation (EU) 2024/573 Article 5: 5, 50, 500 t; 12, 6, 3 months; twice that with detection (from memory).

    R-410A: GWP 2087.5 (AR4), 2.39 kg for 5 t in a manual that quotes Regulation (EU) 517/2014.
    """
    document = EUROPEAN | {"refrigerant": refrigerant, "full_charge": kilograms}
    for detection, expected in ((False, months), (True, with_detection)):
        answer = judge("leak-rate", document | {"leak_detection_system": detection})
        assert answer.variants["leak-rate.duty"] == "no-rule"
        assert answer.states["leak-rate.check"] == ("not_applicable" if expected is None else "review")
        if expected is None:
            assert "leak_check_months" not in answer.computed
        else:
            assert answer.value("leak_check_months") == expected


@pytest.mark.parametrize(
    ("refrigerant", "kilograms", "months"),
    [
        ("R-1234yf", 0.99, None),
        ("R-1234yf", 1.0, 12),
        ("R-1234ze(E)", 10.0, 6),
        ("R-1233zd(E)", 100.0, 3),
        ("R-454B", 3.2, None),  # 1.5 t, and 31.1 % of R-1234yf: 0.995 kg
        ("R-454B", 3.22, 12),  # 1.001 kg
    ],
)
def test_checks_of_unsaturated_gases_by_mass(refrigerant, kilograms, months):
    """Regulation (EU) 2024/573 Article 5(1)(b): 1, 10, 100 kg (copy); a blend by its share (from memory)."""
    answer = judge("leak-rate", EUROPEAN | {"refrigerant": refrigerant, "full_charge": kilograms})
    assert answer.computed.get("leak_check_months", {}).get("value") == months


def test_a_sealed_appliance_is_checked_from_ten_tonnes():
    document = EUROPEAN | {"refrigerant": "R-410A", "hermetically_sealed": True}
    assert "leak_check_months" not in judge("leak-rate", document | {"full_charge": 4.7}).computed
    assert judge("leak-rate", document | {"full_charge": 4.8}).value("leak_check_months") == 12


@pytest.mark.parametrize("place", ["BR", "JP-13"])
def test_an_unknown_place_leaves_the_law_undecided_and_says_what_is_held(place):
    answer = judge("leak-rate", appliance(site={"jurisdiction": place}))
    assert (answer.states["leak-rate.duty"], answer.variants["leak-rate.duty"]) == ("undecided", "place")
    assert place in answer.texts["leak-rate.duty"]
    assert "US-CA" in answer.texts["leak-rate.duty"]
    assert "duty" not in answer.computed
    assert "leak-rate.chronic" not in answer.states


def test_a_part_of_a_country_has_its_countrys_rules():
    assert judge("leak-rate", appliance(site={"jurisdiction": "US-NY"})).computed["rule"].startswith("40 CFR")


def test_a_rule_past_its_review_says_so():
    late = appliance(visit_date="2030-06-01", additions=[{"date": "2030-06-01", "mass": 6.0}])
    sources = [finding.limit.source for finding in judge("leak-rate", late).checked.findings if finding.limit]
    assert "to be reviewed by 2027-08-20, not looked at since" in sources[0]
    in_time = judge("leak-rate", appliance()).checked.findings[0]
    assert "not looked at since" not in in_time.limit.source


def test_the_last_addition_dates_the_rule_where_no_visit_date_is_given():
    answer = judge("leak-rate", appliance(visit_date=None))
    assert answer.computed["rule"].startswith("40 CFR 82.157")
    undated = judge("leak-rate", appliance(visit_date=None, additions=None))
    assert undated.variants["leak-rate.duty"] == "date"
    assert undated.missing == {"/visit_date", "/additions"}


@pytest.mark.parametrize(("pounds", "state"), [(7.0, "undecided"), (9.0, "fail")])
def test_an_incomplete_record_can_prove_a_duty_and_never_the_lack_of_one(pounds, state):
    """Without the date it was last full, the annualized rate is at least mass over full charge."""
    document = appliance(last_full_date=None, additions=[{"date": "2026-06-01", "mass": pounds}])
    answer = judge("leak-rate", document)
    assert answer.states["leak-rate.duty"] == state
    assert answer.missing == {"/last_full_date"}
    assert "leak_rate_percent" not in answer.computed


def test_additions_without_mass_or_date_leave_it_open():
    additions = [{"date": "2026-03-01"}, {"mass": 1.0}, {"date": "2026-06-01", "mass": 1.0}]
    answer = judge("leak-rate", appliance(additions=additions))
    assert answer.states["leak-rate.duty"] == "undecided"
    assert answer.missing == {"/additions/0/mass", "/additions/1/date"}


@pytest.mark.parametrize(("pounds", "state"), [(99.9, "pass"), (100.0, "fail")])
def test_chronic_leaks(pounds, state):
    """125 % of 80 lb in a calendar year is 100 lb (40 CFR 82.157(j), 84.106)."""
    additions = [{"date": "2026-01-10", "mass": pounds - 40}, {"date": "2026-06-01", "mass": 40.0}]
    assert judge("leak-rate", appliance(additions=additions)).states["leak-rate.chronic"] == state


def test_years_are_not_added_up():
    additions = [{"date": "2025-12-31", "mass": 60.0}, {"date": "2026-06-01", "mass": 60.0}]
    assert judge("leak-rate", appliance(additions=additions)).states["leak-rate.chronic"] == "pass"


def test_no_report_where_no_rule_applies():
    assert "leak-rate.chronic" not in judge("leak-rate", appliance(full_charge=20)).states


@pytest.mark.parametrize(
    ("changes", "missing"),
    [({"refrigerant": None}, {"/refrigerant"}), ({"full_charge": None}, {"/full_charge"})],
)
def test_what_decides_is_missing(changes, missing):
    answer = judge("leak-rate", appliance(**changes))
    assert answer.variants["leak-rate.duty"] == "unknown"
    assert answer.missing == missing
    assert answer.computed == {}


def test_the_nameplate_fills_in():
    document = appliance(
        refrigerant=None, full_charge=None, equipment={"refrigerant": "R-22", "factory_charge": 80}
    )
    assert judge("leak-rate", document).value("leak_rate_percent") == pytest.approx(7.5)


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"refrigerant": "soup"}, "/refrigerant"),
        ({"refrigerant": None, "equipment": {"refrigerant": "x"}}, "/equipment/refrigerant"),
    ],
)
def test_unknown_refrigerants_are_refused(changes, pointer):
    with pytest.raises(Refusal) as refused:
        judge("leak-rate", appliance(**changes))
    assert [error.pointer for error in refused.value.errors] == [pointer]
