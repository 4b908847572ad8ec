"""Paper to draw on: axes by matplotlib, out as SVG with text as text and with the colours of the page.

Matplotlib writes plain colours. Each colour here stands for a CSS variable, which takes its place in the SVG; so a
drawing is light on a light page and dark on a dark one. Names from a spec are never read as formulas.
"""

from __future__ import annotations

import functools
import io
import logging
import os
import re
import tempfile
import unicodedata
import warnings
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from matplotlib.figure import Figure as Paper

INK: Final = "#0a0b0c"
QUIET: Final = "#0a0b1c"
GRID: Final = "#0a0b2c"
PAPER: Final = "#0a0b3c"
LIMIT: Final = "#0a0b4c"
BAND: Final = "#0a0b5c"
GOOD: Final = "#0a0b6c"
DOUBT: Final = "#0a0b7c"
LINES: Final = ("#0a1b0c", "#0a1b1c", "#0a1b2c", "#0a1b3c", "#0a1b4c", "#0a1b5c")
DASHES: Final[tuple[Any, ...]] = ("-", (0, (6, 2)), (0, (2, 1.5)), (0, (7, 2, 1.5, 2)), (0, (4, 1.5)), (0, (1, 1)))
"""Lines differ in their dashes as well: a print may have no colours, and not everybody tells them apart."""

_VARIABLES = {
    INK: "ink",
    QUIET: "quiet",
    GRID: "grid",
    PAPER: "paper",
    LIMIT: "limit",
    BAND: "band",
    GOOD: "good",
    DOUBT: "doubt",
    **{colour: f"line-{number}" for number, colour in enumerate(LINES, 1)},
}

COLOURS: Final = {
    "ink": ("#1b1f23", "#e8e6e1"),
    "quiet": ("#545b62", "#a9adb2"),
    "grid": ("#d5d8db", "#3a4046"),
    "paper": ("#ffffff", "#16191c"),
    "limit": ("#b3261e", "#ff8a80"),
    "band": ("#dfe8dc", "#2a3a2c"),
    "good": ("#2f6b3a", "#8fd19e"),
    "doubt": ("#8a5a00", "#f0b95a"),
    "line-1": ("#0b5394", "#7ab8f5"),
    "line-2": ("#9c4a00", "#f5a55c"),
    "line-3": ("#2f6b3a", "#8fd19e"),
    "line-4": ("#6a3d9a", "#c9a6ef"),
    "line-5": ("#00626b", "#6fd0d8"),
    "line-6": ("#7a4a3a", "#d6a892"),
}
"""Of each variable `--figure-NAME`: its colour on a light page and on a dark one."""

WIDTH: Final = 6.6
"""Inches, of 72 units each in the SVG."""
SIZE: Final = 9.0
"""Of text, in units of the SVG."""
MOST_OF_A_NAME: Final = 40
"""Letters: two fifths of the width of a drawing."""


class CannotDraw(Exception):
    """The library that draws is not there, or does not work."""


def style() -> str:
    """The style sheet of a page that holds drawings: one variable for each colour, light and dark; light in print.

    Names have a rim of paper around them, which keeps them readable over lines.
    """
    light = "".join(f"--figure-{name}:{colour};" for name, (colour, _) in COLOURS.items())
    dark = "".join(f"--figure-{name}:{colour};" for name, (_, colour) in COLOURS.items())
    rim = "svg.figure text{paint-order:stroke;stroke:var(--figure-paper);stroke-width:2.4px;stroke-linejoin:round}"
    return f":root{{{light}}}\n@media screen and (prefers-color-scheme:dark){{:root{{{dark}}}}}\n{rim}\n"


@functools.cache
def _matplotlib() -> Any:
    logging.getLogger("matplotlib").setLevel(logging.ERROR)  # what it says of its font cache is nobody's concern
    try:
        with warnings.catch_warnings(), _elsewhere():
            warnings.simplefilter("ignore")
            import matplotlib
            from matplotlib.backends import backend_svg
            from matplotlib.figure import Figure as Paper
    except ImportError:
        raise CannotDraw(
            "The drawings are missing: they need matplotlib. Install it with: pip install 'swaplint[drawings]'"
        ) from None
    except Exception as error:  # a setting or file of its own that it cannot read
        raise CannotDraw(f"The drawings are missing: matplotlib does not start ({error!s:.200}).") from None
    return matplotlib, backend_svg, Paper


@contextmanager
def _elsewhere() -> Iterator[None]:
    """In an empty folder for a while: matplotlib reads its settings in the current one, which may be a stranger's."""
    try:
        here = os.getcwd()
    except OSError:  # somebody has deleted it: there is nothing to read
        yield
        return
    with tempfile.TemporaryDirectory() as empty:
        os.chdir(empty)
        try:
            yield
        finally:
            os.chdir(here)


def can_draw() -> str:
    """Why nothing can be drawn, as a sentence; empty where it can."""
    try:
        _matplotlib()
    except CannotDraw as why:
        return str(why)
    return ""


@contextmanager
def paper(height: float, width: float = WIDTH) -> Iterator[Paper]:
    """A sheet to draw on, in inches; within it matplotlib has the settings of this module and no others."""
    matplotlib, backend, sheet_of = _matplotlib()
    with warnings.catch_warnings(), matplotlib.rc_context({**matplotlib.rcParamsDefault, **_SETTINGS}):
        warnings.simplefilter("ignore")  # a letter that the font for measuring lacks stands in the text all the same
        sheet = sheet_of(figsize=(width, height), dpi=72, layout="constrained")
        backend.FigureCanvasSVG(sheet)
        yield sheet


_SETTINGS: dict[str, Any] = {
    "svg.fonttype": "none",
    "svg.hashsalt": "figure",
    "text.parse_math": False,
    "font.family": ["DejaVu Sans"],
    "font.size": SIZE,
    "axes.titlesize": SIZE,
    "axes.titleweight": "bold",
    "axes.titlelocation": "left",
    "figure.facecolor": "none",
    "axes.facecolor": "none",
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.edgecolor": QUIET,
    "axes.labelcolor": INK,
    "axes.titlecolor": INK,
    "axes.linewidth": 0.8,
    "axes.grid": True,
    "axes.axisbelow": True,
    "axes.unicode_minus": True,
    "axes.formatter.useoffset": False,
    "axes.formatter.limits": (-6, 7),
    "grid.color": GRID,
    "grid.linewidth": 0.6,
    "xtick.color": QUIET,
    "ytick.color": QUIET,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "text.color": INK,
    "lines.linewidth": 1.6,
    "legend.frameon": False,
    "legend.handlelength": 2.6,
    "figure.constrained_layout.h_pad": 0.06,
    "figure.constrained_layout.w_pad": 0.06,
}


def svg_of(sheet: Paper, id: str, title: str, words: str) -> str:
    """A sheet as an SVG element for a page: its colours variables, its ids its own, title and description within."""
    from xml.sax.saxutils import escape

    taken: Counter[str] = Counter()
    for artist in sheet.findobj(lambda artist: artist.get_gid() is not None):
        part = slug(artist.get_gid() or "")
        taken[part] += 1
        artist.set_gid(part if taken[part] == 1 else f"{part}-{taken[part]}")
    out = io.StringIO()
    # Not savefig, which draws everything twice.
    sheet.canvas.print_svg(  # type: ignore[attr-defined]
        out, metadata={"Date": None, "Creator": None, "Format": None, "Type": None}
    )
    svg = out.getvalue()
    svg = _GAPS.sub("><", svg[svg.index("<svg ") :]).replace(" \n", " ").strip()
    name = id.replace(".", "-")
    svg = _STYLE_BLOCK.sub("", svg)
    svg = re.sub(r'\bid="([^"]+)"', rf'id="{name}--\1"', svg)
    svg = re.sub(r'xlink:href="#([^"]+)"', rf'href="#{name}--\1"', svg)
    svg = re.sub(r"url\(#([^)]+)\)", rf"url(#{name}--\1)", svg)
    svg = _TAG.sub(lambda tag: _LONG.sub(_shortened, tag[0]), svg)
    svg = _ALIKE.sub(_style_once, svg)
    svg = _FONT.sub("", svg)
    svg = _UPRIGHT.sub("", svg)
    svg = _COLOUR.sub(lambda found: f"var(--figure-{_VARIABLES[found[0]]})", svg)
    svg = svg.replace(' xmlns:xlink="http://www.w3.org/1999/xlink"', "", 1)
    size = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    assert size is not None
    broad = " broad" if float(size[1]) > WIDTH * 72 + 1 else ""
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="figure{broad}" viewBox="0 0 {size[1]} {size[2]}" role="img" '
        f'aria-labelledby="{name}--title {name}--words" stroke-linejoin="round" '
        'font-family="system-ui, Helvetica, Arial, sans-serif">'
        f'<title id="{name}--title">{escape(title)}</title><desc id="{name}--words">{escape(words)}</desc>'
    )
    return head + svg[svg.index(">") + 1 :]


_STYLE_BLOCK = re.compile(r"<defs>\s*<style.*?</style>\s*</defs>", re.S)
_GAPS = re.compile(r">\s+<")
_FONT = re.compile(r"font-family: [^;\"]*;? ?")
_UPRIGHT = re.compile(r' transform="rotate\(-0 [^"]*"')
_LONG = re.compile(r"(?<![\w.])-?\d+\.\d{3,}")
"""A hundredth of a unit is finer than any printer."""
_TAG = re.compile(r"<[^>]*>")
_ALIKE = re.compile(r'<g( [^>]*)?>\s*((?:<use [^>]* style="([^"]*)"/>\s*)(?:<use [^>]* style="\3"/>\s*)+)</g>')
_COLOUR = re.compile("|".join(map(re.escape, _VARIABLES)))


def _shortened(found: re.Match[str]) -> str:
    return f"{float(found[0]):.2f}".rstrip("0").rstrip(".")


def _style_once(found: re.Match[str]) -> str:
    """Marks that look alike, with what they look like said once."""
    marks = found[2].replace(f' style="{found[3]}"', "")
    return f'<g{found[1] or ""} style="{found[3]}">{marks}</g>'


def slug(name: str) -> str:
    """A name as part of an id: letters, digits, dots and hyphens.

    >>> slug("gear 1st & up")
    'gear-1st-up'
    """
    return re.sub(r"[^\w.]+", "-", name)


_AS_SHOWN: Final = {"Cc": "�", "Cs": "�", "Cn": "�", "Cf": ""}
"""What stands for a letter that XML cannot have, and for one that only turns others around."""


def named(text: str, most: int = MOST_OF_A_NAME) -> str:
    """A name as a drawing can hold it: on one line, without characters that XML cannot have, not too long."""
    clean = "".join(" " if c.isspace() else _AS_SHOWN.get(unicodedata.category(c), c) for c in text)
    clean = " ".join(clean.split())
    return clean if len(clean) <= most else clean[: most - 1].rstrip() + "…"
