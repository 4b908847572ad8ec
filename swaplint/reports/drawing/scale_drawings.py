"""Drawings to scale: as long along the one axis as along the other."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from swaplint.declare.figures import ScaleDrawing, Shape, Sketch
from swaplint.reports.drawing.canvas import BAND, INK, LIMIT, LINES, PAPER, QUIET, WIDTH, named
from swaplint.reports.drawing.labels import Label, settle, write_labels
from swaplint.reports.drawing.numbers import on_axis, points_on, titled

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure as Paper

_LEAST, _MOST = 1.5, 3.4
"""Height of one sketch, in inches."""
_FRAME: Final = 0.75
"""What the axis and its titles take of that."""


def _span(form: ScaleDrawing, sketch: Sketch) -> tuple[float, float, float, float]:
    """The ends of a sketch along both axes."""
    places = [place for shape in sketch.shapes for place in points_on(form.x, form.y, shape.points)]
    places += points_on(form.x, form.y, [(point.x, point.y) for point in sketch.points])
    xs, ys = [x for x, _ in places], [y for _, y in places]
    room = 0.08 * max(max(xs) - min(xs), max(ys) - min(ys), 1e-9)
    return min(xs) - room, max(xs) + room, min(ys) - room, max(ys) + room


def _heights(form: ScaleDrawing) -> list[float]:
    out = []
    for sketch in form.sketches:
        left, right, bottom, top = _span(form, sketch)
        out.append(min(_MOST, max(_LEAST, _FRAME + (WIDTH - 1.1) * (top - bottom) / (right - left))))
    return out


def scale_drawing_height(form: ScaleDrawing) -> float:
    """The height that the sketches take one below the other, in inches."""
    return sum(_heights(form))


def draw_to_scale(form: ScaleDrawing, sheet: Paper) -> None:
    """Draw sketches on a sheet, one below the other."""
    grid = sheet.add_gridspec(len(form.sketches), 1, height_ratios=_heights(form))
    drawn = []
    for number, sketch in enumerate(form.sketches):
        axes = sheet.add_subplot(grid[number])
        left, right, bottom, top = _span(form, sketch)
        axes.set_xlim(left, right)
        axes.set_ylim(bottom, top)
        axes.set_aspect("equal", adjustable="datalim")
        axes.set_title(named(sketch.name, 64))
        axes.set_ylabel(titled(form.y, 12))
        if number == len(form.sketches) - 1:
            axes.set_xlabel(titled(form.x))
        for shape in sketch.shapes:
            _draw_shape(axes, form, sketch, shape)
        for point in sketch.points:
            axes.plot(
                [on_axis(form.x, point.x)],
                [on_axis(form.y, point.y)],
                "o",
                color=INK,
                markeredgecolor=PAPER,
                markersize=6.5,
                gid=f"point:{sketch.name}:{point.name}",
                zorder=8,
            )
        drawn.append((axes, sketch))
    settle(sheet)
    for axes, sketch in drawn:
        labels = [
            Label(named(point.name), [(on_axis(form.x, point.x), on_axis(form.y, point.y))], bold=True, dot=True)
            for point in sketch.points
        ]
        labels += [_of_shape(form, shape) for shape in sketch.shapes if shape.label]
        lines = [points_on(form.x, form.y, shape.points) for shape in sketch.shapes]
        write_labels(axes, labels, lines)


def _draw_shape(axes: Axes, form: ScaleDrawing, sketch: Sketch, shape: Shape) -> None:
    xs, ys = zip(*points_on(form.x, form.y, shape.points), strict=True)
    gid = f"shape:{sketch.name}:{shape.name}"
    if shape.look == "area":
        axes.fill(xs, ys, facecolor=BAND, edgecolor=LINES[2], linewidth=0.8, gid=gid)
    elif shape.look == "outline":
        axes.fill(xs, ys, fill=False, edgecolor=INK, linewidth=1.6, gid=gid)
    elif shape.look == "limit":
        axes.plot(xs, ys, color=LIMIT, linewidth=1.4, gid=gid)
    elif shape.look == "axis":
        axes.plot(xs, ys, color=QUIET, linewidth=0.9, linestyle=(0, (7, 2, 1.5, 2)), gid=gid)
    else:
        axes.plot(xs, ys, color=LINES[0], linewidth=2.2, gid=gid)


def _of_shape(form: ScaleDrawing, shape: Shape) -> Label:
    points = points_on(form.x, form.y, shape.points)
    middle = (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))
    places = [middle, *((0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])) for a, b in zip(points, points[1:], strict=False))]
    return Label(named(shape.label, 60), [*places, *points], LIMIT if shape.look == "limit" else INK)
