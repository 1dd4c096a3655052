"""Generic rating of a part, taken from the visit's own readings and nameplates."""

import re
from collections.abc import Callable, Sequence

from service.knowledge.catalogues import parts as part_rows
from service.results.finding import Finding, State
from service.results.planned import PartNeeded, RatedNumbers, Sentence
from service.results.visit import Visit
from service.results.visit.electrical_parts import RunCapacitor

Rating = tuple[Sentence, ...]
ITEM = re.compile(r"/electrical/run_capacitors/([0-9]+)/")


def part_of(code: str, visit: Visit, findings: Sequence[Finding] = (), *, stock: bool = False) -> PartNeeded:
    """A part with its rating in words and numbers. stock: what a truck carries, where the visit tells nothing."""
    said = rated_part(code, visit, findings) or (stock_rating(code) if stock else ())
    maker = NUMBERED_BY.get(part_rows()[code].rated_by)
    numbers = maker(visit, findings) if maker else RatedNumbers()
    return PartNeeded(code, said, None if numbers == RatedNumbers() else numbers)


def rated_part(code: str, visit: Visit, findings: Sequence[Finding] = ()) -> Rating:
    """Rating of a part, e.g. `45/5 uF 440 V`, or nothing when the visit does not tell.

    findings: of several capacitors, those that failed are the ones to replace.
    """
    maker = RATED_BY.get(part_rows()[code].rated_by)
    return maker(visit, findings) if maker else ()


def stock_rating(code: str) -> Rating:
    """What to load of a part whose rating nobody knows yet."""
    return (Sentence(f"rating.stock-{code.removeprefix('part.')}"),) if part_rows()[code].stocked else ()


def _run_capacitor(visit: Visit, findings: Sequence[Finding]) -> Rating:
    """A dual capacitor is named by both its sections, a single one by its own."""
    return tuple(sentence for can in _cans(visit, findings) for sentence in _named(can))


def _cans(visit: Visit, findings: Sequence[Finding]) -> list[list[RunCapacitor]]:
    """The cans to replace, each with its sections: those that failed, or where none did the first."""
    listed = visit.electrical.run_capacitors
    failed = _failed(findings)
    wanted = [item for index, item in enumerate(listed) if index in failed] or list(listed)
    if any(item.shares_can for item in wanted):
        return [[item for item in listed if item.shares_can][:3]]
    return [[item] for item in wanted[: max(1, len(failed))]]


def _failed(findings: Sequence[Finding]) -> frozenset[int]:
    """Places in the list of capacitors that a failed check points at."""
    pointers = (pointer for finding in findings if finding.state is State.FAIL for pointer in finding.evidence)
    return frozenset(int(found[1]) for found in map(ITEM.match, pointers) if found)


def _named(items: Sequence[RunCapacitor]) -> Rating:
    sizes = _sizes(items)
    if not sizes:
        return ()
    said = {"sizes": "/".join(f"{value:g}" for value in sizes)}
    voltages = [item.rated_volts for item in items if item.rated_volts is not None]
    if not voltages:
        return (Sentence("rating.capacitance", said),)
    return (Sentence("rating.capacitance-and-volts", said | {"volts": f"{max(voltages):g}"}),)


def _sizes(items: Sequence[RunCapacitor]) -> tuple[float, ...]:
    known = (item.rated_microfarads for item in items if item.rated_microfarads is not None)
    return tuple(sorted(known, reverse=True))


def _capacitor_numbers(visit: Visit, findings: Sequence[Finding]) -> RatedNumbers:
    items = [item for can in _cans(visit, findings) for item in can]
    volts = [item.rated_volts for item in items if item.rated_volts is not None]
    return RatedNumbers(microfarads=_sizes(items), volts=max(volts, default=None))


def _contactor_numbers(visit: Visit, _: Sequence[Finding]) -> RatedNumbers:
    amps = visit.equipment.compressor.rated_load_amps
    return RatedNumbers(amps=amps, poles=visit.electrical.contactor.poles)


def _compressor_numbers(visit: Visit, _: Sequence[Finding]) -> RatedNumbers:
    return RatedNumbers(volts=_nominal_volts(visit), amps=visit.equipment.compressor.rated_load_amps)


def _fan_numbers(visit: Visit, _: Sequence[Finding]) -> RatedNumbers:
    return RatedNumbers(amps=visit.equipment.outdoor_fan.full_load_amps)


def _blower_numbers(visit: Visit, _: Sequence[Finding]) -> RatedNumbers:
    return RatedNumbers(amps=visit.equipment.indoor_blower.full_load_amps)


def _nominal_volts(visit: Visit) -> float | None:
    """The nameplate's voltage, of a double one the higher."""
    named = visit.equipment.nominal_voltage
    return None if named is None else max(float(volts) for volts in named.split("_"))


def _contactor(visit: Visit, _: Sequence[Finding]) -> Rating:
    poles = visit.electrical.contactor.poles
    amps = visit.equipment.compressor.rated_load_amps
    said: list[Sentence] = []
    if poles:
        said.append(Sentence("rating.poles", {"poles": poles}))
    if amps:
        said.append(Sentence("rating.above-amps", {"amps": amps}))
    return (*said, Sentence("rating.coil")) if said else ()


def _compressor(visit: Visit, _: Sequence[Finding]) -> Rating:
    equipment = visit.equipment
    said = []
    if equipment.compressor.type:
        said.append(Sentence(f"rating.{equipment.compressor.type}"))
    if equipment.refrigerant:
        said.append(Sentence("rating.refrigerant", {"refrigerant": equipment.refrigerant}))
    if equipment.nominal_voltage:
        said.append(Sentence("rating.volts", {"volts": equipment.nominal_voltage.replace("_", "/")}))
    if equipment.phases:
        said.append(Sentence("rating.phases", {"phases": equipment.phases}))
    if equipment.compressor.rated_load_amps:
        said.append(Sentence("rating.rated-load-amps", {"amps": equipment.compressor.rated_load_amps}))
    return tuple(said)


def _fan_motor(visit: Visit, _: Sequence[Finding]) -> Rating:
    return _full_load(visit.equipment.outdoor_fan.full_load_amps)


def _blower_motor(visit: Visit, _: Sequence[Finding]) -> Rating:
    return _full_load(visit.equipment.indoor_blower.full_load_amps)


def _full_load(amps: float | None) -> Rating:
    return (Sentence("rating.full-load-amps", {"amps": amps}),) if amps else ()


# The nameplate readings that rate a part, by the name that its row gives them.
RATED_BY: dict[str, Callable[[Visit, Sequence[Finding]], Rating]] = {
    "run_capacitor": _run_capacitor,
    "contactor": _contactor,
    "compressor": _compressor,
    "outdoor_fan": _fan_motor,
    "indoor_blower": _blower_motor,
}
NUMBERED_BY: dict[str, Callable[[Visit, Sequence[Finding]], RatedNumbers]] = {
    "run_capacitor": _capacitor_numbers,
    "contactor": _contactor_numbers,
    "compressor": _compressor_numbers,
    "outdoor_fan": _fan_numbers,
    "indoor_blower": _blower_numbers,
}
