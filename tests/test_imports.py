"""The house imports its own rooms by statements that tools can follow, never by a string at run time."""

import ast
from pathlib import Path

import pytest

from tests.guard import nothing_found

SERVICE = Path(__file__).parents[1] / "service"
BY_STRING = {"import_module", "__import__", "importlib.import_module"}


@pytest.mark.parametrize("file", sorted(SERVICE.rglob("*.py")), ids=lambda file: str(file.relative_to(SERVICE)))
def test_no_module_of_ours_is_imported_by_string(file):
    calls = (node for node in ast.walk(ast.parse(file.read_text("utf-8"))) if isinstance(node, ast.Call))
    found = [node.lineno for node in calls if ast.unparse(node.func) in BY_STRING]
    lines = [f"{file.relative_to(SERVICE.parent)}:{line}" for line in found]
    nothing_found(lines, "use an import statement, which mypy and lint-imports can follow", "test_imports.py")
