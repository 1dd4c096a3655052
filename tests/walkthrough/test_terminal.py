"""A whole visit at a terminal of 80 columns: a mistake, a way back, a stop, going on, the repair and its proof."""

import json
import os
import pty
import select
import struct
import sys
import termios
import time
from fcntl import ioctl
from pathlib import Path

import pytest

from tests.wire.serving import PATIENCE

COLUMNS = 80


class Terminal:
    """A program at a pseudo terminal of 80 columns; answers are typed when the question stands there."""

    def __init__(self, *arguments: str, where: Path) -> None:
        self.seen = ""
        self.mark = 0
        environment = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2]), "TERM": "dumb"}
        for name in ("COLUMNS", "LINES"):
            environment.pop(name, None)
        self.process, self.end = pty.fork()
        if self.process == 0:
            os.chdir(where)
            os.execve(sys.executable, [sys.executable, "-m", "service", "try", *arguments], environment)
        ioctl(self.end, termios.TIOCSWINSZ, struct.pack("HHHH", 24, COLUMNS, 0, 0))

    def until(self, text: str, start: int = 0) -> None:
        """Read until a text stands there."""
        deadline = time.monotonic() + PATIENCE
        while text not in " ".join(self.seen[start:].split()):
            assert time.monotonic() < deadline, f"no {text!r} in:\n{self.seen[start:]}"
            if not self._read():
                raise AssertionError(f"ended without {text!r}:\n{self.seen[start:]}")

    def answer(self, question: str, said: str) -> None:
        """Wait for a question, then type."""
        self.until(question, self.mark)
        self.until(">", self.mark + self.seen[self.mark :].index(question.split(maxsplit=1)[0]))
        self.mark = len(self.seen)
        os.write(self.end, f"{said}\n".encode())

    def rest(self) -> int:
        """Read to the end; the exit status."""
        while self._read():
            pass
        os.close(self.end)
        return os.waitstatus_to_exitcode(os.waitpid(self.process, 0)[1])

    def _read(self) -> bool:
        ready, _, _ = select.select([self.end], [], [], 1.0)
        if not ready:
            return True
        try:
            got = os.read(self.end, 4096).decode(errors="replace")
        except OSError:
            return False
        self.seen += got.replace("\r\n", "\n")
        return got != ""


def too_wide(seen: str) -> list[str]:
    """Lines past the terminal's edge; the document is one line, to be copied."""
    return [line for line in seen.splitlines() if len(line) > COLUMNS and not line.startswith("{")]


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo terminal there")
def test_a_visit_with_a_mistake_a_way_back_a_stop_and_going_on(tmp_path):
    """Common practice, no source: a suction line of 105 F is a slip for 55, and is asked once more."""
    first = Terminal("--file", "job.json", where=tmp_path)
    first.answer("What does the customer report?", "it cools porly")
    first.answer("Type a number from 1 to", "it cools poorly")
    first.answer("Which refrigerant", "R-410A")
    first.answer("What meters the refrigerant?", "1")
    first.answer("How is the compressor motor fed?", "back")
    first.answer("What meters the refrigerant?", "3")
    first.answer("target subcooling", "10")
    first.answer("How is the compressor motor fed?", "stop")
    assert first.rest() == 0
    assert "Go on with" in first.seen
    assert too_wide(first.seen) == []
    kept = json.loads((tmp_path / "job.json").read_text())
    assert kept["document"]["equipment"]["metering_device"] == "thermostatic_expansion_valve"

    second = Terminal("--file", "job.json", where=tmp_path)
    second.answer("How is the compressor motor fed?", "1")
    readings = {"Suction line at the service valve": "105", "Suction pressure": "118"}
    asked = _until_asked(second, readings)
    assert "Suction line at the service valve" in asked
    second.answer("105 is unusual here", "55")
    second.answer(">", "done")
    assert second.rest() == 0
    assert "Verdict:" in " ".join(second.seen.split())
    assert too_wide(second.seen) == []
    document = json.loads(second.seen.splitlines()[-1])
    assert document["running"]["suction_line_temperature"] == 55.0
    assert document["complaint"]["symptoms"] == ["poor_cooling"]


def _until_asked(terminal: Terminal, known: dict[str, str]) -> list[str]:
    """Answer by the question, Enter for what is not known, until the first of the known was typed."""
    wanted = next(iter(known))
    asked: list[str] = []
    while wanted not in asked:
        terminal.until(" >", terminal.mark)
        shown = " ".join(terminal.seen[terminal.mark :].split())
        found = next((question for question in known if question in shown), None)
        terminal.mark = len(terminal.seen)
        os.write(terminal.end, f"{known.get(found or '', '')}\n".encode())
        asked.append(found or shown)
        assert len(asked) < 60, asked
    return asked


def test_a_pressure_test_in_the_terminal(tmp_path):
    """400, 394, 388 psig in an hour is a leak (common practice, no source)."""
    walk = Terminal("pressure-test", where=tmp_path)
    walk.answer("Test gas", "nitrogen")
    walk.answer("Which refrigerant", "")
    walk.answer("Low-side design", "450")
    walk.answer("High-side design", "450")
    walk.answer("Smallest step", "")
    for number, pressure in enumerate((400, 394, 388), 1):
        walk.answer(f"Reading {number};", str(30 * (number - 1)))
        walk.answer("Test pressure", str(pressure))
        walk.answer("Temperature of the pipework", "75")
    walk.answer("Reading 4;", "")
    assert walk.rest() == 0
    said = " ".join(walk.seen.split())
    assert "It is leaking" in said
    assert "Find" in said.split("Next steps")[1]
    assert too_wide(walk.seen) == []
    assert json.loads(walk.seen.splitlines()[-1])["samples"][2]["pressure"] == 388.0


def test_a_leak_rate_with_a_mistake_a_way_back_a_stop_and_going_on(tmp_path):
    """40 CFR 82.157: a service's own refrigerant is no leak (from memory)."""
    first = Terminal("leak-rate", "--file", "rate.json", where=tmp_path)
    first.answer("Date of the visit", "yesterday")
    first.answer("year-month-day]", "2026-06-01")
    first.answer("Which refrigerant", "R-410A")
    first.answer("Full charge of the appliance", "back")
    first.answer("Which refrigerant", "R-22")
    first.answer("Full charge of the appliance", "80")
    first.answer("Class in the rules", "comfort cooling")
    first.answer("last known full", "stop")
    assert first.rest() == 0
    assert too_wide(first.seen) == []
    second = Terminal("--file", "rate.json", where=tmp_path)
    second.answer("last known full", "2026-05-01")
    second.answer("last repaired", "")
    for day, mass, reason in (("2026-05-20", "20", "service"), ("2026-06-01", "0.1", "")):
        second.answer("Date of the addition", day)
        second.answer("Refrigerant added", mass)
        second.answer("Why it was added", reason)
        second.answer("What had been recovered", "20" if reason else "")
    second.answer("Date of the addition", "")
    assert second.rest() == 0
    assert too_wide(second.seen) == []
    assert "The rule requires no repair" in " ".join(second.seen.split())
    document = json.loads(second.seen.splitlines()[-1])
    assert document["refrigerant"] == "R-22"
    assert document["additions"][0] == {"date": "2026-05-20", "mass": 20.0, "reason": "service", "recovered": 20.0}
