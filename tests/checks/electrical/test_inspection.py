"""What is seen, value by value. Common practice; E03, E05, E06, E23 and K06 of the electrical patterns."""

import pytest

from tests.checks.electrical.visits import judged, one


@pytest.mark.parametrize(
    ("member", "value", "code", "state"),
    [
        ("terminals", "loose", "inspection.terminals", "fail"),
        ("terminals", "burnt", "inspection.terminals", "fail"),
        ("contactor_contacts", "clean", "inspection.contacts-worn", "pass"),
        ("contactor_contacts", "pitted", "inspection.contacts-worn", "review"),
        ("contactor_contacts", "burnt", "inspection.contacts-worn", "fail"),
        ("contactor_contacts", "welded", "inspection.contacts-welded", "fail"),
        ("capacitor_case", "leaking", "inspection.capacitor-case", "fail"),
        ("capacitor_case", "burnt", "inspection.capacitor-case", "fail"),
        ("oil_stains", True, "inspection.oil-stains", "review"),
        ("ice_on_suction_line", True, "inspection.ice-on-suction-line", "review"),
        ("ice_on_coil", True, "inspection.ice-on-coil", "review"),
        ("filter_dirty", True, "inspection.filter-dirty", "fail"),
        ("filter_dirty", False, "inspection.filter-dirty", "pass"),
        ("outdoor_coil_dirty", True, "inspection.outdoor-coil-dirty", "fail"),
        ("indoor_coil_dirty", True, "inspection.indoor-coil-dirty", "fail"),
        ("fan_blade_damaged", True, "inspection.fan-blade-damaged", "fail"),
        ("valve_bulb", "tight", "inspection.valve-bulb", "pass"),
        ("valve_bulb", "loose", "inspection.valve-bulb", "fail"),
        ("valve_bulb", "uninsulated", "inspection.valve-bulb", "fail"),
        ("condensate", "draining", "inspection.condensate", "pass"),
        ("condensate", "overflowing", "inspection.condensate", "fail"),
        ("sight_glass", "clear", "inspection.sight-glass", "pass"),
        ("sight_glass", "bubbles", "inspection.sight-glass", "review"),
        ("shell_touch", "cool", "inspection.shell-hot", "pass"),
        ("shell_touch", "hot", "inspection.shell-hot", "review"),
    ],
)
def test_sign(member, value, code, state):
    found = one(judged(inspection={member: value}), code)
    assert (str(found.state), found.evidence) == (state, (f"/inspection/{member}",))


def test_a_warm_shell_says_nothing_by_itself():
    codes = {item.code for item in judged(inspection={"shell_touch": "warm"}).findings}
    assert "inspection.shell-hot" not in codes
