"""The pictures of the report: stated against observed shares, cause against cause, kinds and months."""

from __future__ import annotations

from typing import Any

from service.report.drawing import ACCENT, BAND, INK, SOFT, as_svg, figure
from service.report.note import Picture

MOST_CAUSES = 14
Figures = dict[str, Any]


def pictures(found: Figures) -> list[Picture]:
    """Every picture that the figures give; none without labels."""
    if not found["judged"]["labels"]:
        return []
    drawn = [_reliability(found), _causes(found), _groups(found, "kind", "Kind of unit")]
    return [*drawn, _groups(found, "month", "Month")]


def _reliability(found: Figures) -> Picture:
    """The share stated for the leading cause, and how often it was right, with intervals."""
    bins = found["reliability"]
    with figure(4.6, 3.6) as drawn:
        axes = drawn.add_subplot()
        axes.plot([0, 1], [0, 1], color=SOFT, linewidth=0.8, linestyle="--")
        right = [item["right"]["share"] for item in bins]
        below = [item["right"]["share"] - item["right"]["low"] for item in bins]
        above = [item["right"]["high"] - item["right"]["share"] for item in bins]
        axes.errorbar([item["stated"] for item in bins], right, [below, above], fmt="o", color=ACCENT, capsize=3)
        for item in bins:
            at_edge = item["stated"] > 0.9  # a count to the right of it would lie outside of the picture
            axes.annotate(
                str(item["right"]["of"]),
                (item["stated"], item["right"]["share"]),
                xytext=(-6 if at_edge else 5, -10),
                ha="right" if at_edge else "left",
                textcoords="offset points",
                color=SOFT,
                fontsize=7,
            )
        axes.set(
            xlim=(-0.02, 1.03),
            ylim=(-0.02, 1.04),
            xlabel="share stated for the leading cause",
            ylabel="share right",
        )
        said = "; ".join(
            f"stated {bar['stated']:.2f}, right {bar['right']['share']:.2f} of {bar['right']['of']}"
            for bar in bins
        )
        title = "Stated share against share right"
        return Picture(as_svg(drawn, title, said), title, said)


def _causes(found: Figures) -> Picture:
    """Proven against said, as shares of each proven cause; the causes met most often."""
    counts: dict[str, int] = {}
    for pair in found["causes"]:
        counts[pair["proven"]] = counts.get(pair["proven"], 0) + pair["visits"]
    shown = sorted(counts, key=lambda code: -counts[code])[:MOST_CAUSES]
    columns = [*shown, "another"]
    table = [[0.0] * len(columns) for _ in shown]
    for pair in found["causes"]:
        if pair["proven"] in shown:
            column = columns.index(pair["said"]) if pair["said"] in shown else len(shown)
            table[shown.index(pair["proven"])][column] += pair["visits"] / counts[pair["proven"]]
    with figure(7.2, 1.6 + 0.34 * len(shown)) as drawn:
        axes = drawn.add_subplot()
        axes.imshow(table, cmap="Blues", vmin=0.0, vmax=1.0, aspect="auto")
        for row, shares in enumerate(table):
            for column, value in enumerate(shares):
                if value >= 0.005:
                    colour = "white" if value > 0.55 else INK
                    cell = f"{100 * value:.0f}"
                    axes.text(column, row, cell, ha="center", va="center", color=colour, fontsize=7)
        below = [_short(code) for code in columns]
        axes.set_xticks(range(len(columns)), below, rotation=60, ha="right", fontsize=7)
        axes.set_yticks(range(len(shown)), [f"{_short(code)} ({counts[code]})" for code in shown], fontsize=7)
        axes.set(xlabel="leading cause, percent of the row", ylabel="proven")
        said = "; ".join(
            f"{_short(code)}: {100 * table[at][at]:.0f} % of {counts[code]} led" for at, code in enumerate(shown)
        )
        title = "What was proven, and what led"
        return Picture(as_svg(drawn, title, said), title, said)


def _groups(found: Figures, name: str, caption: str) -> Picture:
    """Right in first by group, with intervals."""
    groups = {value: item for value, item in found["by"][name].items() if item["labels"]}
    with figure(4.6, 1.2 + 0.32 * len(groups)) as drawn:
        axes = drawn.add_subplot()
        for at, (value, item) in enumerate(groups.items()):
            right = item["right_first"]
            axes.barh(at, right["share"], color=BAND, edgecolor=SOFT, hatch="//" if item["too_few"] else "")
            axes.plot([right["low"], right["high"]], [at, at], color=ACCENT, linewidth=1.5)
            axes.text(0.01, at, f"{value} ({right['of']})", va="center", fontsize=7, color=INK)
        axes.set(xlim=(0, 1.02), yticks=[], xlabel="share in which the proven cause leads")
        axes.invert_yaxis()
        said = "; ".join(
            f"{value}: {item['right_first']['share']:.2f} of {item['labels']}" for value, item in groups.items()
        )
        title = f"{caption}: right in first"
        return Picture(as_svg(drawn, title, said), title, said)


def _short(code: str) -> str:
    return code.removeprefix("cause.").replace("-", " ")
