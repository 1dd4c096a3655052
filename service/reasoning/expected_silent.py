"""Why nothing, or only a part, is said of what a sound unit would read: what is missing or was not simulated."""

from collections.abc import Callable

from service.checks.refrigerant.before_port import is_throttled
from service.checks.refrigerant.refrigerant_doubts import is_doubted
from service.checks.refrigerant.running_state import running_state
from service.reasoning.expected_cool import is_cool
from service.results.cycle import CycleInputs, CycleVerdict
from service.results.finding import Assumption, Finding, Missing, State
from service.results.quantity import Quantity
from service.results.visit import Visit
from service.verdicts.report import Checked, report

OUTDOOR = "/air/outdoor_dry_bulb"
# What no simulated unit is: variant, what says so, and whether it is so. In the order in which it is told.
UNLIKE: tuple[tuple[str, str, Callable[[Visit], bool]], ...] = (
    ("heating", "/equipment/mode", lambda visit: visit.equipment.mode == "heating"),
    ("inverter", "/equipment/compressor/drive", lambda visit: visit.equipment.compressor.drive == "inverter"),
    (
        "metering-outdoors",
        "/equipment/metering_location",
        lambda visit: visit.equipment.metering_location == "outdoor",
    ),
    ("part-load", "/running/unloaded", lambda visit: bool(visit.running.unloaded)),
    ("part-load", "/running/stage", lambda visit: visit.running.stage == 1 and (visit.equipment.stages or 1) > 1),
)
SILENT = {"not_modelled": "not-modelled", "transient": "starting"}


def why_not_told(visit: Visit, inputs: CycleInputs | None, verdict: CycleVerdict | None) -> Checked:
    """What is missing, what was extrapolated, or why the model does not speak; never nothing without a reason."""
    missing = _missing(visit)
    if verdict is not None and inputs is not None and verdict.expected:
        return Checked(missing=missing)
    if verdict is not None and inputs is not None and is_cool(inputs):
        cool = Quantity(inputs.conditions.outdoor_dry_bulb, "temperature")
        return Checked(
            missing=missing, assumptions=(Assumption("assumption.expected-cool", OUTDOOR, {"air": cool}),)
        )
    found = _unlike(visit, inputs, verdict)
    return Checked((found,) if found is not None else (), missing)


def _missing(visit: Visit) -> tuple[Missing, ...]:
    """What the model needs, and what makes it sharper."""
    equipment, air = visit.equipment, visit.air
    needed = {
        "/equipment/refrigerant": equipment.refrigerant_named,
        OUTDOOR: air.outdoor_dry_bulb,
        "/air/return_dry_bulb": air.return_dry_bulb,
    }
    sharper = {
        "/air/return_wet_bulb": air.return_wet_bulb or air.return_relative_humidity,
        "/equipment/metering_device": equipment.metering_device,
    }
    return (
        *(Missing(pointer, "missing.cycle") for pointer, value in needed.items() if value is None),
        *(Missing(pointer, "missing.cycle-sharper") for pointer, value in sharper.items() if value is None),
    )


def _unlike(visit: Visit, inputs: CycleInputs | None, verdict: CycleVerdict | None) -> Finding | None:
    for variant, pointer, applies in UNLIKE:
        if applies(visit):
            return _told(variant, pointer)
    if verdict is not None:
        if verdict.state in SILENT:
            return _told(SILENT[verdict.state], _PLACE[verdict.state])
        return _told("weather", OUTDOOR)
    name = "refrigerant" if visit.equipment.refrigerant else "nameplate_refrigerant"
    if inputs is None and getattr(visit.equipment, name) and _all_read(visit):
        doubted = is_throttled(visit) or is_doubted(visit, running_state(visit))
        return _told("doubted" if doubted else "not-modelled", f"/equipment/{name}")
    return None


_PLACE = {"not_modelled": "/equipment/refrigerant", "transient": "/running/minutes_running"}


def _all_read(visit: Visit) -> bool:
    return visit.air.outdoor_dry_bulb is not None and visit.air.return_dry_bulb is not None


def _told(variant: str, pointer: str) -> Finding:
    return report("expected.not-told", State.NOT_APPLICABLE, (pointer,), variant=variant)
