"""Judgement by the simulated cycle: probabilities of refrigerant-side causes from readings, numpy only.

Every figure behind it is simulated; nothing has been fitted to, or checked against, field visits.
"""

from service.reasoning.cycle.judge import judge_cycle, judge_cycles

__all__ = ["judge_cycle", "judge_cycles"]
