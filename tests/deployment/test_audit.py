"""What the audit makes of the answers of pip-audit; whether anybody can be asked depends on the machine."""

from __future__ import annotations

from tests.deployment.audit import judged

CLEAN = {"name": "flask", "version": "3.1.0", "vulns": []}
BAD = {"name": "jinja2", "version": "2.4", "vulns": [{"id": "PYSEC-1"}, {"id": "GHSA-2"}]}
SKIPPED = {"name": "numpy", "skip_reason": "not found"}


def test_what_is_vulnerable_is_named_with_its_advisories() -> None:
    assert judged([[CLEAN, BAD], [BAD]]) == (["jinja2 2.4: GHSA-2, PYSEC-1"], [])


def test_what_one_list_knows_was_asked() -> None:
    numpy = {"name": "numpy", "version": "2", "vulns": []}
    assert judged([[SKIPPED], [numpy]]) == ([], [])
    assert judged([[SKIPPED], None]) == ([], ["numpy"])
    assert judged([None, None]) == ([], [])
