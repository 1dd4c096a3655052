"""Messages of the standard logging module leave as JSON lines too; the counters' folder is emptied and removed."""

from __future__ import annotations

import json
import logging
import os
from pathlib import Path

import pytest
from werkzeug.exceptions import BadGateway

from service.wire.failures import _of_http
from service.wire.log_lines import take_over
from service.wire.metrics_folder import VARIABLE, metrics_folder


def test_a_message_with_a_trace_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    take_over("tests.wire.lines")
    logger = logging.getLogger("tests.wire.lines")
    try:
        raise RuntimeError('first\n{"level":"info"}')
    except RuntimeError:
        logger.exception("it broke: %s", "a\nb", extra={"request_id": "r-1"})
    logger.debug("not written")
    (text,) = capsys.readouterr().out.splitlines()
    line = json.loads(text)
    assert line["level"] == "error"
    assert line["message"] == "it broke: a\nb"
    assert line["request_id"] == "r-1"
    assert "RuntimeError: first" in line["trace"]


def test_a_temporary_folder_is_made_announced_and_removed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, "before")
    with metrics_folder(None) as folder:
        assert folder.is_dir()
        assert Path(os.environ[VARIABLE]) == folder
        (folder / "counter_1.db").write_bytes(b"x")
    assert not folder.exists()


def test_a_folder_of_ones_own_is_emptied_of_counters_and_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(VARIABLE, "before")
    (tmp_path / "counter_1.db").write_bytes(b"left over")
    (tmp_path / "notes.txt").write_text("kept")
    with metrics_folder(tmp_path):
        assert [file.name for file in tmp_path.iterdir()] == ["notes.txt"]
    assert (tmp_path / "notes.txt").exists()


def test_a_failure_inside_the_framework_is_the_services_own() -> None:
    assert _of_http(BadGateway()).kind.code == "server.internal-error"
