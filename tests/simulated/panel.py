"""Simulated visits written as visit documents, posted to /v1/assessment and scored by the whole answer.

What the cycle model alone is worth, ``scoring`` says. Here the readings go through units, saturation tables,
checks, the causes the model does not know, holds and the outcome, as a caller's would. Simulated, all of it.
"""

from collections import Counter
from contextlib import redirect_stdout
from io import StringIO
from typing import Any

import numpy as np
from flask.testing import FlaskClient

from service.knowledge.cycle_model import SOUND
from service.physics.cycle.readings import READINGS
from service.reasoning.cycle.inputs import AIRFLOW_PER_CAPACITY
from service.reasoning.cycle.posterior import CAUSES
from service.results.record import Record
from service.workshop.build.population_fluids import fit_refrigerant
from service.workshop.cycle.fluid import RefrigerantFit
from tests.simulated.populations import HeldOut
from tests.simulated.scoring import FIELD

ASSESSMENT = "/v1/assessment"
CAPACITY = 10.55
RATED_AMPS = 15.0
NOMINAL_VOLTS = 230.0
CLEAR = 1.0 / 3.0  # of the range of fault sizes; below it a third of the faults are barely faults
ZERO_CELSIUS = 273.15
UNITS = {"temperature": "degC", "pressure": "kPa", "airflow": "m3/h", "capacity": "kW"}
AIR = ("supply_dry_bulb", "supply_wet_bulb", "condenser_leaving_dry_bulb")
DEVICES = {"fixed_orifice": "fixed_orifice", "expansion_valve": "thermostatic_expansion_valve"}


class PanelScore(Record):
    """Simulated shares of 1: leading cause right; sound units whose leading cause is a fault; sound units of which
    the outcome says fault, by a failed check if not by the cause; faulty units of which it says fault with a wrong
    leading cause; faulty units from the middle of the range of sizes on that it calls sound; outcomes undecided.
    failed: checks that failed on sound units called faulty, share of those units.
    """

    top: float
    false_alarm: float
    fault_of_sound: float
    wrong_fault: float
    sound_of_fault: float
    undecided: float
    failed: dict[str, float]

    def __str__(self) -> str:
        return (
            f"top-1 {self.top:.3f}  false alarm by cause {self.false_alarm:.3f}, by outcome "
            f"{self.fault_of_sound:.3f}  wrong fault {self.wrong_fault:.3f}  sound said of a clear fault "
            f"{self.sound_of_fault:.3f}  undecided {self.undecided:.3f}  "
            f"(simulated, through the service)"
        )


class _Verdict(Record):
    cause: str
    state: str
    failed: tuple[str, ...]


def document(visits: HeldOut, row: int, fluid: RefrigerantFit, names: tuple[str, ...]) -> dict[str, Any]:
    """The visit document a technician would send; names: readings taken, of READINGS."""
    read = {name: float(visits.values[row, READINGS.index(name)]) for name in names}
    outdoor, dry, wet, pressure = map(float, visits.conditions[row])
    equipment: dict[str, Any] = {
        "kind": "split_air_conditioner",
        "refrigerant": visits.refrigerant,
        "metering_device": DEVICES[visits.metering],
        "efficiency_class": visits.efficiency,
        "rated_capacity": CAPACITY,
        "nominal_voltage": "208_230",
        "phases": 1,
        "frequency": 60,
        "compressor": {"type": "scroll", "drive": "single_phase", "rated_load_amps": RATED_AMPS},
    }
    if "target_subcooling" in read:
        equipment["target_subcooling"] = read["target_subcooling"]
    running = _running(read, fluid)
    air = {"outdoor_dry_bulb": outdoor, "return_dry_bulb": dry, "return_wet_bulb": wet}
    air |= {name: read[name] for name in AIR if name in read}
    # Two thermometers err apart; nobody writes down a wet bulb above the dry bulb beside it.
    if "supply_wet_bulb" in air and "supply_dry_bulb" in air:
        air["supply_wet_bulb"] = min(air["supply_wet_bulb"], air["supply_dry_bulb"])
    return {
        "reference": f"simulated-{row}",
        "units": UNITS,
        "site": {"barometric_pressure": pressure / 1e3},
        "equipment": equipment,
        "running": {"minutes_running": 20.0, **running},
        "air": _celsius(air) | _airflow(read),
        "standing": _standing(read, outdoor, fluid),
        "electrical": _electrical(read),
    }


def _celsius(kelvins: dict[str, float]) -> dict[str, float]:
    return {name: value - ZERO_CELSIUS for name, value in kelvins.items()}


def _running(read: dict[str, float], fluid: RefrigerantFit) -> dict[str, float]:
    found = _celsius({name: value for name, value in read.items() if name.endswith("line_temperature")})
    for name, coordinate, curve in (
        ("suction_pressure", "suction_saturation_temperature", fluid.dew_pressure),
        ("liquid_pressure", "liquid_saturation_temperature", fluid.bubble_pressure),
    ):
        if coordinate in read:
            found[name] = float(curve(np.array([read[coordinate]]))[0]) / 1e3
    if "drier_temperature_drop" in read:
        found["drier_inlet_temperature"] = found["liquid_line_temperature"]
        found["drier_outlet_temperature"] = found["liquid_line_temperature"] - read["drier_temperature_drop"]
    return found


def _airflow(read: dict[str, float]) -> dict[str, float]:
    if "airflow_ratio" not in read:
        return {}
    return {"airflow": read["airflow_ratio"] * AIRFLOW_PER_CAPACITY * CAPACITY * 1e3 * 3600.0}


def _standing(read: dict[str, float], outdoor: float, fluid: RefrigerantFit) -> dict[str, float]:
    if "standing_saturation_excess" not in read:
        return {}
    pressure = fluid.bubble_pressure(np.array([outdoor + read["standing_saturation_excess"]]))
    return {
        "pressure": float(pressure[0]) / 1e3,
        "ambient_temperature": outdoor - ZERO_CELSIUS,
        "minutes_off": 20.0,
    }


def _electrical(read: dict[str, float]) -> dict[str, Any]:
    # Somebody who writes down the amps has seen both fans turn.
    found: dict[str, Any] = {"outdoor_fan": {"turns": True}, "indoor_blower": {"turns": True}}
    if "compressor_amps_ratio" in read:
        found["supply"] = {"running_volts": NOMINAL_VOLTS}
        found["currents"] = {"compressor_amps": read["compressor_amps_ratio"] * RATED_AMPS}
    return found


def panel(client: FlaskClient, visits: list[HeldOut], names: tuple[str, ...]) -> PanelScore:
    """Post every visit and score the answers, weighed by the field prior."""
    verdicts: list[_Verdict] = []
    # The service writes a line of log for every request on standard output.
    with redirect_stdout(StringIO()):
        for group in visits:
            fluid = fit_refrigerant(group.refrigerant)
            posted = [document(group, row, fluid, names) for row in range(group.label.size)]
            verdicts += [_verdict(client, visit) for visit in posted]
    label, share = (np.concatenate([getattr(group, name) for group in visits]) for name in ("label", "share"))
    return _score(verdicts, label, share)


def _score(verdicts: list[_Verdict], label: np.ndarray, share: np.ndarray) -> PanelScore:
    counts = np.bincount(label, minlength=len(CAUSES))
    weight = np.array([FIELD[CAUSES[at]] / counts[at] for at in label])
    right = np.array([verdict.cause == CAUSES[at] for verdict, at in zip(verdicts, label, strict=True)])
    sound = label == CAUSES.index(SOUND)
    fault = np.array([verdict.state == "fault" for verdict in verdicts])
    undecided = np.array([verdict.state == "undecided" for verdict in verdicts])
    called_sound = np.array([verdict.state == "sound" for verdict in verdicts])
    clear = ~sound & (share >= CLEAR)
    blamed = [verdict for verdict, at in zip(verdicts, sound & fault, strict=True) if at]
    failed = Counter(code for verdict in blamed for code in verdict.failed)
    return PanelScore(
        float(np.average(right, weights=weight)),
        float(1.0 - right[sound].mean()),
        float(fault[sound].mean()),
        float(np.average(fault & ~right & ~sound, weights=weight)),
        float(np.average(called_sound[clear], weights=weight[clear])),
        float(np.average(undecided, weights=weight)),
        {code: round(times / len(blamed), 2) for code, times in failed.most_common(5)},
    )


def _verdict(client: FlaskClient, visit: dict[str, Any]) -> _Verdict:
    response = client.post(ASSESSMENT, json=visit)
    answer = response.get_json()
    if response.status_code != 200:
        raise AssertionError(f"{response.status_code}: {answer}")
    leading = answer["causes"][0]["code"] if answer["causes"] else ""
    failed = tuple(finding["code"] for finding in answer["findings"] if finding["state"] == "fail")
    return _Verdict(leading.removeprefix("cause.").replace("-", "_"), answer["outcome"]["state"], failed)
