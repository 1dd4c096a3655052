"""The files and the history that a release reads and writes."""

from __future__ import annotations

import re
import subprocess
import sys
from datetime import date
from pathlib import Path

ROOT = Path(__file__).parents[3]
VERSION_FILE = "service/results/contract.py"
CHANGELOG = "openapi/CHANGELOG.md"
IMAGE_TAG = "docker/kubernetes/kustomization.yaml"
COUNTS = "tests/benchmarks/instructions.json"
TEXTS = ("service/words", "service/knowledge")
NOT_YET = "Not released yet."


class Checkout:
    """A working copy of this repository; `root` is its top folder."""

    def __init__(self, root: Path = ROOT) -> None:
        self.root = root

    def text(self, name: str) -> str:
        """A file of the working copy."""
        return (self.root / name).read_text(encoding="utf-8")

    def git(self, *arguments: str) -> str:
        """What git says. Raises: CalledProcessError."""
        done = subprocess.run(["git", *arguments], cwd=self.root, capture_output=True, text=True, check=True)
        return done.stdout

    def version(self) -> str:
        """The version that the code carries now, e.g. 1.0.0-dev."""
        found = re.search(r'^CONTRACT = "([^"]+)"$', self.text(VERSION_FILE), re.MULTILINE)
        assert found is not None, f"{VERSION_FILE}: no line CONTRACT"
        return found[1]

    def section(self, version: str) -> str | None:
        """What the changelog tells of a version; None where it has no section."""
        found = re.search(
            rf"^## {re.escape(version)}[^\n]*\n(.*?)(?=^## |\Z)", self.text(CHANGELOG), re.MULTILINE | re.DOTALL
        )
        return None if found is None else found[1].strip()

    def write_version(self, version: str, today: date) -> None:
        """The version into the code and the manifests; its day into the changelog, whose first paragraph goes."""
        before = self.version()
        self._replace(VERSION_FILE, f'"{before}"', f'"{version}"')
        told = self.section(before) or ""
        kept = re.sub(rf"\A{re.escape(NOT_YET)}.*?(?:\n\n|\Z)", "", told, flags=re.DOTALL)
        if kept != told:
            self._replace(CHANGELOG, told, kept)
        self._replace(CHANGELOG, f"## {before}\n", f"## {version}, {today.isoformat()}\n")
        tags = re.sub(r'newTag: "[^"]*"', f'newTag: "{version}"', self.text(IMAGE_TAG))
        (self.root / IMAGE_TAG).write_text(tags, encoding="utf-8")

    def write_contract(self) -> None:
        """The document of the new version and what the release keeps, by a process that reads the code again."""
        subprocess.run([sys.executable, "-m", "service", "spec", "--release"], cwd=self.root, check=True)

    def keep_counts(self, version: str) -> None:
        """The instructions of a visit as the ones that later changes are compared with."""
        counting = [sys.executable, "-m", "tests.benchmarks.instructions", "--keep", version]
        subprocess.run(counting, cwd=self.root, check=True)

    def commit_and_tag(self, version: str) -> None:
        """One commit, and an annotated tag that tells what the changelog tells."""
        self.git("add", "--all", "openapi", VERSION_FILE, IMAGE_TAG, COUNTS)
        self.git("commit", "--quiet", "--message", f"Release {version}")
        told = self.section(version) or version
        self.git(
            "tag", "--annotate", "--cleanup=verbatim", f"v{version}", "--message", f"Release {version}\n\n{told}"
        )

    def _replace(self, name: str, old: str, new: str) -> None:
        text = self.text(name)
        assert old in text, f"{name}: {old!r} is not there"
        (self.root / name).write_text(text.replace(old, new, 1), encoding="utf-8")
