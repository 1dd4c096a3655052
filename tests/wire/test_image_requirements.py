"""The image installs a locked list of its own: it must hold everything that the running service imports."""

from __future__ import annotations

import ast
import re
import sys
from importlib.metadata import packages_distributions
from pathlib import Path

TOP = Path(__file__).parents[2]
NOT_IN_THE_IMAGE = ("workshop",)
"""Folders of commands for developers, which the image leaves out or cannot run."""


def imported() -> set[str]:
    """Distributions that the service's own modules import, by normalised name."""
    modules: set[str] = set()
    for file in (TOP / "service").rglob("*.py"):
        if not set(file.parts) & set(NOT_IN_THE_IMAGE):
            for node in ast.walk(ast.parse(file.read_text())):
                if isinstance(node, ast.Import):
                    modules |= {name.name.partition(".")[0] for name in node.names}
                elif isinstance(node, ast.ImportFrom) and node.module:
                    modules.add(node.module.partition(".")[0])
    outside = modules - set(sys.stdlib_module_names) - {"service", "_typeshed"}
    known = packages_distributions()
    return {normalised(known.get(module, [module])[0]) for module in outside}


def normalised(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def locked() -> dict[str, str]:
    """Name and version of every line of the lock."""
    text = (TOP / "docker/requirements.txt").read_text()
    return {normalised(name): version for name, version in re.findall(r"^([\w.-]+)==(\S+)", text, re.MULTILINE)}


def test_everything_imported_is_locked() -> None:
    assert imported() - set(locked()) == set()


def test_every_locked_line_has_a_hash() -> None:
    text = (TOP / "docker/requirements.txt").read_text()
    entries = re.split(r"^(?=[\w.-]+==)", text, flags=re.MULTILINE)[1:]
    assert len(entries) == len(locked()) > 10
    assert all("--hash=sha256:" in entry for entry in entries)


def test_the_property_library_stays_out() -> None:
    """Its import costs two seconds and 72 MiB; the service answers from shipped tables."""
    assert not {"coolprop", "scipy"} & (set(locked()) | imported())
