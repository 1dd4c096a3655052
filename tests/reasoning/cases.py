"""Cases put together by hand, so that one stage can be tried on findings made for the purpose."""

from service.reasoning.assessment import WHOLE_VISIT
from service.reasoning.case import CycleCase
from service.reasoning.causes import rank_causes
from service.reasoning.decision import decide
from service.reasoning.next_readings import next_readings
from service.reasoning.pipeline import open_case
from service.reasoning.plan import make_plan
from service.reasoning.set_aside import set_aside
from service.results.record import replace
from service.results.visit import Visit
from service.results.visit.observations import Complaint


def case_of(findings=(), holds=(), causes=None, visit=None, weighing=None, profile=WHOLE_VISIT, **changes):
    """A case decided upon; causes are ranked where none are given."""
    case = replace(open_case(visit or Visit(), profile), raw=tuple(findings), holds=tuple(holds))
    case = replace(set_aside(case), cycle=CycleCase(weighing=weighing), **changes)
    case = rank_causes(case) if causes is None else replace(case, causes=tuple(causes))
    return decide(case)


def causes_of(findings=(), complaint=None, weighing=None):
    complaint = complaint or Complaint()
    return case_of(findings, visit=Visit(complaint=complaint), weighing=weighing).causes


def state_of(findings=(), holds=(), causes=None, visit=None):
    return case_of(findings, holds, causes, visit).decision.state


def permission_of(findings=(), holds=(), causes=None, visit=None):
    return case_of(findings, holds, causes, visit).decision.permission


def steps_of(findings=(), holds=(), causes=None, visit=None, **changes):
    return make_plan(case_of(findings, holds, causes, visit, **changes)).plan.steps


def readings_of(visit=None, holds=(), causes=None):
    return next_readings(case_of((), holds, causes, visit))
