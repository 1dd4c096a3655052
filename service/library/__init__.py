"""The library: visit documents in, answers out, without a server, in lots.

    from service.library import assess_all

    for line in assess_all([{"running": {"suction_pressure": 118}}]):
        print(line.document() if isinstance(line, Assessed) else line.refusal.errors)

The routes of a single visit and of a batch, the warm-up, the bench, the samples and the fleet commands all come in
by this door; a single visit is a lot of one.
"""

from service.knowledge.learnt import Learnt, UnusableLearntFile, read_learnt
from service.library.answered import Answered, Assessed, Failed, Refused
from service.library.loading import load_visit, with_learnt
from service.library.lots import assess_all, assess_beside, assess_one
from service.library.provenance import digest_of_package, provenance, provenance_of, written_provenance

__all__ = [
    "Answered",
    "Assessed",
    "Failed",
    "Learnt",
    "Refused",
    "UnusableLearntFile",
    "assess_all",
    "assess_beside",
    "assess_one",
    "digest_of_package",
    "load_visit",
    "provenance",
    "provenance_of",
    "read_learnt",
    "with_learnt",
    "written_provenance",
]
