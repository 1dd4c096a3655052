"""Generic rating of a part, taken from the visit's own readings and nameplates."""

from service.results.visit import Visit
from service.results.visit.electrical_parts import RunCapacitor


def rated_part(code: str, visit: Visit) -> str | None:
    """Rating of a part, e.g. `45/5 uF 440 V`, or None when the visit does not tell."""
    maker = _RATINGS.get(code)
    return maker(visit) if maker else None


def _run_capacitor(visit: Visit) -> str | None:
    """A dual capacitor is named by both its sections, a single one by its own."""
    listed = [item for item in visit.electrical.run_capacitors if item.rated_microfarads is not None]
    if not listed:
        return None
    shared = [item for item in listed if item.shares_can]
    chosen = sorted(shared, key=_falling_size)[:2] if len(shared) > 1 else listed[:1]
    sizes = "/".join(f"{item.rated_microfarads:g}" for item in chosen)
    voltages = [item.rated_volts for item in chosen if item.rated_volts is not None]
    return f"{sizes} uF" + (f" {max(voltages):g} V" if voltages else "")


def _falling_size(item: RunCapacitor) -> float:
    return -(item.rated_microfarads or 0.0)


def _contactor(visit: Visit) -> str | None:
    poles = visit.electrical.contactor.poles
    amps = visit.equipment.compressor.rated_load_amps
    said = ([f"{poles}-pole"] if poles else []) + ([f"above {amps:g} A"] if amps else [])
    return ", ".join([*said, "24 V coil"]) if said else None


def _compressor(visit: Visit) -> str | None:
    equipment = visit.equipment
    said = [
        equipment.compressor.type,
        equipment.refrigerant,
        f"{equipment.nominal_voltage.replace('_', '/')} V" if equipment.nominal_voltage else None,
        f"{equipment.phases} phase" if equipment.phases else None,
        f"{equipment.compressor.rated_load_amps:g} A RLA" if equipment.compressor.rated_load_amps else None,
    ]
    return ", ".join(item for item in said if item) or None


def _fan_motor(visit: Visit) -> str | None:
    amps = visit.equipment.outdoor_fan.full_load_amps
    return f"{amps:g} A full load" if amps else None


def _blower_motor(visit: Visit) -> str | None:
    amps = visit.equipment.indoor_blower.full_load_amps
    return f"{amps:g} A full load" if amps else None


_RATINGS = {
    "part.run-capacitor": _run_capacitor,
    "part.contactor": _contactor,
    "part.compressor": _compressor,
    "part.outdoor-fan-motor": _fan_motor,
    "part.indoor-blower-motor": _blower_motor,
}
