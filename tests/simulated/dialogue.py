"""Visits in which the technician takes what the answer asks for, up to four readings, against a fixed order.

A reading of the cycle comes from the simulated visit. The outdoor coil looks dirty where it is blocked
(``SEEN``). Anything else that is asked for comes out as it does at a unit without that other fault
(``OTHERWISE``); what is not listed there is not read and costs its minutes.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from service.results.answer import Answer

ASKED = 4
DECIDED = ("sound", "fault")
FIRST = (
    "suction_saturation_temperature",
    "liquid_saturation_temperature",
    "suction_line_temperature",
    "liquid_line_temperature",
)
# Pointers of answers by the readings of the simulated visit that they bring.
BRINGS = {
    "/running/discharge_line_temperature": ("discharge_line_temperature",),
    "/air/supply_dry_bulb": ("supply_dry_bulb",),
    "/air/supply_wet_bulb": ("supply_wet_bulb",),
    "/air/condenser_leaving_dry_bulb": ("condenser_leaving_dry_bulb",),
    "/air/airflow": ("airflow_ratio",),
    "/electrical/currents/compressor_amps": ("compressor_amps_ratio",),
    "/running/drier_inlet_temperature": ("drier_temperature_drop",),
    "/running/drier_outlet_temperature": ("drier_temperature_drop",),
    "/standing/pressure": ("standing_saturation_excess",),
    "/equipment/target_subcooling": ("target_subcooling",),
    "/equipment/target_superheat": ("target_superheat",),
}
OTHERWISE: dict[str, tuple[tuple[str, ...], Any]] = {
    "/electrical/contactor/drop_volts_pole1": (("electrical", "contactor", "drop_volts_pole1"), 0.05),
    "/electrical/supply/idle_volts": (("electrical", "supply", "idle_volts"), 240.0),
    "/electrical/control/secondary_volts": (("electrical", "control", "secondary_volts"), 26.0),
    "/inspection/filter_dirty": (("inspection", "filter_dirty"), False),
    "/electrical/control/float_switch": (("electrical", "control", "float_switch"), "closed"),
}
SEEN = {"/inspection/outdoor_coil_dirty": (("inspection", "outdoor_coil_dirty"), "outdoor_coil_blocked")}
# The same minutes a fixed order would take; common practice, no source.
FIXED = (
    ("/air/supply_dry_bulb", 3.0),
    ("/running/discharge_line_temperature", 2.0),
    ("/electrical/currents/compressor_amps", 3.0),
    ("/air/supply_wet_bulb", 2.0),
)


@dataclass
class Talk:
    """State of the outcome, leading cause, its share and minutes after 0, 1 .. 4 readings; what was asked for."""

    states: list[str] = field(default_factory=list)
    causes: list[str] = field(default_factory=list)
    shares: list[float] = field(default_factory=list)
    minutes: list[float] = field(default_factory=list)
    asked: list[str] = field(default_factory=list)
    taken: tuple[str, ...] = FIRST
    others: dict[tuple[str, ...], Any] = field(default_factory=dict)
    spent: float = 0.0

    @property
    def first_decided(self) -> int:
        """The first turn after which the outcome is sound or fault; the last one where none is."""
        return next((at for at, state in enumerate(self.states) if state in DECIDED), len(self.states) - 1)


Judge = Callable[[Iterable[dict[str, Any]]], list[Answer]]
Write = Callable[[tuple[str, ...]], dict[str, Any]]


def talks(judge: Judge, visits: Sequence[tuple[Write, str]], *, fixed: bool = False) -> list[Talk]:
    """Follow visits turn by turn. visits: writer of the document with some readings taken, and the true cause."""
    found = [Talk() for _ in visits]
    for turn in range(ASKED + 1):
        pairs = list(zip(found, visits, strict=True))
        answers = judge([_with(write(one.taken), one.others) for one, (write, _) in pairs])
        for (one, (_, cause)), answer in zip(pairs, answers, strict=True):
            one.states.append(answer.outcome.state if answer.outcome is not None else "")
            one.causes.append(answer.causes[0].code)
            one.shares.append(answer.causes[0].probability)
            one.minutes.append(one.spent)
            wanted = FIXED[turn : turn + 1] if fixed else _first_open(answer, one.asked)
            if wanted and turn < ASKED:
                _read(one, *wanted[0], cause)
    return found


def _read(one: Talk, pointer: str, minutes: float, cause: str) -> None:
    one.asked.append(pointer)
    one.spent += minutes
    one.taken = (*one.taken, *(name for name in BRINGS.get(pointer, ()) if name not in one.taken))
    if pointer in OTHERWISE:
        path, value = OTHERWISE[pointer]
        one.others[path] = value
    if pointer in SEEN:
        path, shown_by = SEEN[pointer]
        one.others[path] = cause == shown_by


def _first_open(answer: Answer, asked: list[str]) -> list[tuple[str, float]]:
    found = [(item.pointer, float(item.minutes)) for item in answer.next_readings]
    return [one for one in found if one[0] not in asked][:1]


def _with(document: dict[str, Any], others: dict[tuple[str, ...], Any]) -> dict[str, Any]:
    for path, value in others.items():
        place = document
        for name in path[:-1]:
            place = place.setdefault(name, {})
        place[path[-1]] = value
    return document
