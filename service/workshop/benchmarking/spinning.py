"""What the machine gives to plain loops right now: the measure of how far anything can scale on it."""

from __future__ import annotations

import subprocess
import sys
import time

START = 0.3
"""Seconds in which every loop's process has started, on a machine that is not wholly overloaded."""
_LOOP = """
import os, time
os.sched_setaffinity(0, {cores})
time.sleep(max(0.0, {begin} - time.monotonic()))
turns, end = 0, {begin} + {seconds}
while time.monotonic() < end:
    turns += 1
print(turns)
"""


def turns(processes: int, cores: set[int], seconds: float) -> int:
    """Turns of a loop that so many processes make together on those cores, all in the same seconds."""
    begin = time.monotonic() + START
    command = [sys.executable, "-c", _LOOP.format(cores=cores, begin=begin, seconds=seconds)]
    loops = [subprocess.Popen(command, stdout=subprocess.PIPE) for _ in range(processes)]
    return sum(int(loop.communicate()[0]) for loop in loops)
