"""Which rules apply to the compressor: one phase, three phases or inverter."""

from service.results.visit import Visit

SINGLE_PHASE = "single_phase"
THREE_PHASE = "three_phase"
INVERTER = "inverter"


def motor_kind(visit: Visit) -> str | None:
    """single_phase, three_phase or inverter by the nameplate; None when it does not say.

    The drive is the compressor's own; the phases of the supply stand in for it where it is not given.
    """
    equipment = visit.equipment
    if equipment.compressor.drive is not None:
        return equipment.compressor.drive
    if equipment.phases is None:
        return None
    return THREE_PHASE if equipment.phases == 3 else SINGLE_PHASE


def nameplate_pointers(visit: Visit) -> tuple[str, ...]:
    """Pointer of the member that settled the kind; empty when none did."""
    if visit.equipment.compressor.drive is not None:
        return ("/equipment/compressor/drive",)
    return ("/equipment/phases",) if visit.equipment.phases is not None else ()
