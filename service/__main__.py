"""The command surface: python -m service serve | try | spec | tables | bench | fleet | rules | release."""

from __future__ import annotations

import argparse
import gc
import os
import sys
from pathlib import Path

from service import settings, stopping

WRONG_USAGE = 2
COMMANDS = {
    "try": "run a sample visit and print verdicts and next steps",
    "spec": "write or check the OpenAPI document",
    "tables": "build the saturation and property tables",
    "bench": "measure speed and memory against baselines",
    "fleet": "judge many visits, see how right that was, learn from it",
    "rules": "list the rules held, or with --review those to be read again",
    "release": "set version, changelog and kept contract, commit and tag",
}


def main(arguments: list[str] | None = None) -> int:
    """Run one command and return its exit status."""
    parser = argparse.ArgumentParser(prog="python -m service", description="Diagnosis of air conditioners.")
    commands = parser.add_subparsers(dest="command", required=True)
    serve = commands.add_parser("serve", help="start the production server; settings come from the environment")
    said = f"{settings.BIND_ALLOWED}; without it 127.0.0.1:8080, with API keys 0.0.0.0:8080"
    serve.add_argument("--bind", help=said)
    for name, purpose in COMMANDS.items():
        commands.add_parser(name, help=purpose, add_help=False)
    given, rest = parser.parse_known_args(arguments)
    if given.command == "serve":
        if rest:
            parser.error(f"serve does not know {' '.join(rest)}")
        return _serve(given.bind)
    return _run(given.command, rest)


def _run(command: str, rest: list[str]) -> int:
    """Each command imports its own part of the workshop, so that none waits for the others."""
    if command == "try":
        from service.workshop.walkthrough import main as run
    elif command == "spec":
        from service.workshop.specification import main as run
    elif command == "tables":
        from service.workshop.build import main as run
    elif command == "fleet":
        from service.workshop.fleet import main as run
    elif command == "rules":
        from service.workshop.rules import main as run
    elif command == "release":
        from service.workshop.releasing import main as run
    else:
        from service.workshop.bench import main as run
    return run(rest)


def _serve(bind: str | None) -> int:
    """Check every setting before the slow imports, so that a wrong one is told at once."""
    messages: tuple[str, ...] = ()
    try:
        chosen = settings.from_environment(os.environ)
    except settings.SettingsError as error:
        messages = error.messages
    try:
        settings.bind_address("127.0.0.1:8080" if bind is None else bind)
    except ValueError:
        messages = (*messages, f"--bind: allowed is {settings.BIND_ALLOWED}")
    if messages:
        print("\n".join(messages), file=sys.stderr)
        return WRONG_USAGE
    stopping.hear_stops()
    gc.disable()  # all that is made now stays; `warm_up` tells the collector so and lets it go on
    from service.knowledge import rule_book
    from service.knowledge.rows import KnowledgeError
    from service.words.completeness import load_all

    try:
        rule_book.install(chosen.default_jurisdiction, chosen.rules_folder)
        load_all()
    except KnowledgeError as error:
        print(error, file=sys.stderr)
        return WRONG_USAGE
    if chosen.learnt_file is not None and not _can_be_used(chosen.learnt_file):
        return WRONG_USAGE
    from service.wire.metrics_folder import metrics_folder

    with metrics_folder(chosen.metrics_directory):
        from service.app import create_app
        from service.wire.server import Server

        Server(bind or settings.default_bind(chosen.keys_asked_for), chosen, create_app).run()
    return 0


def _can_be_used(learnt_file: Path) -> bool:
    """Whether learnt shares are whole and of this model; says why not."""
    from service.library import UnusableLearntFile, read_learnt

    try:
        read_learnt(learnt_file)
    except UnusableLearntFile as error:
        print(f"LEARNT_FILE: {error}", file=sys.stderr)
        return False
    return True


if __name__ == "__main__":
    sys.exit(main())
