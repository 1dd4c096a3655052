"""What is known of the very unit: its baseline handed out and posted back, and the normals its own chart prints.

Sources: a document that is handed out is read back as it was (the contract's own promise); printed pressures of
sound units, see the head of ``tests/outside/printed_pressures.csv``; signs of an undercharge: common practice, no
source.
"""

import copy
import json
from functools import cache
from pathlib import Path

import pytest

from service.app import create_app
from service.reasoning.keeping import READ_BACK
from service.results.pointers import present_pointers
from service.results.visit import Visit
from service.schemas.documents import load
from service.schemas.posting import posted
from tests.golden import golden_cases

SAMPLES = Path(__file__).parents[2] / "samples"
METRIC = {"temperature": "degC", "pressure": "kPag", "airflow": "L/s", "capacity": "kW"}
NONE = "cause.none-found"


@cache
def client():
    return create_app().test_client()


def answer(document, path="/v1/assessment"):
    response = client().post(path, json=document)
    assert response.status_code == 200, response.get_data(as_text=True)
    return response.get_json()


def sample(name):
    return json.loads((SAMPLES / f"{name}.json").read_text())


def later_visit():
    """A visit to the unit of the commissioning sample, without its baseline."""
    return {name: part for name, part in sample("visits/with-baseline").items() if name != "baseline"}


def at_commissioning(**changes):
    visit = sample("visits/commissioning")
    return {**visit, **{part: {**visit.get(part, {}), **content} for part, content in changes.items()}}


def test_a_sound_unit_is_handed_its_baseline_at_commissioning():
    kept = answer(sample("visits/commissioning"))["baseline_to_keep"]
    visit = sample("visits/commissioning")
    assert kept["document"]["running"] == visit["running"]
    assert kept["document"]["air"] == visit["air"]
    assert kept["document"]["electrical"] == {
        "supply": {"running_volts": 237},
        "currents": {"compressor_amps": 12.4},
    }
    assert "baseline" in kept["text"]


def test_what_is_handed_out_is_accepted_unchanged_and_used():
    kept = answer(sample("visits/commissioning"))["baseline_to_keep"]["document"]
    with_it = answer({**later_visit(), "baseline": kept})
    assert with_it["provenance"]["baseline"] == "of 2026-05-12, 8 readings used"
    without = answer(later_visit())
    assert "baseline" not in without["provenance"]
    assert with_it["causes"] != without["causes"]
    assert not [item for item in with_it["missing"] if item["pointer"].startswith("/baseline")]


@pytest.mark.parametrize(
    ("units", "site"),
    [({}, {}), ({}, {"elevation": 5280}), (METRIC, {}), (METRIC, {"barometric_pressure": 84.0})],
)
def test_every_reading_comes_back_as_it_was_read(units, site):
    """Whatever the units and the site: the document stands alone."""
    if units:
        read = {
            "running": {
                "minutes_running": 20, "suction_pressure": 896, "liquid_pressure": 2627,
                "suction_line_temperature": 13.3, "liquid_line_temperature": 39.4,
            },
            "air": {
                "outdoor_dry_bulb": 35, "return_dry_bulb": 26.7, "return_wet_bulb": 19.4, "supply_dry_bulb": 16.4,
            },
            "equipment": {"rated_capacity": 10.55},
        }  # fmt: skip
        visit = {**at_commissioning(), **read, "units": units, "site": site}
        visit["equipment"] = {"refrigerant": "R-410A", "metering_device": "thermostatic_expansion_valve"}
    else:
        visit = {**at_commissioning(), "site": site}
    first = load(Visit, visit)
    body = answer(visit)
    assert "baseline_to_keep" in body, body["outcome"]
    other = {**later_visit(), "site": {"elevation": 3000}, "baseline": body["baseline_to_keep"]["document"]}
    back = load(Visit, other).baseline
    for pointer in READ_BACK & present_pointers(first):
        part, *names = pointer[1:].split("/")
        if part in ("running", "air", "electrical"):
            assert _at(back, (part, *names)) == pytest.approx(_at(first, (part, *names)), rel=1e-8), pointer


def _at(document, names):
    for name in names:
        document = getattr(document, name)
    return document


def test_posting_is_the_inverse_of_loading():
    base = load(Visit, sample("visits/with-baseline")).baseline
    assert load(Visit, {"baseline": posted(base)}).baseline == base


def test_a_proven_repair_hands_out_the_baseline():
    comparison = sample("comparison/charge-repaired")
    body = answer(comparison, "/v1/comparison")
    assert body["computed"]["repair"] == "proven"
    kept = body["baseline_to_keep"]["document"]
    assert kept["running"] == comparison["after"]["running"]
    assert kept["visit_date"] == comparison["after"]["visit_date"]


def test_a_repair_that_is_not_proven_hands_out_nothing():
    comparison = sample("comparison/charge-repaired")
    comparison["after"]["running"] = comparison["before"]["running"]
    body = answer(comparison, "/v1/comparison")
    assert body["computed"]["repair"] != "proven"
    assert "baseline_to_keep" not in body


def test_a_proven_electrical_repair_asks_for_the_baseline():
    body = answer(sample("comparison/capacitor-replaced"), "/v1/comparison")
    assert body["computed"]["repair"] == "proven"
    assert "baseline_to_keep" not in body
    owed = {item["pointer"] for item in body["missing"]}
    assert {"/after/running/suction_pressure", "/after/air/outdoor_dry_bulb"} <= owed


def test_after_a_repair_on_the_same_visit_the_readings_taken_since_are_the_baseline():
    visit = {
        **at_commissioning(),
        "complaint": {"symptoms": ["poor_cooling"]},
        "repaired_at": "2026-05-12T15:00:00Z",
    }
    del visit["visit_kind"]
    for part in ("running", "air", "electrical", "inspection"):
        visit[part] = {**visit[part], "read_at": "2026-05-12T15:40:00Z"}
    assert answer(visit)["baseline_to_keep"]["document"]["running"]["suction_pressure"] == 130


@pytest.mark.parametrize(
    "changes",
    [
        {"visit_kind": "call"},
        {"complaint": {"symptoms": ["poor_cooling"]}},
        {"running": {**sample("visits/commissioning")["running"], "suction_pressure": 95, "liquid_pressure": 300}},
        {"running": {**sample("visits/commissioning")["running"], "minutes_running": 5}},
        {"inspection": {"outdoor_coil_dirty": True}},
    ],
)
def test_no_baseline_of_a_call_a_complaint_a_fault_or_an_unsteady_unit(changes):
    assert "baseline_to_keep" not in answer({**sample("visits/commissioning"), **changes})


def test_a_commissioning_without_the_set_asks_for_it():
    visit = sample("visits/commissioning")
    del visit["running"]["liquid_line_temperature"]
    del visit["air"]["return_wet_bulb"]
    body = answer(visit)
    assert "baseline_to_keep" not in body
    assert {"/running/liquid_line_temperature", "/air/return_wet_bulb"} <= {
        item["pointer"] for item in body["missing"]
    }


def test_a_baseline_that_cannot_be_used_says_why():
    kept = answer(sample("visits/commissioning"))["baseline_to_keep"]["document"]
    dry = copy.deepcopy(kept)
    del dry["air"]["return_wet_bulb"]
    body = answer({**later_visit(), "baseline": dry})
    assert "baseline" not in body["provenance"]
    assert "/baseline/air/return_wet_bulb" in {item["pointer"] for item in body["missing"]}
    for changes in ({"running": {"minutes_running": 3}}, {"air": {"outdoor_dry_bulb": 40}}):
        other = {**kept, **{part: {**kept[part], **content} for part, content in changes.items()}}
        body = answer({**later_visit(), "baseline": other})
        assert "baseline" not in body["provenance"]
        assert "assumption.cycle-baseline-not-used" in {item["code"] for item in body["assumptions"]}


def test_a_baseline_like_no_sound_unit_changes_nothing():
    """A gauge that was not zeroed at commissioning makes no fault of a later visit."""
    kept = answer(sample("visits/commissioning"))["baseline_to_keep"]["document"]
    wrong = {**kept, "running": {**kept["running"], "suction_pressure": 60, "liquid_pressure": 520}}
    body, without = answer({**later_visit(), "baseline": wrong}), answer(later_visit())
    assert body["causes"] == without["causes"]
    assert "assumption.cycle-baseline-not-used" in {item["code"] for item in body["assumptions"]}


def with_normals(visit, **printed):
    return {**visit, "printed_normals": printed}


def packaged(**running):
    visit = sample("visits/printed-normals")
    return {**visit, "running": {**visit["running"], **running}}


def test_printed_normals_are_used_and_named():
    body = answer(sample("visits/printed-normals"))
    assert body["provenance"]["printed_normals"] == "2 readings used"
    assert body["causes"][0]["code"] == NONE
    plain = answer({name: part for name, part in packaged().items() if name != "printed_normals"})
    assert body["causes"][0]["probability"] > plain["causes"][0]["probability"]


def test_far_outside_its_printed_normals_the_model_says_what_it_is():
    """Both pressures down, superheat up, subcooling gone: an undercharge (common practice, no source)."""
    low = packaged(
        suction_pressure=112, liquid_pressure=330, suction_line_temperature=66, liquid_line_temperature=102
    )
    assert answer(low)["causes"][0]["code"] == "cause.undercharge"


def test_printed_normals_alone_establish_nothing():
    visit = {name: part for name, part in packaged().items() if name != "running"}
    del visit["air"]["supply_dry_bulb"]
    body, without = answer(visit), answer({**visit, "printed_normals": {}})
    assert body["outcome"]["state"] == without["outcome"]["state"] == "undecided"
    assert body["causes"] == without["causes"]


def test_the_baseline_counts_before_the_chart():
    kept = answer(sample("visits/commissioning"))["baseline_to_keep"]["document"]
    body = answer(with_normals({**later_visit(), "baseline": kept}, suction_pressure=130, liquid_pressure=340))
    assert "baseline" in body["provenance"]
    assert "printed_normals" not in body["provenance"]


def test_where_the_baseline_cannot_be_used_the_chart_is():
    base = {"running": sample("visits/commissioning")["running"]}
    body = answer(with_normals({**later_visit(), "baseline": base}, suction_pressure=125, liquid_pressure=340))
    assert body["provenance"]["printed_normals"] == "2 readings used"


@pytest.mark.parametrize(
    ("printed", "owed"),
    [
        ({"superheat": 12}, "/printed_normals/suction_pressure"),
        ({"subcooling": 10}, "/printed_normals/liquid_pressure"),
    ],
)
def test_a_figure_without_its_pressure_asks_for_it(printed, owed):
    assert owed in {item["pointer"] for item in answer(with_normals(packaged(), **printed))["missing"]}


def test_a_pressure_that_cannot_be_is_refused_where_it_stands():
    response = client().post("/v1/assessment", json=with_normals(packaged(), suction_pressure=-20))
    assert response.status_code == 422
    assert response.get_json()["errors"][0]["pointer"] == "/printed_normals/suction_pressure"


def test_a_narrower_tolerance_tells_more():
    """Widths follow what the chart prints."""
    wide, narrow = (
        answer(with_normals(packaged(), suction_pressure=149, liquid_pressure=399, pressure_tolerance=width))
        for width in (25, 3)
    )
    assert narrow["causes"][0]["probability"] > wide["causes"][0]["probability"]


@pytest.mark.parametrize(
    ("language", "line"), [("en", "Keep today&#39;s readings"), ("es", "Guarde las lecturas de hoy")]
)
def test_the_job_note_says_in_one_line_that_the_readings_are_kept(language, line):
    headers = {"Accept": "text/html", "Accept-Language": language}
    kept, call = (
        client()
        .post("/v1/assessment", json={**sample("visits/commissioning"), "visit_kind": kind}, headers=headers)
        .text
        for kind in ("commissioning", "call")
    )
    assert kept.count(line) == 1
    assert line not in call


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("with-baseline", "Compared with this unit&#39;s own baseline."),
        ("printed-normals", "Compared with this unit&#39;s own chart."),
        ("sound-unit", None),
    ],
)
def test_the_job_note_says_what_the_readings_were_compared_with(name, line):
    page = client().post("/v1/assessment", json=sample(f"visits/{name}"), headers={"Accept": "text/html"}).text
    assert line in page if line else "Compared with" not in page


@pytest.mark.parametrize("size", ["short", "outcome"])
def test_what_is_to_be_kept_is_in_every_size(size):
    body = client().post(f"/v1/assessment?size={size}", json=sample("visits/commissioning")).get_json()
    assert body["baseline_to_keep"]["document"]["running"]


def test_the_text_is_in_the_language_asked_for():
    headers = {"Accept-Language": "es"}
    body = client().post("/v1/assessment", json=sample("visits/commissioning"), headers=headers).get_json()
    assert "línea base" in body["baseline_to_keep"]["text"]


def test_a_member_that_cannot_be_posted_stops_at_once():
    """A resistance is no reading of a baseline: nothing half-written is handed out."""
    with pytest.raises(ValueError, match="resistance"):
        posted(load(Visit, {"baseline": {"electrical": {"windings": {"common_run": {"ohms": 1.0}}}}}).baseline)


SOUND_UNITS = {
    name: case["request"]
    for name, case in golden_cases()
    if name.startswith("visits/sound_units:") and case["expect"].get("outcome", {}).get("state") == "sound"
}


@pytest.mark.parametrize("name", SOUND_UNITS)
def test_a_sound_golden_unit_stays_sound_with_its_chart_and_its_baseline(name):
    """One judge: what is known makes no sound unit faulty, and a visit like its baseline is sounder."""
    visit = SOUND_UNITS[name]
    running = visit["running"]
    plain = answer(visit)
    pressures = {name: running[name] for name in ("suction_pressure", "liquid_pressure") if name in running}
    assert answer(with_normals(visit, **pressures))["outcome"]["state"] == "sound"
    planned = {part: content for part, content in visit.items() if part != "complaint"}
    kept = answer({**planned, "visit_kind": "maintenance"})["baseline_to_keep"]
    again = answer({**visit, "baseline": kept["document"]})
    assert again["outcome"]["state"] == "sound"
    assert _sound_share(again) >= _sound_share(plain)


def _sound_share(body):
    return next(cause["simulated_probability"] for cause in body["causes"] if cause["code"] == NONE)
