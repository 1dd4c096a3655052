"""Simulated pressure tests and holds of a vacuum with known truth: `python -m tests.procedures.simulated_series`.

Each kind draws its curve, its gauge and its thermometer from a seeded generator; readings are rounded as a
gauge shows them. `right` names the verdicts that the truth allows, `dangerous` those that would send a leaking
or wet circuit on its way. The curves are written here anew and share no code with the service.
Physics: sealed gas by p / T; air into a vacuum is choked, so it rises
straight; water gives off vapor until it has its pressure.
"""

import sys
from collections import Counter
from collections.abc import Callable
from typing import Any

import numpy as np

from service.results.record import Record
from tests.procedures.judging import judge

Random = np.random.Generator
Readings = list[dict[str, float]]
ATMOSPHERE = 14.696


class Kind(Record):
    """One kind of curve: how it is drawn, what may be said of it, and what must never be."""

    procedure: str
    draw: Callable[[Random], dict[str, Any]]
    right: tuple[str, ...]
    dangerous: tuple[str, ...] = ()


def _times(random: Random, least: float, most: float) -> np.ndarray:
    """Evenly spread times with some unevenness, from 0 on."""
    count = int(random.integers(4, 14))
    end = random.uniform(least, most)
    times = np.linspace(0.0, end, count)
    times[1:-1] += random.uniform(-0.2, 0.2, count - 2) * end / count
    return np.round(times)


def _test(random: Random, minutes: np.ndarray, lost: np.ndarray, swing: float = 0.0) -> dict[str, Any]:
    """A pressure test: what was lost at the first temperature [psi], air that swings once, gauge by the pound."""
    start, cold = random.uniform(250, 500), random.uniform(55, 95)
    warm = cold + swing * np.sin(minutes / minutes[-1] * random.uniform(1.5, 4.5))
    digit = float(random.choice([0.1, 0.5, 1.0]))
    pressure = (start + ATMOSPHERE - lost) * (warm + 459.67) / (cold + 459.67) - ATMOSPHERE
    shown = np.maximum(np.round((pressure * (1 + random.normal(0, 5e-4, len(minutes)))) / digit) * digit, 0.0)
    read_warm = np.round(warm + random.normal(0, 0.25, len(minutes)), 1)
    rows = zip(minutes, shown, read_warm, strict=True)
    return {
        "gas": "nitrogen",
        "instruments": {"pressure_resolution": digit},
        "samples": [{"minutes": float(a), "pressure": float(b), "temperature": float(c)} for a, b, c in rows],
    }


def _tight(random: Random) -> dict[str, Any]:
    times = _times(random, 60, 600)
    return _test(random, times, 0.0 * times)


def _tight_in_changing_air(random: Random) -> dict[str, Any]:
    times = _times(random, 120, 1440)
    return _test(random, times, 0.0 * times, random.uniform(-15, 15))


def _settles(random: Random) -> dict[str, Any]:
    times = np.concatenate([[0.0, 5.0, 10.0, 15.0], np.linspace(30, random.uniform(90, 240), 6).round()])
    return _test(random, times, random.uniform(1, 5) * (1 - np.exp(-times / random.uniform(3, 7))))


def _leaks(random: Random) -> dict[str, Any]:
    times = _times(random, 45, 240)
    return _test(random, times, random.uniform(6, 40) * times / 60)


def _leaks_in_changing_air(random: Random) -> dict[str, Any]:
    times = _times(random, 90, 480)
    return _test(random, times, random.uniform(7, 25) * times / 60, random.uniform(-10, 10))


def _leaks_little(random: Random) -> dict[str, Any]:
    times = _times(random, 30, 240)
    return _test(random, times, random.uniform(0.7, 1.4) * 5.0 * times / 60)


def _settles_and_leaks(random: Random) -> dict[str, Any]:
    times = np.concatenate([[0.0, 5.0, 10.0, 15.0], np.linspace(30, random.uniform(90, 240), 6).round()])
    settled = random.uniform(1, 5) * (1 - np.exp(-times / random.uniform(3, 7)))
    return _test(random, times, settled + random.uniform(6, 30) * times / 60)


def _moved_then_short(random: Random) -> dict[str, Any]:
    times = np.arange(0.0, 60.0, 5.0)
    return _test(random, times, random.uniform(6, 40) * (times >= 50))


def _moved_then_long(random: Random) -> dict[str, Any]:
    times = np.arange(0.0, 160.0, 10.0)
    return _test(random, times, random.uniform(6, 40) * (times >= 40))


def _all_gone(random: Random) -> dict[str, Any]:
    times = np.arange(0.0, 70.0, 10.0)
    return _test(random, times, np.where(times >= random.choice([10, 20]), 1000.0, 0.0))


def _fed(random: Random) -> dict[str, Any]:
    times = _times(random, 60, 240)
    return _test(random, times, -random.uniform(5, 20) * times / 60)


def _hold(
    random: Random, minutes: np.ndarray, micron: np.ndarray, noise: float = 0.003, **more: Any
) -> dict[str, Any]:
    """A hold of a vacuum read to the micron, or to the ten above 1,000."""
    shown = micron * (1 + random.normal(0, noise, len(minutes)))
    shown = np.where(shown > 1000, np.round(shown, -1), np.round(shown))
    if "vacuum_maximum" in more.get("instruments", {}):
        shown = np.minimum(shown, more["instruments"]["vacuum_maximum"])
    rows = zip(minutes, shown, strict=True)
    return {"samples": [{"minutes": float(a), "vacuum": max(float(b), 1.0)} for a, b in rows], **more}


def _dry(random: Random) -> dict[str, Any]:
    times = _times(random, 12, 60)
    return _hold(random, times, random.uniform(150, 350) + random.uniform(0, 60) * times / times[-1])


def _two_readings_dry(random: Random) -> dict[str, Any]:
    start = random.uniform(150, 400)
    return _hold(random, np.array([0.0, 15.0]), np.array([start, start + random.uniform(0, 40)]))


def _vacuum_leak(random: Random) -> dict[str, Any]:
    times = _times(random, 10, 30)
    return _hold(random, times, random.uniform(200, 450) + random.uniform(40, 300) * times)


def _fast_vacuum_leak(random: Random) -> dict[str, Any]:
    times = np.arange(0.0, 16.0)
    return _hold(random, times, random.uniform(200, 450) + random.uniform(300, 1000) * times, 0.01)


def _two_readings_of_a_leak(random: Random) -> dict[str, Any]:
    start = random.uniform(150, 400)
    return _hold(random, np.array([0.0, 15.0]), np.array([start, start + random.uniform(200, 3000)]))


def _wet(random: Random) -> dict[str, Any]:
    times = np.linspace(0, random.uniform(15, 40), int(random.integers(7, 16))).round(1)
    tau = times[-1] * random.uniform(0.1, 0.4)
    height = random.uniform(900, 8000)
    micron = random.uniform(250, 450) + height * (1 - np.exp(-times / tau))
    return _hold(random, times, micron, ambient_temperature=75)


def _wet_and_leaking(random: Random) -> dict[str, Any]:
    times = np.linspace(0, 30, 31)
    curve = random.uniform(400, 900) * (1 - np.exp(-times / random.uniform(2, 4)))
    return _hold(random, times, 300 + curve + random.uniform(40, 100) * times)


def _at_the_stop(random: Random) -> dict[str, Any]:
    top = float(random.choice([10000, 20000]))
    times = np.arange(0.0, 20.0, 2.0)
    micron = 300 + 3 * top * (1 - np.exp(-times / random.uniform(4, 8)))
    stated = {"instruments": {"vacuum_maximum": top}}
    if random.uniform() < 0.5:
        return _hold(random, times, micron, **stated)
    document = _hold(random, times, micron, **stated)
    return {"samples": document["samples"]}


def _all_at_the_stop(random: Random) -> dict[str, Any]:
    top = float(random.choice([10000, 12000, 20000, 25000]))
    return _hold(random, np.arange(5.0), np.full(5, top * 2), instruments={"vacuum_maximum": top})


def _valve_bumped(random: Random) -> dict[str, Any]:
    times = np.arange(0.0, 16.0)
    micron = random.uniform(250, 350) + 2 * times + np.where(times >= 8, random.uniform(400, 5000), 0.0)
    return _hold(random, times, micron)


def _not_valved_off(random: Random) -> dict[str, Any]:
    times = np.arange(0.0, 16.0)
    return _hold(random, times, 300 + random.uniform(600, 3000) * np.exp(-times / random.uniform(4, 10)))


TEST, HOLD = "pressure-test", "evacuation"
KINDS = {
    "tight": Kind(TEST, _tight, ("holds",), ("leaks",)),
    "tight, air warms or cools": Kind(TEST, _tight_in_changing_air, ("holds",), ("leaks",)),
    "settles, then stays": Kind(TEST, _settles, ("holds",), ("leaks",)),
    "leaks": Kind(TEST, _leaks, ("leaks",), ("holds",)),
    "leaks, air warms or cools": Kind(TEST, _leaks_in_changing_air, ("leaks",), ("holds",)),
    "leaks a little": Kind(TEST, _leaks_little, ("leaks", "undecided"), ("holds",)),
    "settles and leaks": Kind(TEST, _settles_and_leaks, ("leaks",), ("holds",)),
    "valve moved, then short": Kind(TEST, _moved_then_short, ("undecided",), ("holds",)),
    "valve moved, then long": Kind(TEST, _moved_then_long, ("holds",), ("leaks",)),
    "all gone": Kind(TEST, _all_gone, ("leaks",), ("holds",)),
    "cylinder still feeds": Kind(TEST, _fed, ("undecided",), ("holds",)),
    "dry and tight": Kind(HOLD, _dry, ("tight",), ("leak",)),
    "dry and tight, two readings": Kind(HOLD, _two_readings_dry, ("tight",), ("leak",)),
    "air comes in": Kind(HOLD, _vacuum_leak, ("leak",), ("tight", "moisture")),
    "air comes in fast, 1 % noise": Kind(HOLD, _fast_vacuum_leak, ("leak",), ("tight", "moisture")),
    "air comes in, two readings": Kind(HOLD, _two_readings_of_a_leak, ("undecided",), ("tight", "moisture")),
    "wet": Kind(HOLD, _wet, ("moisture",), ("tight", "leak")),
    "wet and leaking": Kind(HOLD, _wet_and_leaking, ("leak", "undecided"), ("tight", "moisture")),
    "gauge runs to its stop": Kind(HOLD, _at_the_stop, ("leak", "undecided"), ("tight", "moisture")),
    "gauge at its stop": Kind(HOLD, _all_at_the_stop, ("undecided",), ("tight", "moisture", "leak")),
    "valve bumped": Kind(HOLD, _valve_bumped, ("undecided",), ("tight", "moisture", "leak")),
    "pump not valved off": Kind(HOLD, _not_valved_off, ("undecided",), ("tight", "moisture", "leak")),
}


def verdicts(kind: Kind, draws: int, first: int = 0) -> Counter[str]:
    """Verdicts of so many draws of a kind, each with its own seed."""
    found: Counter[str] = Counter()
    for seed in range(first, first + draws):
        document = kind.draw(np.random.default_rng(seed))
        computed = judge(kind.procedure, document).computed
        found[computed.get("result") or computed["curve"]] += 1
    return found


def share(found: Counter[str], names: tuple[str, ...]) -> float:
    """Share of the verdicts that are one of the names."""
    return sum(found[name] for name in names) / sum(found.values())


def main(draws: int) -> int:
    """Print right and dangerous shares by kind; 1 where a mark is missed."""
    print(f"{'kind':32} {'right':>6} {'dangerous':>10}   verdicts ({draws} draws each)")
    right = dangerous = 0.0
    for name, kind in KINDS.items():
        found = verdicts(kind, draws)
        right += share(found, kind.right) / len(KINDS)
        dangerous += share(found, kind.dangerous)
        print(f"{name:32} {share(found, kind.right):6.1%} {share(found, kind.dangerous):10.1%}   {dict(found)}")
    print(f"{'all':32} {right:6.1%} {dangerous / len(KINDS):10.1%}")
    return int(right < 0.95 or dangerous > 0.0)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
