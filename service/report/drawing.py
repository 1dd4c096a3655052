"""Figures as SVG whose bytes depend on nothing but what is drawn: no date, no random names, one font.

Importing this module loads the plotting library (about 0.4 s); whoever forks imports it before.
"""

import io
import logging
import re
from collections.abc import Iterator
from contextlib import contextmanager
from html import escape
from typing import Any

logging.getLogger("matplotlib").setLevel(logging.ERROR)  # it would warn of a home that cannot be written

import matplotlib as mpl  # noqa: E402
from matplotlib.backends.backend_svg import FigureCanvasSVG  # noqa: E402
from matplotlib.figure import Figure  # noqa: E402
from matplotlib.layout_engine import ConstrainedLayoutEngine  # noqa: E402

# Glyphs as outlines: the same picture on every phone and printer. The font comes with the library.
STYLE: Any = {
    "svg.hashsalt": "air-conditioner-diagnosis",
    "svg.fonttype": "path",
    "font.family": "DejaVu Sans",
    "font.size": 9.0,
    "axes.linewidth": 0.8,
    "text.parse_math": False,
}
WIDTH = 4.6  # in: the type keeps its size on a phone held upright and in half a printed page
POINTS = 72  # to the inch, the unit of an SVG's sizes here
INK = "#1b2733"  # contrast with white 15:1
SOFT = "#5a6673"  # 5.9:1, for what stands behind
BAND = "#d5dde5"
ACCENT = "#0b4f6c"  # 8.6:1
PROLOGUE = '<?xml version="1.0" encoding="utf-8"?>'
UNDATED = {"Date": None, "Creator": None, "Type": None, "Format": None}


@contextmanager
def figure(width: float, height: float) -> Iterator[Figure]:
    """A figure of this size [in] under our style; draw and save it inside the block."""
    with mpl.rc_context(STYLE):
        drawn = Figure(figsize=(width, height), dpi=POINTS, facecolor="white")
        FigureCanvasSVG(drawn)
        yield drawn


def as_svg(drawn: Figure, title: str, description: str) -> bytes:
    """The figure as an SVG document that names and describes itself for those who cannot see it."""
    out = io.BytesIO()
    # Laid out here and once: a figure that is to lay itself out is drawn twice, the first time for that alone.
    ConstrainedLayoutEngine().execute(drawn)
    drawn.savefig(out, format="svg", metadata=UNDATED)
    text = out.getvalue().decode()
    root = re.search(r"<svg [^>]*", text)
    assert root is not None
    named = (
        f'{root[0]} role="img" aria-labelledby="title description">\n'
        f'<title id="title">{escape(title)}</title>\n<desc id="description">{escape(description)}</desc>\n'
    )
    return (f"{PROLOGUE}\n{named}" + text[root.end() + 1 :].lstrip("\n")).encode()
