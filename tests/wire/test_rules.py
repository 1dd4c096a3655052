"""GET /v1/rules, the setting and the folder, the gauge, and the command that asks the clock."""

import subprocess
import sys

import pytest
import yaml

from service.app import create_app
from service.knowledge import rule_book
from service.library.provenance import edition
from service.settings import Settings, SettingsError, from_environment
from service.workshop import rules
from tests.knowledge.test_rules import folder


@pytest.fixture
def put_back():
    yield
    rule_book.install("US", None)


def test_the_list(client):
    body = client.get("/v1/rules").get_json()
    assert {place["code"] for place in body["jurisdictions"]} == {"ANY", "EU", "US", "US-CA"}
    assert body["default_jurisdiction"] == "US"
    row = next(rule for rule in body["rules"] if rule["code"] == "us.leak-rate.hydrofluorocarbon")
    assert row["title"] == "40 CFR 84.106"
    assert row["valid_from"] == "2026-01-01"
    assert "valid_to" not in row
    spanish = client.get("/v1/rules", headers={"Accept-Language": "es"}).get_json()
    assert spanish["rules"][0]["says"] != body["rules"][0]["says"]


def test_the_default_place_is_a_setting_and_in_the_edition(put_back):
    document = {"refrigerant": "R-410A", "full_charge": 400, "units": {"mass": "lb"}, "visit_date": "2026-06-01"}
    shipped = edition()
    told = {}
    for place in ("US", "EU", None):
        client = create_app(Settings(default_jurisdiction=place)).test_client()
        body = client.post("/v1/procedures/leak-rate", json=document).get_json()
        told[place] = (body["findings"][0]["state"], [item["pointer"] for item in body["missing"]])
        assert (edition() == shipped) is (place == "US")
        assert body["provenance"]["edition"] == edition()
    assert told["US"] == ("undecided", ["/appliance_class", "/additions"])
    assert told["EU"] == ("not_applicable", [])
    assert told[None] == ("undecided", ["/site/jurisdiction", "/additions"])


def test_a_deployers_rules_are_at_work(tmp_path, put_back):
    client = create_app(Settings(rules_folder=folder(tmp_path))).test_client()
    document = {
        "site": {"jurisdiction": "br"},
        "units": {"mass": "lb"},
        "visit_date": "2026-06-01",
        "refrigerant": "R-410A",
        "full_charge": 100,
        "appliance_class": "comfort_cooling",
        "last_full_date": "2025-01-01",
        "additions": [{"date": "2026-05-30", "mass": 6}],
    }
    body = client.post("/v1/procedures/leak-rate", json=document).get_json()
    assert body["computed"]["rule"] == "Leak Act (2026)"
    assert body["computed"]["duty"] is True


def test_a_place_that_is_no_place_is_named_with_what_is_allowed(client):
    for path, place in (("/v1/procedures/leak-rate", "the moon"), ("/v1/assessment", "moon")):
        answer = client.post(path, json={"site": {"jurisdiction": place}})
        assert answer.status_code == 422
        error = answer.get_json()["errors"][0]
        assert (error["pointer"], error["code"]) == ("/site/jurisdiction", "document.not-a-place")
        assert {"US", "US-CA", "EU"} <= set(error["allowed"])


def test_wrong_settings_are_named(tmp_path):
    broken = tmp_path / "nothing"
    with pytest.raises(SettingsError, match=r"DEFAULT_JURISDICTION.*RULES_FOLDER"):
        from_environment({"DEFAULT_JURISDICTION": "usa", "RULES_FOLDER": str(broken)})
    found = from_environment({"DEFAULT_JURISDICTION": "none", "RULES_FOLDER": str(tmp_path)})
    assert (found.default_jurisdiction, found.rules_folder) == (None, tmp_path)


def test_a_broken_rule_stops_the_start(tmp_path):
    broken = folder(tmp_path, {"topic": "leaks"})
    environment = {"RULES_FOLDER": str(broken), "PATH": ""}
    command = [sys.executable, "-m", "service", "serve", "--bind", "127.0.0.1:0"]
    run = subprocess.run(command, env=environment, capture_output=True, text=True, check=False, timeout=60)
    assert run.returncode == 2
    assert "topic 'leaks' is not one of" in run.stderr


def test_the_gauge_is_the_clocks(client):
    text = client.get("/metrics").get_data(as_text=True)
    assert f"rules_held {len(rule_book.book().rules)}.0" in text
    assert "rules_review_overdue " in text


def test_the_command(capsys, tmp_path, put_back, monkeypatch):
    assert rules.main([]) == 0
    assert "us.leak-rate.hydrofluorocarbon" in capsys.readouterr().out
    assert rules.main(["--review", "--on", "2026-11-28"]) == 0
    assert "0 of" in capsys.readouterr().out
    assert rules.main(["--review", "--on", "2040-01-01"]) == 1
    assert "2027-03-01" in capsys.readouterr().out.splitlines()[0]
    (tmp_path / "BR").mkdir()
    (tmp_path / "BR" / "jurisdiction.yaml").write_text(yaml.safe_dump({"code": "nowhere"}))
    monkeypatch.setenv("RULES_FOLDER", str(tmp_path))
    assert rules.main([]) == 2
    assert "ISO 3166" in capsys.readouterr().err
