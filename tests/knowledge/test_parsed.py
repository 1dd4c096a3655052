"""What was parsed is found again by its bytes alone, and a start without it parses."""

from datetime import date

import pytest

from service.knowledge import parsed
from service.knowledge.yaml_files import KnowledgeError, read_yaml

CONTENT = b"- {code: a.b, day: 2026-11-28, share: 1.5e-3, held: true, words: [x, 'y']}\n"
ROWS = [{"code": "a.b", "day": date(2026, 11, 28), "share": 1.5e-3, "held": True, "words": ["x", "y"]}]


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A package of its own, in which nothing is kept yet, and a process that has asked for nothing."""
    monkeypatch.setattr(parsed, "FOLDER", tmp_path)
    monkeypatch.setattr(parsed, "_asked", {})
    monkeypatch.setattr(parsed, "_missing", set())
    monkeypatch.setattr("sys.dont_write_bytecode", False)
    begin_anew()
    yield tmp_path
    begin_anew()


def begin_anew():
    """As a new process does: what is kept is read from the file."""
    parsed._kept.cache_clear()


def refuse(_):
    raise AssertionError("it was parsed again")


def test_a_second_start_parses_nothing(folder):
    assert read_yaml(CONTENT, "x.yaml") == ROWS
    parsed.keep()
    begin_anew()
    assert parsed.parsed(CONTENT, refuse) == ROWS


def test_each_time_it_is_a_new_object(folder):
    read_yaml(CONTENT, "x.yaml")
    parsed.keep()
    begin_anew()
    parsed.parsed(CONTENT, refuse)[0]["words"].append("z")
    assert parsed.parsed(CONTENT, refuse) == ROWS


def test_a_changed_file_is_parsed_and_takes_the_place_of_the_old_one(folder):
    read_yaml(CONTENT, "x.yaml")
    parsed.keep()
    begin_anew()
    changed = CONTENT.replace(b"a.b", b"a.c")
    assert read_yaml(changed, "x.yaml")[0]["code"] == "a.c"
    parsed.keep()
    begin_anew()
    assert parsed.parsed(changed, refuse)[0]["code"] == "a.c"
    with pytest.raises(AssertionError):
        parsed.parsed(CONTENT, refuse)


def test_a_changed_parser_parses_all_of_it_again(folder, monkeypatch):
    read_yaml(CONTENT, "x.yaml")
    parsed.keep()
    begin_anew()
    monkeypatch.setattr(parsed, "_parser", lambda: b"another")
    with pytest.raises(AssertionError):
        parsed.parsed(CONTENT, refuse)


def test_nothing_is_written_where_all_was_there(folder):
    read_yaml(CONTENT, "x.yaml")
    parsed.keep()
    begin_anew()
    parsed.kept_in().chmod(0o444)
    before = parsed.kept_in().stat().st_mtime_ns
    read_yaml(CONTENT, "x.yaml")
    parsed.keep()
    assert parsed.kept_in().stat().st_mtime_ns == before


@pytest.mark.parametrize("broken", [b"", b"no pickle", b"\x80\x05"])
def test_what_was_cut_short_is_not_believed(folder, broken):
    parsed.kept_in().parent.mkdir()
    parsed.kept_in().write_bytes(broken)
    assert read_yaml(CONTENT, "x.yaml") == ROWS
    parsed.keep()
    begin_anew()
    assert parsed.parsed(CONTENT, refuse) == ROWS


def test_a_package_that_nobody_may_write_to_keeps_nothing(folder):
    (folder / "__pycache__").write_text("a file where the folder would be")
    read_yaml(CONTENT, "x.yaml")
    parsed.keep()
    begin_anew()
    assert read_yaml(CONTENT, "x.yaml") == ROWS


def test_who_wants_no_compiled_modules_wants_none_of_this(folder, monkeypatch):
    monkeypatch.setattr("sys.dont_write_bytecode", True)
    read_yaml(CONTENT, "x.yaml")
    parsed.keep()
    assert not parsed.kept_in().exists()


def test_what_is_refused_is_refused_each_time(folder):
    for _ in range(2):
        with pytest.raises(KnowledgeError, match="'a' is given twice"):
            read_yaml(b"{a: 1, a: 2}", "x.yaml")
    with pytest.raises(KnowledgeError, match=r"x\.yaml: no YAML: "):
        read_yaml(b"a: [", "x.yaml")
