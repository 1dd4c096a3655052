"""What the audit makes of the answers of pip-audit; whether anybody can be asked depends on the machine."""

from __future__ import annotations

import pytest

from tests.deployment import audit
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


@pytest.mark.parametrize(("arguments", "status"), [([], 0), (["--required"], 1)])
def test_a_machine_without_the_tool_says_so_and_fails_only_where_asking_is_required(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], arguments: list[str], status: int
) -> None:
    monkeypatch.setattr("sys.argv", ["audit", *arguments])
    monkeypatch.setattr("tests.deployment.tools._path", lambda _: None)
    assert audit.main() == status
    assert "could not ask" in capsys.readouterr().out


@pytest.mark.parametrize(("arguments", "status"), [([], 0), (["--required"], 1)])
def test_lists_that_cannot_be_reached_are_no_clean_bill(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], arguments: list[str], status: int
) -> None:
    monkeypatch.setattr("sys.argv", ["audit", *arguments])
    monkeypatch.setattr(audit, "require", lambda _: None)
    monkeypatch.setattr(audit, "asked", lambda _lock, _source: None)
    assert audit.main() == status
    said = capsys.readouterr().out
    assert said.count("could not ask") == len(audit.LOCKS)
    assert "pass" not in said
