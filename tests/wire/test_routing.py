"""Requests are routed by their path alone, whatever host they name, and nobody is sent anywhere else."""

import pytest

from service.app import create_app

app = create_app()


def test_no_rule_asks_for_a_host_or_leads_elsewhere():
    rules = list(app.url_map.iter_rules())
    assert len(rules) > 40
    assert not app.url_map.host_matching
    for rule in rules:
        assert (rule.host, rule.subdomain, rule.redirect_to, rule.alias) == (None, "", None, False), rule
        assert rule.rule == "/" or not rule.rule.endswith("/"), f"{rule}: the framework would redirect to it"


@pytest.mark.parametrize("host", ["localhost", "example.org:81", "[::1]:8080", "münchen.example", "a..b", ""])
def test_a_host_changes_neither_route_nor_answer(host):
    said = app.test_client().get("/v1/tools", headers={"Host": host})
    assert said.status_code == 200
    assert said.get_data() == app.test_client().get("/v1/tools").get_data()


@pytest.mark.parametrize("path", ["/v1/tools/", "//v1/tools", "/v1//tools", "/v1/tools%2F", "/livez/"])
def test_no_path_is_redirected(path):
    said = app.test_client().get(path)
    assert said.status_code == 404
    assert said.get_json()["code"] == "request.not-found"
    assert "Location" not in said.headers
