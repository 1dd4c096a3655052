"""Each verdict names the limit it was held against; the figures and sources stand in the topics."""

import pytest

from tests.checks.electrical.visits import judged, ohms, one

PLATE = {"nominal_voltage": "230", "compressor": {"rated_load_amps": 20, "locked_rotor_amps": 100}}


def sag(volts):
    return {"supply": {"idle_volts": 240, "starting_volts": volts}}


def drop(volts):
    return {"supply": {"running_volts": 230}, "contactor": {"drop_volts_pole1": volts}}


def unbalance(spread):
    return {"supply": {"volts_ab": 230 + spread, "volts_bc": 230, "volts_ca": 230 - spread}}


def amps(value):
    return {"currents": {"compressor_amps": value}}


def insulated(megohms):
    return {"insulation": {"instrument": "insulation_tester", "common_to_shell": {"megohms": megohms}}}


@pytest.mark.parametrize(
    ("electrical", "code", "state", "low", "high"),
    [
        (sag(225), "supply.start-sag", "pass", None, 10.0),
        (sag(210), "supply.start-sag", "review", None, 15.0),
        (sag(200), "supply.start-sag", "fail", None, 15.0),
        (drop(0.2), "contactor.contact-drop", "pass", None, 0.3),
        (drop(1.0), "contactor.contact-drop", "review", None, 0.3),
        (drop(3.0), "contactor.contact-drop", "fail", None, 2.0),
        (unbalance(2.0), "supply.voltage-unbalance", "pass", None, 1.0),
        (unbalance(3.0), "supply.voltage-unbalance", "review", None, 1.0),
        (unbalance(6.0), "supply.voltage-unbalance", "fail", None, 2.0),
        (unbalance(12.0), "supply.unbalance-too-great", "fail", None, 5.0),
        (amps(15), "currents.compressor-normal", "pass", None, 110.0),
        (amps(25), "currents.compressor-high", "review", None, 110.0),
        (amps(40), "currents.compressor-high", "fail", None, 156.0),
        (amps(8), "currents.compressor-low", "review", 50.0, None),
        (insulated(0.1), "insulation.winding-grounded", "fail", 0.23e6, None),
        (insulated(0.4), "insulation.winding-grounded", "undecided", 0.5e6, None),
        (insulated(200), "insulation.winding-grounded", "pass", 0.5e6, None),
        (insulated(3), "insulation.sound", "review", 5e6, None),
        ({"supply": {"idle_volts": 10}}, "supply.no-voltage", "fail", 50.0, None),
        ({"control": {"secondary_volts": 25}}, "control.secondary-voltage", "pass", 21.6, 26.4),
        ({"control": {"coil_volts": 15}}, "control.coil-voltage", "fail", 20.4, None),
        ({"control": {"coil_resistance": ohms(1.0)}}, "contactor.coil", "fail", 2.0, None),
        ({"protection": {"breaker_amps": 50}}, "protection.breaker-size", "fail", None, 45.0),
        ({"protection": {"breaker_amps": 40}}, "protection.breaker-size", "review", None, 35.0),
        (
            {"windings": {"common_run": ohms(0.9), "common_start": ohms(2.8), "run_start": ohms(3.7)}},
            "windings.sum-rule",
            "pass",
            -0.3,
            0.3,
        ),
        (
            {"windings": {"common_run": ohms(4.0), "common_start": ohms(10.0), "run_start": ohms(14.0)}},
            "windings.sum-rule",
            "pass",
            -0.7,
            0.7,
        ),
    ],
)
def test_limit_of_a_verdict(electrical, code, state, low, high):
    found = one(judged(equipment=PLATE, electrical=electrical), code)
    assert str(found.state) == state
    assert (found.limit.low, found.limit.high) == pytest.approx((low, high))
    assert found.limit.source


@pytest.mark.parametrize(
    ("windings", "high"),
    [
        ({"one_two": ohms(1.0), "two_three": ohms(1.0), "one_three": ohms(1.0)}, 0.2),
        ({"one_two": ohms(10.0), "two_three": ohms(10.0), "one_three": ohms(10.0)}, 0.5),
    ],
)
def test_limit_of_three_equal(windings, high):
    found = one(judged("three_phase", electrical={"windings": windings}), "windings.phases-equal")
    assert found.limit.high == pytest.approx(high)


@pytest.mark.parametrize(
    ("electrical", "code", "confidence"),
    [
        (sag(217), "supply.start-sag", "borderline"),
        (sag(237), "supply.start-sag", "firm"),
        (drop(0.3), "contactor.contact-drop", "borderline"),
        (drop(0.2), "contactor.contact-drop", "firm"),
        (amps(22.1), "currents.compressor-high", "borderline"),
        (amps(25), "currents.compressor-high", "firm"),
        (amps(9.95), "currents.compressor-low", "borderline"),
        ({"supply": {"idle_volts": 208}}, "supply.voltage-normal", "borderline"),
        ({"supply": {"idle_volts": 230}}, "supply.voltage-normal", "firm"),
        (insulated(5.1), "insulation.sound", "borderline"),
        (insulated(50), "insulation.sound", "firm"),
        ({"control": {"coil_volts": 20.5}}, "control.coil-voltage", "borderline"),
        ({"control": {"coil_resistance": ohms(2.05)}}, "contactor.coil", "borderline"),
    ],
)
def test_borderline_is_said(electrical, code, confidence):
    """borderline: the limit lies within the half-width of what was measured."""
    assert one(judged(equipment=PLATE, electrical=electrical), code).confidence == confidence
