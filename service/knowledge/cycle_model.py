"""The shipped tables of the simulated cycle: healthy references and mixtures of residuals, checked at load."""

import json
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

import numpy as np

from service.physics.arrays import Array
from service.physics.cycle.readings import BASELINE_COUNT, READINGS
from service.physics.cycle.reference import CENTRE, WIDTH
from service.results.record import Record

DIRECTORY = Path(__file__).parent / "cycle_tables"
SCHEMA_VERSION = 1
METERING = ("fixed_orifice", "expansion_valve")
EFFICIENCIES = ("standard", "high")
UNITS = "temperatures and differences K; airflow over 400 cfm per ton; amps over rated-load amps at rated voltage"
FAULTS = (
    "undercharge",
    "overcharge",
    "low_indoor_airflow",
    "outdoor_coil_blocked",
    "liquid_line_restriction",
    "non_condensables",
    "compressor_not_pumping",
    "metering_overfeeding",
    "metering_underfeeding",
)
SOUND = "none_found"
PAIRS = (
    "undercharge+low_indoor_airflow",
    "overcharge+low_indoor_airflow",
    "undercharge+outdoor_coil_blocked",
    "overcharge+outdoor_coil_blocked",
)
CLASSES = (SOUND, *FAULTS, *PAIRS)
COMPONENTS = 3
# Range of size of each fault in the population, from barely noticeable to plainly broken, and what is measured.
FAULT_LEVELS = {
    "undercharge": (0.08, 0.40),
    "overcharge": (0.08, 0.35),
    "low_indoor_airflow": (0.15, 0.55),
    "outdoor_coil_blocked": (0.15, 0.65),
    "liquid_line_restriction": (0.10, 1.2),
    "non_condensables": (0.03, 0.18),
    "compressor_not_pumping": (0.08, 0.50),
    "metering_overfeeding": (0.15, 1.0),
    "metering_underfeeding": (0.10, 0.55),
}
LEVEL_MEASURES = {
    "undercharge": "share of charge missing",
    "overcharge": "share of charge in excess",
    "low_indoor_airflow": "share of airflow lost",
    "outdoor_coil_blocked": "share of outdoor airflow lost",
    "liquid_line_restriction": "extra pressure drop over the pressure lift",
    "non_condensables": "foreign gas pressure over the condensing pressure",
    "compressor_not_pumping": "share of flow leaking back",
    "metering_overfeeding": "place in the range from slight to plainly broken",
    "metering_underfeeding": "share of flow area lost",
}


class TablesMismatch(Exception):
    """The shipped tables do not fit this code: another schema, order of readings, or shape."""


class CycleArrays(Record):
    """What is fitted to a group of simulated units.

    reference (14, 11): coefficients of the healthy reference. Residuals are readings less the reference.
    weights (14 classes, 3), means (.., 14), covariances (.., 14, 14): mixtures of residuals, free of
    instrument noise. hidden_means (.., 3), hidden_cross (.., 3, 14), hidden_variances (.., 3): place in the
    range of fault size, ln of capacity and of power over the sound unit's, and how they vary with residuals.
    baseline_means (classes, 3, 10), baseline_slopes (classes, 10, 14), baseline_covariances
    (classes, 10, 10): the residual of the same unit when sound, given today's.
    """

    reference: Array
    weights: Array
    means: Array
    covariances: Array
    hidden_means: Array
    hidden_cross: Array
    hidden_variances: Array
    baseline_means: Array
    baseline_slopes: Array
    baseline_covariances: Array


class CycleTables(CycleArrays):
    """One refrigerant with one kind of metering; first axis of every array: efficiency class (standard, high)."""

    refrigerant: str
    metering: str
    seed: int


def file_name(refrigerant: str) -> str:
    """Name of the archive of one refrigerant."""
    return f"{refrigerant.lower()}.npz"


@lru_cache
def load_tables(refrigerant: str, metering: str) -> CycleTables:
    """Tables of a modelled refrigerant and kind of metering (one of METERING).

    Raises TablesMismatch when the shipped archive does not fit this code.
    """
    return read_tables(DIRECTORY / file_name(refrigerant), refrigerant, metering)


def read_tables(path: Path, refrigerant: str, metering: str) -> CycleTables:
    """Read one archive and check it against this code; see ``load_tables``."""
    with np.load(path, allow_pickle=False) as archive:
        about = json.loads(str(archive["about"]))
        _check_about(about, refrigerant)
        arrays = {name.split("/")[1]: archive[name] for name in archive.files if name.startswith(f"{metering}/")}
    wide = {name: _unpacked(name, values.astype(np.float64)) for name, values in arrays.items()}
    for name, shape in _SHAPES.items():
        if wide[name].shape != (len(EFFICIENCIES), *shape):
            raise TablesMismatch(f"{path.name}: {name} has shape {wide[name].shape}")
    return CycleTables(**wide, refrigerant=refrigerant, metering=metering, seed=int(about["seed"]))


def _check_about(about: Mapping[str, object], refrigerant: str) -> None:
    wanted: dict[str, object] = {
        "schema_version": SCHEMA_VERSION,
        "refrigerant": refrigerant,
        "readings": list(READINGS),
        "baseline_count": BASELINE_COUNT,
        "units": UNITS,
        "classes": list(CLASSES),
        "efficiencies": list(EFFICIENCIES),
        "centre": CENTRE.tolist(),
        "width": WIDTH.tolist(),
    }
    for name, value in wanted.items():
        if about.get(name) != value:
            raise TablesMismatch(f"cycle tables of {refrigerant}: {name} is {about.get(name)!r}, not {value!r}")


def _unpacked(name: str, values: Array) -> Array:
    if name not in ("covariances", "baseline_covariances"):
        return values
    size = len(READINGS) if name == "covariances" else BASELINE_COUNT
    rows, columns = np.tril_indices(size)
    full = np.empty((*values.shape[:-1], size, size))
    full[..., rows, columns] = values
    full[..., columns, rows] = values
    return full


_C, _K, _D, _B = len(CLASSES), COMPONENTS, len(READINGS), BASELINE_COUNT
_SHAPES = {
    "reference": (_D, 11),
    "weights": (_C, _K),
    "means": (_C, _K, _D),
    "covariances": (_C, _K, _D, _D),
    "hidden_means": (_C, _K, 3),
    "hidden_cross": (_C, _K, 3, _D),
    "hidden_variances": (_C, _K, 3),
    "baseline_means": (_C, _K, _B),
    "baseline_slopes": (_C, _B, _D),
    "baseline_covariances": (_C, _B, _B),
}
