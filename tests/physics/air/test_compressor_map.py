"""The rating polynomial against evaluated rows of a published map."""

import pytest

from service.physics.compressor_map import (
    density_corrected,
    isentropic_efficiency,
    rating,
    volumetric_efficiency,
)

# R-410A, nominal 3 ton; coefficients from ACHP, SampleDXAC.py, commit 3b276c63 (degF, lb/h, W).
FLOW = (217.3163128, 5.094492028, -0.593170311, 0.0438, -0.0214, 0.0104, 7.9e-05, -5.73e-05, 0.000179, -8.08e-05)
POWER = (
    -561.3615705, -15.62601841, 46.92506685, -0.217949552, 0.435062616, -0.442400826, 0.000225, 0.00237, -0.00332,
    0.0025,
)  # fmt: skip
ROWS = [
    (35, 95, 399.617, 1916.72),
    (35, 130, 373.179, 3143.75),
    (40, 115, 428.379, 2508.19),
    (45, 95, 480.884, 1890.76),
    (45, 130, 459.448, 3074.97),
    (50, 105, 521.539, 2160.37),
    (50, 125, 510.145, 2842.54),
]


@pytest.mark.parametrize(("suction", "discharge", "flow", "power"), ROWS)
def test_evaluated_rows(suction, discharge, flow, power):
    assert rating(FLOW, suction, discharge) == pytest.approx(flow, abs=1e-3)
    assert rating(POWER, suction, discharge) == pytest.approx(power, abs=1e-2)


def test_density_correction_takes_three_quarters():
    """Dabiri and Rice 1981 (as in ACHP): a tenth thinner gas costs 7.5 % of the flow."""
    assert density_corrected(100.0, 30.0, 27.0) == pytest.approx(92.5)


def test_efficiencies_by_definition():
    assert isentropic_efficiency(0.05, 36e3, 2500.0) == pytest.approx(0.72)
    assert volumetric_efficiency(0.05, 35.0, 0.0016) == pytest.approx(0.892857, rel=1e-5)
