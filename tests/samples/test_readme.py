"""The README's tour, line by line, so that none of it can rot."""

import re
import subprocess
from pathlib import Path

import pytest

from tests.wire.serving import PATIENCE

ROOT = Path(__file__).parents[2]
BLOCKS = re.findall(r"```bash\n(.*?)```", (ROOT / "README.md").read_text(), re.DOTALL)
TOUR = next(block for block in BLOCKS if "base=" in block)
COMMANDS = [
    command.strip()
    for command in re.sub(r"\\\n\s*", "", TOUR).splitlines()
    if command.strip() and not command.startswith(("#", "base="))
]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.split()[2].strip('"')[5:])
def test_a_line_of_the_tour(command, address):
    shown = re.sub(r"> \w+\.html$", "", command)
    done = subprocess.run(
        ["bash", "-c", f"base={address}; {shown} -w '\\n%{{http_code}}'"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=PATIENCE,
        check=True,
    )
    body, status = done.stdout.rsplit("\n", 1)
    assert status == ("422" if '"118"' in command else "200")
    assert len(body) > 50


def test_the_readme_begins_with_the_job_and_names_both_commands():
    text = (ROOT / "README.md").read_text()
    assert text.split("\n\n")[1].startswith("A service technician stands at a central air conditioner")
    for command in ("samples/run-demo", "tests/run"):
        assert f"bash {command}" in text
        assert (ROOT / command).is_file()
