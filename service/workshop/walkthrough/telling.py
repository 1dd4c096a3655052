"""The verdict in the terminal: holds first, then findings, causes and steps."""

from __future__ import annotations

import shutil
import textwrap
from typing import Any

from service.words.locale import text

WIDEST = 100  # a line longer than this is hard to read
MOST_CAUSES = 6
SPEAKING = ("fail", "review", "undecided")


def width() -> int:
    """Columns to write in: the terminal's, no more than are easy to read."""
    return max(min(shutil.get_terminal_size().columns - 1, WIDEST), 20)


def in_columns(words: list[str]) -> str:
    """Words in columns, one below the other."""
    if not words:
        return ""
    widest = max(len(word) for word in words) + 3
    across = max(1, (width() - 4) // widest)
    lines = [words[start : start + across] for start in range(0, len(words), across)]
    return "".join("    " + "".join(word.ljust(widest) for word in line).rstrip() + "\n" for line in lines)


def wrapped(text: str, indent: str, room: int = 0) -> str:
    """A paragraph for the terminal, with room at the end of each line for what is typed there."""
    return textwrap.fill(text, width() - room, initial_indent=indent, subsequent_indent=indent)


def show_holds(answer: dict[str, Any], known: set[str]) -> set[str]:
    """Print the holds that are new, and return their codes."""
    new = [hold for hold in answer["holds"] if hold["code"] not in known]
    for hold in new:
        title = hold["title"]
        print(f"\n{wrapped(f'HOLD: {title}', '')}")
        print(wrapped(hold["instruction"], "  "))
        print(wrapped(f"It clears when: {hold['clears_when']}", "  "))
    return {hold["code"] for hold in new}


def show_verdict(answer: dict[str, Any]) -> None:
    """Print the whole answer, what stops the work first."""
    outcome = answer["outcome"]
    title = f"Verdict: {_noted('state', outcome['state'])}. {_noted('permission', outcome['run_permission'])}"
    print(f"\n{wrapped(title, '')}\n{'=' * min(len(title), width())}")
    show_holds(answer, set())
    _section("Findings", [_finding(item) for item in answer["findings"] if item["state"] in SPEAKING])
    _section("Causes", [_cause(item) for item in answer["causes"][:MOST_CAUSES]])
    _section("Next steps", [_step(item) for item in answer["next_steps"]])
    _section("Take care", [item["text"] for item in answer["cautions"]])
    print()
    print(wrapped(outcome["summary"], ""))


def show_procedure(answer: dict[str, Any]) -> None:
    """Print what a procedure says: its verdict, what is still open, the steps and the care to take."""
    show_holds(answer, set())
    _section("Verdict", [f"{_noted('finding', item['state'])}: {item['detail']}" for item in answer["findings"]])
    _section("Still open", [item["would_allow"] for item in answer["missing"]])
    _section("Next steps", [_step(item) for item in answer["next_steps"]])
    _section("Take care", [item["text"] for item in answer["cautions"]])


def show_comparison(answer: dict[str, Any]) -> None:
    """Print whether the repair is proven, then what the readings after it say."""
    show_holds(answer, set())
    _section("After the repair", [_finding(item) for item in answer["findings"][:1]])
    _section("Findings now", [_finding(item) for item in answer["findings"][1:] if item["state"] in SPEAKING])
    _section("Next steps", [_step(item) for item in answer["next_steps"]])


def _section(title: str, lines: list[str]) -> None:
    if lines:
        print(f"\n{title}")
        for line in lines:
            print(textwrap.fill(line, width(), initial_indent="  ", subsequent_indent="      "))


def _finding(finding: dict[str, Any]) -> str:
    return f"{_noted('finding', finding['state'])}: {finding['title']}. {finding['detail']}"


def _cause(cause: dict[str, Any]) -> str:
    return f"{min(cause['probability'], 0.99):4.0%}  {cause['title']}"


def _step(step: dict[str, Any]) -> str:
    return f"{step['order']}. [{_noted('power', step['power'])}] {step['title']}. {step['text']}"


def _noted(of: str, code: str) -> str:
    """A code in the words of the job note."""
    said: str = text("en", "report", f"{of}.{code}")
    return said
