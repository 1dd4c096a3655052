"""Where work can hurt, text and row say the same: what stops, what keeps off, the power state of a step.

Beyond law 4, which looks at answers: here every row is held against its own text, answer or not.
"""

import re

from service.knowledge.catalogues import cautions, findings, holds, steps
from service.knowledge.row_types import of_state
from service.results.finding import Finding, Severity, State
from service.words.locale import LANGUAGES, texts

OPEN = ("fail", "review", "undecided")
STOPS = re.compile(
    r"\b(shut (it|the unit|the compressor) (off|down)|(keep|leave) (it|the unit|everything|cooling|the power) off"
    r"|do not (energize|run|start|turn it on|reset)|stop (it|the compressor)|thaw it|get everyone out)\b",
    re.IGNORECASE,
)
# Findings of a cylinder or a pressure test run no unit; their stop is about the work.
WORK = ("recovery.", "pressure-test.")
RUNS = re.compile(
    r"\b(running|runs?|starting amps|run (it|the unit|the blower|the fan)|start (it|the unit|once)|rotation of)\b",
    re.IGNORECASE,
)
# What runs there is no unit, or nothing is to run.
NOT_THE_UNIT = re.compile(
    r"run (capacitor|the recovery machine|and start|to start|is run)|is run\b|do not start it", re.IGNORECASE
)
# What the text of a step or a hold must have where its row claims that it says a caution.
SAYS = {
    "caution.isolate-first": r"open.*disconnect.*isolates nothing|open the disconnect",
    "caution.prove-dead": r"live source|live-dead-live",
    "caution.discharge-capacitor": r"(bleed|resistor).*(50 V|volts again|screwdriver)",
    "caution.drive-bus": r"(bus|50 V dc)",
    "caution.flammable-refrigerant": r"ignition source.*ventilate|ventilate",
    "caution.fuel-gas": r"gas utility and 911",
    "caution.terminal-venting": r"blows? out",
    "caution.cool-shell-locked-out": r"terminal cover on",
    "caution.insulation-test": r"never .*vacuum.*ground the winding",
    "caution.breaker-not-again": r"do not reset|leave the breaker off",
    "caution.acid-oil": r"oil may be acid",
    "caution.frostbite": r"freezes skin",
    "caution.cylinder-fill": r"retest date.*80%",
    "caution.brazing": r"fire watch and an extinguisher",
    "caution.nitrogen-regulator": r"regulator and relief valve",
    "caution.no-jumpers": r"do not jumper",
}


def told():
    """(code, state and variant, finding, row, English text) of each finding's open states."""
    spoken = texts("en", "findings")
    for code, row in findings().items():
        for key, text in spoken[code]["detail"].items():
            state, _, variant = key.partition(".")
            if state in OPEN and not code.startswith(WORK):
                severity = row.severity if state == "fail" else Severity.WARNING
                yield code, key, Finding(code, State(state), severity, (), variant=variant), row, text


def stops_by_row(item, row):
    """Whether the row keeps the unit off in this state but for a test: itself, a hold, or a motor that stands."""
    held = [code for code in of_state(row.raises, item, ()) if not holds()[code].allows_watched]
    stands = {"stands", "may_stand"}.intersection(dict(of_state(row.motors, item, {})).values())
    return row.running_on(item) in ("no", "test") or bool(held or stands) or item.state in row.unsafe


def test_a_text_that_stops_the_unit_has_a_row_that_keeps_it_off():
    found = [
        (code, key, text)
        for code, key, item, row, text in told()
        if STOPS.search(text) and not stops_by_row(item, row)
    ]
    assert found == []


def test_a_row_that_keeps_the_unit_off_has_a_text_or_a_hold_that_says_so():
    found = [
        (code, key, text)
        for code, key, item, row, text in told()
        if row.running_on(item) == "no" and not of_state(row.raises, item, ()) and not STOPS.search(text)
    ]
    assert found == []


def test_no_step_that_is_done_with_power_off_needs_something_running():
    """Rule 15 of the words: such a step is split in two."""
    spoken = texts("en", "steps")
    found = {
        code: text
        for code, row in steps().items()
        for text in [NOT_THE_UNIT.sub("", f"{spoken[code]['title']}. {spoken[code]['text']}")]
        if row.power == "off" and RUNS.search(text)
    }
    assert found == {}


def test_a_step_and_a_hold_say_the_cautions_that_they_claim():
    for folder, rows in (("steps", steps()), ("holds", holds())):
        spoken = texts("en", folder)
        for code, row in rows.items():
            said = spoken[code].get("text") or spoken[code]["instruction"]
            for caution in row.says:
                assert re.search(SAYS[caution], said, re.IGNORECASE), (code, caution, said)


def test_the_list_of_what_is_said_is_of_cautions():
    assert set(SAYS) <= set(cautions())


def test_the_pins_come_after_the_wire_ends_and_the_recovery():
    """Rule 19: the safe way before the dangerous one inside a step."""
    said = texts("en", "steps")["step.confirm-ground"]["text"]
    assert said.index("wire ends first") < said.index("pins only after the charge is recovered")
    said = texts("en", "steps")["step.reread-windings-at-pins"]["text"]
    assert said.index("recover the charge first") < said.index("clean bare terminals")


def test_one_wait_has_one_end():
    """Rule 18: a hot shell or motor is waited for below 120 °F (49 °C), in every text that names the wait."""
    for language in LANGUAGES:
        for folder in ("steps", "holds", "findings", "missing", "taking"):
            for code, entry in texts(language, folder).items():
                for degrees in re.findall(r"(\d+) °F \((\d+) °C\)", str(entry)):
                    if degrees[0] in ("115", "120", "125", "130"):
                        assert degrees == ("120", "49"), (language, folder, code)


def test_the_power_states_are_the_ones_of_the_trade():
    """29 CFR 1910.333(b): off is locked out; power stands in capitals."""
    said = texts("en", "report")
    assert said["power.off"] == "POWER OFF, LOCKED OUT"
    assert all(said[f"power.{power}"].isupper() for power in ("off", "on", "either"))
