"""The three commands: arguments in, files and a few lines of text out."""

from __future__ import annotations

import argparse
import json
import os
import sys

from service.knowledge.languages import LANGUAGES
from service.workshop.fleet import files, manifest
from service.workshop.fleet.columns import ANSWER, COLUMNS, Wanted
from service.workshop.fleet.engine import Stopped, run
from service.workshop.fleet.files import UnusableFile
from service.workshop.fleet.plan import ROWS, partitions
from service.workshop.fleet.progress import Progress

NAME_LENGTH = 64


def judge(arguments: list[str]) -> int:
    """Judge every visit of the input; what has its file already is not judged again."""
    parser = argparse.ArgumentParser(prog="python -m service fleet judge", description=judge.__doc__)
    parser.add_argument("input", help="NDJSON or Parquet: file, folder or pattern; path or fsspec address")
    parser.add_argument("output", help="folder for the judged rows, one Parquet file a partition")
    parser.add_argument("--visit", default="visit", help="column or member that holds the visit document")
    parser.add_argument("--keep", default="", help="columns of your own to carry along, separated by commas")
    parser.add_argument("--answers", action="store_true", help="keep the whole answers too, as JSON")
    parser.add_argument("--language", choices=LANGUAGES, default="en", help="of the whole answers")
    parser.add_argument("--without-reference", action="store_true", help="leave the reference of the visits out")
    parser.add_argument("--rows", type=_positive, default=ROWS, help=f"rows a partition; {ROWS} when not given")
    parser.add_argument("--workers", type=_positive, default=len(os.sched_getaffinity(0)), help="processes")
    parser.add_argument("--scheduler", help="address of a Dask cluster to judge on, as in tcp://10.0.0.1:8786")
    given = parser.parse_args(arguments)
    keep = tuple(name for name in given.keep.split(",") if name)
    taken = sorted(set(keep) & {*COLUMNS, ANSWER})
    if taken:
        parser.error(f"--keep: {', '.join(taken)} is a column of the judged rows; rename yours")
    wanted = Wanted(given.visit, keep, given.answers, not given.without_reference, given.language)
    out = files.whole_address(given.output)
    try:
        inputs = files.input_files(given.input)
        manifest.open_folder(out, inputs, given.rows, wanted)
    except UnusableFile as error:
        print(error, file=sys.stderr)
        return 1
    planned, wrong = partitions(inputs, given.rows)
    left = manifest.left_to_do(out, planned)
    if len(left) < len(planned):
        print(f"{len(planned) - len(left)} of {len(planned)} files are there already", file=sys.stderr)
    progress = Progress(len(left))
    try:
        if left:
            run(left, out, wanted, progress.tell, min(given.workers, len(left)), given.scheduler)
    except Stopped as reason:
        print(f"stopped: {reason}. The same command goes on from here.", file=sys.stderr)
        return 1
    for line in [*wrong, *progress.wrong]:
        print(f"not judged: {line}", file=sys.stderr)
    each = f", {1000 * progress.seconds / progress.rows:.2f} ms of processor a visit" if progress.rows else ""
    print(f"{progress.rows} visits judged, {progress.refused} of them refused{each}: {out}")
    return 1 if wrong or progress.wrong else 0


def _positive(text: str) -> int:
    number = int(text)
    if number < 1:
        raise argparse.ArgumentTypeError("1 or more")
    return number


def evaluate(arguments: list[str]) -> int:
    """What was said against what was proven: figures as JSON, and one page to read."""
    parser = argparse.ArgumentParser(prog="python -m service fleet evaluate", description=evaluate.__doc__)
    parser.add_argument("judged", help="folder that fleet judge wrote")
    _add_labels(parser)
    parser.add_argument(
        "-o", "--output", default="fleet-report.html", help="the page; the figures go beside it, .json"
    )
    given = parser.parse_args(arguments)
    from service.workshop.fleet.evaluating import evaluate as figures_of
    from service.workshop.fleet.report import NAMES, as_page

    try:
        found = figures_of(given.judged, given.truth, given.callback)
    except UnusableFile as error:
        print(error, file=sys.stderr)
        return 1
    page = files.whole_address(given.output)
    files.write_whole(page, as_page(found))
    beside = f"{page.removesuffix('.html')}.json"
    files.write_whole(beside, json.dumps(found, indent=1, ensure_ascii=False).encode())
    print(f"{found['judged']['labels']} labels of {found['judged']['rows']} rows")
    for name, said in NAMES.items():
        item = found["figures"][name]
        if item["of"]:
            print(f"  {item['share']:.3f} ({item['low']:.3f} to {item['high']:.3f})  {said}")
    print(f"  {found['figures']['calibration_error']:.3f}  Calibration error\n{page}\n{beside}")
    return 0


def learn(arguments: list[str]) -> int:
    """The fleet's own shares of causes and one temperature, where records held out are the better for them."""
    parser = argparse.ArgumentParser(prog="python -m service fleet learn", description=learn.__doc__)
    parser.add_argument("judged", help="folder that fleet judge wrote")
    _add_labels(parser)
    parser.add_argument("-o", "--output", default="learnt.yaml", help="the learnt file")
    parser.add_argument("--name", default="fleet", help="what provenance calls it, at most 64 characters")
    given = parser.parse_args(arguments)
    if not 0 < len(given.name) <= NAME_LENGTH:
        parser.error(f"--name: 1 to {NAME_LENGTH} characters")
    from service.workshop.fleet.learning import Declined, Source, as_text
    from service.workshop.fleet.learning import learn as learnt_from

    try:
        content = learnt_from(Source(given.judged, given.truth, given.callback), given.name)
    except (UnusableFile, Declined) as reason:
        print(f"nothing learnt: {reason}", file=sys.stderr)
        return 1
    files.write_whole(files.whole_address(given.output), as_text(content))
    about, tried = content["about"], content["about"]["held_out"]
    print(f"{about['labels']} labels, {tried['labels']} of them held out; temperature {content['temperature']}")
    for name, before in tried["before"].items():
        print(f"  {name.replace('_', ' ')}: {before:.4f} before, {tried['after'][name]:.4f} after")
    print(files.whole_address(given.output))
    return 0


def _add_labels(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--truth", required=True, help="column with the cause that proved right (kept by judge)")
    parser.add_argument(
        "--callback", help="column that tells whether the customer called again; no repair and no call is sound"
    )
