"""The cooling side of a visit as a whole."""

from service.checks.plausible.refusals import refuse_impossible
from service.checks.refrigerant.charge import charge_of
from service.checks.refrigerant.cooling_parts import cooling_parts
from service.checks.refrigerant.running_state import computed_of
from service.results.computed import Computed
from service.results.visit import Visit
from service.verdicts.report import Checked


def check_cooling(visit: Visit) -> Checked:
    """Judge gauges, lines, air and compressor; computed is a Computed with these parts filled.

    Raises: Refusal for a reading of the closed list.
    """
    refuse_impossible(visit)
    parts = cooling_parts(visit)
    charge = charge_of(visit, parts)
    checked = (*parts.checked, charge)
    return Checked(
        (*parts.loose, *(finding for part in checked for finding in part.findings)),
        tuple(dict.fromkeys(item for part in checked for item in part.missing)),
        tuple(item for part in checked for item in part.assumptions),
        Computed(
            running=computed_of(parts.state),
            charge=charge.computed,
            standing=parts.standing.computed,
            start_up=parts.start_up.computed,
            air=parts.air.computed,
            compressor=parts.compressor.computed,
        ),
    )
