"""What a row names exists, and a row that names something else stops the start with its code and what is
allowed."""

import ast
import re
from pathlib import Path

import pytest

from service.knowledge import catalogues, references
from service.knowledge.rows import KnowledgeError
from service.words import completeness
from tests.guard import nothing_found

REASONING = Path(__file__).parents[2] / "service" / "reasoning"
CATALOGUES = (catalogues.findings, catalogues.holds, catalogues.causes, catalogues.steps, catalogues.parts)
CODES = {code for catalogue in CATALOGUES for code in catalogue()}


def test_everything_is_known_and_said():
    completeness.load_all()


@pytest.mark.parametrize(
    ("member", "named"),
    [
        ("steps", "step.prove-ded"),
        ("speaks", "cause.nothing"),
        ("run", "maybe"),
        ("doubts", "/running/sution_pressure"),
    ],
)
def test_a_wrong_reference_is_told_with_its_row(monkeypatch, member, named):
    allowed = ("step.prove-dead", "no", "/running/suction_pressure")
    wrong = references.Reference("readings.x", member, named, allowed)
    monkeypatch.setattr(references, "references", lambda: iter([wrong]))
    with pytest.raises(KnowledgeError, match=re.escape(f"readings.x: {member}: {named!r} is not known; near it:")):
        references.load_all()


def test_a_guard_names_file_code_and_command(monkeypatch):
    wrong = references.Reference("charge.superheat-high", "steps", "step.prove-ded", ("step.prove-dead",))
    monkeypatch.setattr(references, "references", lambda: iter([wrong]))
    with pytest.raises(KnowledgeError) as told:
        references.load_all()
    place = re.search(r"^(service/knowledge/topics/\S+\.yaml): charge\.superheat-high: ", str(told.value))
    assert "code: charge.superheat-high" in (Path(__file__).parents[2] / place[1]).read_text("utf-8")
    assert "bash tests/run --fast knowledge/test_references.py" in str(told.value)
    with pytest.raises(AssertionError, match=r"a\.yaml: code\nmend: do it\nagain: bash tests/run --fast words"):
        nothing_found(["a.yaml: code"], "do it", "words")


def literals(file):
    """Texts of a module, without the codes of what it reports itself and the limits that it asks for by name."""
    tree = ast.parse(file.read_text("utf-8"))
    named = {
        id(node.args[0])
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and ast.unparse(node.func) in ("report", "limit") and node.args
    }
    texts = (node for node in ast.walk(tree) if isinstance(node, ast.Constant) and id(node) not in named)
    return [node.value for node in texts if isinstance(node.value, str)]


@pytest.mark.parametrize("file", sorted(REASONING.rglob("*.py")), ids=lambda file: file.name)
def test_no_code_of_a_row_stands_in_the_reasoning(file):
    found = [text for text in literals(file) if text in CODES]
    lines = [f"service/reasoning/{file.name}: {code}" for code in found]
    mend = "what a code means belongs in its row under service/knowledge: give the row a member, read that"
    nothing_found(lines, mend, "knowledge/test_references.py")


# The questions to the cycle model and the names of its classes have their own constants.
NUMBERS = {"cycle_weighing.py", "shares.py", "next_readings.py", "cycle_question.py"}
FILES = [file for file in sorted(REASONING.glob("*.py")) if file.name not in NUMBERS]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_no_threshold_stands_in_the_reasoning(file):
    tree = ast.parse(file.read_text("utf-8"))
    compared = [node for node in ast.walk(tree) if isinstance(node, ast.Compare)]
    numbers = [
        (item.lineno, item.value)
        for node in compared
        for item in ast.walk(node)
        if isinstance(item, ast.Constant) and isinstance(item.value, float) and item.value not in (0.0, 1.0)
    ]
    lines = [f"service/reasoning/{file.name}:{line}: {value}" for line, value in numbers]
    mend = "a threshold that decides is a row of service/knowledge/topics/reasoning.yaml: limit('reasoning...')"
    nothing_found(lines, mend, "knowledge/test_references.py")
