"""The month of an invented firm and the many visits, in small form."""

import os
import re
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

SAMPLES = Path(__file__).parents[2] / "samples"
SECONDS = 240


def run(name, *arguments, **environment):
    """A sample from its own folder, as a reader would run it."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    kept |= {"OPENBLAS_NUM_THREADS": "1", **environment}
    command = [sys.executable, str(SAMPLES / name), *arguments]
    return subprocess.run(command, capture_output=True, text=True, timeout=SECONDS, env=kept, check=False)


@pytest.fixture(scope="module")
def month():
    """The invented visits, imported from the sample."""
    sys.path.insert(0, str(SAMPLES))
    try:
        import invented_firm
    finally:
        sys.path.remove(str(SAMPLES))
    return list(invented_firm.month(60))


def test_the_same_seed_makes_the_same_month(month):
    import invented_firm

    again = list(invented_firm.month(60))
    assert [job.document for job in again] == [job.document for job in month]
    assert [job.document["visit_date"] for job in month] == sorted(job.document["visit_date"] for job in month)
    assert next(invented_firm.month(60, seed=7)).document != month[0].document


def test_the_audit_finds_what_was_put_in(address, tmp_path, month):
    picture = tmp_path / "month.svg"
    done = run("month_audit.py", "--address", address, "--visits", "60", "--picture", str(picture))
    assert (done.returncode, done.stderr) == (0, "")
    put_in, leading = map(int, re.search(r"of (\d+) faults that were put in, (\d+) lead", done.stdout).groups())
    assert put_in == sum(job.truth is not None for job in month)
    assert leading >= 0.8 * put_in
    assert re.search(r"of \d+ sound units, 0 were called faulty", done.stdout)
    grounded = [job.document["reference"] for job in month if job.truth == "cause.winding-grounded"]
    assert grounded
    assert sorted(re.findall(r"unsafe: (july-\d+)", done.stdout)) == sorted(grounded)
    assert ElementTree.parse(picture).getroot().tag.endswith("svg")


def test_many_visits_give_the_same_counts_on_one_and_on_two_processes():
    pytest.importorskip("dask")
    done = run("many_visits.py", "--visits", "50", "--rows", "10000")
    assert done.returncode == 0, done.stderr
    rates = re.findall(r"(\d) processes: 50 visits .* ([\d.]+) ms of processor time each", done.stdout)
    assert [workers for workers, _ in rates] == ["1", "2"]
    counts = [int(count) for count in re.findall(r"^ +(\d+)  (?:sound|fault|undecided|unsafe)", done.stdout, re.M)]
    assert sum(counts) == 50
    assert "screened 10000 rows" in done.stdout


def test_without_dask_the_sample_says_how_to_install_it(tmp_path):
    (tmp_path / "dask.py").write_text("raise ModuleNotFoundError(name='dask')\n")
    done = run("many_visits.py", PYTHONPATH=str(tmp_path))
    assert done.returncode == 1
    assert "pip install 'air-conditioner-diagnosis[fleet]'" in done.stderr
