"""Values on one scale, row by row."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from swaplint.declare.figures import Marks
from swaplint.reports.drawing.canvas import BAND, LIMIT, LINES, PAPER, QUIET, named
from swaplint.reports.drawing.labels import Label, settle, write_labels
from swaplint.reports.drawing.numbers import in_words, on_axis, titled

if TYPE_CHECKING:
    from matplotlib.figure import Figure as Paper

_ROW: Final = 0.62
_SHAPES: Final = ("o", "s", "^", "D", "v", "P")


def marks_height(form: Marks) -> float:
    """The height that rows of marks take, in inches."""
    return 0.75 + _ROW * len(form.rows) + (0.25 if form.limits or form.bands else 0)


def draw_marks(form: Marks, sheet: Paper) -> None:
    """Draw rows of marks on a sheet."""
    axes = sheet.add_subplot()
    values = [on_axis(form.axis, value) for _, marks in form.rows for _, value in marks]
    values += [on_axis(form.axis, limit.at) for limit in form.limits]
    values += [on_axis(form.axis, end) for band in form.bands for end in (band.low, band.high)]
    low, high = min(values), max(values)
    log = form.log and low > 0.0
    if log:
        from matplotlib.ticker import LogLocator, NullFormatter, ScalarFormatter

        axes.set_xscale("log")
        axes.xaxis.set_major_locator(LogLocator(subs=(1.0, 2.0, 5.0)))
        axes.xaxis.set_major_formatter(ScalarFormatter())
        axes.xaxis.set_minor_formatter(NullFormatter())
        axes.set_xlim(low / 1.5, high * 1.8)
    else:
        axes.set_xlim(low - 0.08 * ((high - low) or 1), high + 0.2 * ((high - low) or 1))
    axes.set_ylim(len(form.rows) - 0.4, -0.8 if form.limits or form.bands else -0.6)
    labels: list[Label] = []
    heights = [-0.6, *(number + 0.5 for number in range(len(form.rows)))]
    lines = []
    for band in form.bands:
        ends = on_axis(form.axis, band.low), on_axis(form.axis, band.high)
        axes.axvspan(*ends, color=BAND, linewidth=0, zorder=0.5, gid=f"band:{band.name}")
        labels.append(Label(named(band.name), [(0.5 * (ends[0] + ends[1]), y) for y in heights], QUIET))
    for limit in form.limits:
        at = on_axis(form.axis, limit.at)
        axes.axvline(at, color=LIMIT, linewidth=1.3, gid=f"limit:{limit.name}")
        labels.append(Label(f"{named(limit.name)}: {in_words(form.axis, limit.at)}", [(at, y) for y in heights], LIMIT))
        lines.append([(at, -1.0), (at, float(len(form.rows)))])
    for number, (row, marks) in enumerate(form.rows):
        colour = LINES[number % len(LINES)]
        for name, value in marks:
            at = on_axis(form.axis, value)
            axes.plot(
                [at],
                [number],
                _SHAPES[number % len(_SHAPES)],
                color=colour,
                markeredgecolor=PAPER,
                markersize=8,
                gid=f"mark:{row}:{name}",
            )
            labels.append(
                Label(f"{named(name)} {in_words(form.axis, value)}", [(at, number)], colour, dot=True, upright=True)
            )
    axes.set_yticks(range(len(form.rows)), [named(row, 30) for row, _ in form.rows])
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel(titled(form.axis))
    settle(sheet)
    write_labels(axes, labels, lines)
