"""Walks the bubble and the dew line of a refrigerant with the property CoolProp.

A fresh mixture flash fails at scattered, quite ordinary condensing temperatures. Starting each point from
its neighbour's solution does not, up to a few kelvin below the critical point, and agrees with the fresh
flash to 1e-9 wherever that one works; so blends are walked upward and downward from one sound start.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import log

from CoolProp import CoolProp

from service.results.record import Record

LIQUID, VAPOUR = 0.0, 1.0
STEP = 0.5
"""Spacing of the walk [K]; well inside what the neighbour's solution can start."""
START = 243.15
"""Where blends are started [K]: a fresh flash works there for every blend in the list."""
LOWEST_WANTED = 190.0
CRITICAL_SHARE = 0.995
"""Single fluids are followed to this share of the critical temperature."""
LOWEST_DENSITY_RATIO = 1.3
"""Blends are followed until liquid is only this much denser than vapour: nearer, a walk may collapse."""
ROUGHEST_STEP = 1e-3
"""Largest accepted relative change of the bend of ln p over 1/T between steps; beyond, the walk jumped."""


class Model(Record):
    """What the property library is to compute: one fluid, or components with mass fractions."""

    fluids: tuple[str, ...]
    mass_fractions: tuple[float, ...] = ()

    def state(self) -> CoolProp.AbstractState:
        """Return a new state of the property library for this model."""
        state = CoolProp.AbstractState("HEOS", "&".join(self.fluids))
        if self.mass_fractions:
            state.set_mass_fractions(list(self.mass_fractions))
        return state


class SaturatedState(Record):
    """One point of the bubble line (the liquid) or of the dew line (the vapour), in SI."""

    temperature: float
    pressure: float
    density: float
    enthalpy: float
    entropy: float
    specific_heat: float


def saturation_line(model: Model, quality: float) -> list[SaturatedState]:
    """Return the line from low to high temperature, cut where the library stops answering smoothly."""
    if model.mass_fractions:
        downward = list(_walk(model, quality, -STEP))
        upward = list(_walk(model, quality, STEP))
        return _smooth(downward[:0:-1] + upward)
    return _single_fluid(model, quality)


def _single_fluid(model: Model, quality: float) -> list[SaturatedState]:
    state, single_phase = model.state(), _single_phase(model, quality)
    lowest = max(LOWEST_WANTED, state.Tmin() + 0.01)
    highest = CRITICAL_SHARE * state.T_critical()
    count = int((highest - lowest) / STEP)
    points = []
    for index in range(count + 1):
        state.update(CoolProp.QT_INPUTS, quality, lowest + (highest - lowest) * index / count)
        points.append(_point(state, single_phase))
    return points


def _walk(model: Model, quality: float, step: float) -> Iterator[SaturatedState]:
    state, single_phase = model.state(), _single_phase(model, quality)
    temperature = START
    state.update(CoolProp.QT_INPUTS, quality, temperature)
    while True:
        yield _point(state, single_phase)
        guess = _guess(state)
        temperature += step
        if temperature < LOWEST_WANTED:
            return
        guess.T = temperature
        try:
            state.update_with_guesses(CoolProp.QT_INPUTS, quality, temperature, guess)
        except ValueError:
            return
        if _density_ratio(state) < LOWEST_DENSITY_RATIO:
            return


def _density_ratio(state: CoolProp.AbstractState) -> float:
    liquid = state.saturated_liquid_keyed_output(CoolProp.iDmolar)
    vapour = state.saturated_vapor_keyed_output(CoolProp.iDmolar)
    return float(liquid / vapour)


def _single_phase(model: Model, quality: float) -> CoolProp.AbstractState:
    """Return a state for what only a single phase has: a specific heat."""
    state = model.state()
    state.specify_phase(CoolProp.iphase_gas if quality == VAPOUR else CoolProp.iphase_liquid)
    return state


def _point(state: CoolProp.AbstractState, single_phase: CoolProp.AbstractState) -> SaturatedState:
    single_phase.update(CoolProp.DmassT_INPUTS, state.rhomass(), state.T())
    return SaturatedState(
        state.T(), state.p(), state.rhomass(), state.hmass(), state.smass(), single_phase.cpmass()
    )


def _guess(state: CoolProp.AbstractState) -> CoolProp.PyGuessesStructure:
    guess = CoolProp.PyGuessesStructure()
    guess.T, guess.p = state.T(), state.p()
    guess.rhomolar_liq = state.saturated_liquid_keyed_output(CoolProp.iDmolar)
    guess.rhomolar_vap = state.saturated_vapor_keyed_output(CoolProp.iDmolar)
    guess.x = state.mole_fractions_liquid()
    guess.y = state.mole_fractions_vapor()
    return guess


def _smooth(points: list[SaturatedState]) -> list[SaturatedState]:
    """Cut the line at the first place where neighbours do not agree on one smooth curve."""
    slopes = [
        log(after.pressure / before.pressure) / (1.0 / after.temperature - 1.0 / before.temperature)
        for before, after in pairwise(points)
    ]
    bends = [after / before - 1.0 for before, after in pairwise(slopes)]
    for index, (before, after) in enumerate(pairwise(bends)):
        if abs(after - before) > ROUGHEST_STEP:
            return points[: index + 2]
    return points


def critical_point(model: Model) -> tuple[float, float]:
    """Return temperature [K] and pressure [Pa] of the vapour-liquid critical point."""
    state = model.state()
    if not model.mass_fractions:
        return float(state.T_critical()), float(state.p_critical())
    # A blend's equation of state has further critical points, all of them colder or not real.
    real = [point for point in state.all_critical_points() if point.stable and point.p > 0.0]
    warmest = max(real, key=lambda point: float(point.T))
    return float(warmest.T), float(warmest.p)
