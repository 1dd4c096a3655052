"""The pattern table is complete and as the knowledge files say."""

from service.knowledge.catalogues import findings, holds, steps
from service.workshop.build.pattern_table import TARGET, all_patterns, main, pattern_table, patterns_of


def test_every_pattern_has_a_finding():
    named = {pattern for row in findings().values() for pattern in patterns_of(row)}
    assert set(all_patterns()) - named == set()


def test_no_finding_names_a_pattern_that_is_not():
    named = {pattern for row in findings().values() for pattern in patterns_of(row)}
    assert named - set(all_patterns()) == set()


def test_what_findings_point_at_exists():
    for row in findings().values():
        assert {code for codes in row.raises.values() for code in codes} <= set(holds())
        assert {code for codes in row.steps.values() for code in codes} <= set(steps()), row.code


def test_the_written_table_is_current():
    assert TARGET.read_text(encoding="utf-8") == pattern_table()


def test_writing_it_again_changes_nothing(tmp_path, monkeypatch):
    written = tmp_path / "electrical-patterns.md"
    monkeypatch.setattr("service.workshop.build.pattern_table.TARGET", written)
    main()
    assert written.read_text(encoding="utf-8") == TARGET.read_text(encoding="utf-8")
