"""Which motors turn, and which stand: a unit whose motor stands is not left under power.

A motor that hums and does not turn draws locked-rotor current: its protector trips and its windings overheat at
every try. A compressor whose outdoor fan stands runs into its high-pressure switch, one whose indoor blower
stands freezes the coil and floods back, and one that may turn backwards pumps no oil. A technician may put power
on for the seconds of a test; nobody leaves it on, watched or not. Source: common practice, no source.
"""

from collections.abc import Iterator

from service.knowledge.catalogues import motors as motor_rows
from service.knowledge.catalogues import symptoms as symptom_rows
from service.knowledge.told import told
from service.reasoning.case import Case
from service.results.finding import CONTRADICTED
from service.results.visit.kept import kept

TURNS, STANDS, MAY_STAND = "turns", "stands", "may_stand"


@kept
def turning(case: Case) -> frozenset[str]:
    """Motors that were read turning."""
    by_findings = {motor for motor, word in _said(case) if word == TURNS}
    by_readings = {
        row.code
        for row in motor_rows().values()
        if any(case.read.issuperset(group) for group in row.shown_turning_by)
    }
    return frozenset(by_findings | by_readings)


def standing(case: Case) -> frozenset[str]:
    """Motors that stand by what was read, or that may stand and were not read turning."""
    turns, said = turning(case), [*_said(case), *_reported(case)]
    return frozenset(motor for motor, word in said if word == STANDS or (word == MAY_STAND and motor not in turns))


def reported_standing(case: Case) -> frozenset[str]:
    """Motors that somebody reports standing, that were not read turning, and that are wanted to run."""
    held = {"outdoor": case.asked.outdoor_is_not_wanted, "blower": case.asked.blower_may_stand}
    may_rest = {row.code for row in motor_rows().values() if held[row.called_as]}
    return frozenset(motor for motor, _ in _reported(case)) - turning(case) - may_rest


def _said(case: Case) -> Iterator[tuple[str, str]]:
    for item, said in told(case.findings, "motors"):
        if item.variant != CONTRADICTED:
            yield from said.items()


def _reported(case: Case) -> Iterator[tuple[str, str]]:
    for symptom in case.visit.complaint.symptoms:
        yield from symptom_rows()[symptom].motors.items()
