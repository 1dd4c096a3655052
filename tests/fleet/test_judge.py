"""`fleet judge` on real files: what is refused, cut, killed, shared among processes, and how it is kept."""

import json
import signal
import subprocess
import sys

import pyarrow as pa
import pytest
from pyarrow import parquet

from service.library import assess_one
from service.workshop.fleet import commands, files, plan
from tests.fleet.conftest import ROOT, environment, fleet, rows_in, visit, write_lines

REFUSED = {"reference": "bad", "running": {"suction_pressure": "118"}}


def judge(*arguments):
    return commands.judge([*map(str, arguments), *([] if "--workers" in arguments else ["--workers", "1"])])


def test_rows_say_what_the_single_answer_says(ndjson, tmp_path):
    assert judge(ndjson([visit(7), visit(80)]), tmp_path / "out") == 0
    for number, row in zip((7, 80), rows_in(tmp_path / "out"), strict=True):
        said = assess_one(visit(number)).document()
        assert row["reference"] == said["reference"] == f"job-{number}"
        assert row["outcome"] == said["outcome"]["state"]
        assert (row["cause"], row["share"]) == (said["causes"][0]["code"], said["causes"][0]["probability"])
        assert [(item["code"], item["share"]) for item in row["causes"]] == [
            (cause["code"], cause["probability"]) for cause in said["causes"]
        ]
        assert row["failed"] == [item["code"] for item in said["findings"] if item["state"] == "fail"]
        assert row["holds"] == [hold["code"] for hold in said["holds"]]
        assert row["steps"] == [step["code"] for step in said["next_steps"]]
        assert row["parts"] == [part["code"] for part in said["outcome"]["parts"]]
        assert (row["minutes_low"], row["minutes_high"]) == tuple(said["outcome"]["minutes"].values())
        assert (row["month"], row["kind"], row["refrigerant"]) == ("2026-07", "split_air_conditioner", "R-410A")


def test_a_refused_row_is_a_row_with_its_problem(ndjson, tmp_path):
    lines = [visit(1), REFUSED, b"{no json\n", b"\n", {"equipment": {"refrigerant": "R-unheard"}}, visit(2)]
    assert judge(ndjson(lines), tmp_path / "out") == 0
    rows = rows_in(tmp_path / "out")
    assert [row["status"] for row in rows] == [200, 422, 400, 422, 200]
    assert [row["row"] for row in rows] == [1, 2, 3, 5, 6]
    assert rows[1]["reference"] == "bad"
    assert rows[1]["errors"] == ["/running/suction_pressure document.not-a-number"]
    problem = json.loads(rows[1]["problem_document"])
    assert problem["code"] == rows[1]["problem"] == "request.not-valid"
    assert problem["instance"].endswith("visits.ndjson#row=2")
    assert rows[1]["outcome"] is None


def test_a_file_that_was_cut_in_the_middle_loses_its_last_line_alone(ndjson, tmp_path):
    file = ndjson([visit(number) for number in range(4)])
    file.write_bytes(file.read_bytes()[:-40])
    assert judge(file, tmp_path / "out") == 0
    assert [row["status"] for row in rows_in(tmp_path / "out")] == [200, 200, 200, 400]


def test_a_parquet_file_that_was_cut_is_told_and_the_others_are_judged(tmp_path, capsys):
    folder = tmp_path / "in"
    folder.mkdir()
    for name in ("a", "b"):
        as_parquet(folder / f"{name}.parquet", [visit(1), visit(2)])
    cut = folder / "b.parquet"
    cut.write_bytes(cut.read_bytes()[:-100])
    assert judge(folder, tmp_path / "out") == 1
    assert "b.parquet: no whole Parquet file" in capsys.readouterr().err
    assert len(rows_in(tmp_path / "out")) == 2


def as_parquet(file, documents, groups=3, **columns):
    table = pa.table({"visit": [json.dumps(document) for document in documents], **columns})
    parquet.write_table(table, file, row_group_size=groups)
    return file


def test_a_parquet_folder_is_judged_as_the_same_lines_are(ndjson, tmp_path):
    documents = [visit(number) for number in range(11)]
    folder = tmp_path / "months" / "2026"
    folder.mkdir(parents=True)
    as_parquet(folder / "b.parquet", documents[5:], proven=["cause.no-supply"] * 5 + [None])
    as_parquet(folder / "a.parquet", documents[:5], proven=["cause.none-found"] * 5)
    (folder / "_other.parquet").write_text("not data, by its name")
    (folder / "notes.txt").write_text("not data, by its end")
    assert judge(tmp_path / "months", tmp_path / "out", "--rows", 4, "--keep", "proven") == 0
    assert judge(ndjson(documents), tmp_path / "plain") == 0
    rows, plain = rows_in(tmp_path / "out"), rows_in(tmp_path / "plain")
    assert [row["row"] for row in rows] == [1, 2, 3, 4, 5, 1, 2, 3, 4, 5, 6]
    assert [row["proven"] for row in rows] == ["cause.none-found"] * 5 + ["cause.no-supply"] * 5 + [None]
    own = {"file", "row", "proven"}
    assert [without(row, own) for row in rows] == [without(row, own) for row in plain]


def without(row, names):
    return {name: value for name, value in row.items() if name not in names}


def test_a_pattern_and_several_partitions_keep_every_line_once(tmp_path):
    for month, count in (("06", 7), ("07", 12), ("08", 4)):
        write_lines(tmp_path / f"2026-{month}.jsonl", [visit(number) for number in range(count)])
    assert judge(tmp_path / "2026-0[78].jsonl", tmp_path / "out", "--rows", 4) == 0
    assert sorted(file.name for file in (tmp_path / "out").iterdir()) == [
        "_fleet.json",
        *(f"part-{number:05d}.parquet" for number in range(4)),
    ]
    assert [row["row"] for row in rows_in(tmp_path / "out")] == [*range(1, 13), *range(1, 5)]


@pytest.mark.parametrize("block", [64, 300, 4096])
@pytest.mark.parametrize("rows", [1, 3, 7])
def test_partitions_begin_at_lines_wherever_the_blocks_end(ndjson, monkeypatch, block, rows):
    lines = [b"x" * (17 * number % 90) + b"\n" for number in range(21)]
    file = ndjson(lines)
    monkeypatch.setattr(plan, "BLOCK", block)
    found, wrong = plan.partitions([str(file)], rows)
    assert wrong == []
    assert [part.first for part in found] == list(range(1, 22, rows))
    assert [part.start for part in found] == [sum(map(len, lines[: part.first - 1])) for part in found]


def test_an_empty_file_gives_nothing_and_no_file_is_told(tmp_path, capsys):
    assert judge(write_lines(tmp_path / "empty.ndjson", []), tmp_path / "out") == 0
    assert rows_in(tmp_path / "out") == []
    assert judge(tmp_path / "absent.ndjson", tmp_path / "other") == 1
    assert "no file is there" in capsys.readouterr().err
    write_lines(tmp_path / "visits.csv", [visit(1)])
    assert judge(tmp_path / "visits.csv", tmp_path / "other") == 1
    assert "neither NDJSON nor Parquet" in capsys.readouterr().err


def test_whole_answers_and_columns_of_the_owner_on_request(ndjson, tmp_path):
    line = {"visit": visit(3), "proven": "cause.no-supply", "callback": False, "customer": "never asked for"}
    asked = ("--keep", "proven,callback", "--answers", "--language", "es", "--without-reference")
    assert judge(ndjson([line]), tmp_path / "out", *asked) == 0
    (row,) = rows_in(tmp_path / "out")
    assert (row["proven"], row["callback"]) == ("cause.no-supply", "false")
    assert json.loads(row["answer"]) == assess_one(visit(3)).document("es")
    assert not {"reference", "customer"} & set(row)
    assert "never asked for" not in json.dumps(row)


def test_a_column_of_ours_cannot_be_kept_as_the_owner_s(ndjson, tmp_path, capsys):
    with pytest.raises(SystemExit):
        judge(ndjson([visit(1)]), tmp_path / "out", "--keep", "cause")
    assert "--keep: cause is a column of the judged rows" in capsys.readouterr().err


def test_storage_of_fsspec_is_read_and_written(ndjson):
    files.write_whole("memory://fleet/in/visits.ndjson", ndjson([visit(1), visit(2)]).read_bytes())
    assert judge("memory://fleet/in", "memory://fleet/out") == 0
    with files.open_file("memory://fleet/out/part-00000.parquet") as file:
        assert parquet.read_table(file).num_rows == 2


def test_another_input_or_another_option_is_not_mixed_into_a_folder(ndjson, tmp_path, capsys):
    file = ndjson([visit(1)])
    assert judge(file, tmp_path / "out") == 0
    assert judge(file, tmp_path / "out", "--answers") == 1
    assert "was begun with other options" in capsys.readouterr().err
    write_lines(file, [visit(1), visit(2)])
    assert judge(file, tmp_path / "out") == 1
    assert "was begun with other input" in capsys.readouterr().err


def test_what_is_there_is_not_judged_again(ndjson, tmp_path, capsys):
    file = ndjson([visit(number) for number in range(6)])
    assert judge(file, tmp_path / "out", "--rows", 2) == 0
    (tmp_path / "out" / "part-00001.parquet").unlink()
    before = {item.name: item.stat().st_mtime_ns for item in (tmp_path / "out").iterdir()}
    capsys.readouterr()
    assert judge(file, tmp_path / "out", "--rows", 2) == 0
    told = capsys.readouterr()
    assert "2 of 3 files are there already" in told.err
    assert told.out.startswith("2 visits judged")
    after = {item.name: item.stat().st_mtime_ns for item in (tmp_path / "out").iterdir()}
    assert {name: after[name] for name in before} == before
    assert set(after) - set(before) == {"part-00001.parquet"}


@pytest.mark.fleet
def test_two_processes_give_the_same_files_as_one(ndjson, tmp_path):
    file = ndjson([visit(number) for number in range(40)])
    assert judge(file, tmp_path / "one", "--rows", 10) == 0
    done = fleet("judge", file, tmp_path / "two", "--rows", "10", "--workers", "2")
    assert done.returncode == 0, done.stderr
    assert "4 of 4 files, 40 visits, 0 refused" in done.stderr
    assert contents(tmp_path / "two") == contents(tmp_path / "one")


def contents(folder):
    return {file.name: file.read_bytes() for file in folder.iterdir()}


KILLED_BEFORE_ITS_FOURTH_FILE = """
import os, signal, sys
from fsspec.implementations.local import LocalFileSystem
from service.__main__ import main

rename, left = LocalFileSystem.mv, [3]

def die_in_the_middle(*arguments, **options):
    if not str(arguments[2]).rpartition("/")[2].startswith("part-"):
        return rename(*arguments, **options)
    if not left[0]:
        os.kill(os.getpid(), signal.SIGKILL)
    left[0] -= 1
    return rename(*arguments, **options)

LocalFileSystem.mv = die_in_the_middle
sys.exit(main(sys.argv[1:]))
"""
"""Between writing a file and giving it its name, where half a file could be left; from outside it is a race."""


@pytest.mark.fleet
def test_a_run_that_was_killed_goes_on_and_gives_the_same_output(ndjson, tmp_path):
    file = ndjson([visit(number) for number in range(30)])
    command = ["fleet", "judge", str(file), str(tmp_path / "out"), "--rows", "5", "--workers", "1"]
    killed = subprocess.run(
        [sys.executable, "-c", KILLED_BEFORE_ITS_FOURTH_FILE, *command], env=environment(), cwd=ROOT, check=False
    )
    assert killed.returncode == -signal.SIGKILL
    done_before = sorted((tmp_path / "out").glob("part-*.parquet"))
    assert len(done_before) == 3
    assert len(list((tmp_path / "out").glob("_part-*.writing"))) == 1
    for part in done_before:
        assert parquet.read_table(part).num_rows == 5, "no file is there by half"
    again = fleet("judge", file, tmp_path / "out", "--rows", "5", "--workers", "1")
    assert again.returncode == 0, again.stderr
    assert fleet("judge", file, tmp_path / "whole", "--rows", "5", "--workers", "2").returncode == 0
    assert contents(tmp_path / "out") == contents(tmp_path / "whole")


def test_a_scheduler_that_does_not_answer_is_told(ndjson, tmp_path):
    done = fleet(
        "judge",
        ndjson([visit(1)]),
        tmp_path / "out",
        "--scheduler",
        "tcp://127.0.0.1:1",
        DASK_DISTRIBUTED__COMM__TIMEOUTS__CONNECT="1s",
    )
    assert done.returncode == 1
    assert "tcp://127.0.0.1:1: no cluster answers" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.fleet
def test_a_cluster_of_two_worker_processes_gives_the_same_files(ndjson, tmp_path):
    from distributed import LocalCluster

    file = ndjson([visit(number) for number in range(60)])
    assert judge(file, tmp_path / "one", "--rows", 10) == 0
    with LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, host="127.0.0.1"
    ) as cluster:
        address = cluster.scheduler_address
        done = fleet("judge", file, tmp_path / "two", "--rows", "10", "--scheduler", address)
    assert done.returncode == 0, done.stderr
    assert contents(tmp_path / "two") == contents(tmp_path / "one")
