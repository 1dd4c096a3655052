"""What the laws look at: documents and answers taken apart, with the trade's own lists of what a step reads."""

from collections.abc import Iterator, Mapping
from importlib import resources
from typing import Any

import yaml

from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.catalogues import holds as hold_rows

Document = Mapping[str, Any]
Body = Mapping[str, Any]

SENTENCES: dict[str, str] = yaml.safe_load(
    resources.files("service.words").joinpath("locales/en/sentences/sentences.yaml").read_text("utf-8")
)
READINGS = ("inspection", "electrical", "standing", "start_up", "running", "air", "isolation")
LEAVES = frozenset({"ohms", "megohms", "over_limit"})
RUNNING_SET = (
    "/running/suction_pressure",
    "/running/liquid_pressure",
    "/running/suction_line_temperature",
    "/running/liquid_line_temperature",
    "/air/outdoor_dry_bulb",
    "/air/return_dry_bulb",
    "/air/supply_dry_bulb",
)
# What each step reads, by the trade (common practice, no source), kept apart from what the rows say it yields.
TAKEN_BY = {
    "step.full-running-set": RUNNING_SET,
    "step.standing-test": ("/standing/pressure", "/standing/ambient_temperature", "/standing/indoor_temperature"),
    "step.pump-down-test": ("/running/pump_down_suction_pressure", "/running/pump_down_holds"),
    "step.measure-drier-drop": ("/running/drier_inlet_temperature", "/running/drier_outlet_temperature"),
    "step.measure-reversing-valve": (
        "/running/reversing_valve_suction_in_temperature",
        "/running/reversing_valve_suction_out_temperature",
    ),
    "step.inspect-outdoor-coil": ("/inspection/outdoor_coil_dirty",),
    "step.check-valve-bulb": ("/inspection/valve_bulb",),
    "step.acid-test": ("/inspection/acid_test",),
    "step.read-start": ("/electrical/supply/starting_volts", "/electrical/currents/compressor_starting_amps"),
    "step.read-contact-drop": ("/electrical/contactor/drop_volts_pole1", "/electrical/contactor/drop_volts_pole2"),
}
# A step that also mends: the finding that it acts on.
MENDS = {"step.check-valve-bulb": "inspection.valve-bulb"}
UNSETTLING = ("readings.", "charge.run-time", "refrigerant.fits-another")
OPEN = ("fail", "review")


def posted(document: Document, prefix: str = "") -> Iterator[str]:
    """Pointers of every reading in a document; a resistance is one reading, and so is a list of capacitors."""
    for name, value in document.items():
        pointer = f"{prefix}/{name}"
        if isinstance(value, Mapping) and not LEAVES.intersection(value):
            yield from posted(value, pointer)
        else:
            yield pointer


def failing(body: Body, *states: str) -> list[Mapping[str, Any]]:
    """Findings in one of these states (fail where none is named)."""
    return [item for item in body["findings"] if item["state"] in (states or ("fail",))]


def says_conflict(item: Mapping[str, Any]) -> bool:
    """Whether a finding says that its readings contradict each other: by the hold that its row raises too, so that
    one which forgets to name them as contradicted is caught."""
    row = finding_rows()[item["code"]]
    raised = row.raises.get(item["state"], ())
    return item["state"] in row.contradicts or any(hold_rows()[code].contradiction for code in raised)


def in_doubt(body: Body) -> set[str]:
    """Pointers that may be asked for again: contradicted, unsteady, of another refrigerant, on the edge, left out
    because they fit nothing together with the others."""
    doubtful = [
        item
        for item in body["findings"]
        if says_conflict(item)
        or (item["code"].startswith(UNSETTLING) and item["state"] != "pass")
        or (item["state"] in OPEN and item["confidence"] == "borderline")
        or (item["state"] == "undecided" and "contradict" in item["detail"])
    ]
    left_out = {
        item["pointer"] for item in body["assumptions"] if item["code"] == "assumption.cycle-reading-left-out"
    }
    return left_out | {pointer for item in doubtful for pointer in item["evidence"]}


def is_settled(document: Document, body: Body) -> bool:
    """Whether running readings were taken after fifteen minutes of running (RA3.2 (2008), page RA3-13)."""
    minutes = document.get("running", {}).get("minutes_running")
    return minutes is not None and minutes >= 15 and not document.get("repaired_at")


def codes(items: Any) -> list[str]:
    """The codes of a list, in its order."""
    return [item["code"] for item in items]


def repairs(body: Body, cause: str) -> list[int]:
    """Places of the steps that fit a part because of this cause."""
    return [
        place
        for place, step in enumerate(body["next_steps"])
        if step["parts"] and step["power"] == "off" and cause in step["why"]
    ]
