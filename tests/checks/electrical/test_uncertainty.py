"""How the meter's accuracy reaches the answers: half-widths by root sum of squares (JCGM 100:2008, 5.1.2).

Defaults (common practice): 1 % of reading, 0.1 ohm last digit, 0.2 ohm for leads that were not nulled, 3 % on
capacitance, 5 % on an insulation tester.
"""

from math import hypot, sqrt

import pytest

from tests.checks.electrical.visits import judged, ohms, one

NAMED = {"common_run": ohms(0.9), "common_start": ohms(2.8), "run_start": ohms(3.7)}
THREE = {"one_two": ohms(10.0), "two_three": ohms(10.0), "one_three": ohms(10.6)}


def digit(value):
    """Half-width of one resistance by the meter alone."""
    return hypot(0.01 * value, 0.1)


def test_sum_and_difference():
    computed = judged(electrical={"windings": NAMED}).computed.windings
    assert computed.sum_ohms.uncertainty == pytest.approx(hypot(digit(0.9), digit(2.8)))
    assert computed.sum_difference_ohms.uncertainty == pytest.approx(
        sqrt(digit(0.9) ** 2 + digit(2.8) ** 2 + digit(3.7) ** 2)
    )


def test_three_phase_deviation_and_unbalance():
    checked = judged("three_phase", electrical={"windings": THREE})
    width = sqrt(2 * digit(10.0) ** 2 + digit(10.6) ** 2) / sqrt(3.0)
    assert one(checked, "windings.phases-equal").measured.uncertainty == pytest.approx(width)
    computed = checked.computed.windings
    assert computed.unbalance_percent.uncertainty == pytest.approx(100.0 * width / 10.2)


def test_resistance_at_25_c_and_temperature_from_resistance():
    """Copper 234.5: 1 K is 1/259.5 of the resistance at 25 C."""
    plate = {"compressor": {"winding_ohms": {"common_run": 1.0}}}
    checked = judged(
        units={"temperature": "degC"},
        equipment=plate,
        electrical={"windings": {**NAMED, "winding_temperature": 25}},
    )
    computed, width = checked.computed.windings, hypot(digit(0.9), 0.2)
    assert computed.resistance_at_25_c.uncertainty == pytest.approx(width)
    assert computed.winding_temperature.uncertainty == pytest.approx(width * 259.5)
    assert one(checked, "windings.published-match").measured.uncertainty == pytest.approx(100.0 * width)


def test_published_share_without_a_temperature_is_wider():
    """15 % stand for the temperature that was not read."""
    plate = {"compressor": {"winding_ohms": {"common_run": 1.0}}}
    checked = judged(equipment=plate, electrical={"windings": NAMED})
    width = hypot(100.0 * hypot(digit(0.9), 0.2), 0.15 * 90.0)
    assert one(checked, "windings.published-match").measured.uncertainty == pytest.approx(width)


def test_capacitance_on_the_bench_and_under_load():
    bench = {"serves": "compressor", "rated_microfarads": 45, "measured_microfarads": 44}
    load = {"serves": "compressor", "rated_microfarads": 45, "measured_amps": 5.6, "measured_volts": 330}
    computed = judged(electrical={"run_capacitors": [bench, load]}).computed.run_capacitors
    assert computed[0].measured_microfarads.uncertainty == pytest.approx(0.03 * 44)
    assert computed[0].deviation_percent.uncertainty == pytest.approx(100.0 * 0.03 * 44 / 45)
    assert computed[1].measured_microfarads.uncertainty == pytest.approx(45.014 * 0.01 * sqrt(2.0), rel=1e-4)


def test_sag_deviation_and_unbalance():
    equipment = {"nominal_voltage": "230"}
    supply = {"idle_volts": 240, "starting_volts": 210, "volts_ab": 230, "volts_bc": 232, "volts_ca": 225}
    computed = judged(equipment=equipment, electrical={"supply": supply}).computed.supply
    assert computed.sag_percent.uncertainty == pytest.approx(87.5 * 0.01 * sqrt(2.0))
    assert computed.deviation_percent.uncertainty == pytest.approx(100.0 * 2.4 / 230.0)
    assert computed.deviation_percent.value == pytest.approx(100.0 * 10.0 / 230.0)
    assert computed.voltage_unbalance_percent.uncertainty == pytest.approx(
        hypot(1.0, 1.0 / sqrt(3.0)) * 1.01747, rel=1e-4
    )
    assert computed.derating_factor.uncertainty == 0.02


def test_ratio_and_product_of_two_readings():
    electrical = {
        "supply": {"running_volts": 230},
        "contactor": {"drop_volts_pole1": 2.3},
        "currents": {"compressor_amps": 20, "compressor_watts": 4000},
    }
    computed = judged(equipment={"compressor": {"rated_load_amps": 20}}, electrical=electrical).computed
    assert computed.contactor.drop_percent_pole1.uncertainty == pytest.approx(0.01 * sqrt(2.0))
    assert computed.contactor.heat_watts_pole1.uncertainty == pytest.approx(0.46 * sqrt(2.0))
    assert computed.currents.compressor_load_percent.uncertainty == pytest.approx(1.0)
    assert computed.currents.power_factor.uncertainty == pytest.approx(0.8696 * 0.01 * sqrt(2.0), rel=1e-3)


def test_insulation_tester():
    insulation = {
        "instrument": "insulation_tester",
        "megohms_at_10_s": 60,
        "megohms_at_60_s": 84,
        "last_megohms": 100,
        "winding_temperature": 20,
    }
    checked = judged(units={"temperature": "degC"}, electrical={"insulation": insulation})
    assert checked.computed.insulation.ratio_60_10.uncertainty == pytest.approx(1.4 * 0.05 * sqrt(2.0))
    assert checked.computed.insulation.resistance_at_40_c.uncertainty == pytest.approx(0.05 * 15e6)
    assert one(checked, "insulation.absorption-ratio").measured.uncertainty == pytest.approx(
        1.4 * 0.05 * sqrt(2.0)
    )
    assert one(checked, "insulation.trend").measured.uncertainty == pytest.approx(60.0 * 0.05 * sqrt(2.0))
    assert one(checked, "insulation.trend").measured.value == pytest.approx(40.0)


def test_motor_half_and_drive_outputs():
    equipment = {"indoor_blower": {"type": "constant_torque"}}
    pairs = dict.fromkeys(("common_run", "common_start", "run_start"), ohms(5.0))
    checked = judged(equipment=equipment, electrical={"indoor_blower": pairs})
    assert one(checked, "fans.blower-winding-open").measured.uncertainty == pytest.approx(digit(5.0))
    outputs = {"output_volts_uv": 180, "output_volts_vw": 180, "output_volts_uw": 180}
    drive = one(judged("inverter", electrical={"drive": outputs}), "drive.outputs")
    assert drive.measured.uncertainty == pytest.approx(hypot(1.0, 1.0 / sqrt(3.0)))


@pytest.mark.parametrize(
    ("marked", "low", "high"),
    [("115", 103.5, 126.5), ("220_240", 198.0, 264.0), ("380_415", 342.0, 456.5), ("208_230", 187.2, 253.0)],
)
def test_window_of_the_nameplate(marked, low, high):
    """NEMA MG 1 12.44: 10 % below the lower and above the higher marked voltage."""
    found = one(
        judged(equipment={"nominal_voltage": marked}, electrical={"supply": {"idle_volts": (low + high) / 2}}),
        "supply.voltage-normal",
    )
    assert (found.limit.low, found.limit.high) == pytest.approx((low, high))
