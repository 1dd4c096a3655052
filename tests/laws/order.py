"""Laws of what an answer says first: the way out, a safe area, a coil free of ice, one fault, and nothing found
while readings conflict. Source of the trade's facts in them: common practice, no source.
"""

from service.knowledge.readings import reading_rows
from tests.golden_visits import readings, sold
from tests.laws.answers import SENTENCES, Body, Document, codes, says_conflict

EVERYBODY_OUT = "hold.fuel-gas"
WAY_OUT = "step.leave-fuel-gas"
ON_GAUGES = {"step.leak-search", "step.repair-leak-and-weigh-in", "step.recover-excess", "step.charge-by-weight"}
LIKELY = 0.6
CANNOT_RUN = {
    "contactor.pulls-in": ("fail", "undecided"),
    "contactor.open-pole": ("fail",),
    "control.path-to-coil": ("fail", "undecided"),
    "drive.bus": ("fail",),
    "windings.common-open": ("fail", "undecided"),
    "windings.phase-open": ("fail", "undecided"),
}


def everybody_out_is_all(document: Document, body: Body) -> list[str]:
    """Where everybody has to get out nothing else is done, read, sold or advised."""
    if EVERYBODY_OUT not in codes(body["holds"]):
        return []
    others = [f"orders {code}" for code in codes(body["next_steps"]) if code != WAY_OUT]
    others += [f"asks for {pointer}" for pointer in readings(body)]
    others += [f"sells {code}" for code in sorted(sold(body))]
    told = body["outcome"]["customer_note"]
    return others + ([] if "911" in told and "problem" not in told else [f"tells the customer: {told}"])


def a_safe_area_comes_first(document: Document, body: Body) -> list[str]:
    """A disconnect may spark: a flammable leak is ventilated before power is switched off."""
    order = codes(body["next_steps"])
    if "step.make-area-safe" not in order or "step.prove-dead" not in order:
        return []
    late = order.index("step.make-area-safe") > order.index("step.prove-dead")
    return ["the area is made safe after the disconnect"] if late else []


def ice_goes_before_gauges(document: Document, body: Body) -> list[str]:
    """An iced coil has no airflow: no charge is moved and no leak searched on what was read through it."""
    iced = any(item["code"] == "inspection.ice-on-coil" and item["state"] == "review" for item in body["findings"])
    order = codes(body["next_steps"])
    if not iced or "step.thaw-coil" not in order:
        return []
    thaw = order.index("step.thaw-coil")
    return [f"{code} before the thaw" for code in order[:thaw] if code in ON_GAUGES]


def one_fault_is_named(document: Document, body: Body) -> list[str]:
    """All running readings together name no other fault than the one that leads."""
    lead = body["causes"][0]
    if lead["probability"] < LIKELY:
        return []
    together = [item for item in body["findings"] if item["code"] == "cycle.like-a-sound-unit"]
    named = [
        item
        for item in together
        if item["state"] == "fail" and lead["title"].casefold() not in item["detail"].casefold()
    ]
    return [f"{lead['title']} leads, and: {item['detail']}" for item in named]


def nothing_is_found_while_readings_conflict(document: Document, body: Body) -> list[str]:
    """Whoever has to repeat readings has not told the customer yet that the problem was found."""
    undecided = body["outcome"]["state"] == "undecided" and "hold.readings-contradict" in codes(body["holds"])
    told = body["outcome"]["customer_note"]
    return [f"tells the customer: {told}"] if undecided and "We found the problem" in told else []


def what_cannot_run_is_not_told_to_run(document: Document, body: Body) -> list[str]:
    """A compressor that is not switched on, or open, is not told that it may run, unless it was read turning."""
    if document.get("electrical", {}).get("currents", {}).get("compressor_amps") or "running" in document:
        return []
    stands = [item["code"] for item in body["findings"] if item["state"] in CANNOT_RUN.get(item["code"], ())]
    permission = body["outcome"]["run_permission"]
    return [f"{code}, and {permission}" for code in stands if permission.startswith("may_run")]


SOUND_FROM = 0.7  # tests/simulated/RESULTS.md, what it costs to say sound: chosen


def what_is_told_sound_is_likely_sound(document: Document, body: Body) -> list[str]:
    """State and chance agree: a unit that is told sound leads with no fault, at the share chosen for saying so."""
    lead = body["causes"][0]
    if body["outcome"]["state"] != "sound" or (
        lead["code"] == "cause.none-found" and lead["probability"] >= SOUND_FROM
    ):
        return []
    return [f"told sound, and {lead['code']} leads with {lead['probability']}"]


AT_THE_UNIT = ("/running/", "/air/", "/standing/", "/start_up/", "/electrical/")
CONFLICT = "hold.readings-contradict"


def what_conflicts_is_read_again_first(document: Document, body: Body) -> list[str]:
    """Whatever finding says that readings contradict each other, the first next reading is one of those it names;
    the proof that power is off goes before, and so does a reading not yet taken that settles what they left open.
    Where the unit has to stay off, nothing is read with power on."""
    named = {
        pointer
        for item in body["findings"]
        if says_conflict(item)
        for pointer in item["evidence"]
        if pointer.startswith(AT_THE_UNIT)
    }
    asked = [item["pointer"] for item in body["next_readings"] if item.get("purpose") != "make_safe"]
    off = body["outcome"]["run_permission"] == "keep_off" or set(codes(body["holds"])) - {CONFLICT}
    if not named or (off and not any(_is_named(pointer, named) for pointer in asked)):
        return []
    again = [pointer for pointer in asked if pointer not in _telling(body)]
    if not again or not _is_named(again[0], named):
        return [f"{sorted(named)} contradict each other, and {asked[:1] or 'nothing'} is read first"]
    return []


def _telling(body: Body) -> set[str]:
    """Readings that settle a finding which is open, as the rows of the readings say."""
    left = {item["code"] for item in body["findings"] if item["state"] == "undecided"}
    return {pointer for row in reading_rows().values() if left & row.settles.keys() for pointer in row.pointers}


def nobody_reads_no_fault_beside_keep_off(document: Document, body: Body) -> list[str]:
    """Stop is stop everywhere: beside a hold, or a word to keep it off, no text says that no fault was found."""
    said = SENTENCES["note.nothing-yet"]
    outcome = body["outcome"]
    if outcome["run_permission"] != "keep_off" and not body["holds"]:
        return []
    return [f"{name}: {outcome[name]}" for name in ("summary", "technician_note") if said in outcome[name]]


def _is_named(pointer: str, named: set[str]) -> bool:
    return any(one == pointer or one.startswith(f"{pointer}/") for one in named)
