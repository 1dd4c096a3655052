"""The data files of the cycle judgement: complete, explicit about what they rest on, refused when wrong."""

import numpy as np
import pytest

from service.knowledge import cycle_groups, cycle_priors, cycle_readings
from service.knowledge.cycle_model import CLASSES, METERING, load_tables
from service.knowledge.rows import KnowledgeError
from service.physics.cycle.readings import READINGS


def test_the_prior_is_whole_and_versioned() -> None:
    table = cycle_priors.cycle_priors()
    assert set(table.shares) == set(CLASSES)
    assert sum(table.shares.values()) == pytest.approx(1.0)
    assert table.version


def test_a_survey_agrees_with_the_order_of_the_charge_faults() -> None:
    # Source: Home Energy, May/June 2002: of 4,000 systems 38 % correct, 34 % under, 28 % over.
    shares = cycle_priors.cycle_priors().shares
    assert shares["none_found"] > shares["undercharge"] > shares["overcharge"]


@pytest.mark.parametrize(
    "spoil",
    [
        lambda found: found.pop("prior.undercharge"),
        lambda found: found["prior.undercharge"].update(share=0.5),
        lambda found: found["history.recent_work"].update(factors={"gremlins": 2.0}),
        lambda found: found["history.recent_work"].update(factors={"undercharge": 0.0}),
        lambda found: found["prior.undercharge"].update(basis="hearsay"),
    ],
)
def test_a_spoilt_prior_is_refused(spoil, monkeypatch: pytest.MonkeyPatch) -> None:
    original = cycle_priors.by_code

    def spoilt(folder: str, **keys: bool):
        found = original(folder, **keys)
        spoil(found)
        return found

    monkeypatch.setattr(cycle_priors, "by_code", spoilt)
    with pytest.raises(KnowledgeError):
        cycle_priors.cycle_priors.__wrapped__()


@pytest.mark.parametrize(
    "spoil",
    [
        lambda found: found.pop("supply_wet_bulb"),
        lambda found: found["pump_down_holds"].update(otherwise=1.0),
    ],
)
def test_spoilt_readings_are_refused(spoil, monkeypatch: pytest.MonkeyPatch) -> None:
    original = cycle_readings.by_code

    def spoilt(folder: str, **keys: bool):
        found = original(folder, **keys)
        spoil(found)
        return found

    monkeypatch.setattr(cycle_readings, "by_code", spoilt)
    with pytest.raises(KnowledgeError):
        cycle_readings.cycle_readings.__wrapped__()


def test_every_reading_has_a_cost_and_an_accuracy() -> None:
    rows = cycle_readings.cycle_readings().rows
    for name in READINGS:
        assert rows[name].minutes > 0.0
        assert rows[name].half_width > 0.0


def test_every_group_has_tables() -> None:
    groups = cycle_groups.refrigerant_groups()
    assert {"R-22", "R-410A", "R-407C", "R-32", "R-454B"} <= set(groups)
    assert set(cycle_groups.METERING_GROUPS.values()) == set(METERING)


@pytest.mark.parametrize("metering", METERING)
@pytest.mark.parametrize("group", sorted(set(cycle_groups.refrigerant_groups().values())))
def test_every_component_can_be_factored_whatever_is_read(group: str, metering: str) -> None:
    """Without any instrument's error the covariances still are those of a distribution, far from singular."""
    table = load_tables(group, metering)
    for covariances in (table.covariances, table.baseline_covariances):
        values = np.linalg.eigvalsh(covariances)
        assert values[..., 0].min() > 0.0
        assert (values[..., -1] / values[..., 0]).max() < 1e7
