"""A picture of readings against what was expected: a band for each, and a mark whose shape says how it lies."""

from collections.abc import Sequence
from textwrap import wrap

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from service.report.compared import ABOVE, BELOW, INSIDE, Compared
from service.report.drawing import ACCENT, BAND, INK, SOFT, WIDTH, as_svg, figure
from service.results.quantity import Quantity
from service.words.say import Speaker

WRAP = 66  # characters of the legend's type that fit the width
ROW, HEAD = 0.56, 0.55  # in
# Where the band lies across the row, and how far a mark may go before it stands for "further out".
LEFT, RIGHT, EDGE = 0.35, 0.65, 0.97
MARKS = {INSIDE: "o", ABOVE: "^", BELOW: "v"}
FACES = {INSIDE: "white", ABOVE: INK, BELOW: INK}


def comparison_picture(rows: Sequence[Compared], speaker: Speaker) -> bytes:
    """The picture as SVG; at least one row."""
    lines = comparison_lines(rows, speaker)
    with figure(WIDTH, HEAD + ROW * len(rows)) as drawn:
        axes = drawn.add_subplot()
        axes.set_axis_off()
        axes.set_xlim(0.0, 1.0)
        axes.set_ylim(len(rows) - 0.6, -0.75)
        for place, row in enumerate(rows):
            _draw(axes, place, row, speaker)
        legend = speaker.text("report", "comparison.legend")
        drawn.supxlabel("\n".join(wrap(legend, WRAP)), x=0.02, ha="left", fontsize=9, color=INK)
        return as_svg(drawn, speaker.text("report", "comparison.title"), " ".join(lines))


def comparison_lines(rows: Sequence[Compared], speaker: Speaker) -> list[str]:
    """The same in words, one line a reading."""
    return [f"{row.title}: {_words(row, speaker)}." for row in rows]


def _words(row: Compared, speaker: Speaker) -> str:
    said = {
        "value": _spoken(row.value, row.kind, speaker),
        "verdict": speaker.text("report", f"is.{row.verdict}"),
        "expected": expected_words(row, speaker),
    }
    return speaker.fill(speaker.text("report", "comparison.row"), said)


def expected_words(row: Compared, speaker: Speaker) -> str:
    """What was expected of a value, without the unit that stands at the value itself: 8 to 18 (target 13)."""
    given = (("low", row.low), ("high", row.high), ("target", row.target))
    said = {name: _spoken(bound, row.kind, speaker) for name, bound in given if bound is not None}
    tail = speaker.measure(row.kind).tail
    if all(text.endswith(tail) for text in (_spoken(row.value, row.kind, speaker), *said.values())):
        said = {name: text.removesuffix(tail) for name, text in said.items()}
    form = "between" if "low" in said and "high" in said else "from" if "low" in said else "to"
    said["expected"] = speaker.fill(speaker.text("report", f"expected.{form}"), said)
    if "target" not in said:
        return said["expected"]
    return speaker.fill(speaker.text("report", "expected.target"), said)


def _spoken(value: float, kind: str, speaker: Speaker) -> str:
    return speaker.say(Quantity(value, kind))


def _draw(axes: Axes, place: int, row: Compared, speaker: Speaker) -> None:
    left = 0.0 if row.low is None else LEFT
    right = 1.0 if row.high is None else RIGHT
    axes.add_patch(Rectangle((0.0, place), 1.0, 0.22, facecolor="#f4f6f8", edgecolor="none"))
    axes.add_patch(
        Rectangle((left, place), right - left, 0.22, facecolor=BAND, edgecolor=SOFT, linewidth=0.6, hatch="////")
    )
    axes.plot(
        position(row),
        place + 0.11,
        marker=MARKS[row.verdict],
        markersize=7,
        markerfacecolor=FACES[row.verdict],
        markeredgecolor=ACCENT if row.verdict == INSIDE else INK,
        markeredgewidth=1.6,
    )
    axes.text(0.0, place - 0.36, row.title, fontsize=9, color=INK, va="bottom", fontweight="bold")
    axes.text(0.0, place - 0.07, _words(row, speaker), fontsize=9, color=INK, va="bottom")


def position(row: Compared) -> float:
    """Where the mark stands across the row, 0 to 1: inside the band when the value is inside its bounds."""
    if row.low is not None and row.high is not None:
        half = max(0.5 * (row.high - row.low), 1e-12)
        away = (row.value - 0.5 * (row.low + row.high)) / half
        return _within(0.5 + away * 0.5 * (RIGHT - LEFT))
    bound = row.low if row.low is not None else row.high or 0.0
    place = LEFT if row.low is not None else RIGHT
    return _within(place + (row.value - bound) / max(abs(bound), 1e-12) * (RIGHT - LEFT))


def _within(place: float) -> float:
    return min(max(place, 1.0 - EDGE), EDGE)
