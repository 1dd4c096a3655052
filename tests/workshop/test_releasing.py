"""A release is one command, and refuses what is not finished. Tried on a working copy of its own."""

import subprocess
import sys
from datetime import date

import pytest

from service.workshop import releasing
from service.workshop.releasing.checkout import CHANGELOG, COUNTS, IMAGE_TAG, TEXTS, VERSION_FILE, Checkout

LOCALE, TOPIC = f"{TEXTS[0]}/locales/es/steps/a.yaml", f"{TEXTS[1]}/topics/a.yaml"
FILES = {
    VERSION_FILE: '"""The version."""\n\nCONTRACT = "1.2.0-dev"\n',
    CHANGELOG: "# Changes\n\n## 1.2.0-dev\n\nNot released yet. More follows.\n\nNew: one.\n\n## 1.1.0\n\nOlder.\n",
    IMAGE_TAG: 'images:\n  - name: x\n    newTag: "1.1.0"\n',
    COUNTS: '{"release": "1.1.0"}\n',
    LOCALE: 'step.a: "Cierre la válvula."\n',
    TOPIC: 'missing:\n- code: a.b\n  en: "The valve."\n  es: "La válvula."\n',
}


class Copy(Checkout):
    """A working copy that writes a line where the real one asks the code for the contract and for the counts."""

    def write_contract(self):
        (self.root / "openapi" / "openapi.json").write_text(self.version())

    def keep_counts(self, version):
        (self.root / COUNTS).write_text(version)


@pytest.fixture
def copy(tmp_path):
    for name, text in FILES.items():
        file = tmp_path / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text)
    made = Copy(tmp_path)
    made.git("init", "--quiet")
    made.git("config", "user.email", "tests@example.org")
    made.git("config", "user.name", "Tests")
    commit(made)
    return made


def commit(copy):
    copy.git("add", "--all")
    copy.git("commit", "--quiet", "--message", "A state")


def change(copy, name, old, new):
    text = copy.text(name)
    assert old in text
    (copy.root / name).write_text(text.replace(old, new))
    commit(copy)


class Today(date):
    """A day on which no rule waits to be read again; the real one moves on."""

    @classmethod
    def today(cls):
        return cls(2026, 11, 28)


@pytest.fixture(autouse=True)
def day(monkeypatch):
    """The day of the release."""
    monkeypatch.setattr(releasing, "date", Today)


def test_one_command_sets_version_changelog_contract_commit_and_tag(copy, capsys):
    assert releasing.main(["1.2.0"], copy) == 0
    assert copy.version() == "1.2.0"
    assert copy.text("openapi/openapi.json") == copy.text(COUNTS) == "1.2.0"
    assert "## 1.2.0, 2026-11-28\n\nNew: one.\n\n## 1.1.0\n" in copy.text(CHANGELOG)
    assert 'newTag: "1.2.0"' in copy.text(IMAGE_TAG)
    assert copy.git("status", "--porcelain") == ""
    assert copy.git("log", "-1", "--format=%s").strip() == "Release 1.2.0"
    assert copy.git("tag", "--list", "--format=%(objecttype) %(contents)").startswith(
        "tag Release 1.2.0\n\nNew: one."
    )
    assert "git push" in capsys.readouterr().out


def test_a_check_changes_nothing(copy):
    before = copy.git("rev-parse", "HEAD")
    assert releasing.main(["1.2.0", "--check"], copy) == 0
    assert copy.git("rev-parse", "HEAD") == before
    assert copy.git("tag", "--list") == ""
    assert copy.version() == "1.2.0-dev"


STANDS_IN_THE_WAY = {
    "a draft": (LOCALE, 'válvula."', 'válvula."  # draft', f"{LOCALE}:1: step.a is a draft"),
    "a draft in a row": (TOPIC, 'válvula."', 'válvula."  # draft', f"{TOPIC}:4: a.b is a draft"),
    "another version in the code": (VERSION_FILE, "1.2.0-dev", "1.3.0-dev", "release 1.3.0"),
    "a version that is out": (VERSION_FILE, "1.2.0-dev", "1.2.0", "has been released"),
    "no section": (CHANGELOG, "## 1.2.0-dev", "## 1.2", "no section '## 1.2.0-dev'"),
    "an empty section": (CHANGELOG, "Not released yet. More follows.\n\nNew: one.", "", "tells nothing"),
}


@pytest.mark.parametrize("what", STANDS_IN_THE_WAY)
def test_what_is_not_finished_is_refused_by_file_and_remedy(copy, capsys, what):
    name, old, new, told = STANDS_IN_THE_WAY[what]
    change(copy, name, old, new)
    assert releasing.main(["1.2.0"], copy) == 1
    assert told in capsys.readouterr().err
    assert copy.git("tag", "--list") == ""
    assert copy.git("status", "--porcelain") == ""


def test_changes_that_are_not_committed_and_a_tag_that_is_there_are_refused(copy, capsys):
    copy.git("tag", "v1.2.0")
    (copy.root / "more").write_text("more")
    assert releasing.main(["1.2.0"], copy) == 1
    said = capsys.readouterr().err
    assert "commit or stash" in said
    assert "v1.2.0 is there already" in said


@pytest.mark.parametrize("version", ["1.2", "v1.2.0", "1.2.0-dev", "next"])
def test_a_version_has_three_numbers(copy, capsys, version):
    assert releasing.main([version], copy) == 1
    assert "three numbers" in capsys.readouterr().err


def test_a_rule_that_waits_to_be_read_again_is_told(copy):
    found = releasing.obstacles.obstacles("1.2.0", copy, date(2100, 1, 1))
    assert any("rules --review" in line for line in found)
    assert all("rule " in line for line in found)


def test_the_command_is_listed():
    command = [sys.executable, "-m", "service", "release", "--help"]
    done = subprocess.run(command, cwd=releasing.checkout.ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert "only say what stands in the way" in done.stdout
