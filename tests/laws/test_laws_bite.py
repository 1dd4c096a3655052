"""Each law, tried on an answer that was bent so that it breaks it: a law that cannot fail holds nothing."""

import copy

import pytest

from service.app import create_app
from tests.golden import golden_cases
from tests.laws.answers import SENTENCES
from tests.laws.laws import LAWS

VISITS = {name.split(":")[1]: case["request"] for name, case in golden_cases() if name.startswith("visits/")}
SHORT = "vis-r08-short-of-refrigerant-full-set"
SOUND = "vis-s01-410a-valve"
SWAPPED = "vis-d06-gauges-swapped"
GAS = "tec-g01-fuel-gas-ends-the-work-at-the-unit-too"
FLAMMABLE = "tec-g02-a-flammable-leak-is-made-safe-before-a-disconnect-is-opened"
ICED = "tec-g12-gauges-on-an-iced-coil-show-no-charge"
JAMMED = "tec-g15-a-contactor-that-does-not-pull-in-is-not-told-to-run"
ORIFICE = "vis-r06-discharge-line-at-248"
HEATS = "vis-h01-stuck-in-heating-on-a-call-for-cooling"
TRIED = (HEATS, SHORT, SOUND, SWAPPED, GAS, FLAMMABLE, ICED, JAMMED, ORIFICE)


@pytest.fixture(scope="module")
def answered():
    client = create_app().test_client()
    return {name: client.post("/v1/assessment", json=VISITS[name]).get_json() for name in TRIED}


def failed(code, confidence="firm", pointer="/running/suction_pressure"):
    return {
        "code": code,
        "state": "fail",
        "severity": "warning",
        "confidence": confidence,
        "detail": "Stop the compressor.",
        "evidence": [pointer],
    }


def ask_again(body):
    body["next_readings"] = [{"pointer": "/running/suction_pressure", "purpose": "confirm"}]


def without_firm_checks(body):
    for item in body["findings"]:
        item["confidence"] = "borderline"


def without_steps(body):
    body["next_steps"] = []


def repair_before_proof(body):
    lead = body["causes"][0]
    lead["confirm_by"] = ["step.leak-search"]
    step = {"power": "off", "parts": [{"code": "part.compressor"}], "why": [lead["code"]]}
    body["next_steps"] = [
        {**step, "code": "step.replace-compressor"},
        {**step, "code": "step.leak-search", "parts": []},
    ]


def run_on(body):
    body["outcome"]["run_permission"] = "may_run"
    body["findings"].append(failed("running.floodback"))


def certain(body):
    body["causes"][0]["probability"] = 1.0


def sure_by_simulated_units(body):
    body["causes"][0] |= {"rests_on": "simulated_units", "probability": 0.99}


def judged_all_the_same(body):
    body["findings"].append(failed("running.coil-freezing"))


def sell_a_compressor(body):
    body["outcome"]["parts"] = [{"code": "part.compressor"}]


def add_under_head(body):
    body["computed"]["charge"] = {"status": "undercharged", "direction": "add"}
    body["findings"].append(failed("running.condensing-high"))


def weigh_in_under_head(body):
    body["next_steps"].append({"code": "step.weigh-in-line-charge"})
    body["findings"].append(failed("running.condensing-high"))


def remove_what_does_not_lead(body):
    body["computed"]["charge"] = {"status": "overcharged", "direction": "remove"}


def ask_a_sound_unit(body):
    body["next_readings"] = [{"pointer": "/inspection/oil_colour"}]


def go_on_working(body):
    body["next_steps"].append({"code": "step.leak-search", "parts": []})


def switch_off_first(body):
    body["next_steps"].reverse()


def search_through_ice(body):
    body["next_steps"].insert(0, {"code": "step.leak-search"})


def name_two_faults(body):
    body["causes"][0]["title"] = "Reversing valve leaking through"


def found_all_the_same(body):
    body["outcome"]["customer_note"] = "We found the problem: the compressor is stuck."


def say_nothing_was_found(body):
    body["outcome"]["summary"] += " " + SENTENCES["note.nothing-yet"]


def let_it_run(body):
    body["outcome"]["run_permission"] = "may_run_watched"


def judge_it_as_if_it_cooled(body):
    body["findings"].append(failed("running.condensing-high"))


def ask_for_a_nameplate_it_has_not(body):
    body["next_readings"] = [{"pointer": "/equipment/target_subcooling", "purpose": "confirm"}]


def read_another_first(body):
    body["next_readings"].insert(0, {"pointer": "/inspection/oil_colour", "purpose": "tell_apart"})


def doubt_what_is_sound(body):
    body["causes"][0]["probability"] = 0.4


def blame_the_filter(body):
    seen = {"code": "inspection.filter-dirty", "title": "Air filter dirty", "state": "fail", "confidence": "firm"}
    starved = {"code": "charge.superheat-high", "title": "Superheat high", "state": "fail", "confidence": "firm"}
    body["findings"] += [seen, starved]
    filter_ = {"code": "cause.low-indoor-airflow", "probability": 0.9, "supported_by": [seen["title"]]}
    body["causes"].insert(0, filter_)


BENT = [
    ("1 nothing posted and firm is asked for again", SHORT, ask_again),
    ("2 a fault needs a firm failed check", SHORT, without_firm_checks),
    ("3 a fault has its step", SHORT, without_steps),
    ("3 proof comes before repair", SHORT, repair_before_proof),
    ("4 stop is stop everywhere", SHORT, run_on),
    ("5 one share a cause", SHORT, certain),
    ("5 simulated units alone are capped", SHORT, sure_by_simulated_units),
    ("6 contradicted readings carry nothing", SWAPPED, judged_all_the_same),
    ("7 no part without its proof", SHORT, sell_a_compressor),
    ("8 no charge is moved while something else leads", SHORT, add_under_head),
    ("8 no charge is moved while something else leads", SHORT, weigh_in_under_head),
    ("8 no charge is moved while something else leads", SHORT, remove_what_does_not_lead),
    ("9 a sound set is sound", SOUND, ask_a_sound_unit),
    ("9 what is told sound is likely sound", SOUND, doubt_what_is_sound),
    ("what was seen does not hide what it cannot explain", SHORT, blame_the_filter),
    ("what conflicts is read again first", SWAPPED, read_another_first),
    ("everybody out is all", GAS, go_on_working),
    ("a safe area comes first", FLAMMABLE, switch_off_first),
    ("ice goes before gauges", ICED, search_through_ice),
    ("one fault is named", SHORT, name_two_faults),
    ("nothing is found while readings conflict", SWAPPED, found_all_the_same),
    ("what cannot run is not told to run", JAMMED, let_it_run),
    ("keep off stands beside no word that nothing was found", JAMMED, say_nothing_was_found),
    ("no check of cooling judges a unit that heats", HEATS, judge_it_as_if_it_cooled),
    ("11 nothing is asked that the unit cannot have", ORIFICE, ask_for_a_nameplate_it_has_not),
]


@pytest.mark.parametrize(("law", "visit", "bend"), BENT)
def test_a_bent_answer_breaks_its_law(answered, law, visit, bend):
    """The lines that the bending adds are the law's own; what the answer breaks by itself does not count."""
    body = copy.deepcopy(answered[visit])
    before = LAWS[law](VISITS[visit], body)
    bend(body)
    assert set(LAWS[law](VISITS[visit], body)) - set(before)


def test_every_law_is_bent():
    assert {law for law, _, _ in BENT} == set(LAWS)
