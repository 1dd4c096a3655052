"""What an output folder is of: the input, what was asked for and by which edition, so that a run can go on."""

from __future__ import annotations

import json
from typing import Any

from service.results.record import asdict
from service.workshop.fleet import files
from service.workshop.fleet.columns import Wanted
from service.workshop.fleet.files import UnusableFile
from service.workshop.fleet.judging import fleet_edition
from service.workshop.fleet.plan import Partition

NAME = "_fleet.json"


def open_folder(out: str, inputs: list[str], rows: int, wanted: Wanted) -> None:
    """Begin an output folder, or see that one that was begun is of the same.

    Raises: UnusableFile where it is of other input, other options or another edition: half of each is nobody's.
    """
    now = json.loads(json.dumps(_described(inputs, rows, wanted)))
    text = files.read_text(files.joined(out, NAME))
    if text is None:
        files.write_whole(files.joined(out, NAME), json.dumps(now, indent=1).encode())
        return
    then = json.loads(text)
    other = [name for name in now if then.get(name) != now[name]]
    if other:
        raise UnusableFile(f"{out}: was begun with other {' and '.join(other)}; give a folder of its own")


def left_to_do(out: str, partitions: list[Partition]) -> list[Partition]:
    """The partitions that have no file yet."""
    return [part for part in partitions if not files.exists(files.joined(out, part.name))]


def _described(inputs: list[str], rows: int, wanted: Wanted) -> dict[str, Any]:
    return {
        "input": [[file, files.size_of(file)] for file in inputs],
        "rows a file": rows,
        "options": asdict(wanted),
        "edition": fleet_edition(),
    }
