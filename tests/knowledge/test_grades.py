"""What a row may do is limited by what it rests on: a hold by anything, a pass in a matter of safety not."""

import pytest

from service.knowledge import catalogues, row_types
from service.knowledge.catalogues import causes, findings
from service.knowledge.rows import DECIDING, KnowledgeError, by_code

# A pump-down (20 psig) and a start with a start assist are common practice; nothing published was found for them.
WEAKER = {"compressor.pump-down-pressure", "compressor.pump-down-holds", "start-up.assist-trial"}


def test_the_tests_that_condemn_a_compressor_rest_on_what_may_decide():
    proofs = {code for row in causes().values() if row.condemns for code in row.proof}
    assert {code for code in proofs if findings()[code].basis not in DECIDING} == WEAKER


def test_what_passes_a_matter_of_safety_is_marked():
    marked = {row.code for row in findings().values() if row.safety}
    assert {"weighed-charge.room", "recovery.cylinder-pressure", "isolation.dead-proven"} <= marked


def test_a_weak_row_may_not_pass_a_matter_of_safety(monkeypatch):
    def weakened(folder, **keys):
        found = by_code(folder, **keys)
        if folder == "findings":
            found["weighed-charge.room"] = found["weighed-charge.room"] | {"basis": "from memory"}
        return found

    monkeypatch.setattr(row_types, "by_code", weakened)
    with pytest.raises(KnowledgeError, match=r"weighed-charge\.room.*matter of safety"):
        catalogues.findings.__wrapped__()
