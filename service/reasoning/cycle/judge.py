"""The two functions that the rest of the service calls."""

from collections.abc import Mapping, Sequence
from functools import lru_cache

from service.knowledge.cycle_model import CLASSES, load_tables
from service.knowledge.cycle_priors import cycle_priors
from service.reasoning.cycle import gate
from service.reasoning.cycle.astray import to_leave_out
from service.reasoning.cycle.case import Cases, prepare
from service.reasoning.cycle.close import EXPECTATION, FAULT, look_closely
from service.reasoning.cycle.evidence import evidence, weights_of_readings
from service.reasoning.cycle.forecast import FORECAST, forecast, ranges
from service.reasoning.cycle.joint import SOUND_CLASS
from service.reasoning.cycle.lead import lead_fault
from service.reasoning.cycle.next_readings import next_readings
from service.reasoning.cycle.posterior import cause_probabilities, pair_probabilities
from service.reasoning.cycle.question import Question, question_of, without
from service.reasoning.cycle.states import state_of
from service.results.cycle import CycleInputs, CycleVerdict, Range

# Visits judged in one go: more gain nothing and take memory.
TOGETHER = 16
Placed = tuple[int, Question]
Alike = dict[object, list[Placed]]


def judge_cycle(inputs: CycleInputs) -> CycleVerdict:
    """Judge the readings of a running unit.

    Parameters: inputs, SI throughout. Returns a verdict whose state says whether it may be relied on: steady;
    slight (a fault too small to name, or none for certain); out_of_population (no simulated unit reads like this);
    no_readings (only prior, expectations and what to read); transient, out_of_conditions, not_modelled (silent).
    Raises nothing for readings that are merely strange.
    """
    return judge_cycles((inputs,))[0]


def judge_cycles(inputs: Sequence[CycleInputs]) -> tuple[CycleVerdict, ...]:
    """Judge many units, each by itself; see ``judge_cycle``.

    The verdicts are those of single calls. It is quicker where many visits read the same things at units of the
    same refrigerant, metering and efficiency class: those are judged by the same arithmetic.
    """
    found: dict[int, CycleVerdict] = {}
    alike: Alike = {}
    for at, one in enumerate(inputs):
        silent = gate.refusal(one)
        if silent is None:
            question = question_of(one)
            alike.setdefault(question.shape, []).append((at, question))
        else:
            found[at] = CycleVerdict(silent)
    while alike:
        again: Alike = {}
        for group in alike.values():
            for start in range(0, len(group), TOGETHER):
                _judge_group(group[start : start + TOGETHER], found, again)
        alike = again
    return tuple(found[at] for at in range(len(inputs)))


def _judge_group(group: Sequence[Placed], found: dict[int, CycleVerdict], again: Alike) -> None:
    """Judge questions of one shape; those with a reading that does not fit go to ``again``, without it."""
    cases = prepare([question for _, question in group])
    kept = []
    for row, (at, question) in enumerate(group):
        name = to_leave_out(cases.astray[row].tolist(), tuple(question.read.values), len(question.astray))
        if name is None:
            kept.append((at, question))
        else:
            left = without(question, name)
            again.setdefault(left.shape, []).append((at, left))
    if kept:
        questions = [question for _, question in kept]
        judged = _judged(cases if len(kept) == len(group) else prepare(questions))
        found |= zip((at for at, _ in kept), judged, strict=True)


def _judged(cases: Cases) -> list[CycleVerdict]:
    questions = cases.questions
    classes = cases.posterior.classes.tolist()
    ranked = [cause_probabilities(one) for one in classes]
    close = look_closely(cases, ranked)
    centre, spread = (found.tolist() for found in forecast(cases, close))
    logs, distances = cases.posterior.log_likelihood.tolist(), cases.distance.tolist()
    weights = weights_of_readings(cases, close, ranked)
    after = next_readings(cases)
    found = []
    for at, question in enumerate(questions):
        fault = lead_fault(question, ranked[at], centre[at][FAULT], spread[at][FAULT])
        sound = ranges(FORECAST, centre[at][EXPECTATION], spread[at][EXPECTATION], question.read.instruments)
        expected = _known(sound, question)
        state = state_of(cases.index.size, distances[at], classes[at][SOUND_CLASS], ranked[at], fault)
        found.append(
            CycleVerdict(
                state=state,
                probabilities=tuple(ranked[at]),
                pairs=pair_probabilities(classes[at]),
                log_likelihoods=dict(zip(CLASSES, logs[at], strict=True)),
                evidence=evidence(question, weights[at], expected),
                expected=expected,
                after_repair=_known(fault.repaired, question),
                severity=fault.severity,
                loss=fault.loss,
                next_readings=after[at],
                assumptions=gate.assumptions(question.inputs, bool(cases.known[at])),
                model=_model(question.group, question.kinds),
                prior_version=cycle_priors().version,
                left_out=question.astray,
                known_by=_known_by(question, bool(cases.known[at])),
            )
        )
    return found


def _known_by(question: Question, used: bool) -> str:
    baseline = question.inputs.baseline
    return baseline.kind if baseline is not None and used else ""


def _known(found: Mapping[str, Range], question: Question) -> dict[str, Range]:
    return {name: span for name, span in found.items() if name not in question.left_out}


@lru_cache
def _model(group: str, kinds: tuple[str, ...]) -> tuple[str, ...]:
    found = [load_tables(group, kind) for kind in kinds]
    return tuple(f"simulated {table.refrigerant} {table.metering}, seed {table.seed}" for table in found)
