"""One question read: what judges it, what was read today, and what was read when the unit was sound."""

from collections.abc import Hashable

from service.knowledge.cycle_groups import METERING_GROUPS, NEIGHBOUR_LEAVES_OUT, refrigerant_groups
from service.knowledge.cycle_model import METERING
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.reasoning.cycle.gate import tells_of_the_unit
from service.reasoning.cycle.inputs import Read, read, values_of
from service.results.cycle import CycleBaseline, CycleConditions, CycleInputs
from service.results.record import Record, replace


class Sound(Record):
    """A baseline that can be used: conditions and readings of the unit when sound."""

    conditions: CycleConditions
    read: Read


class Question(Record):
    """group: designation of the shipped tables that judge the refrigerant; kinds of metering in play: both where
    it is not known; left_out: readings that say nothing where a neighbouring refrigerant's tables judge;
    astray: readings that fit nothing together with the others, taken out of ``read``.
    """

    inputs: CycleInputs
    group: str
    kinds: tuple[str, ...]
    left_out: tuple[str, ...]
    read: Read
    sound: Sound | None
    astray: tuple[str, ...] = ()

    @property
    def frame(self) -> tuple[str, tuple[str, ...], str | None, str | None]:
        """What the mixtures in play are found by."""
        return self.group, self.kinds, self.inputs.efficiency_class, self.inputs.kind

    @property
    def shape(self) -> Hashable:
        """Questions that agree in this are judged by the same arithmetic, whatever their numbers."""
        sound = None if self.sound is None else self.sound.read.index
        humid = self.inputs.conditions.return_wet_bulb is not None
        return self.frame, self.left_out, self.read.index, humid, sound


def question_of(inputs: CycleInputs) -> Question:
    """Read a question that the gate let through."""
    group = refrigerant_groups()[inputs.refrigerant]
    left_out = () if group == inputs.refrigerant else NEIGHBOUR_LEAVES_OUT
    kinds = METERING if inputs.metering is None else (METERING_GROUPS[inputs.metering],)
    values = values_of(inputs.readings, inputs)
    for name in left_out:
        values.pop(name, None)
    humid = inputs.conditions.return_wet_bulb is not None
    today = read(values, inputs.accuracies, humid, inputs.readings.voltage_ratio is not None)
    return Question(inputs, group, kinds, left_out, today, _sound(inputs.baseline, left_out))


def without(question: Question, name: str) -> Question:
    """The question without a reading that is likely wrong."""
    kept = {one: value for one, value in question.read.values.items() if one != name}
    index = tuple(at for at in question.read.index if READINGS[at] != name)
    read_left = replace(question.read, index=index, values=kept)
    return replace(question, read=read_left, astray=(*question.astray, name))


def _sound(baseline: CycleBaseline | None, left_out: tuple[str, ...]) -> Sound | None:
    if baseline is None or not tells_of_the_unit(baseline):
        return None
    known = {name: value for name, value in used_of(baseline).items() if name not in left_out}
    if not known:
        return None
    volts_known = baseline.readings.voltage_ratio is not None
    return Sound(baseline.conditions, read(known, baseline.accuracies, True, volts_known))


def used_of(baseline: CycleBaseline) -> dict[str, float]:
    """The readings of a baseline that are used, by the model's names."""
    found = values_of(baseline.readings)
    return {name: found[name] for name in READINGS[:BASELINE_COUNT] if name in found}
