"""The tables are rebuilt from a seed, byte for byte, and refused when they do not fit the code."""

import io
import json
import zipfile
from pathlib import Path
from typing import Self

import numpy as np
import pytest

from service.knowledge.cycle_model import (
    CLASSES,
    DIRECTORY,
    METERING,
    TablesMismatch,
    file_name,
    load_tables,
    read_tables,
)
from service.results.record import asdict
from service.workshop.build import population
from service.workshop.build.mixtures import fit_group
from service.workshop.build.population import Task
from service.workshop.build.population_archive import write_archive
from service.workshop.build.population_draw import simulate
from service.workshop.build.population_sampling import STANDARD
from tests.physics.cycle.systems import REFRIGERANTS, fluid

SHIPPED = DIRECTORY / file_name("R-410A")


def _built(seed: int, path: Path) -> bytes:
    """One small group, from random numbers to bytes."""
    population = simulate(fluid("R-410A"), True, STANDARD, np.random.default_rng(seed), 30)
    write_archive(path, asdict(fit_group(population)))
    return path.read_bytes()


@pytest.mark.long
def test_the_same_seed_gives_the_same_bytes_and_another_does_not(tmp_path: Path) -> None:
    first, second = (_built(7, tmp_path / f"{name}.npz") for name in ("first", "second"))
    assert first == second
    assert _built(8, tmp_path / "third.npz") != first


def test_the_command_writes_what_the_service_reads(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The command's wiring, with a fitted group standing in for hours of simulation."""
    with np.load(SHIPPED) as archive:
        arrays = {name: archive[name] for name in archive.files}
    asked: list[Task] = []

    def built(task: Task) -> tuple[str, dict[str, np.ndarray]]:
        asked.append(task)
        return task.refrigerant, _unpacked(arrays)

    monkeypatch.setattr(population, "build_refrigerant", built)
    monkeypatch.setattr(population, "ProcessPoolExecutor", _InPlace)
    assert population.main(["--refrigerant", "R-410A", "--seed", "5", "--output", str(tmp_path)]) == 0
    assert asked == [Task("R-410A", 5, population.PER_CLASS)]
    assert (tmp_path / "r-410a.npz").read_bytes() == SHIPPED.read_bytes()


class _InPlace:
    """A pool that runs its work at once."""

    def __init__(self, workers: int, mp_context: object) -> None:
        assert workers >= 1
        assert mp_context is not None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        return None

    map = staticmethod(map)


def _unpacked(arrays: dict[str, np.ndarray]) -> dict[str, np.ndarray]:
    """Lower triangles made whole again, as the builder hands them over."""
    whole = dict(arrays)
    for metering in METERING:
        table = read_tables(SHIPPED, "R-410A", metering)
        for name in ("covariances", "baseline_covariances"):
            whole[f"{metering}/{name}"] = getattr(table, name)
    return whole


def _spoilt(path: Path, to: Path, about: dict[str, object] | None = None, drop: str = "") -> Path:
    with zipfile.ZipFile(path) as source, zipfile.ZipFile(to, "w") as target:
        for name in source.namelist():
            content = source.read(name)
            if name == "about.npy" and about is not None:
                found = json.loads(str(np.load(io.BytesIO(content)))) | about
                buffer = io.BytesIO()
                np.save(buffer, np.array(json.dumps(found)))
                content = buffer.getvalue()
            if name == drop:
                buffer = io.BytesIO()
                np.save(buffer, np.zeros((2, 2), dtype=np.float32))
                content = buffer.getvalue()
            target.writestr(name, content)
    return to


@pytest.mark.parametrize(
    "about",
    [{"schema_version": 0}, {"readings": ["x"]}, {"refrigerant": "R-22"}, {"units": "degF"}, {"classes": []}],
)
def test_a_table_of_another_make_is_refused(tmp_path: Path, about: dict[str, object]) -> None:
    with pytest.raises(TablesMismatch):
        read_tables(_spoilt(SHIPPED, tmp_path / "spoilt.npz", about), "R-410A", "fixed_orifice")


def test_a_table_of_another_shape_is_refused(tmp_path: Path) -> None:
    path = _spoilt(SHIPPED, tmp_path / "spoilt.npz", drop="fixed_orifice/weights.npy")
    with pytest.raises(TablesMismatch, match="weights"):
        read_tables(path, "R-410A", "fixed_orifice")


@pytest.mark.parametrize("refrigerant", REFRIGERANTS)
def test_shipped_tables_are_sane_and_small(refrigerant: str) -> None:
    for metering in METERING:
        table = load_tables(refrigerant, metering)
        assert table.weights.sum(axis=-1) == pytest.approx(np.ones((2, len(CLASSES))), abs=1e-4)
        assert np.linalg.eigvalsh(table.covariances).min() > 0.0
        # A sound unit shows no residual on average.
        mean = (table.weights[:, 0, :, None] * table.means[:, 0]).sum(axis=1)
        spread = np.sqrt(np.diagonal(table.covariances[:, 0], axis1=-2, axis2=-1)).mean(axis=1)
        assert np.abs(mean / spread).max() < 0.15
    with np.load(DIRECTORY / file_name(refrigerant)) as archive:
        kept = json.loads(str(archive["about"]))["kept"]
    # Dropping hard samples silently would bias the severe tail: nearly every sample of a single fault was kept.
    assert min(min(shares[:10]) for shares in kept.values()) > 0.85


def test_all_tables_together_stay_under_a_megabyte() -> None:
    assert sum(path.stat().st_size for path in DIRECTORY.glob("*.npz")) < 1_000_000
