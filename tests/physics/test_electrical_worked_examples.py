"""Every worked example of the electrical trade, computed by the formulas of service/physics.

Each example carries its own source, kind and tolerance (tests/physics/electrical_worked_examples.yaml).
"""

import math
from pathlib import Path

import pytest
import yaml

from service.knowledge.electrical_tables import (
    copper_ohms_per_kilofoot,
    derating_table,
    standard_device_sizes,
)
from service.physics import capacitors, conductors, insulation, motors, supply

EXAMPLES = {
    item["id"]: item
    for item in yaml.safe_load(Path(__file__).with_name("electrical_worked_examples.yaml").read_text())
}
FOOT = 0.3048
ZERO = 273.15


def under_load(amps, volts, hz):
    return {"uF": capacitors.capacitance_under_load(amps, volts, hz)}


def label(rated_uF, tol_pct, measured_uF):
    low, high = capacitors.label_limits(rated_uF, tol_pct, tol_pct)
    weak = "weak" if measured_uF < low else "good"
    deviation = capacitors.deviation_percent(measured_uF, rated_uF)
    return {"low_limit_uF": low, "high_limit_uF": high, "deviation_pct": deviation, "verdict": weak}


def energy(uF, volts_rms):
    peak = capacitors.peak_volts(volts_rms)
    return {"peak_V": peak, "joules": capacitors.stored_energy(uF, peak)}


def winding(r1, t1_C, r2, k=motors.COPPER):
    t2 = motors.winding_temperature(r2, r1, t1_C + ZERO, k) - ZERO
    return {"t2_C": t2, "rise_K": t2 - t1_C}


def winding_rise(r1_milliohm, t1_C, r2_milliohm, ambient_C, k):
    t2 = motors.winding_temperature(r2_milliohm, r1_milliohm, t1_C + ZERO, k) - ZERO
    return {"rise_K": t2 - ambient_C, "t2_C": t2}


def resistances(ohm):
    unbalance = supply.unbalance_percent(ohm)
    return {"mean": sum(ohm) / 3.0, "unbalance_pct": unbalance, "ok": unbalance <= 2.0}


def to_40(megohm, t_C):
    return {"megohm_40C": insulation.corrected(megohm, t_C + ZERO)}


def to_20(megohm, t_C):
    return {"megohm_20C": insulation.corrected(megohm, t_C + ZERO, 20.0 + ZERO)}


def thermosetting(megohm, t_C):
    factor = insulation.thermosetting_factor(t_C + ZERO)
    return {"Kt": factor, "megohm_40C": megohm * factor}


def absorption(r30, r60):
    ratio = insulation.reading_ratio(r60, r30)
    return {"dar": ratio, "band": "good" if 1.4 <= ratio <= 1.6 else "other"}


def two_readings(r10, r60):
    ratio = insulation.reading_ratio(r60, r10)
    return {"ratio": ratio, "ok": ratio >= 1.15}


def volts_unbalance(volts):
    return {"avg": sum(volts) / 3.0, "unbalance_pct": supply.unbalance_percent(volts)}


def amps_unbalance(amps):
    return volts_unbalance(amps)


def derating(unbalance_pct, hp=0.0):
    factor = supply.derating_factor(unbalance_pct, derating_table())
    if factor is None:
        return {"factor": None, "verdict": "do_not_operate"}
    return {"factor": factor, "usable_hp": factor * hp}


def expected_unbalance(voltage_unbalance_pct):
    low, high = supply.expected_current_unbalance(voltage_unbalance_pct)
    return {"low_pct": low, "high_pct": high}


def sag(v_no_load, v_start):
    percent = supply.sag_percent(v_no_load, v_start)
    return {"sag_pct": percent, "band": "ok" if percent <= 10.0 else "investigate"}


def drop(length_ft, amps, ohm_per_kft, volts, awg=None):
    lost = conductors.loop_drop(length_ft * FOOT, ohm_per_kft, amps)
    percent = 100.0 * lost / volts
    return {"drop_V": lost, "drop_pct": percent, "within_3pct": percent <= 3.0}


def drop_at_start(lra, **others):
    return drop(amps=lra, **others)


def circuit(largest_A, others_A, multiplier):
    value = conductors.overcurrent_value(largest_A, others_A, multiplier)
    return {
        "mca_A": conductors.minimum_circuit_ampacity(largest_A, others_A),
        "calc_A": value,
        "device_A": conductors.size_not_above(value, standard_device_sizes()),
    }


def contact(volts, drop_V):
    limit = 0.03 * volts
    return {"limit_V": limit, "verdict": "replace" if drop_V > limit else "good"}


def power(volts, amps, pf):
    apparent = motors.apparent_power(volts, amps)
    return {"watts": apparent * pf, "va": apparent}


def power_three_phase(volts, amps, pf):
    return {"watts": motors.apparent_power(volts, amps, 3) * pf}


def slip(hz, poles, rpm):
    synchronous = motors.synchronous_speed(hz, poles)
    return {"sync_rpm": synchronous, "slip_pct": motors.slip_percent(rpm, synchronous)}


def load(amps, rla, mcc):
    percent = 100.0 * amps / rla
    return {"pct_rla": percent, "above_mcc": amps > mcc, "band": "investigate" if percent > 110.0 else "good"}


COMPUTED = {
    "CAP-01": under_load,
    "CAP-02": under_load,
    "CAP-04": label,
    "CAP-05": label,
    "CAP-07": energy,
    "CAP-08": lambda uF, ohm, v0: {"seconds": capacitors.bleed_seconds(uF, ohm, v0, 50.0)},
    "CAP-10": lambda a_uF, b_uF: {"uF": capacitors.in_series(a_uF, b_uF)},
    "WND-06": winding,
    "WND-07": winding,
    "WND-08": winding,
    "WND-15": winding_rise,
    "WND-10": resistances,
    "INS-01": to_40,
    "INS-03": to_40,
    "INS-04": to_20,
    "INS-06": lambda volts: {"min_megohm": insulation.old_winding_minimum(volts) / 1e6},
    "INS-07": thermosetting,
    "INS-08": absorption,
    "INS-12": two_readings,
    "UNB-01": volts_unbalance,
    "UNB-03": volts_unbalance,
    "UNB-05": amps_unbalance,
    "UNB-06": derating,
    "UNB-08": derating,
    "UNB-09": expected_unbalance,
    "SUP-04": sag,
    "SUP-06": lambda v_no_load, v_start, lra: {"ohm": supply.source_impedance(v_no_load, v_start, lra)},
    "SUP-07": drop,
    "SUP-08": drop,
    "SUP-10": drop_at_start,
    "NEC-01": circuit,
    "NEC-02": circuit,
    "NEC-03": circuit,
    "NEC-05": lambda rla: {"min_A": conductors.disconnect_amps(rla)},
    "NEC-06": lambda rla: {"max_A": conductors.overload_relay_amps(rla)},
    "NEC-07": lambda mcc: {"rla": motors.rated_load_amps(mcc)},
    "NEC-09": lambda hp, volts, phase, kva_per_hp: {"lra": motors.locked_rotor_amps(hp, volts, phase, kva_per_hp)},
    "CON-01": contact,
    "CON-03": lambda drop_V, amps: {"milliohm": 1e3 * conductors.contact_resistance(drop_V, amps)},
    "CTL-01": lambda va: {"amps": supply.transformer_amps(va, 24.0)},
    "CTL-02": lambda line_V, tap_V: {"secondary_V": supply.secondary_volts(24.0, line_V, tap_V)},
    "CTL-04": lambda va_loads, transformer_va: {
        "total_va": sum(va_loads),
        "ok": sum(va_loads) <= transformer_va,
        "amps": supply.transformer_amps(sum(va_loads), 24.0),
    },
    "CTL-06": lambda volts, watts: {
        "ohm": supply.heater_resistance(volts, watts),
        "amps": volts / supply.heater_resistance(volts, watts),
    },
    "POW-01": power,
    "POW-02": power_three_phase,
    "POW-03": lambda volts, amps, watts: {"pf": motors.power_factor(watts, volts, amps)},
    "POW-04": slip,
    "POW-06": lambda hz, poles: {"sync_rpm": motors.synchronous_speed(hz, poles)},
    "POW-07": load,
}
# These are verdicts: the golden cases of tests/cases/electrical hold them at the endpoint, by this name.
AT_THE_ENDPOINT = {
    "WND-01": "wnd-01",
    "WND-02": "wnd-02",
    "WND-04": "wnd-04",
    "WND-12": "wnd-12",
    "WND-14": "wnd-14",
    "INS-10": "ins-10",
    "SUP-01": "sup-01",
    "SUP-02": "sup-02",
    "NEC-11": "nec-11",
    "POW-08": "pow-08",
}


def allowed(tolerance, expected):
    """Half-width of a tolerance text such as `0.5 %`, `0.2 K` or `1 % ...`; exact texts allow rounding only."""
    first = tolerance.split(";")[0].split()
    if first[0] == "exact":
        return 1e-9
    number = float(first[0])
    percent_of_value = first[1:] == ["%"] and number <= 2.0 and abs(expected) > 0
    return abs(expected) * number / 100.0 if percent_of_value else number


@pytest.mark.parametrize("identifier", COMPUTED)
def test_worked_example(identifier):
    example = EXAMPLES[identifier]
    computed = COMPUTED[identifier](**example["inputs"])
    for name, expected in example["expected"].items():
        if expected is None or isinstance(expected, bool | str):
            assert computed[name] == expected
        else:
            width = max(allowed(example["tolerance"], expected), _shown(expected))
            assert math.isclose(computed[name], expected, rel_tol=0.0, abs_tol=width), name


def _shown(expected):
    """Half of the last digit shown."""
    digits = len(str(expected).partition(".")[2])
    return 0.5 * 10.0**-digits if digits else 0.0


def test_every_example_is_held():
    assert set(COMPUTED) | set(AT_THE_ENDPOINT) == set(EXAMPLES)


@pytest.mark.parametrize("identifier", EXAMPLES)
def test_example_says_where_it_comes_from(identifier):
    example = EXAMPLES[identifier]
    assert example["source"]
    assert example["kind"] in ("published", "common practice", "from memory")


def test_every_verdict_is_a_golden_case():
    cases = Path(__file__).parents[1] / "cases" / "electrical"
    names = [case["name"] for file in cases.glob("*.yaml") for case in yaml.safe_load(file.read_text())]
    for start in AT_THE_ENDPOINT.values():
        assert any(name.startswith(start) for name in names), start


def test_conductor_table_row_of_an_example():
    """SUP-07 prints 4.99 ohm/kft for stranded 16 AWG (NEC Chapter 9 Table 8)."""
    assert copper_ohms_per_kilofoot("16") == EXAMPLES["SUP-07"]["inputs"]["ohm_per_kft"]
