"""Does a heat pump run in the mode that it is asked to run in?"""

from collections.abc import Iterator

from service.results.finding import Finding
from service.results.visit import Visit
from service.verdicts.mode import direction
from service.verdicts.report import report


def check_mode(visit: Visit) -> Iterator[Finding]:
    """The mode that the readings show, where any of them tells; see `verdicts/mode.py`."""
    shown = direction(visit)
    if shown.state is not None:
        yield report("mode.reversed", shown.state, shown.evidence, variant=shown.variant)
