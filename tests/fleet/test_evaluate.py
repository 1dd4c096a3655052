"""`fleet evaluate` on rows that can be counted by hand."""

import json
import math
import re

import pyarrow as pa
import pytest
from pyarrow import parquet

from service.workshop.fleet import commands
from service.workshop.fleet.columns import Wanted
from service.workshop.fleet.evaluating import evaluate
from service.workshop.fleet.figures import Reliability, log_loss, share

SOUND, LOW, BLOCKED = "cause.none-found", "cause.undercharge", "cause.outdoor-coil-blocked"
CAPACITOR = "cause.run-capacitor-failed"


def row(outcome, causes, proven=None, callback=None, parts=(), **other):
    listed = [{"code": code, "share": stated} for code, stated in causes]
    found = {"status": 200, "outcome": outcome, "causes": listed, "parts": list(parts), "file": "f", "row": 1}
    leading = {"cause": causes[0][0], "share": causes[0][1]} if causes else {}
    return found | leading | {"proven": proven, "callback": callback, "kind": "split_heat_pump", **other}


ROWS = [
    row("fault", [(LOW, 0.9), (BLOCKED, 0.1)], LOW, month="2026-06"),
    row("fault", [(LOW, 0.8), (BLOCKED, 0.1), (SOUND, 0.1)], SOUND, month="2026-06"),
    row("undecided", [(SOUND, 0.5), (BLOCKED, 0.3), (LOW, 0.2)], "outdoor-coil-blocked", month="2026-07"),
    row("sound", [(SOUND, 0.95), (LOW, 0.05)], None, "false", month="2026-07"),
    row("sound", [(SOUND, 0.95), (LOW, 0.05)], LOW, "true", month="2026-07"),
    row("sound", [(SOUND, 0.95), (LOW, 0.05)], None, "yes"),
    row("fault", [(CAPACITOR, 1.0)], CAPACITOR, "false", ["part.run-capacitor"], month="2026-07"),
    row("fault", [(CAPACITOR, 1.0)], LOW, "no", ["part.run-capacitor"], month="2026-07"),
    row("unsafe", [(CAPACITOR, 0.6), (LOW, 0.4)], SOUND, month="2026-07"),
    row("fault", [(LOW, 1.0)], "thermostat painted over"),
    {"status": 422, "file": "f", "row": 9, "proven": LOW},
]


@pytest.fixture
def judged(tmp_path):
    schema = Wanted(keep=("proven", "callback")).schema()
    for number, rows in enumerate((ROWS[:4], ROWS[4:])):
        parquet.write_table(pa.Table.from_pylist(rows, schema), tmp_path / f"part-{number:05d}.parquet")
    return tmp_path


def counts(item):
    return item["count"], item["of"]


def test_counts_are_those_of_a_pencil(judged):
    found = evaluate(str(judged), "proven", "callback")
    assert found["judged"] == {
        "rows": 11,
        "refused": 1,
        "labels": 8,
        "labels_by_no_callback": 1,
        "labels_sound": 3,
        "without_label": 1,
        "labels_not_understood": {"thermostat painted over": 1},
    }
    figures = found["figures"]
    assert counts(figures["right_first"]) == (3, 8)
    assert counts(figures["right_in_first_three"]) == (6, 8)
    assert counts(figures["undecided"]) == (1, 8)
    assert counts(figures["fault_said_of_sound"]) == (2, 3)
    assert counts(figures["sound_said_of_fault"]) == (1, 5)
    assert counts(figures["wrong_parts"]) == (1, 2)
    assert counts(figures["unsafe"]) == (1, 8)
    assert counts(figures["unsafe_proven_sound"]) == (1, 1)
    assert {name: counts(item) for name, item in found["callbacks"].items()} == {"sound": (2, 3), "fault": (0, 2)}
    months = {name: item["labels"] for name, item in found["by"]["month"].items()}
    assert months == {"2026-06": 2, "2026-07": 6}
    assert found["by"]["refrigerant"]["not stated"]["labels"] == 8
    assert {"proven": SOUND, "said": LOW, "visits": 1} in found["causes"]
    assert sum(pair["visits"] for pair in found["causes"]) == 8


def test_calibration_is_the_weighted_distance_of_the_bins(judged):
    """Bins by hand: .9 to 1: .9, .95, .95, 1, 1 stated, 3 right; .8: 0 of 1; .6: 0 of 1; .5: 0 of 1."""
    figures = evaluate(str(judged), "proven", "callback")["figures"]
    by_hand = (abs(4.8 - 3) + 0.8 + 0.6 + 0.5) / 8
    assert figures["calibration_error"] == pytest.approx(by_hand, abs=1e-4)
    given = [0.9, 0.1, 0.3, 0.95, 0.05, 1.0, 0.0025, 0.0025]
    assert figures["log_loss"] == pytest.approx(-sum(map(math.log, given)) / 8, abs=1e-4)


@pytest.mark.parametrize(
    ("count", "of", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)],
)
def test_wilson_intervals_are_the_published_ones(count, of, low, high):
    """R. G. Newcombe, Statistics in Medicine 17 (1998) 857-872, table I, method 3; values from memory."""
    found = share(count, of)
    assert (found["low"], found["high"]) == (low, high)


def test_stated_shares_that_come_true_have_no_calibration_error():
    found = Reliability()
    for number in range(100):
        found.add(0.75, number % 4 != 0)
    assert found.error() == pytest.approx(0.0)
    assert log_loss([(LOW, 0.5)], LOW) == pytest.approx(math.log(2))


def test_no_callback_column_leaves_those_visits_without_a_label(judged):
    found = evaluate(str(judged), "proven", None)
    assert (found["judged"]["labels"], found["judged"]["labels_by_no_callback"]) == (7, 0)
    assert found["callbacks"] == {}


def test_what_cannot_be_shown_is_said(judged):
    said = " ".join(evaluate(str(judged), "proven", "callback")["cannot_show"])
    assert "8 labels are fewer than 30" in said
    assert "1 of 8 labels say sound only because no customer called again" in said


def test_confirmed_repairs_alone_are_said_to_be_biased(tmp_path):
    schema = Wanted(keep=("proven",)).schema()
    rows = [row("fault", [(LOW, 0.9)], LOW) for _ in range(40)]
    parquet.write_table(
        pa.Table.from_pylist([without(item, "callback") for item in rows], schema), tmp_path / "part-0.parquet"
    )
    assert "Confirmed repairs alone are biased" in evaluate(str(tmp_path), "proven", None)["cannot_show"][0]


def without(content, name):
    return {key: value for key, value in content.items() if key != name}


def test_the_report_is_one_page_with_pictures_and_the_figures_as_json(judged, tmp_path, capsys):
    page = tmp_path / "report.html"
    asked = [str(judged), "--truth", "proven", "--callback", "callback", "-o", str(page)]
    assert commands.evaluate(asked) == 0
    assert "8 labels of 11 rows" in capsys.readouterr().out
    text = page.read_text()
    assert text.count('<img src="data:image/svg+xml;base64,') == 4
    assert all(re.search(r'alt="[^"]{10,}"', image) for image in re.findall(r"<img [^>]*>", text))
    assert not re.search(r"(?:src|href)=\"(?!data:)", text), "nothing is loaded from anywhere"
    assert "0.375" in text
    assert "Confirmed" not in text
    figures = json.loads((tmp_path / "report.json").read_text())
    assert figures == json.loads(json.dumps(evaluate(str(judged), "proven", "callback")))
    first = page.read_bytes()
    assert commands.evaluate(asked) == 0
    assert page.read_bytes() == first


def test_a_label_of_the_owner_s_is_never_markup(tmp_path):
    schema = Wanted(keep=("proven",)).schema()
    rows = [row("fault", [(LOW, 0.9)], "<script>alert(1)</script>", kind="<b>")]
    rows.append(row("fault", [(LOW, 0.9)], LOW, kind="<b>"))
    rows = [without(item, "callback") for item in rows]
    parquet.write_table(pa.Table.from_pylist(rows, schema), tmp_path / "part-0.parquet")
    assert commands.evaluate([str(tmp_path), "--truth", "proven", "-o", str(tmp_path / "r.html")]) == 0
    text = (tmp_path / "r.html").read_text()
    assert "<script" not in text
    assert "<b>" not in text


def test_a_column_that_was_not_kept_is_named(judged, capsys):
    assert commands.evaluate([str(judged), "--truth", "repair"]) == 1
    assert "no column repair; carry it along with --keep" in capsys.readouterr().err
