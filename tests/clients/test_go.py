"""A Go client by openapi-generator (its jar comes with the PyPI package), compiled and run."""

import os
from pathlib import Path

import pytest

from tests.clients.conftest import CONTRACT, ROOT, run, tool

LIBRARIES = Path("/usr/share/gocode")
USE = """package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"

	"diagnosis"
)

func main() {
	settings := diagnosis.NewConfiguration()
	settings.Servers = diagnosis.ServerConfigurations{{URL: os.Args[1]}}
	client := diagnosis.NewAPIClient(settings)
	text, err := os.ReadFile(os.Args[2])
	if err != nil {
		panic(err)
	}
	var visit diagnosis.Visit
	if err := json.Unmarshal(text, &visit); err != nil {
		panic(err)
	}
	answer, _, err := client.VisitsAPI.AssessVisit(context.Background()).Visit(visit).Execute()
	if err != nil {
		panic(err)
	}
	fmt.Println(answer.Outcome.State, answer.Outcome.RunPermission, answer.Causes[0].Code, len(answer.Holds))
	point := diagnosis.NewSaturationPoint()
	point.SetPressure(118.0)
	asked := diagnosis.NewSaturationRequest("R-32", []diagnosis.SaturationPoint{*point})
	found, _, err := client.PropertiesAPI.FindSaturation(context.Background()).SaturationRequest(*asked).Execute()
	if err != nil {
		panic(err)
	}
	fmt.Println(*found.Points[0].DewTemperature)
	asked.Refrigerant = "R-999"
	_, response, err := client.PropertiesAPI.FindSaturation(context.Background()).
		SaturationRequest(*asked).Execute()
	fmt.Println(response.StatusCode, err != nil)
}
"""


@pytest.fixture(scope="module")
def workspace(tmp_path_factory):
    """A workspace with the generated package and a program that uses it."""
    generator = tool("openapi-generator-cli", "pip install openapi-generator-cli")
    tool("java", "install Java 11 or later")
    tool("go", "apt-get install golang-go")
    if not (LIBRARIES / "src" / "gopkg.in" / "validator.v2").exists():
        pytest.skip("no gopkg.in/validator.v2: apt-get install golang-gopkg-validator.v2-dev")
    folder = tmp_path_factory.mktemp("go")
    package = folder / "src" / "diagnosis"
    options = [
        "--additional-properties",
        "packageName=diagnosis,withGoMod=false",
        "--global-property",
        "apiTests=false",
    ]
    run([generator, "generate", "-i", str(CONTRACT), "-g", "go", "-o", str(package), *options], folder)
    (folder / "src" / "use").mkdir()
    (folder / "src" / "use" / "main.go").write_text(USE)
    return folder


def test_it_is_compiled_and_answers(workspace, address):
    visit = str(ROOT / "samples" / "visits" / "weak-capacitor.json")
    settings = {"GO111MODULE": "off", "GOFLAGS": "", "GOPATH": f"{workspace}{os.pathsep}{LIBRARIES}"}
    lines = run(["go", "run", "use", address, visit], workspace, **settings).splitlines()
    assert lines[0].startswith("fault ")
    assert "cause.run-capacitor-failed" in lines[0]
    assert 30.0 < float(lines[1]) < 45.0
    assert lines[2] == "422 true"
