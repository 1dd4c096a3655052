"""The verdict in the terminal: holds first, then findings, causes and steps."""

from __future__ import annotations

import textwrap
from typing import Any

from service.words.locale import text

WIDTH = 100
MOST_CAUSES = 6
SPEAKING = ("fail", "review", "undecided")


def in_columns(words: list[str]) -> str:
    """Words in columns, one below the other."""
    if not words:
        return ""
    width = max(len(word) for word in words) + 3
    across = max(1, (WIDTH - 4) // width)
    lines = [words[start : start + across] for start in range(0, len(words), across)]
    return "".join("    " + "".join(word.ljust(width) for word in line).rstrip() + "\n" for line in lines)


def wrapped(text: str, indent: str) -> str:
    """A paragraph for the terminal."""
    return textwrap.fill(text, WIDTH, initial_indent=indent, subsequent_indent=indent)


def show_holds(answer: dict[str, Any], known: set[str]) -> set[str]:
    """Print the holds that are new, and return their codes."""
    new = [hold for hold in answer["holds"] if hold["code"] not in known]
    for hold in new:
        print(f"\nHOLD: {hold['title']}")
        print(wrapped(hold["instruction"], "  "))
        print(wrapped(f"It clears when: {hold['clears_when']}", "  "))
    return {hold["code"] for hold in new}


def show_verdict(answer: dict[str, Any]) -> None:
    """Print the whole answer, what stops the work first."""
    outcome = answer["outcome"]
    title = f"Verdict: {_noted('state', outcome['state'])}. {_noted('permission', outcome['run_permission'])}"
    print(f"\n{title}\n{'=' * len(title)}")
    show_holds(answer, set())
    _section("Findings", [_finding(item) for item in answer["findings"] if item["state"] in SPEAKING])
    _section("Causes", [_cause(item) for item in answer["causes"][:MOST_CAUSES]])
    _section("Next steps", [_step(item) for item in answer["next_steps"]])
    _section("Take care", [item["text"] for item in answer["cautions"]])
    print()
    print(wrapped(outcome["summary"], ""))


def _section(title: str, lines: list[str]) -> None:
    if lines:
        print(f"\n{title}")
        for line in lines:
            print(textwrap.fill(line, WIDTH, initial_indent="  ", subsequent_indent="      "))


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
