"""`fleet learn`: on a simulated fleet of other code and other shares, and where there is nothing to learn."""

import json
from pathlib import Path

import pytest
import yaml

from service.knowledge.catalogues import causes
from service.knowledge.learnt import (
    EVERYWHERE,
    UnusableLearntFile,
    digest_of,
    parse_learnt,
    read_learnt,
    season_of,
)
from service.knowledge.model_version import model_version
from service.knowledge.shipped_shares import shipped_shares
from service.library import assess_all, assess_one
from service.workshop.fleet import commands
from service.workshop.fleet.counting import SMOOTHING, Counts
from service.workshop.fleet.figures import Reliability
from service.workshop.fleet.holding_out import part_of
from tests.fleet.conftest import fleet, write_lines
from tests.fleet.other_fleet import SHARES, SOUND, visits

LOW = "cause.undercharge"


def judged(folder, labelled_visits, workers="1"):
    """The folder of judged rows of visits with their truth."""
    lines = ({"visit": document, "proven": truth} for document, truth in labelled_visits)
    file = write_lines(folder / "visits.ndjson", lines)
    done = fleet("judge", file, folder / "out", "--keep", "proven", "--rows", "500", "--workers", workers)
    assert done.returncode == 0, done.stderr
    return folder / "out"


def row(month="2026-07", kind="split_heat_pump", symptoms=("poor_cooling",)):
    return {"month": month, "kind": kind, "symptoms": list(symptoms)}


def counted(labels):
    counts = Counts()
    for given, truth in labels:
        counts.add(given, truth)
    return counts


def content_of(learnt):
    """A learnt file made by hand, whole and signed."""
    strata = [
        {
            **({"season": key[0]} if key[0] else {}),
            **({"kind": key[1]} if key[1] else {}),
            **({"symptoms": list(key[2])} if key[2] is not None else {}),
            "labels": stratum.labels,
            "shares": dict(stratum.shares),
            "shipped": dict(stratum.shipped),
        }
        for key, stratum in learnt.strata.items()
    ]
    content = {
        "format": 1,
        "name": learnt.name,
        "model": learnt.model,
        "labels": learnt.labels,
        "temperature": learnt.temperature,
        "about": {},
        "strata": strata,
    }
    return content | {"digest": digest_of(content)}


@pytest.mark.fleet
def test_a_fleet_of_other_shares_gains_on_visits_that_nobody_has_seen(tmp_path):
    out = judged(tmp_path, visits(2400, "learnt-from"), workers="2")
    learnt_file = tmp_path / "learnt.yaml"
    done = fleet("learn", out, "--truth", "proven", "-o", learnt_file, "--name", "other code")
    assert done.returncode == 0, done.stderr
    learnt = read_learnt(learnt_file)
    unseen = list(visits(1600, "unseen"))
    before, after = (measured(unseen, shares) for shares in (None, learnt))
    print(done.stdout, before, after)
    assert after["calibration_error"] < 0.8 * before["calibration_error"]
    assert after["fault_said_of_sound"] < before["fault_said_of_sound"]
    assert after["fault_leads_on_sound"] < 0.8 * before["fault_leads_on_sound"]
    assert after["right"] >= before["right"]
    about = yaml.safe_load(learnt_file.read_text())["about"]
    assert about["labels"] == 2400
    assert (about["first_month"], about["last_month"]) == ("2026-05", "2026-09")


def measured(labelled_visits, learnt):
    """What the service itself says of visits, with learnt shares or without."""
    reliability, sound, accused, leads, right = Reliability(), 0, 0, 0, 0
    documents = [document for document, _ in labelled_visits]
    for (_, truth), found in zip(
        labelled_visits, assess_all(documents, learnt=learnt, most_seconds=1.0), strict=True
    ):
        leading = found.answer.causes[0]
        reliability.add(leading.probability, leading.code == truth)
        right += leading.code == truth
        if truth == SOUND:
            sound += 1
            accused += found.answer.outcome.state in ("fault", "unsafe")
            leads += leading.code != SOUND
    number = len(documents)
    return {
        "calibration_error": reliability.error(),
        "fault_said_of_sound": accused / sound,
        "fault_leads_on_sound": leads / sound,
        "right": right / number,
    }


def test_ten_labels_teach_nothing(tmp_path, capsys):
    out = judged(tmp_path, visits(10, "few"))
    target = tmp_path / "learnt.yaml"
    assert commands.learn([str(out), "--truth", "proven", "-o", str(target)]) == 1
    assert "10 labels are fewer than the 500 that anything is learnt from" in capsys.readouterr().err
    assert not target.exists()


def test_shares_that_do_not_hold_on_records_held_out_are_not_written(tmp_path, capsys):
    """Six in ten labels say one thing, those held out what the answers say themselves: nothing to gain there."""
    import pyarrow as pa
    from pyarrow import parquet

    from service.workshop.fleet.columns import Wanted

    rows = []
    for number in range(1, 801):
        found = row() | {"file": "f", "row": number, "status": 200, "outcome": "undecided", "parts": []}
        found |= {
            "cause": SOUND,
            "share": 0.9,
            "causes": [{"code": SOUND, "share": 0.9}, {"code": LOW, "share": 0.1}],
        }
        found["proven"] = LOW if part_of(found) == "count" or number % 10 == 0 else SOUND
        rows.append(found)
    schema = Wanted(keep=("proven",)).schema().with_metadata({"model": model_version()})
    parquet.write_table(pa.Table.from_pylist(rows, schema), tmp_path / "part-00000.parquet")
    target = tmp_path / "learnt.yaml"
    assert commands.learn([str(tmp_path), "--truth", "proven", "-o", str(target)]) == 1
    assert "nothing learnt: " in capsys.readouterr().err
    assert not target.exists()


def test_rows_of_another_model_or_with_learnt_shares_are_not_learnt_from(tmp_path, capsys):
    import pyarrow as pa
    from pyarrow import parquet

    from service.workshop.fleet.columns import Wanted

    for noted, said in (
        ({"model": "another"}, "judged by another model"),
        ({"model": model_version(), "learnt": "first"}, "judged with shares of first"),
    ):
        schema = Wanted(keep=("proven",)).schema().with_metadata(noted)
        parquet.write_table(pa.Table.from_pylist([], schema), tmp_path / "part-00000.parquet")
        assert commands.learn([str(tmp_path), "--truth", "proven", "-o", str(tmp_path / "no.yaml")]) == 1
        assert said in capsys.readouterr().err


def test_a_stratum_is_drawn_to_the_one_above_it_and_a_small_one_is_left_out():
    labels = (
        [(row(), SOUND)] * 60 + [(row(), LOW)] * 40 + [(row("2026-01"), LOW)] * 60 + [(row("2026-04"), LOW)] * 10
    )
    learnt = counted(labels).learnt("by hand", model_version(), 1, 1.0)
    assert set(learnt.strata) == {EVERYWHERE, ("jun-aug", "", None), ("dec-feb", "", None)}
    everywhere, summer = learnt.strata[EVERYWHERE], learnt.strata["jun-aug", "", None]
    shipped = shipped_shares(("poor_cooling",))[LOW]
    assert everywhere.labels == 170
    assert everywhere.shares[LOW] == pytest.approx((110 + SMOOTHING * shipped) / (170 + SMOOTHING))
    assert summer.shares[LOW] == pytest.approx((40 + SMOOTHING * everywhere.shares[LOW]) / (100 + SMOOTHING))
    assert sum(summer.shares.values()) == pytest.approx(1.0)


def test_a_visit_takes_the_narrowest_stratum_that_it_has_and_its_own_complaint():
    labels = [(row(), SOUND)] * 200 + [(row("2026-01"), LOW)] * 200
    learnt = counted(labels).learnt("by hand", model_version(), 3, 1.0)
    shares = {
        name: {item.cause: item.share for item in learnt.priors(*visit).shares}
        for name, visit in {
            "summer": ("2026-08-01", "split_heat_pump", ("poor_cooling",)),
            "winter": ("2026-12-24", "split_heat_pump", ("poor_cooling",)),
            "no date": (None, "split_heat_pump", ("poor_cooling",)),
            "no start": (None, None, ("no_start",)),
        }.items()
    }
    assert shares["summer"][SOUND] > shares["no date"][SOUND] > shares["winter"][SOUND]
    assert shares["winter"][LOW] > shares["no date"][LOW] > shares["summer"][LOW]
    supply = "cause.no-supply"
    assert shares["no start"][supply] > shares["no date"][supply], "a complaint still speaks for its causes"
    assert all(sum(found.values()) == pytest.approx(1.0) for found in shares.values())


@pytest.mark.parametrize(
    ("month", "season"),
    [("2026-12", "dec-feb"), ("2026-02", "dec-feb"), ("2026-03-01", "mar-may"), ("2026-11", "sep-nov")],
)
def test_seasons_are_quarters_of_the_year(month, season):
    assert season_of(month) == season


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"model": "0123456789ab"}, "learnt on model 0123456789ab"),
        ({"format": 2}, "format 2"),
        ({"temperature": 9.0}, "temperature lies outside"),
        ({"strata": []}, "no shares of all visits"),
        ({"labels": 10**6, "digest": "0" * 64}, "it was changed after it was learnt"),
    ],
)
def test_a_file_that_is_not_of_this_model_or_was_changed_is_refused(change, said):
    content = content_of(counted([(row(), SOUND)] * 30).learnt("by hand", model_version(), 0, 1.0)) | change
    if "digest" not in change:
        content["digest"] = digest_of(content)
    with pytest.raises(UnusableLearntFile, match=said):
        parse_learnt(content)


@pytest.mark.parametrize("text", ["", "[1, 2]", "format: 1", "a: [", "\x00", "format: {}"])
def test_what_is_no_learnt_file_is_said_to_be_none(tmp_path, text):
    file = tmp_path / "learnt.yaml"
    file.write_text(text)
    with pytest.raises(UnusableLearntFile):
        read_learnt(file)


def test_a_written_file_is_read_as_it_was_learnt_and_named_in_provenance(tmp_path):
    from service.workshop.fleet.learning import as_text

    learnt = counted([(row(), SOUND)] * 300 + [(row(), LOW)] * 30).learnt("by hand", model_version(), 3, 1.25)
    file = tmp_path / "learnt.yaml"
    file.write_bytes(as_text(content_of(learnt)))
    again = read_learnt(file)
    assert (again.strata, again.temperature, again.labels) == (learnt.strata, 1.25, 330)
    document, _ = next(visits(1, "named"))
    assert assess_one(document, again).document()["provenance"]["priors"] == "by hand, 330 labels"
    assert "priors" not in assess_one(document).document()["provenance"]


def test_the_simulated_fleet_knows_causes_of_the_catalogue():
    assert set(SHARES) <= set(causes())
    assert sum(SHARES.values()) == pytest.approx(1.0)
    assert "service" not in (Path(__file__).parent / "other_fleet.py").read_text().split("import", 1)[1]
    first, second = (json.dumps(list(visits(3, "same"))) for _ in range(2))
    assert first == second
