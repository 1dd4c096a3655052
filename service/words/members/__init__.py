"""What a member of a request document is called: English where it is declared, else a file of this folder."""

from functools import cache
from importlib import resources

import yaml

from service.results.declare import Member


def member_label(language: str, of: type, name: str, declared: Member) -> str:
    """What a member is, in one short sentence; English where the language has none yet."""
    return label_of(language, of.__name__, name) or declared.description


def label_of(language: str, of: str, name: str) -> str | None:
    """The label that a language has of its own; None where it has none, and for English."""
    return _labels(language).get(of, {}).get(name)


@cache
def _labels(language: str) -> dict[str, dict[str, str]]:
    """Labels by the name of the record and of the member; none for English, which the declarations speak."""
    file = resources.files(__package__) / f"{language}.yaml"
    if not file.is_file():
        return {}
    found: dict[str, dict[str, str]] = yaml.load(file.read_bytes(), yaml.CSafeLoader)
    return found
