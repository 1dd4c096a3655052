"""The library: visit documents in, answers out, without a server, in lots.

    from service.library import assess_all

    for line in assess_all([{"running": {"suction_pressure": 118}}]):
        print(line.document() if isinstance(line, Assessed) else line.refusal.errors)

The routes of a single visit and of a batch, the warm-up, the bench, the samples and the fleet commands all come in
by this door; a single visit is a lot of one.
"""

from service.library.answered import Answered, Assessed, Failed, Refused
from service.library.lots import assess_all, assess_beside, assess_one
from service.library.provenance import provenance

__all__ = ["Answered", "Assessed", "Failed", "Refused", "assess_all", "assess_beside", "assess_one", "provenance"]
