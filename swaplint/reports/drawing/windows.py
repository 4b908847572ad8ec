"""The windows of one field as a drawing: where all rules pass, where each does by itself, and the value now."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from swaplint.declare.figures import Axis
from swaplint.reports.drawing.canvas import BAND, GOOD, GRID, INK, LINES, named, paper, svg_of
from swaplint.reports.drawing.numbers import on_axis, titled
from swaplint.reports.sizing import ends_words, value_words
from swaplint.solving.sizing import Sizing
from swaplint.solving.windows import Window
from swaplint.units.prose import told

TITLE: Final = "The value against each rule that reads it"
_ROW: Final = 0.27
"""Height of a rule's row, in inches."""
_AROUND: Final = 0.75
"""How much of the range is shown on either side of what passes, as a share of that."""


def windows_words(sizing: Sizing) -> str:
    """The drawing in words."""
    stretches = [f"from {low} to {high}" for low, high in (ends_words(window, sizing) for window in sizing.windows)]
    now = f" The value now is {value_words(sizing.now, sizing)}." if sizing.now is not None else ""
    who = f"{together(sizing)[:1].upper()}{together(sizing)[1:]}"
    return f"{who} pass {'; '.join(stretches) or 'nowhere'}; below, each rule by itself.{now}"


def together(sizing: Sizing) -> str:
    """What the first row is of: those that another field must mend do not count in it."""
    return "all but those set aside" if sizing.set_aside else "all rules"


def windows_svg(sizing: Sizing) -> str:
    """The drawing."""
    facts = sizing.facts
    axis = Axis(told(facts.description, sizing.pattern), facts.kind_name, facts.unit)
    first = together(sizing)
    rows = [(first, sizing.windows), *sizing.by_rule]
    low, high = (on_axis(axis, end) for end in shown_range(sizing))
    with paper(0.9 + _ROW * len(rows)) as sheet:
        axes = sheet.add_subplot()
        for number, (name, windows) in enumerate(rows):
            for part, (at, wide) in enumerate(_stretch(axis, window, low, high) for window in windows):
                colour = GOOD if name == first else LINES[0]
                high_as = 0.62 if name == first else 0.4
                axes.barh(-number, wide, left=at, height=high_as, color=colour, gid=f"window:{name}:{part}")
        for window in sizing.windows:
            axes.axvspan(on_axis(axis, window.low), on_axis(axis, window.high), color=BAND, zorder=0, linewidth=0)
        if sizing.now is not None and not isinstance(sizing.now.value, bool | str):
            now = on_axis(axis, sizing.now.value)
            axes.axvline(now, color=INK, linewidth=1.2, gid="now")
            axes.annotate("now", (now, 0.55), color=INK, ha="center", va="bottom", fontweight="bold")
            low, high = min(low, now), max(high, now)
        axes.set_xlim(low, high)
        axes.set_ylim(-len(rows) + 0.4, 1.1)
        axes.set_yticks([-n for n in range(len(rows))], [named(name) for name, _ in rows])
        axes.tick_params(axis="y", length=0)
        axes.grid(axis="y", color=GRID, linewidth=0)
        axes.set_xlabel(titled(axis))
        return svg_of(sheet, "size.windows", TITLE, windows_words(sizing))


def shown_range(sizing: Sizing) -> tuple[float, float]:
    """The stretch of values that is drawn, in SI: what passes with some room around it, else all that is plausible."""
    ends = sizing.facts.plausible_si() or _ends([window for _, windows in sizing.by_rule for window in windows])
    low, high = ends
    if not sizing.windows:
        return low, high
    first, last = _ends(sizing.windows)
    now = [] if sizing.now is None or isinstance(sizing.now.value, bool | str) else [float(sizing.now.value)]
    first, last = min([first, *now]), max([last, *now])
    room = max(last - first, 0.1 * abs(last)) * _AROUND
    return max(low, first - room), min(high, last + room)


def _ends(windows: Sequence[Window]) -> tuple[float, float]:
    return min((w.low for w in windows), default=0.0), max((w.high for w in windows), default=1.0)


def _stretch(axis: Axis, window: Window, low: float, high: float) -> tuple[float, float]:
    """Where a window begins and how wide it is, as far as it is drawn."""
    start, end = max(low, on_axis(axis, window.low)), min(high, on_axis(axis, window.high))
    return start, max(0.0, end - start)
