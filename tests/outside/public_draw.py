"""Draw the frozen visits of ``public_visits.csv``: ``python -m tests.outside.public_draw``.

A tool, no test needs it. It runs with TESPy 0.11.3 (PyPI, MIT licence), which the project does not depend on:

    python -m venv /tmp/public && /tmp/public/bin/pip install -e . tespy==0.11.3
    /tmp/public/bin/python -m tests.outside.public_draw        # 25 minutes on a busy machine

Third model: built with TESPy by the same hands. Causes, their shares and sizes, weather and what a fault changes
are those of ``second``; the physics that answers is the package's (see ``public_unit``). Written are readings free
of instruments' errors, those of the same unit in the same weather without its fault, and heats for the balance.
"""

import argparse
import logging
import warnings
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from service.knowledge.cycle_model import METERING
from service.physics.cycle import air
from service.reasoning.cycle.posterior import CAUSES
from tests.outside.fluid import FLUIDS, saturation
from tests.outside.machine import Machine
from tests.outside.public import HEATS, SHOWN, TABLE, TWIN
from tests.outside.public_unit import PublicUnit, Unsolved, Values
from tests.outside.second import VISITS, ZERO_F, F, placed_in, shares_of, sizes_of, weather_of, with_faults

SEED = 41_117
# Visits of each of the four groups: half of those of ``second``.
COUNTS = {name: round(0.5 * count) for name, count in VISITS.items()}
WEATHER = ("outdoor", "return_dry_bulb", "return_ratio", "pressure")
HEAD = """\
# Visits by the third model: built with TESPy 0.11.3 (PyPI, MIT licence) and CoolProp 8.0.0 by the authors of the
# service. Simulated, none from the field. Command: python -m tests.outside.public_draw (seed {seed}).
# Licence: figures made here, nothing of the package is in this file. Temperatures K, pressure Pa, heats W.
# Plain names: readings free of errors. sound_*: the same unit and weather without the fault.
"""


def drawn_unit(rng: np.random.Generator, refrigerant: str, has_valve: bool) -> Values:
    """Design of a unit of one ton at rating A; ranges as in ``second``, of the package's parts our choice."""

    def normal(mean: float, deviation: float, low: float, high: float) -> float:
        return float(np.clip(rng.normal(mean, deviation), low, high))

    even = rng.uniform
    boiling = ZERO_F + F * normal(47.5 if refrigerant == "R-410A" else 45.5, 3.2, 39.0, 54.0)
    subcooling = F * normal(10.5, 3.0, 3.5, 18.0)
    return {
        "boiling": boiling,
        "condensing": max(308.15 + F * normal(21.0, 5.0, 11.0, 36.0), 308.15 + subcooling / 0.85),
        "superheat": F * (normal(9.0, 2.5, 4.0, 17.0) if has_valve else normal(12.0, 3.0, 5.0, 21.0)),
        "subcooling": subcooling,
        "air": 0.18878 * normal(1.0, 0.07, 0.84, 1.16),
        "effectiveness": even(0.5, 0.75),
        "contact": even(0.8, 0.92),
        "shell_loss": even(0.02, 0.15),
        "drier_loss": even(0.5e4, 4e4),
        "air_exponent": even(0.4, 0.65),
        "liquid_coefficient": even(300.0, 900.0),
        "clearance": even(0.01, 0.06),
        "efficiency": even(0.62, 0.76),
        "efficiency_fall": even(0.01, 0.03),
        "best_ratio": even(2.3, 3.3),
        "static": F * even(2.0, 3.8),
        "most_open": even(1.15, 1.7),
        "blower_rise": even(0.3, 1.0),
        "outdoor_volume": even(1.3e-3, 2.4e-3),
        "indoor_volume": even(0.7e-3, 1.3e-3),
        "line_volume": even(0.15e-3, 0.9e-3),
        "suction_drop": even(0.2, 1.0),
        "suction_gain": even(0.4, 1.8),
    }


def _readings(refrigerant: str, unit: PublicUnit, found: Values, run: Values, placed: Values) -> list[float]:
    """In the order of READINGS."""
    design, outdoor = unit.design, run["outdoor"]
    gain = design["suction_gain"] * (outdoor - found["suction_line"]) / 45.0
    suction_line = found["suction_line"] + gain
    supply = found["supply"] + placed["duct_gain"]
    ratio = min(found["supply_ratio"], float(air.saturation_ratio(np.array(supply), np.array(run["pressure"]))))
    wet = float(air.wet_bulb(np.array([supply]), np.array([ratio]), np.array([run["pressure"]]))[0])
    fluid = saturation(refrigerant)
    standing = fluid.at("pressure", np.array(outdoor)) + placed["standing"] * run["foreign"] * found["gauge"]
    return [
        found["suction_saturation"] - design["suction_drop"],
        found["liquid_saturation"],
        suction_line + placed["suction_pull"] * (outdoor - suction_line),
        found["liquid_line"] + placed["liquid_pull"] * (outdoor - found["liquid_line"]),
        found["discharge"] - placed["discharge_loss"],
        supply,
        wet,
        found["leaving_air"],
        design["air"] / 0.18878 * run["indoor_flow"],
        placed["amps"] * found["power"] / unit.sized.power,
        placed["seen"] * (found["liquid_line"] - found["drier_outlet"]),
        float(fluid.temperature(standing)) - outdoor + placed["standing_offset"],
        design["subcooling"] + placed["nameplate"],
        design["superheat"] + design["suction_gain"] + placed["nameplate_superheat"],
    ]


def _row(arrays: Machine | dict[str, np.ndarray], at: int) -> Values:
    values = arrays.values if isinstance(arrays, Machine) else arrays
    return {name: float(column[at]) for name, column in values.items()}


def visits_by_package(refrigerant: str, metering: str, seed: int, most: int | None = None) -> list[list[str]]:
    """Rows of the file for a refrigerant and kind of metering; units that do not come to rest are left out."""
    rng = np.random.default_rng(seed)
    label = np.repeat([CAUSES.index(name) for name in COUNTS], list(COUNTS.values()))
    size = sizes_of(rng, label)
    share, sound = shares_of(label, size), weather_of(rng, label.size)
    faulty, placed = with_faults(sound, label, size), placed_in(rng, label.size)
    has_valve = metering == "expansion_valve"
    designs = [drawn_unit(rng, refrigerant, has_valve) for _ in label]
    rows = []
    for at in range(label.size)[:: 1 if most is None else max(label.size // most, 1)]:
        states = [_row(one, at) for one in (sound, faulty)]
        try:
            unit = PublicUnit(FLUIDS[refrigerant], has_valve, designs[at])
            found = _solved(unit, *states)
        except Unsolved as error:
            print(f"left out: {CAUSES[label[at]]} {size[at]:.2f}: {str(error)[:80]}", flush=True)
            continue
        shown = [
            _readings(refrigerant, unit, one, run, _row(placed, at))
            for one, run in zip(found, states, strict=True)
        ]
        wet = air.wet_bulb(
            *(np.array([states[0][name]]) for name in ("return_dry_bulb", "return_ratio", "pressure"))
        )
        weather = [states[0]["outdoor"], states[0]["return_dry_bulb"], float(wet[0]), states[0]["pressure"]]
        heats = [found[1][name] for name in HEATS]
        numbers = [size[at], share[at], *weather, *shown[1], *shown[0][: len(TWIN)], *heats]
        rows.append(
            [refrigerant, metering, CAUSES[label[at]], *(f"{one:.3f}".rstrip("0").rstrip(".") for one in numbers)]
        )
        print(rows[-1][:4], flush=True)
    return rows


def _solved(unit: PublicUnit, sound: Values, faulty: Values) -> list[Values]:
    """What the unit does without its fault and with it."""
    weather = {name: sound[name] for name in WEATHER}
    first = unit.run(weather, _operation(sound))
    return [first, first if faulty == sound else unit.run(weather, _operation(faulty))]


def _operation(run: Values) -> Values:
    return {name: value for name, value in run.items() if name not in WEATHER}


def main(argv: Sequence[str] | None = None) -> int:
    """Draw and write. Options: ``--most`` (visits of each of the four groups), ``--group``, ``--out``."""
    parser = argparse.ArgumentParser(prog="python -m tests.outside.public_draw", description=__doc__)
    parser.add_argument("--most", type=int)
    parser.add_argument("--group", type=int, action="append", help="0 to 3; without it all of them")
    parser.add_argument("--out", type=Path, default=TABLE)
    options = parser.parse_args(argv)
    warnings.filterwarnings("ignore")
    logging.disable(logging.CRITICAL)
    groups = [(refrigerant, metering) for refrigerant in FLUIDS for metering in METERING]
    rows = [
        row
        for at, (refrigerant, metering) in enumerate(groups)
        if options.group is None or at in options.group
        for row in visits_by_package(refrigerant, metering, SEED + at, options.most)
    ]
    lines = [",".join(SHOWN), *(",".join(row) for row in rows)]
    options.out.write_text(HEAD.format(seed=SEED) + "\n".join(lines) + "\n")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
