"""The cycle model's verdict as a finding and as assumptions of the answer."""

from functools import cache

from service.knowledge.catalogues import causes as cause_rows
from service.knowledge.catalogues import findings as finding_rows
from service.knowledge.limits import limit
from service.reasoning.cycle_pointers import POINTERS, pointers_of
from service.reasoning.cycle_weighing import cause_of
from service.results.cycle import CycleInputs, CycleVerdict
from service.results.finding import Assumption, Finding, State, Value
from service.verdicts.report import Checked, report

SOUND = "none_found"
SILENT = ("transient", "out_of_conditions", "not_modelled")
REPLACED_BY = {
    "figures_simulated": "/baseline",
    "neighboring_refrigerant": "/equipment/refrigerant",
    "metering_unknown": "/equipment/metering_device",
    "metering_taken_alike": "/equipment/metering_device",
    "efficiency_class_unknown": "/equipment/efficiency_class",
    "humidity_unknown": "/air/return_wet_bulb",
    "steady_operation_assumed": "/running/minutes_running",
    "voltage_unknown": "/electrical/supply/running_volts",
    "ordinary_instruments": "/instruments",
    "baseline_not_used": "/baseline",
    "printed_normals_not_used": "/printed_normals",
}


def check_cycle(inputs: CycleInputs | None, verdict: CycleVerdict | None) -> Checked:
    """What the model says of the running readings together; nothing where it was not asked or had no readings."""
    if inputs is None or verdict is None:
        return Checked()
    evidence = taken(inputs)
    if not evidence or verdict.state == "no_readings":
        return Checked()
    return Checked((_finding(verdict, evidence),), assumptions=(*_left_out(verdict), *_assumptions(verdict)))


def taken(inputs: CycleInputs) -> tuple[str, ...]:
    """Pointers of the readings that were weighed."""
    names = [name for name in POINTERS if getattr(inputs.readings, name) is not None]
    return tuple(pointer for name in names for pointer in POINTERS[name] if not pointer.startswith("/equipment"))


@cache
def _code() -> str:
    return next(row.code for row in finding_rows().values() if row.together)


def _finding(verdict: CycleVerdict, evidence: tuple[str, ...]) -> Finding:
    if verdict.state in SILENT:
        return report(_code(), State.NOT_APPLICABLE, evidence, variant=verdict.state.replace("_", "-"))
    if verdict.state == "out_of_population" or _condemns_in_spite(verdict):
        return report(_code(), State.UNDECIDED, evidence, variant="out-of-population")
    leading, share = verdict.probabilities[0]
    values: dict[str, Value] = {"cause": cause_of(leading)}
    return report(_code(), _state(verdict.state, leading, share), evidence, values=values)


def _condemns_in_spite(verdict: CycleVerdict) -> bool:
    """Whether the other readings would condemn a compressor now that one that fits nothing is left out.

    All of them together are no unit's: it is read again first.
    """
    leading = verdict.probabilities[0][0]
    return bool(verdict.left_out) and leading != SOUND and cause_rows()[cause_of(leading)].condemns


def _state(state: str, leading: str, share: float) -> State:
    if state == "slight":
        return State.REVIEW
    if leading == SOUND:
        return State.PASS
    return State.FAIL if share >= limit("reasoning.established").value else State.UNDECIDED


def _left_out(verdict: CycleVerdict) -> tuple[Assumption, ...]:
    """Readings that fit nothing together with the others: each is to be read again."""
    return tuple(
        Assumption("assumption.cycle-reading-left-out", pointers_of(name)[0]) for name in verdict.left_out
    )


def _assumptions(verdict: CycleVerdict) -> tuple[Assumption, ...]:
    return tuple(
        Assumption(f"assumption.cycle-{code.replace('_', '-')}", REPLACED_BY[code]) for code in verdict.assumptions
    )
