"""Fit the property series of one refrigerant to CoolProp (offline: the import costs two seconds)."""

import numpy as np
from CoolProp.CoolProp import PT_INPUTS, QT_INPUTS, AbstractState, iphase_gas
from numpy.polynomial import chebyshev

from service.physics.arrays import Array
from service.results.record import Record
from service.workshop.cycle.fluid import RefrigerantFit

# Fluid names in the reference library. R-410A and R-407C are its pseudo-pure fluids.
FLUIDS = {"R-22": "R22", "R-410A": "R410A", "R-407C": "R407C", "R-32": "R32", "R-454B": "R454B.mix"}
LOWEST = 238.15
HIGHEST = {"R-22": 351.15, "R-410A": 340.15, "R-407C": 346.15, "R-32": 345.15, "R-454B": 344.15}
# For refrigerants outside the table: this far below the critical temperature.
BELOW_CRITICAL = 7.5
TEMPERATURES = 61
SUPERHEATS = np.concatenate([np.linspace(0.0, 20.0, 11), np.linspace(25.0, 125.0, 21)])
ORDER_LINE = 12
ORDER_SURFACE = (8, 7)


class _Lines(Record):
    temperature: Array
    log_bubble: Array
    log_dew: Array
    liquid: dict[str, Array]
    vapour: dict[str, Array]


def fit_refrigerant(designation: str, fluid: str | None = None) -> RefrigerantFit:
    """Fit every series of a refrigerant.

    Parameters: designation (ASHRAE 34); fluid: its name in the reference library where not one of FLUIDS.
    Returns the fit; its errors are checked in tests/physics/cycle/test_fluid.py.
    """
    state = AbstractState("HEOS", fluid or FLUIDS[designation])
    highest = HIGHEST.get(designation) or state.T_critical() - BELOW_CRITICAL
    lines = _saturation_lines(state, highest)
    low, high = _log_range(lines)
    surfaces, enthalpy_span, entropy_span = _surfaces(state, lines, highest)
    curves = _curves(lines, highest, low, high) | surfaces
    liquid = lines.liquid["enthalpy"]
    return RefrigerantFit(
        designation,
        LOWEST,
        highest,
        (low, high),
        enthalpy_span,
        entropy_span,
        (float(liquid[0]), float(liquid[-1])),
        *_critical_point(state),
        curves,
    )


def _critical_point(state: AbstractState) -> tuple[float, float]:
    if len(state.fluid_names()) == 1:
        return float(state.T_critical()), float(state.p_critical())
    # A blend's equation of state has further critical points, all of them colder or not real.
    hottest = max((point for point in state.all_critical_points() if point.stable), key=lambda point: point.T)
    return float(hottest.T), float(hottest.p)


def _saturation_lines(state: AbstractState, highest: float) -> _Lines:
    # Chebyshev nodes keep the error even up to the ends, the end points included for clipping.
    nodes = -np.cos(np.pi * np.arange(TEMPERATURES) / (TEMPERATURES - 1))
    temperature = 0.5 * (LOWEST + highest) + 0.5 * (highest - LOWEST) * nodes
    found = [(value, sides) for value in temperature if (sides := _both_sides(state, float(value))) is not None]
    kept = np.array([value for value, _ in found])
    names = ("log_pressure", "enthalpy", "entropy", "density")
    columns = [
        {name: np.array([pair[side][at] for _, pair in found]) for at, name in enumerate(names)} for side in (0, 1)
    ]
    liquid, vapour = columns
    return _Lines(kept, liquid["log_pressure"], vapour["log_pressure"], liquid, vapour)


def _both_sides(state: AbstractState, temperature: float) -> tuple[tuple[float, ...], ...] | None:
    # The library's mixture solver fails at a few isolated temperatures; least squares does without those.
    sides = []
    for quality in (0, 1):
        try:
            state.update(QT_INPUTS, quality, temperature)
        except ValueError:
            return None
        sides.append((float(np.log(state.p())), state.hmass(), state.smass(), state.rhomass()))
    return tuple(sides)


def _log_range(lines: _Lines) -> tuple[float, float]:
    return float(lines.log_dew[0]), float(lines.log_bubble[-1])


def _curves(lines: _Lines, highest: float, low: float, high: float) -> dict[str, Array]:
    scaled = _unit(lines.temperature, LOWEST, highest)
    liquid = lines.liquid["enthalpy"]
    return {
        "log_bubble_pressure": _line_fit(scaled, lines.log_bubble),
        "log_dew_pressure": _line_fit(scaled, lines.log_dew),
        "liquid_enthalpy": _line_fit(scaled, liquid),
        "vapour_enthalpy": _line_fit(scaled, lines.vapour["enthalpy"]),
        "vapour_entropy": _line_fit(scaled, lines.vapour["entropy"]),
        "liquid_density": _line_fit(scaled, lines.liquid["density"]),
        "vapour_density": _line_fit(scaled, lines.vapour["density"]),
        "bubble_temperature": _line_fit(_unit(lines.log_bubble, low, high), lines.temperature),
        "dew_temperature": _line_fit(_unit(lines.log_dew, low, high), lines.temperature),
        "liquid_temperature": _line_fit(_unit(liquid, float(liquid[0]), float(liquid[-1])), lines.temperature),
    }


def _surfaces(state: AbstractState, lines: _Lines, highest: float) -> tuple[dict[str, Array], float, float]:
    dew, above, rise, superheat, thinning = _superheated_grid(state, lines)
    enthalpy_span, entropy_span = float(above.max()), float(rise.max())
    scaled = _unit(dew, LOWEST, highest)
    by_enthalpy = _unit(above, 0.0, enthalpy_span)
    by_entropy = _unit(rise, 0.0, entropy_span)
    # Everything is fitted as a ratio, so that it is exactly zero on the dew line.
    surfaces = {
        "superheat_per_enthalpy": _surface_fit(scaled, by_enthalpy, superheat / above),
        "thinning_per_enthalpy": _surface_fit(scaled, by_enthalpy, thinning / above),
        "entropy_per_enthalpy": _surface_fit(scaled, by_enthalpy, rise / above),
        "enthalpy_per_entropy": _surface_fit(scaled, by_entropy, above / rise),
    }
    return surfaces, enthalpy_span, entropy_span


def _superheated_grid(state: AbstractState, lines: _Lines) -> tuple[Array, ...]:
    state.specify_phase(iphase_gas)
    rows = []
    for index, dew in enumerate(lines.temperature[::2]):
        at = 2 * index
        for superheat in SUPERHEATS[1:]:
            state.update(PT_INPUTS, np.exp(lines.log_dew[at]), float(dew + superheat))
            rows.append(
                (
                    dew,
                    state.hmass() - lines.vapour["enthalpy"][at],
                    state.smass() - lines.vapour["entropy"][at],
                    superheat,
                    np.log(lines.vapour["density"][at] / state.rhomass()),
                )
            )
    state.unspecify_phase()
    return tuple(np.array(column) for column in zip(*rows, strict=True))


def _surface_fit(first: Array, second: Array, values: Array) -> Array:
    basis = chebyshev.chebvander2d(first, second, list(ORDER_SURFACE))
    solution = np.linalg.lstsq(basis, values, rcond=None)[0]
    return np.asarray(solution.reshape(ORDER_SURFACE[0] + 1, ORDER_SURFACE[1] + 1))


def _line_fit(scaled: Array, values: Array) -> Array:
    # Fitted as Chebyshev series for a sound fit, kept as powers for a quick evaluation.
    return np.asarray(chebyshev.cheb2poly(chebyshev.chebfit(scaled, values, ORDER_LINE)), dtype=np.float64)


def _unit(value: Array, low: float, high: float) -> Array:
    return (2.0 * value - low - high) / (high - low)
