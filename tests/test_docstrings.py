"""Public calculations say unit, range and source in one form, and their examples run.

A public calculation is a public function or method of physics, checks, procedures or verdicts that returns a
number, and in physics also one that takes some. Its form is numpy's: Parameters, Returns, Raises, References,
Examples.
"""

import ast
import doctest
import importlib
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.knowledge.limits import limit
from service.results.record import Record

TOP = Path(__file__).parents[1]
SERVICE = TOP / "service"
NUMBER = re.compile(r"\b(float|int|Array|FloatArray|Uncertain|Quantity)\b")
COUNTED = re.compile(r"\b(float|Array|FloatArray|Uncertain|Quantity)\b")
UNIT = re.compile(r"\[[^\]]+\]")
LEAST_SHARE_OF_SOURCES = 0.90
ROOMS = ("physics", "checks", "procedures", "verdicts")
WITH_EXAMPLES = sorted(file for file in SERVICE.rglob("*.py") if ">>>" in file.read_text("utf-8"))


class Calculation(Record):
    """A public calculation, with where it stands and the docstring of its class."""

    place: str
    node: ast.FunctionDef
    of_class: str

    @property
    def text(self) -> str:
        return ast.get_docstring(self.node) or ""

    def section(self, name: str) -> str:
        """The lines under a heading, empty without it."""
        found = re.search(rf"^{name}\n-+\n(.*?)(?=\n\n\w[\w ]*\n-+\n|\Z)", self.text, re.MULTILINE | re.DOTALL)
        return "" if found is None else found[1]

    def numbers(self) -> dict[str, str]:
        """The parameters that are numbers, or come in numbers, with their types."""
        given = self.node.args
        every = [*given.posonlyargs, *given.args, *given.kwonlyargs, *([given.vararg] if given.vararg else [])]
        types = {item.arg: ast.unparse(item.annotation) for item in every if item.annotation}
        return {name: said for name, said in types.items() if NUMBER.search(said) and "Callable" not in said}


def public(
    body: list[ast.stmt], of_class: str = "", prefix: str = ""
) -> Iterator[tuple[str, ast.FunctionDef, str]]:
    for node in body:
        name = getattr(node, "name", "_")
        if name.startswith("_"):
            continue
        if isinstance(node, ast.ClassDef):
            yield from public(node.body, ast.get_docstring(node) or "", f"{name}.")
        elif isinstance(node, ast.FunctionDef):
            yield prefix + name, node, of_class


def calculations() -> Iterator[Calculation]:
    for room in ROOMS:
        for file in sorted((SERVICE / room).rglob("*.py")):
            for name, node, of_class in public(ast.parse(file.read_text("utf-8")).body):
                found = Calculation(f"{file.relative_to(TOP)}:{node.lineno} {name}", node, of_class)
                returned = COUNTED.search(ast.unparse(node.returns)) if node.returns else None
                taken = room == "physics" and COUNTED.search(" ".join(found.numbers().values()))
                if returned or taken:
                    yield found


CALCULATIONS = list(calculations())


def test_there_are_calculations():
    assert len(CALCULATIONS) > 150


@pytest.mark.parametrize("found", CALCULATIONS, ids=lambda found: found.place)
def test_every_number_that_goes_in_or_comes_out_has_its_unit(found):
    said = [line for line in found.section("Parameters").splitlines() if re.match(r"\w", line)]
    with_unit = {name for line in said if UNIT.search(line) for name in line.partition(" : ")[0].split(", ")}
    lacking = sorted(set(found.numbers()) - with_unit)
    assert not lacking, f"{found.place}: write `{lacking[0]} : [unit], range` under Parameters of its docstring"
    returned = found.section("Returns")
    assert UNIT.search(returned), f"{found.place}: write `[unit]` under Returns of its docstring"


def test_nine_in_ten_name_their_source():
    lacking = [
        found.place
        for found in CALCULATIONS
        if not found.section("References") and "References\n" not in found.of_class
    ]
    share = 1.0 - len(lacking) / len(CALCULATIONS)
    told = "\n".join(f"{place}: write its source under References of its docstring" for place in lacking)
    assert share >= LEAST_SHARE_OF_SOURCES, f"{share:.0%} of {len(CALCULATIONS)} have a source:\n{told}"


def test_rows_that_are_named_as_a_source_are_held():
    named = {
        name
        for found in CALCULATIONS
        for name in re.findall(r"`([a-z-]+\.[a-z0-9-]+)`", found.section("References"))
    }
    assert len(named) > 5
    for name in named:
        assert limit(name).basis


@pytest.mark.parametrize("file", WITH_EXAMPLES, ids=lambda file: str(file.relative_to(TOP)))
def test_the_examples_of_a_module_run(file):
    module = importlib.import_module(".".join(file.relative_to(TOP).with_suffix("").parts))
    result = doctest.testmod(module)
    assert result.attempted > 0
    name = file.relative_to(TOP)
    assert result.failed == 0, f"{name}: python -m doctest {name} shows which example gives what"


def test_most_formulas_show_an_example():
    """Of functions of physics that a reader can call with plain numbers."""
    plain = [found for found in CALCULATIONS if found.place.startswith("service/physics") and not found.of_class]
    shown = [found for found in plain if ">>>" in found.section("Examples")]
    assert len(shown) >= 0.7 * len(plain), f"{len(shown)} of {len(plain)}"
