"""Mutation testing: does a test fail when a line of the code is changed?

    python -m tests.mutation [--most 100] [--seed 1] file.py ... -- pytest arguments

Every mutant is one changed operator, constant, verdict or condition. It runs in a forked child whose import
system sees the changed module; third-party modules and the loaded knowledge are shared, so that a run costs
seconds. Prints every mutant with what became of it, and how many were killed so far.
"""

import argparse
import ast
import copy
import importlib.abc
import importlib.util
import os
import random
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from service.knowledge import catalogues, limits

COMPARISONS = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
}
OPERATORS = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
NAMES = {"above": "below", "below": "above", "min": "max", "max": "min", "any": "all", "all": "any"}
STATES = {"FAIL": "REVIEW", "REVIEW": "PASS", "PASS": "FAIL", "UNDECIDED": "FAIL", "NOT_APPLICABLE": "PASS"}
SECONDS = 120


def changes(node: ast.AST) -> Iterator[ast.AST]:
    """Nodes that may stand in for this one, each with one change."""
    changed = copy.deepcopy(node)
    if isinstance(changed, ast.Compare):
        changed.ops[0] = COMPARISONS[type(changed.ops[0])]()
    elif isinstance(changed, ast.BoolOp):
        changed.op = ast.Or() if isinstance(changed.op, ast.And) else ast.And()
    elif isinstance(changed, ast.BinOp) and type(changed.op) in OPERATORS:
        changed.op = OPERATORS[type(changed.op)]()
    elif isinstance(changed, ast.UnaryOp) and isinstance(changed.op, ast.Not):
        changed = changed.operand
    elif isinstance(changed, ast.Constant) and isinstance(changed.value, bool):
        changed.value = not changed.value
    elif isinstance(changed, ast.Constant) and isinstance(changed.value, int | float):
        changed.value += 1
    elif isinstance(changed, ast.Name) and changed.id in NAMES:
        changed.id = NAMES[changed.id]
    elif isinstance(changed, ast.Attribute) and changed.attr in STATES:
        changed.attr = STATES[changed.attr]
    elif isinstance(changed, ast.IfExp):
        changed.body, changed.orelse = changed.orelse, changed.body
    elif isinstance(changed, ast.If):
        changed.test = ast.UnaryOp(ast.Not(), changed.test)
    else:
        return
    yield changed


def mutants(source: str) -> Iterator[tuple[int, str, ast.Module]]:
    """(line, text of the change, changed module) for every change of a module."""
    tree = ast.parse(source)
    for index, node in enumerate(ast.walk(tree)):
        for changed in changes(node):
            copied = copy.deepcopy(tree)
            target = list(ast.walk(copied))[index]
            yield node.lineno, f"{_text(node)} -> {_text(changed)}", _replaced(copied, target, changed)


def _text(node: ast.AST) -> str:
    shown = node.test if isinstance(node, ast.If) else node
    return ast.unparse(shown)[:70]


def _replaced(tree: ast.Module, target: ast.AST, changed: ast.AST) -> ast.Module:
    class Put(ast.NodeTransformer):
        def visit(self, node: ast.AST) -> ast.AST:
            return changed if node is target else self.generic_visit(node)

    return ast.fix_missing_locations(Put().visit(tree))


class Finder(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Loads one module from a changed tree."""

    def __init__(self, name: str, tree: ast.Module) -> None:
        self.name, self.tree = name, tree

    def find_spec(self, fullname, path=None, target=None):  # noqa: ARG002 - the import system's form
        """The spec of the changed module, None for any other."""
        return importlib.util.spec_from_loader(fullname, self) if fullname == self.name else None

    def create_module(self, spec):
        """As usual."""

    def exec_module(self, module):
        """Run the changed tree."""
        exec(compile(self.tree, self.name, "exec"), module.__dict__)


def is_killed(name: str, tree: ast.Module, arguments: list[str]) -> bool:
    """Run the tests against the changed module in a child; a crash or a hang kills it as well."""
    child = os.fork()
    if child == 0:
        signal.alarm(SECONDS)
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, 1)
        os.dup2(null, 2)
        sys.meta_path.insert(0, Finder(name, tree))
        os._exit(
            min(255, int(pytest.main([*arguments, "-x", "-q", "-p", "no:randomly", "-p", "no:cacheprovider"])))
        )
    _, status = os.waitpid(child, 0)
    return status != 0


def _module(file: Path) -> str:
    return ".".join(file.with_suffix("").parts)


def sample(files: list[str], most: int, seed: int) -> list[tuple[str, int, str, ast.Module]]:
    """At most `most` mutants of all files, drawn at random and in random order."""
    found = [(file, *mutant) for file in files for mutant in mutants(Path(file).read_text())]
    random.Random(seed).shuffle(found)
    return found[:most]


def main() -> None:
    """Mutate the files and report."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--most", type=int, default=100000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("files", nargs="+")
    own, arguments = sys.argv[1:], []
    if "--" in own:
        own, arguments = own[: own.index("--")], own[own.index("--") + 1 :]
    options = parser.parse_args(own)
    catalogues.findings(), catalogues.steps(), limits.all_limits()
    unchanged = Path(options.files[0])
    if is_killed(_module(unchanged), ast.parse(unchanged.read_text()), arguments):
        sys.exit("the tests fail before anything is changed")
    killed, drawn = 0, sample(options.files, options.most, options.seed)
    for tried, (file, line, text, tree) in enumerate(drawn, 1):
        dead = is_killed(_module(Path(file)), tree, arguments)
        killed += dead
        print(f"{'killed' if dead else 'SURVIVED'} ({killed} of {tried}) {file}:{line}: {text}", flush=True)


if __name__ == "__main__":
    main()
