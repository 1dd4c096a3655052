"""The pressure-enthalpy chart of a visit: the dome, this visit's cycle, and behind it a sound unit's."""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from textwrap import wrap
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import NullFormatter, NullLocator

from service.knowledge.refrigerant import Refrigerant
from service.report.dome import bubble_line, dew_line
from service.report.drawing import ACCENT, BAND, INK, SOFT, WIDTH, as_svg, figure
from service.report.trace import DISCHARGE, INLET, LIQUID, LOSSLESS, SUCTION, CycleTrace, Point
from service.results.finding import Value
from service.results.quantity import Quantity
from service.results.units import from_si
from service.words.say import Speaker

HEIGHT, LINE = 3.5, 0.17  # in: chart without its legend, and each line of that
WRAP = 58  # characters of the legend's type that fit the width
NUMBERS = {SUCTION: "1", DISCHARGE: "2", LOSSLESS: "2", LIQUID: "3", INLET: "4"}
OFFSETS = {SUCTION: (7, -12), DISCHARGE: (7, 5), LOSSLESS: (7, 5), LIQUID: (-12, 6), INLET: (-12, -13)}
# Absolute unit of the same size, for an axis that cannot pass through a gauge's zero.
ROUND = (1.0, 2.0, 3.0, 5.0, 7.0)  # numbers of a decade that a logarithmic axis names
ABSOLUTE = {"psig": "psia", "kPag": "kPa", "barg": "bar", "MPag": "MPa"}


class ChartScale:
    """SI -> the caller's units on the axes; pressure is absolute, labeled as the gauge reads."""

    def __init__(self, speaker: Speaker) -> None:
        self.enthalpy_unit = speaker.units.enthalpy
        self.pressure_unit = ABSOLUTE.get(speaker.units.pressure, speaker.units.pressure)
        self.gauge_unit = speaker.units.pressure
        self._units = speaker.units
        self._site_pressure = speaker.site_pressure

    def enthalpy(self, value: float) -> float:
        """Specific enthalpy [J/kg] in the caller's unit."""
        return from_si(value, "enthalpy", self._units, 0.0)

    def pressure(self, value: float) -> float:
        """Absolute pressure [Pa] in the absolute unit."""
        return from_si(value, "absolute_pressure", self._units, 0.0)

    def ticks(self, lowest: float, highest: float) -> tuple[list[float], list[str]]:
        """Where round numbers of the caller's gauge lie between two places of the axis, and how they are said."""
        zero = from_si(self._site_pressure, "absolute_pressure", self._units, 0.0)
        zero = zero if self.gauge_unit in ABSOLUTE else 0.0
        round_numbers = [0.0, *(part * 10.0**power for power in range(-2, 5) for part in ROUND)]
        shown = [number for number in round_numbers if lowest <= number + zero <= highest]
        return [number + zero for number in shown], [f"{number:g}" for number in shown]

    def place(self, point: Point) -> tuple[float, float]:
        """Where a point lies on the axes."""
        return self.enthalpy(point.enthalpy), self.pressure(point.pressure)


def pressure_enthalpy_chart(
    refrigerant: Refrigerant | None, cycle: CycleTrace, expected: CycleTrace | None, speaker: Speaker
) -> bytes:
    """The chart as SVG; without a known refrigerant it says so in words."""
    lines = chart_lines(refrigerant, cycle, expected, speaker)
    legend = [part for line in lines for part in wrap(line, WRAP)]
    title = speaker.text("report", "chart.title")
    with figure(WIDTH, (HEIGHT if refrigerant else 0.4) + LINE * len(legend)) as drawn:
        axes = drawn.add_subplot()
        if refrigerant is None:
            axes.set_axis_off()
        else:
            _draw(axes, refrigerant, (cycle, expected), speaker)
            heading = _said(speaker, "chart.heading", {"refrigerant": refrigerant.designation})
            axes.set_title(heading, loc="left", fontsize=10, color=INK)
        drawn.supxlabel("\n".join(legend), x=0.02, ha="left", fontsize=9, color=INK, linespacing=1.5)
        return as_svg(drawn, title, " ".join(lines))


def chart_lines(
    refrigerant: Refrigerant | None, cycle: CycleTrace, expected: CycleTrace | None, speaker: Speaker
) -> list[str]:
    """What the chart shows and what it cannot show, in words: the legend below it and its description."""
    if refrigerant is None:
        return [speaker.text("report", "chart.no-refrigerant")]
    lines = [_point_line(name, cycle.points[name], speaker) for name in NUMBERS if name in cycle.points]
    if expected is not None and expected.points:
        lines.append(speaker.text("report", "chart.expected"))
    lines += [speaker.text("report", f"chart.outside-{name}") for name in cycle.outside]
    if cycle.absent:
        names = ", ".join(speaker.text("report", f"reading.{name}") for name in cycle.absent)
        lines.append(_said(speaker, "chart.absent", {"readings": names}))
    return lines


def _point_line(name: str, point: Point, speaker: Speaker) -> str:
    values: dict[str, Any] = {"number": NUMBERS[name], "pressure": Quantity(point.pressure, "pressure")}
    if point.temperature is not None:
        values["temperature"] = Quantity(point.temperature, "temperature")
    return _said(speaker, f"chart.point-{name}", values)


def _said(speaker: Speaker, code: str, values: Mapping[str, Value]) -> str:
    return speaker.fill(speaker.text("report", code), values)


def _draw(
    axes: Axes, refrigerant: Refrigerant, cycles: tuple[CycleTrace, CycleTrace | None], speaker: Speaker
) -> None:
    scale, (cycle, expected) = ChartScale(speaker), cycles
    lowest = _lowest(refrigerant, [item for item in cycles if item is not None])
    _dome(axes, refrigerant, lowest, scale)
    if expected is not None and expected.points:
        _outline(axes, expected, scale, {"color": SOFT, "linestyle": (0, (4, 2)), "linewidth": 1.4, "zorder": 2})
    _levels(axes, refrigerant, cycles, speaker, scale)
    _outline(axes, cycle, scale, {"color": ACCENT, "linestyle": "-", "linewidth": 2.2, "zorder": 4})
    for name, point in cycle.points.items():
        _mark(axes, name, scale.place(point))
    axes.set_ylim(scale.pressure(lowest), scale.pressure(1.15 * refrigerant.critical_pressure))
    _axes(axes, scale, speaker)


def _lowest(refrigerant: Refrigerant, cycles: Sequence[CycleTrace]) -> float:
    """Bottom of the chart [Pa]: below what was read, and a freezing coil at least."""
    curve = refrigerant.saturation
    usual = curve.bubble_pressure(max(curve.lowest_temperature, 263.15))
    read = [cycle.low for cycle in cycles if cycle.low is not None]
    return max(curve.lowest_pressure, 0.7 * min([usual, *read]))


def _dome(axes: Axes, refrigerant: Refrigerant, lowest: float, scale: ChartScale) -> None:
    bubble, dew = bubble_line(refrigerant, lowest), dew_line(refrigerant, lowest)
    for enthalpies, pressures in (bubble, dew):
        axes.plot(
            [scale.enthalpy(value) for value in enthalpies],
            [scale.pressure(value) for value in pressures],
            color=INK,
            linewidth=1.1,
            zorder=3,
        )
    x, y = _cap(bubble[0][-1], dew[0][-1], bubble[1][-1], dew[1][-1], refrigerant.critical_pressure)
    sketch: dict[str, Any] = {"color": INK, "linewidth": 0.9, "linestyle": ":"}
    axes.plot([scale.enthalpy(value) for value in x], [scale.pressure(value) for value in y], **sketch)


def _cap(
    left: float, right: float, left_pressure: float, right_pressure: float, critical: float
) -> tuple[Any, Any]:
    """The top of the dome, sketched as a parabola: the tables end a little below the critical point."""
    along = np.linspace(-1.0, 1.0, 21)
    base = 0.5 * (left_pressure + right_pressure) + 0.5 * (right_pressure - left_pressure) * along
    return 0.5 * (left + right) + 0.5 * (right - left) * along, base + (critical - base) * (1.0 - along**2)


def _outline(axes: Axes, cycle: CycleTrace, scale: ChartScale, style: dict[str, Any]) -> None:
    """The sides of the cycle whose two ends are known."""
    order = [SUCTION, DISCHARGE if DISCHARGE in cycle.points else LOSSLESS, LIQUID, INLET, SUCTION]
    for first, second in pairwise(order):
        if first in cycle.points and second in cycle.points:
            ends = [scale.place(cycle.points[name]) for name in (first, second)]
            dotted = {"linestyle": ":"} if LOSSLESS in (first, second) else {}
            axes.plot(*zip(*ends, strict=True), **(style | dotted))


def _levels(
    axes: Axes,
    refrigerant: Refrigerant,
    cycles: tuple[CycleTrace, CycleTrace | None],
    speaker: Speaker,
    scale: ChartScale,
) -> None:
    """Both pressures right across, with the saturation temperature each stands for, written inside the dome.

    A label stands on the side of its line that the expected cycle leaves free.
    """
    curve, (cycle, expected) = refrigerant.saturation, cycles
    for pressure, code, saturation, below in (
        (cycle.low, "chart.evaporating", curve.dew_temperature, _above(expected, "low", cycle.low, usual=True)),
        (cycle.high, "chart.condensing", curve.bubble_temperature, _above(expected, "high", cycle.high)),
    ):
        if pressure is None or not curve.lowest_pressure <= pressure <= curve.highest_pressure:
            continue
        axes.axhline(scale.pressure(pressure), color=BAND, linewidth=1.0, zorder=1)
        values = {"temperature": Quantity(saturation(pressure), "temperature")}
        axes.annotate(
            _said(speaker, code, values),
            (scale.enthalpy(_beside(refrigerant, cycle, pressure)), scale.pressure(pressure)),
            xytext=(8, -5 if below else 4),
            textcoords="offset points",
            ha="left",
            va="top" if below else "bottom",
            fontsize=9,
            color=SOFT,
            zorder=6,
            bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.8, "alpha": 0.85},
        )


def _above(expected: CycleTrace | None, side: str, pressure: float | None, *, usual: bool = False) -> bool:
    """True where the expected cycle runs above a pressure, so that below it is free."""
    level = None if expected is None else getattr(expected, side)
    return usual if level is None or pressure is None else level > pressure


def _beside(refrigerant: Refrigerant, cycle: CycleTrace, pressure: float) -> float:
    """Enthalpy [J/kg] from which a label at a pressure [Pa] is clear of the cycle's left side and the dome's."""
    saturated = refrigerant.properties.saturated
    liquid: float = saturated.liquid_enthalpy(refrigerant.saturation.bubble_temperature(pressure))
    return max([liquid, *(cycle.points[name].enthalpy for name in (LIQUID, INLET) if name in cycle.points)])


def _mark(axes: Axes, name: str, place: tuple[float, float]) -> None:
    face = "white" if name == LOSSLESS else ACCENT
    axes.plot(*place, marker="o", markersize=6, markerfacecolor=face, markeredgecolor=ACCENT, zorder=5)
    bold: dict[str, Any] = {"fontsize": 10, "fontweight": "bold", "color": INK}
    axes.annotate(NUMBERS[name], place, xytext=OFFSETS[name], textcoords="offset points", **bold)


def _axes(axes: Axes, scale: ChartScale, speaker: Speaker) -> None:
    axes.set_yscale("log")
    axes.set_yticks(*scale.ticks(*axes.get_ylim()))
    axes.yaxis.set_minor_locator(NullLocator())
    axes.yaxis.set_minor_formatter(NullFormatter())
    axes.margins(x=0.08)
    axes.set_xlabel(_said(speaker, "chart.enthalpy", {"unit": scale.enthalpy_unit}), color=INK)
    axes.set_ylabel(_said(speaker, "chart.pressure", {"unit": scale.gauge_unit}), color=INK)
    axes.grid(True, axis="y", color="#eef1f4", linewidth=0.6)
    axes.set_axisbelow(True)
