"""The one function that the rest of the service calls."""

from collections.abc import Mapping

from service.knowledge.cycle_model import CLASSES, load_tables
from service.knowledge.cycle_priors import cycle_priors
from service.reasoning.cycle import gate
from service.reasoning.cycle.case import deviations, group_of, kinds_of, left_out, prepare
from service.reasoning.cycle.evidence import evidence
from service.reasoning.cycle.forecast import sound_readings
from service.reasoning.cycle.lead import lead_fault
from service.reasoning.cycle.next_readings import next_readings
from service.reasoning.cycle.posterior import cause_probabilities, pair_probabilities
from service.reasoning.cycle.states import state_of
from service.results.cycle import CycleInputs, CycleVerdict, Range


def judge_cycle(inputs: CycleInputs) -> CycleVerdict:
    """Judge the readings of a running unit.

    Parameters: inputs, SI throughout. Returns a verdict whose state says whether it may be relied on: steady;
    slight (a fault too small to name, or none for certain); out_of_population (no simulated unit reads like this);
    no_readings (only prior, expectations and what to read); transient, out_of_conditions, not_modelled (silent).
    Raises nothing for readings that are merely strange.
    """
    silent = gate.refusal(inputs)
    if silent is not None:
        return CycleVerdict(silent)
    case = prepare(inputs)
    causes = cause_probabilities(case.posterior.classes)
    instruments = deviations(case)
    fault = lead_fault(case, causes, instruments)
    expected = _known(sound_readings(case.sharpened, case.taken, instruments), inputs)
    return CycleVerdict(
        state=state_of(case, causes, fault),
        probabilities=tuple(causes),
        pairs=pair_probabilities(case.posterior.classes),
        log_likelihoods=dict(zip(CLASSES, map(float, case.posterior.log_likelihood), strict=True)),
        evidence=evidence(case, causes, expected),
        expected=expected,
        after_repair=_known(fault.repaired, inputs),
        severity=fault.severity,
        loss=fault.loss,
        next_readings=next_readings(case, instruments),
        assumptions=gate.assumptions(inputs),
        model=_model(inputs),
        prior_version=cycle_priors().version,
    )


def _known(found: Mapping[str, Range], inputs: CycleInputs) -> dict[str, Range]:
    return {name: span for name, span in found.items() if name not in left_out(inputs)}


def _model(inputs: CycleInputs) -> tuple[str, ...]:
    found = [load_tables(group_of(inputs), kind) for kind in kinds_of(inputs)]
    return tuple(f"simulated {table.refrigerant} {table.metering}, seed {table.seed}" for table in found)
