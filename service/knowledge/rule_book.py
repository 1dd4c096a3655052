"""The rules by jurisdiction: from the package and from a deployer's folder, checked when they are read.

A folder holds one folder a jurisdiction: `jurisdiction.yaml` with code, name, parent and what it covers, and any
number of files of rows (`rule_rows` says what a row holds). A jurisdiction has its own rules and its parent's.
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any

from service.knowledge.languages import LANGUAGES
from service.knowledge.rule_checking import rule_of
from service.knowledge.rule_rows import Rule
from service.knowledge.yaml_files import KnowledgeError, read_yaml
from service.results.place import PLACE
from service.results.record import Record

STANDARDS = "ANY"
SHIPPED_DEFAULT = "US"


class Jurisdiction(Record):
    """A place with rules: its own and its parent's. covers: ISO 3166 codes of places that it stands for."""

    code: str
    name: Mapping[str, str]
    parent: str | None
    covers: tuple[str, ...]


class Book(Record):
    """Every jurisdiction, every rule by code and by place and topic, and a digest of what was read.

    default: where no place is named.
    """

    jurisdictions: Mapping[str, Jurisdiction]
    rules: Mapping[str, Rule]
    by_topic: Mapping[tuple[str, str], tuple[Rule, ...]]
    default: str | None
    digest: str

    @property
    def held(self) -> tuple[str, ...]:
        """Codes of the places whose rules are held."""
        return tuple(code for code in self.jurisdictions if code != STANDARDS)

    def place(self, named: str | None) -> "Place":
        """Where a visit is: as named, or the default. A part of a country has at least its country's rules."""
        asked = self.default if named is None else named
        for candidate in () if asked is None else (asked, asked.split("-")[0]):
            for jurisdiction in self.jurisdictions.values():
                if candidate == jurisdiction.code or candidate in jurisdiction.covers:
                    return Place(asked or "", self._line(jurisdiction.code))
        return Place(asked or "", ())

    def _line(self, code: str) -> tuple[str, ...]:
        found, at = [], self.jurisdictions.get(code)
        while at is not None:
            found.append(at.code)
            at = self.jurisdictions[at.parent] if at.parent else None
        return tuple(found)


class Place(Record):
    """asked: as named or by default, empty where neither; line: the jurisdictions held for it, its own first."""

    asked: str
    line: tuple[str, ...]

    @property
    def held(self) -> bool:
        """Whether any rules are held for it."""
        return bool(self.line)

    def rules(self, topic: str, day: date | None = None) -> tuple[Rule, ...]:
        """Rules of a topic, the place's own first; day: only those in force then."""
        return tuple(
            rule
            for code in self.line
            for rule in book().by_topic.get((code, topic), ())
            if day is None or rule.in_force(day)
        )


class _Installed:
    """What the settings of this process chose."""

    folder: Path | None = None
    default: str | None = SHIPPED_DEFAULT


def install(default: str | None, folder: Path | None) -> None:
    """Choose the default place and a deployer's folder, and read everything.

    Raises: KnowledgeError for a broken file, or a default that no folder holds; it stops the start.
    """
    _Installed.default, _Installed.folder = default, folder
    book.cache_clear()
    read = book()
    if default is not None and not read.place(default).held:
        raise KnowledgeError(f"DEFAULT_JURISDICTION {default!r} is not one of {list(read.held)}")


@cache
def book() -> Book:
    """The rules as installed."""
    return read_book(_Installed.folder, _Installed.default)


def read_book(folder: Path | None, default: str | None = SHIPPED_DEFAULT) -> Book:
    """Read the package's rules and those of a folder. Raises: KnowledgeError that names what is wrong."""
    digest = hashlib.sha256()
    jurisdictions: dict[str, Jurisdiction] = {}
    rules: dict[str, Rule] = {}
    roots: list[Traversable] = [resources.files("service.knowledge") / "rules"]
    if folder is not None:
        if not folder.is_dir():
            raise KnowledgeError(f"RULES_FOLDER: {folder} is no folder")
        roots.append(folder)
    for place in (place for root in roots for place in _sorted(root) if place.is_dir()):
        jurisdiction = _jurisdiction(place, digest)
        if jurisdiction.code in jurisdictions:
            raise KnowledgeError(f"rules/{place.name}: jurisdiction {jurisdiction.code} is given twice")
        jurisdictions[jurisdiction.code] = jurisdiction
        for where, row in _rows(place, digest):
            rule = rule_of(row, jurisdiction.code, where)
            if rule.code in rules:
                raise KnowledgeError(f"{where}: {rule.code} is given twice")
            rules[rule.code] = rule
    _check_parents(jurisdictions)
    return Book(jurisdictions, rules, _by_topic(rules.values()), default, digest.hexdigest())


def _by_topic(rules: Iterable[Rule]) -> dict[tuple[str, str], tuple[Rule, ...]]:
    found: dict[tuple[str, str], list[Rule]] = {}
    for rule in rules:
        found.setdefault((rule.jurisdiction, rule.topic), []).append(rule)
    return {key: tuple(listed) for key, listed in found.items()}


def _sorted(folder: Traversable) -> list[Traversable]:
    return sorted(folder.iterdir(), key=lambda entry: entry.name)


def _jurisdiction(place: Traversable, digest: Any) -> Jurisdiction:
    where, file = f"rules/{place.name}", place / "jurisdiction.yaml"
    if not file.is_file():
        raise KnowledgeError(f"{where}: jurisdiction.yaml is missing")
    content = _content(file, f"{where}/jurisdiction.yaml", digest)
    if not isinstance(content, dict) or set(content) - {"code", "name", "parent", "covers"}:
        raise KnowledgeError(f"{where}/jurisdiction.yaml: has code, name, parent and covers")
    code, name = content.get("code"), content.get("name")
    if not isinstance(code, str) or not (PLACE.fullmatch(code) or code == STANDARDS):
        raise KnowledgeError(f"{where}/jurisdiction.yaml: code {code!r} is no ISO 3166 code as US or US-CA")
    if not isinstance(name, dict) or set(name) != set(LANGUAGES):
        raise KnowledgeError(f"{where}/jurisdiction.yaml: name needs a text in each of {list(LANGUAGES)}")
    return Jurisdiction(code, name, content.get("parent"), tuple(content.get("covers") or ()))


def _rows(place: Traversable, digest: Any) -> Iterator[tuple[str, Any]]:
    for file in _sorted(place):
        if file.name.endswith(".yaml") and file.name != "jurisdiction.yaml":
            where = f"rules/{place.name}/{file.name}"
            content = _content(file, where, digest)
            if not isinstance(content, list):
                raise KnowledgeError(f"{where}: not a list of rows")
            yield from ((where, row) for row in content)


def _content(file: Traversable, where: str, digest: Any) -> Any:
    text = file.read_bytes()
    digest.update(where.encode() + b"\0" + text)
    return read_yaml(text, where)


def _check_parents(jurisdictions: Mapping[str, Jurisdiction]) -> None:
    for jurisdiction in jurisdictions.values():
        seen, at = {jurisdiction.code}, jurisdiction.parent
        while at is not None:
            if at not in jurisdictions or at in seen:
                raise KnowledgeError(f"rules/{jurisdiction.code}: parent {at!r} is not held, or runs in a circle")
            seen.add(at)
            at = jurisdictions[at].parent


def certificate_name(code: str, language: str) -> str | None:
    """What a certificate is called where it is held; None for a role, which has a text of its own."""
    for rule in book().rules.values():
        if rule.topic == "certificate" and rule.thresholds["certificate"] == code:
            name: str = rule.thresholds["name"][language]
            return name
    return None


def overdue(day: date) -> tuple[Rule, ...]:
    """Rules whose day of review has passed, the longest first."""
    late = [rule for rule in book().rules.values() if rule.review_by < day]
    return tuple(sorted(late, key=lambda rule: (rule.review_by, rule.code)))
