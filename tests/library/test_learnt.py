"""Learnt shares of causes: in a request, and by the setting LEARNT_FILE."""

import json
import math
import os
import subprocess
import sys

import pytest
import yaml

from service.app import create_app
from service.knowledge.catalogues import causes
from service.knowledge.learnt import digest_of
from service.knowledge.limits import limit
from service.knowledge.model_version import model_version
from service.knowledge.shipped_shares import shipped_shares
from service.reasoning.priors import mixed_shares
from service.settings import Settings, SettingsError, from_environment
from service.wire import learnt
from service.wire.warm import typical_visit
from tests.golden import SAMPLES

SOUND, LOW = "cause.none-found", "cause.undercharge"
NAMED = {"name": "north", "model": model_version(), "labels": 4210}
ASKING = ("assessment", "electrical", "charge", "air", "compressor", "expected", "intake")


def priors(**other):
    return {**NAMED, "shares": [{"cause": SOUND, "share": 0.9}, {"cause": LOW, "share": 0.01}], **other}


def shares(*pairs):
    return {"shares": [{"cause": code, "share": share} for code, share in pairs]}


def share_of(answer, code):
    return next((cause["probability"] for cause in answer["causes"] if cause["code"] == code), 0.0)


def learnt_file(folder, **other):
    """A whole learnt file in which nearly every unit is sound."""
    shipped = dict(shipped_shares(("poor_cooling",)))
    shares = {code: 0.1 * share for code, share in shipped.items()}
    shares[SOUND] = 1.0 - sum(share for code, share in shares.items() if code != SOUND)
    strata = [{"labels": 900, "shares": shares, "shipped": shipped}]
    content = {"format": 1, "name": "by file", "model": model_version(), "labels": 900, "temperature": 1.0}
    content |= {"about": {}, "strata": strata, **other}
    content["digest"] = digest_of(content)
    file = folder / "learnt.yaml"
    file.write_text(yaml.safe_dump(content))
    return file


def test_shares_are_mixed_by_their_labels():
    """Two causes by hand: 200 shipped labels and 600 learnt ones weigh one to three."""
    assert limit("priors.shipped-weight").value == 200
    found = mixed_shares({"a": 0.5, "b": 0.5}, {"a": 0.9, "b": 0.1}, 600)
    assert found == pytest.approx({"a": 0.8, "b": 0.2})
    assert mixed_shares({"a": 0.5, "b": 0.5}, {"a": 1.0}, 0) == pytest.approx({"a": 0.5, "b": 0.5})


def test_a_cause_that_was_never_met_is_made_twenty_times_rarer_at_most():
    found = mixed_shares({"a": 0.5, "b": 0.5}, {"a": 1.0}, 1e9)
    assert found["b"] == pytest.approx(0.5 / math.e**3 / (1.0 + 0.5 / math.e**3))


def test_more_sound_units_make_a_sound_unit_likelier_and_provenance_says_why(client):
    plain = client.post("/v1/assessment", json=typical_visit()).get_json()
    answer = client.post("/v1/assessment", json=typical_visit() | {"priors": priors()}).get_json()
    assert answer["provenance"] == plain["provenance"] | {"priors": "north, 4210 labels"}
    assert share_of(answer, SOUND) > share_of(plain, SOUND)
    few = client.post("/v1/assessment", json=typical_visit() | {"priors": priors(labels=1)}).get_json()
    assert share_of(few, SOUND) == pytest.approx(share_of(plain, SOUND), abs=0.02)


def test_shares_as_shipped_change_nothing(client):
    document = {"complaint": {"symptoms": ["no_start"]}, "electrical": {"supply": {"idle_volts": 0}}}
    shipped = [{"cause": code, "share": share} for code, share in shipped_shares(("no_start",)).items()]
    plain = client.post("/v1/assessment", json=document).get_json()
    answer = client.post("/v1/assessment", json=document | {"priors": {**NAMED, "shares": shipped}}).get_json()
    assert [(item["code"], item["probability"]) for item in answer["causes"]] == [
        (item["code"], pytest.approx(item["probability"], abs=2e-4)) for item in plain["causes"]
    ]


def test_a_temperature_above_one_trusts_the_readings_less(client):
    shares = [{"cause": code, "share": share} for code, share in shipped_shares(("poor_cooling",)).items()]
    document = typical_visit() | {"complaint": {"symptoms": ["poor_cooling"]}}
    document["running"]["suction_pressure"] -= 12
    found = []
    for temperature in (0.7, 1.0, 1.6):
        given = {**NAMED, "shares": shares, "temperature": temperature}
        found.append(client.post("/v1/assessment", json=document | {"priors": given}).get_json()["causes"][0])
    assert len({cause["code"] for cause in found}) == 1
    assert found[0]["probability"] >= found[1]["probability"] >= found[2]["probability"]
    assert found[0]["probability"] > found[2]["probability"]


def test_a_hold_stays_whatever_was_learnt(client):
    grounded = json.loads((SAMPLES / "visits" / "grounded-winding.json").read_text())
    never = priors(shares=[{"cause": SOUND, "share": 1.0}, {"cause": "cause.winding-grounded", "share": 0.0}])
    plain, answer = (
        client.post("/v1/assessment", json=document).get_json()
        for document in (grounded, grounded | {"priors": {**never, "labels": 10**9, "temperature": 2.0}})
    )
    assert [hold["code"] for hold in answer["holds"]] == [hold["code"] for hold in plain["holds"]] != []
    assert answer["causes"][0]["code"] == plain["causes"][0]["code"] == "cause.winding-grounded"
    assert answer["outcome"]["state"] == plain["outcome"]["state"] == "unsafe"


@pytest.mark.parametrize("name", ASKING)
@pytest.mark.parametrize(
    ("change", "pointer", "code"),
    [
        ({"model": "0123456789ab"}, "/priors/model", "priors.other-model"),
        (
            {"shares": [{"cause": "cause.moonlight", "share": 0.1}]},
            "/priors/shares/0/cause",
            "priors.unknown-cause",
        ),
        ({"shares": [{"cause": LOW, "share": 0.1}] * 2}, "/priors/shares/1/cause", "priors.repeated-cause"),
        (
            {"shares": [{"cause": LOW, "share": 0.6}, {"cause": SOUND, "share": 0.5}]},
            "/priors/shares",
            "priors.more-than-all",
        ),
        ({"shares": [{"cause": LOW, "share": 1.5}]}, "/priors/shares/0/share", "document.out-of-range"),
        ({"labels": 0}, "/priors/labels", "document.out-of-range"),
        ({"temperature": 3}, "/priors/temperature", "document.out-of-range"),
        ({"shares": [{"cause": LOW, "share": 0.001}] * 101}, "/priors/shares", "document.list-too-long"),
    ],
)
def test_shares_that_cannot_be_mixed_in_are_refused_by_pointer(client, name, change, pointer, code):
    response = client.post(f"/v1/{name}", json={"priors": priors(**change)})
    assert response.status_code == 422
    assert (pointer, code) in [(error["pointer"], error["code"]) for error in response.get_json()["errors"]]


def test_shares_without_their_labels_are_refused(client):
    response = client.post("/v1/assessment", json={"priors": {"name": "north", "shares": []}})
    assert [error["pointer"] for error in response.get_json()["errors"]] == ["/priors/labels"]


@pytest.fixture
def shipped_afterwards():
    """What is installed holds for the process."""
    yield
    learnt.install(None)


@pytest.mark.usefixtures("shipped_afterwards")
def test_the_setting_mixes_a_file_into_every_answer_and_a_request_s_own_go_first(tmp_path, client):
    plain = client.post("/v1/assessment", json=typical_visit()).get_json()
    started_with = create_app(Settings(learnt_file=learnt_file(tmp_path))).test_client()
    for name in ASKING:
        said = started_with.post(f"/v1/{name}", json=typical_visit()).get_json()["provenance"]
        assert said["priors"] == "by file, 900 labels"
    answer = started_with.post("/v1/assessment", json=typical_visit()).get_json()
    assert share_of(answer, SOUND) > share_of(plain, SOUND)
    own = started_with.post("/v1/assessment", json=typical_visit() | {"priors": priors()}).get_json()
    assert own["provenance"]["priors"] == "north, 4210 labels"
    body = json.dumps(typical_visit())
    batch = started_with.post("/v1/batch", data=body, headers={"Content-Type": "application/x-ndjson"})
    assert json.loads(batch.data)["assessment"] == answer
    compared = started_with.post("/v1/comparison", json={"before": typical_visit(), "after": typical_visit()})
    assert compared.get_json()["provenance"]["priors"] == "by file, 900 labels"


@pytest.mark.parametrize(
    ("change", "said"),
    [({"model": "0123456789ab"}, "learnt on model 0123456789ab, this is"), ({"temperature": 7.0}, "temperature")],
)
def test_a_file_of_another_model_is_refused_at_start(tmp_path, change, said):
    file = learnt_file(tmp_path, **change)
    command = [sys.executable, "-m", "service", "serve", "--bind", "127.0.0.1:0"]
    environment = os.environ | {"LEARNT_FILE": str(file)}
    done = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 2
    assert f"LEARNT_FILE: {file}: " in done.stderr
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_a_file_that_is_not_there_is_a_wrong_setting():
    with pytest.raises(SettingsError, match="LEARNT_FILE: allowed is a readable file"):
        from_environment({"LEARNT_FILE": "/nowhere/learnt.yaml"})


def test_shipped_shares_are_the_prior_and_what_the_complaint_says():
    plain = shipped_shares(())
    assert sum(plain.values()) == pytest.approx(1.0)
    total = sum(row.prior for row in causes().values())
    assert plain[SOUND] == pytest.approx(causes()[SOUND].prior / total)
