"""Everything about the cooling side but the charge, judged once, so that the charge can be judged in its light."""

from collections.abc import Iterable

from service.checks.air.air_side import air_of
from service.checks.plausible.exclusions import check_exclusions
from service.checks.plausible.readings import check_readings
from service.checks.refrigerant.before_port import check_before_port
from service.checks.refrigerant.charge_conditions import charge_conditions, conditions_hold
from service.checks.refrigerant.compressor import compressor_of
from service.checks.refrigerant.heating import check_heating
from service.checks.refrigerant.mode import check_mode
from service.checks.refrigerant.patterns import check_patterns
from service.checks.refrigerant.refrigerant_doubts import check_refrigerant
from service.checks.refrigerant.running import check_running
from service.checks.refrigerant.running_state import RunningState, running_state
from service.checks.refrigerant.standing import check_standing
from service.checks.refrigerant.start_up import check_start_up
from service.checks.seen.inspection import check_inspection
from service.results.finding import Finding
from service.results.record import Record
from service.results.visit import Visit
from service.verdicts.report import Checked

SIDE = ("/running/", "/air/")  # the readings of this side


class CoolingParts(Record):
    """The parts of the cooling side.

    loose: findings about the running readings that belong to no other part. seen: what eye and hand found, and
    what excludes a reading of this side, which speak here but are reported with the electrical side.
    """

    state: RunningState
    conditions: tuple[Finding, ...]
    standing: Checked
    start_up: Checked
    air: Checked
    compressor: Checked
    loose: tuple[Finding, ...]
    seen: tuple[Finding, ...]

    @property
    def checked(self) -> tuple[Checked, ...]:
        """The parts in the order of the work."""
        return self.standing, self.start_up, self.air, self.compressor

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings but the charge's own, with what was seen."""
        return (*self.loose, *(finding for part in self.checked for finding in part.findings), *self.seen)


def cooling_parts(visit: Visit) -> CoolingParts:
    """Judge each part of a visit whose readings are possible."""
    state = running_state(visit)
    conditions = charge_conditions(visit, state)
    loose = (
        *check_mode(visit),
        *check_readings(visit, state),
        *check_running(visit, state),
        *check_heating(visit, state),
        *check_before_port(visit, state),
        *(check_patterns(visit, state) if conditions_hold(conditions) else ()),
        *check_refrigerant(visit, state),
    )
    return CoolingParts(
        state,
        conditions,
        check_standing(visit),
        check_start_up(visit),
        air_of(visit, state),
        compressor_of(visit, state),
        loose,
        (*check_inspection(visit).findings, *_excluded(visit)),
    )


def _excluded(visit: Visit) -> tuple[Finding, ...]:
    """What was seen against a reading of gauges, lines and air."""
    found = check_exclusions(visit).findings
    return tuple(item for item in found if any(pointer.startswith(SIDE) for pointer in item.evidence))


def unique(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings in order, each said once."""
    found: list[Finding] = []
    for finding in findings:
        if finding not in found:
            found.append(finding)
    return tuple(found)
