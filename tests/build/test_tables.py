"""The command that builds the refrigerant tables: same bytes on every build, and refusal of a wrong library."""

import json

import pytest

from service.knowledge.refrigerant_rows import refrigerant_data
from service.results.record import replace
from service.workshop.build import equilibrium, tables
from service.workshop.build.equilibrium import LIQUID, SaturatedState, saturation_line

BUILT = ["R-32", "R-410A", "R-454B"]


def columns(table):
    """All lists of numbers in a table, in order."""
    if isinstance(table, dict):
        return [column for part in table.values() for column in columns(part)]
    if isinstance(table, list) and isinstance(table[0], list):
        return [column for part in table for column in columns(part)]
    return [table] if isinstance(table, list) else []


@pytest.mark.parametrize("designation", BUILT)
def test_building_twice_gives_the_same_bytes(designation, tmp_path, capsys):
    for name in ("first", "second"):
        assert tables.main([designation, "--directory", str(tmp_path / name)]) == 0
    assert capsys.readouterr().out.startswith(f"{designation}: -70.0 C to ")
    for kind in ("saturation", "properties"):
        first, second = (
            (tmp_path / name / kind / f"{designation}.json").read_bytes() for name in ("first", "second")
        )
        assert first == second


@pytest.mark.parametrize("designation", BUILT)
@pytest.mark.parametrize("kind", ["saturation", "properties"])
def test_what_is_shipped_is_what_the_command_builds(designation, kind, tmp_path):
    """To 1e-7 and not to the byte: processors differ in the last bits of a logarithm, which rounding can show."""
    tables.main([designation, "--directory", str(tmp_path)])
    built, shipped = (
        json.loads((directory / kind / f"{designation}.json").read_bytes())
        for directory in (tmp_path, tables.SHIPPED)
    )
    assert built.keys() == shipped.keys()
    assert len(columns(shipped)) > 4
    for new, old in zip(columns(built), columns(shipped), strict=True):
        assert new == pytest.approx(old, rel=1e-7, abs=1e-7 * max(map(abs, old)))


def test_every_row_has_its_tables_and_no_table_is_left_over():
    names = {f"{row.designation}.json" for row in refrigerant_data().refrigerants}
    for kind in ("saturation", "properties"):
        assert {file.name for file in (tables.SHIPPED / kind).iterdir()} == names


def test_another_library_than_the_data_file_asks_for_is_refused(monkeypatch, tmp_path, capsys):
    other = replace(refrigerant_data(), property_library="CoolProp 1.0.0")
    monkeypatch.setattr(tables, "refrigerant_data", lambda: other)
    with pytest.raises(SystemExit):
        tables.main(["--directory", str(tmp_path)])
    assert "asks for CoolProp 1.0.0" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_an_unknown_designation_is_refused(tmp_path, capsys):
    with pytest.raises(SystemExit):
        tables.main(["R-999Z", "--directory", str(tmp_path)])
    assert "R-999Z" in capsys.readouterr().err


def test_a_line_is_cut_where_neighbours_do_not_agree():
    (row,) = (row for row in refrigerant_data().refrigerants if row.designation == "R-454B")
    line = saturation_line(tables.model_of(row), LIQUID)
    bad = line[100]
    # 0.1 K off its neighbours: the kind of answer that a flash gives when it lands beside the solution.
    wrong = SaturatedState(
        bad.temperature, bad.pressure * 1.003, bad.density, bad.enthalpy, bad.entropy, bad.specific_heat
    )
    cut = equilibrium._smooth([*line[:100], wrong, *line[101:]])
    assert cut == line[: len(cut)]
    assert 95 <= len(cut) <= 100
