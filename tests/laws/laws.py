"""One function a law: document and answer in, a line for each break out (the laws: judgement, one case)."""

import re
from collections.abc import Callable
from typing import Any

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import steps as step_rows
from service.knowledge.limits import limit
from tests.golden_visits import PERMISSIONS, covers, needed_parts, readings, sold
from tests.laws.answers import (
    MENDS,
    OPEN,
    READINGS,
    RUNNING_SET,
    SENTENCES,
    TAKEN_BY,
    Body,
    Document,
    codes,
    failing,
    in_doubt,
    is_settled,
    posted,
    repairs,
)
from tests.laws.asked import nothing_is_asked_that_the_unit_cannot_have
from tests.laws.heating import no_check_of_cooling_judges_a_unit_that_heats
from tests.laws.order import (
    a_safe_area_comes_first,
    everybody_out_is_all,
    ice_goes_before_gauges,
    nobody_reads_no_fault_beside_keep_off,
    nothing_is_found_while_readings_conflict,
    one_fault_is_named,
    what_cannot_run_is_not_told_to_run,
    what_conflicts_is_read_again_first,
    what_is_told_sound_is_likely_sound,
)
from tests.laws.parts import unproven
from tests.laws.signs import what_was_seen_does_not_hide_what_it_cannot_explain

STOPS = re.compile(
    r"\b(shut it (off|down)|(keep|leave) (it|the unit) off|do not (energise|run it|start)|stop the compressor"
    r"|burns (its|the|oil)\b|charge is gone|lost its charge|thaw it)\b",
    re.I,
)
SURE = 0.9
SAFETY_STAGES = 2
DANGERS = {"burnt_smell", "breaker_trips", "refrigerant_smell_or_hiss"}
MOVED_BY = {"charge.undercharged": "add", "charge.overcharged": "remove"}
# What only adds; a charge that is recovered whole and weighed in anew is another matter.
ADDING = {"step.repair-leak-and-weigh-in", "step.weigh-in-line-charge"}


def nothing_posted_is_asked_again(document: Document, body: Body) -> list[str]:
    """Law 1. Exempt: doubtful readings, those of a unit not yet settled, the proof of dead."""
    there = set(posted(document)) - in_doubt(body)
    if not is_settled(document, body):
        there = {pointer for pointer in there if not pointer.startswith(("/running", "/air"))}
    there = {pointer for pointer in there if not pointer.startswith(("/isolation", "/electrical/run_capacitors"))}
    asked = [f"asks again for {pointer}" for pointer in readings(body) if pointer in there]
    ordered = [
        f"orders {code}, which was posted"
        for code in codes(body["next_steps"])
        if code in TAKEN_BY and there.issuperset(TAKEN_BY[code]) and not _acts(code, body)
    ]
    return asked + ordered


def _acts(code: str, body: Body) -> bool:
    """A step that also mends what its reading found wrong."""
    mends = MENDS.get(code)
    return mends is not None and mends in codes(failing(body))


def a_fault_needs_a_firm_failed_check(document: Document, body: Body) -> list[str]:
    """Law 2. Disagreements of readings are none; the cycle model's verdict is one."""
    if body["outcome"]["state"] != "fault":
        return []
    firm = [
        item["code"]
        for item in failing(body)
        if item["confidence"] == "firm" and not item["code"].startswith("readings.")
    ]
    if not firm:
        return [f"a fault on {codes(failing(body, *OPEN)) or 'nothing'}"]
    strangers = [
        item["finding"] for item in body["outcome"]["found"] if item["finding"] not in codes(failing(body))
    ]
    return [f"found {code}, which did not fail" for code in strangers]


def a_fault_has_its_step(document: Document, body: Body) -> list[str]:
    """Law 3, first half: a step that comes from what was found, and a summary that does not deny it."""
    outcome, steps = body["outcome"], body["next_steps"]
    if outcome["state"] != "fault":
        return []
    lines = []
    grounds = {*codes(failing(body, *OPEN)), *codes(body["holds"]), outcome["lead_cause"]}
    if not any(grounds.intersection(step["why"]) for step in steps):
        lines.append(f"a fault ({sorted(grounds)}) without a step of its own: {codes(steps)}")
    if any(SENTENCES[name] in outcome["summary"] for name in ("note.nothing-yet", "note.not-established")):
        lines.append(f"a fault whose summary says: {outcome['summary']}")
    return lines


def proof_comes_before_repair(document: Document, body: Body) -> list[str]:
    """Law 3, second half: what confirms a cause stands before what repairs it; what is likely is proved first."""
    lines = []
    for cause in body["causes"]:
        mended = repairs(body, cause["code"])
        tested = [place for place, step in enumerate(body["next_steps"]) if step["code"] in cause["confirm_by"]]
        if mended and tested and min(mended) < max(tested):
            late = body["next_steps"][max(tested)]["code"]
            lines.append(f"{body['next_steps'][min(mended)]['code']} before its proof {late}")
    return lines + _suspicion_before_the_lead(body)


def _suspicion_before_the_lead(body: Body) -> list[str]:
    lead, others = body["causes"][0], {cause["code"] for cause in body["causes"][1:]}
    if lead["probability"] < SURE or cause_rows()[lead["code"]].sound:
        return []
    for step in body["next_steps"]:
        why = set(step["why"])
        if lead["code"] in why or step_rows()[step["code"]].stage <= SAFETY_STAGES:
            return []
        if why and why <= others:
            return [f"{step['code']} chases {sorted(why)} before {lead['code']} ({lead['probability']})"]
    return []


def stop_is_stop_everywhere(document: Document, body: Body) -> list[str]:
    """Law 4: permission, summary, customer's words, steps and findings agree; nothing read is unknown."""
    outcome = body["outcome"]
    permission, runs = outcome["run_permission"], outcome["run_permission"].startswith("may_run")
    lines = []
    if runs and not any(document.get(part) for part in READINGS):
        lines.append(f"nothing read, and the permission is {permission}")
    reported = DANGERS.intersection(document.get("complaint", {}).get("symptoms", []))
    if permission != "keep_off" and reported and not any(document.get(part) for part in READINGS):
        lines.append(f"reported {sorted(reported)}, and the permission is {permission}")
    if runs:
        lines += [
            f"{permission}, and {item['code']} says: {item['detail']}"
            for item in failing(body, *OPEN)
            if STOPS.search(item["detail"])
        ]
    others = [name for name in PERMISSIONS if name != permission]
    lines += [
        f"{permission}, and {note} says: {SENTENCES[f'{key}.{other}']}"
        for note, key in (("summary", "summary"), ("customer_note", "customer"))
        for other in others
        if SENTENCES[f"{key}.{other}"] in outcome[note].replace(SENTENCES[f"{key}.{permission}"], "")
    ]
    return lines + _powered_under_a_hold(body)


def _powered_under_a_hold(body: Body) -> list[str]:
    if not set(codes(body["holds"])) - {"hold.readings-contradict"}:
        return []
    return [f"power on under a hold: {step['code']}" for step in body["next_steps"] if step["power"] == "on"]


def one_share_a_cause(document: Document, body: Body) -> list[str]:
    """Law 5: shares descend, sum to 1, none is 1, no text says another; from 90 % on a reading confirms."""
    shares = {cause["code"]: cause["probability"] for cause in body["causes"]}
    lines = []
    if len(shares) != len(body["causes"]):
        lines.append("a cause stands twice")
    if list(shares.values()) != sorted(shares.values(), reverse=True) or abs(sum(shares.values()) - 1) > 0.01:
        lines.append(f"shares {shares}")
    if max(shares.values()) >= 1:
        lines.append(f"a share of 1: {shares}")
    if max(shares.values()) >= SURE:
        lines += [
            f"at {max(shares.values())} {item['pointer']} asks as if the question were open"
            for item in body["next_readings"]
            if item.get("purpose") == "tell_apart"
        ]
    return lines + _other_shares(body)


def simulated_units_alone_are_capped(document: Document, body: Body) -> list[str]:
    """Law 5: no cause that rests on simulated units alone gets more than such answers were right at."""
    most = limit("simulated.most-share").value
    return [
        f"{cause['code']} has {cause['probability']} by simulated units alone"
        for cause in body["causes"]
        if cause["rests_on"] == "simulated_units" and cause["probability"] > most + 1e-4
    ]


def _other_shares(body: Body) -> list[str]:
    texts = [item["detail"] for item in body["findings"]]
    texts += [body["outcome"]["summary"]] if "outcome" in body else []
    lines = []
    for cause in body["causes"]:
        said = re.compile(re.escape(cause["title"]) + r"(?: leads with| leads at| \()\s?(\d+) ?%")
        for text in texts:
            for percent in said.findall(text):
                if abs(int(percent) - 100 * cause["probability"]) > 1:
                    lines.append(f"{cause['code']} is {cause['probability']} and in words {percent} %")
    return lines


def contradicted_readings_carry_nothing(document: Document, body: Body) -> list[str]:
    """Law 6: what rests on them judges nothing, gives no direction, no headline; floodback is never cleared."""
    if "hold.readings-contradict" not in codes(body["holds"]):
        return []
    blamed = {
        pointer
        for item in failing(body)
        if item["code"].startswith("readings.")
        for pointer in item["evidence"]
        if pointer.startswith(("/running", "/air", "/electrical"))
    }
    lines = [
        f"{item['code']} is {item['state']} on contradicted {sorted(blamed.intersection(item['evidence']))}"
        for item in failing(body, *OPEN)
        if blamed.intersection(item["evidence"])
        and not item["code"].startswith(
            ("readings.", "pressure.high-side", "refrigerant.fits", "cycle.", "running.floodback")
        )
    ]
    lines += [
        f"{item['code']} was not judged and has the headline {item['headline']}"
        for item in failing(body, "undecided")
        if "contradict" in item["detail"] and item.get("headline")
    ]
    charge = body["computed"].get("charge", {})
    gauges = {pointer for pointer in blamed if pointer in RUNNING_SET[:4]}
    if gauges and charge.get("direction", "none") != "none":
        lines.append(f"{charge['direction']} on contradicted {sorted(gauges)}")
    return lines


def no_part_without_its_proof(document: Document, body: Body) -> list[str]:
    """Law 7: a part is needed by its own failed test or a proven repair's list, and only where the unit has it."""
    return unproven(document, body, needed_parts(body), sold(body))


def no_charge_is_moved_while_something_else_leads(document: Document, body: Body) -> list[str]:
    """Law 8: no direction of charge but the leading cause's, and nothing is added while the head is high.

    It holds in every object: the charge, its findings and the steps. A cause that nothing read speaks for leads by
    its prior alone and gives way to a published tolerance.
    """
    charge, lead = body["computed"].get("charge", {}), body["causes"][0]
    asked = cause_rows()[lead["code"]].charge
    read = bool(lead["supported_by"]) or cause_rows()[lead["code"]].sound
    moved = {charge.get("direction", "none")} - {"none"}
    moved |= {MOVED_BY[item["code"]] for item in failing(body) if item["code"] in MOVED_BY}
    lines = [
        f"{word}, and {lead['code']} leads with {lead['probability']}" for word in moved if read and word != asked
    ]
    if "running.condensing-high" in codes(failing(body)):
        adding = [*ADDING.intersection(codes(body["next_steps"])), *moved.intersection({"add"})]
        lines += [f"{word} while the head is high" for word in adding]
    return lines


def a_sound_set_is_sound(document: Document, body: Body) -> list[str]:
    """Law 9: on target in every check it is sound; sound is not asked for anything again."""
    outcome = body["outcome"]
    lines = []
    if outcome["state"] == "sound":
        lines += [f"sound, and next comes {code}" for code in codes(body["next_steps"])]
        lines += [f"sound, and asked for {pointer}" for pointer in readings(body)]
    if _whole_set_on_target(document, body) and outcome["state"] != "sound":
        lines.append(f"the full set is on target and the state is {outcome['state']}")
    return lines


def _whole_set_on_target(document: Document, body: Body) -> bool:
    there = set(posted(document))
    full = there.issuperset(RUNNING_SET) and covers("/air/return_wet_bulb", there) and is_settled(document, body)
    open_items = [
        item
        for item in failing(body, "fail", "review", "undecided")
        if item["severity"] != "info" and not item["code"].startswith(("cycle.", "complaint."))
    ]
    # A target met within the instruments' accuracy alone leaves room for what all readings together say.
    passed = {item["code"] for item in failing(body, "pass") if item["confidence"] == "firm"}
    return full and not open_items and {"charge.correct", "air.split-normal"} <= passed and _only_cooling(document)


def _only_cooling(document: Document) -> bool:
    asked = set(document.get("complaint", {}).get("symptoms", []))
    return asked <= {"poor_cooling", "runs_constantly", "high_bill"}


Law = Callable[[Any, Any], list[str]]
LAWS: dict[str, Law] = {
    "1 nothing posted and firm is asked for again": nothing_posted_is_asked_again,
    "2 a fault needs a firm failed check": a_fault_needs_a_firm_failed_check,
    "3 a fault has its step": a_fault_has_its_step,
    "3 proof comes before repair": proof_comes_before_repair,
    "4 stop is stop everywhere": stop_is_stop_everywhere,
    "5 one share a cause": one_share_a_cause,
    "5 simulated units alone are capped": simulated_units_alone_are_capped,
    "6 contradicted readings carry nothing": contradicted_readings_carry_nothing,
    "7 no part without its proof": no_part_without_its_proof,
    "8 no charge is moved while something else leads": no_charge_is_moved_while_something_else_leads,
    "9 a sound set is sound": a_sound_set_is_sound,
    "everybody out is all": everybody_out_is_all,
    "a safe area comes first": a_safe_area_comes_first,
    "ice goes before gauges": ice_goes_before_gauges,
    "one fault is named": one_fault_is_named,
    "keep off stands beside no word that nothing was found": nobody_reads_no_fault_beside_keep_off,
    "nothing is found while readings conflict": nothing_is_found_while_readings_conflict,
    "what cannot run is not told to run": what_cannot_run_is_not_told_to_run,
    "9 what is told sound is likely sound": what_is_told_sound_is_likely_sound,
    "what was seen does not hide what it cannot explain": what_was_seen_does_not_hide_what_it_cannot_explain,
    "what conflicts is read again first": what_conflicts_is_read_again_first,
    "11 nothing is asked that the unit cannot have": nothing_is_asked_that_the_unit_cannot_have,
    "no check of cooling judges a unit that heats": no_check_of_cooling_judges_a_unit_that_heats,
}
