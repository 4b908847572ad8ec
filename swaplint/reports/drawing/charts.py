"""Lines over two axes, with their limits, bands and operating points."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from swaplint.declare.figures import Band, Chart, Curve, Limit, Point
from swaplint.reports.drawing.canvas import BAND, DASHES, INK, LIMIT, LINES, PAPER, QUIET, named
from swaplint.reports.drawing.labels import Label, settle, write_labels
from swaplint.reports.drawing.numbers import in_words, on_axis, points_on, titled

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure as Paper

HEIGHT: Final = 3.9
"""Inches."""


def draw_chart(form: Chart, sheet: Paper) -> None:
    """Draw a chart on a sheet."""
    axes = sheet.add_subplot()
    axes.set_xlabel(titled(form.x))
    axes.set_ylabel(titled(form.y, 36))
    _frame(axes, form)
    for band in form.bands:
        _draw_band(axes, form, band)
    for limit in form.limits:
        _draw_limit(axes, form, limit)
    colours = _colours(form)
    for number, curve in enumerate(form.curves):
        colour, dash = colours[number]
        xs, ys = zip(*points_on(form.x, form.y, curve.points), strict=True) if curve.points else ((), ())
        wide = 1.7 if curve.look == "found" else 1.1
        axes.plot(xs, ys, color=colour, linestyle=dash, linewidth=wide, gid=f"curve:{curve.name}")
    for point in form.points:
        x, y = on_axis(form.x, point.x), on_axis(form.y, point.y)
        axes.plot([x], [y], "o", color=INK, markeredgecolor=PAPER, markersize=6.5, gid=f"point:{point.name}", zorder=8)
    settle(sheet)
    labels = [
        *(_of_point(form, point) for point in form.points),
        *(_of_limit(axes, form, limit) for limit in form.limits),
        *(_of_band(axes, form, band) for band in form.bands),
        *(_of_curve(axes, form, curve, colours[number][0]) for number, curve in enumerate(form.curves)),
    ]
    lines = [points_on(form.x, form.y, curve.points) for curve in form.curves]
    lines += [_across(axes, form, limit) for limit in form.limits]
    write_labels(axes, labels, lines)


def _frame(axes: Axes, form: Chart) -> None:
    """The stretch of both axes: what the build does, limits and points. What stands against it may run out."""
    of_build = [curve for curve in form.curves if curve.look != "other"] or list(form.curves)
    places = [place for curve in of_build for place in points_on(form.x, form.y, curve.points)]
    places += [(on_axis(form.x, point.x), on_axis(form.y, point.y)) for point in form.points]
    for along, axis, values in (("x", form.x, [x for x, _ in places]), ("y", form.y, [y for _, y in places])):
        values += [on_axis(axis, limit.at) for limit in form.limits if limit.along == along]
        values += [on_axis(axis, end) for band in form.bands if band.along == along for end in (band.low, band.high)]
        if not values:
            continue
        low, high = min(values), max(values)
        from_zero = low >= 0 and low < 0.6 * high
        room = 0.06 * ((high - min(0.0, low) if from_zero else high - low) or abs(high) or 1.0)
        (axes.set_xlim if along == "x" else axes.set_ylim)(0.0 if from_zero else low - room, high + room)


def _colours(form: Chart) -> list[tuple[str, object]]:
    """The colour and the dashes of each line."""
    out: list[tuple[str, object]] = []
    found = other = 0
    for curve in form.curves:
        if curve.look == "found":
            out.append((LINES[found % len(LINES)], DASHES[found % len(DASHES)]))
            found += 1
        elif curve.look == "other":
            out.append((QUIET, DASHES[(other + 1) % len(DASHES)]))
            other += 1
        else:
            out.append((LIMIT, "-"))
    return out


def _draw_band(axes: Axes, form: Chart, band: Band) -> None:
    axis, span = (form.x, axes.axvspan) if band.along == "x" else (form.y, axes.axhspan)
    span(
        on_axis(axis, band.low), on_axis(axis, band.high), color=BAND, linewidth=0, zorder=0.5, gid=f"band:{band.name}"
    )


def _draw_limit(axes: Axes, form: Chart, limit: Limit) -> None:
    axis, line = (form.x, axes.axvline) if limit.along == "x" else (form.y, axes.axhline)
    line(on_axis(axis, limit.at), color=LIMIT, linewidth=1.3, gid=f"limit:{limit.name}")


def _across(axes: Axes, form: Chart, limit: Limit) -> list[tuple[float, float]]:
    (left, right), (bottom, top) = axes.get_xlim(), axes.get_ylim()
    if limit.along == "x":
        at = on_axis(form.x, limit.at)
        return [(at, bottom), (at, top)]
    at = on_axis(form.y, limit.at)
    return [(left, at), (right, at)]


_SHARES: Final = (0.98, 0.02, 0.5, 0.75, 0.25)


def _of_point(form: Chart, point: Point) -> Label:
    text = f"{named(point.name)}: {in_words(form.y, point.y)} at {in_words(form.x, point.x)}"
    return Label(text, [(on_axis(form.x, point.x), on_axis(form.y, point.y))], bold=True, dot=True)


def _of_limit(axes: Axes, form: Chart, limit: Limit) -> Label:
    start, end = _across(axes, form, limit)
    text = f"{named(limit.name)}: {in_words(form.x if limit.along == 'x' else form.y, limit.at)}"
    return Label(text, [_between(start, end, share) for share in _SHARES], LIMIT)


def _of_band(axes: Axes, form: Chart, band: Band) -> Label:
    axis = form.x if band.along == "x" else form.y
    text = f"{named(band.name)}: {in_words(axis, band.low)} to {in_words(axis, band.high)}"
    middle = 0.5 * (on_axis(axis, band.low) + on_axis(axis, band.high))
    low, high = axes.get_ylim() if band.along == "x" else axes.get_xlim()
    along = [low + share * (high - low) for share in _SHARES]
    places = [(middle, at) if band.along == "x" else (at, middle) for at in along]
    return Label(text, places, QUIET)


def _of_curve(axes: Axes, form: Chart, curve: Curve, colour: str) -> Label:
    """The name of a line: at its end, its highest place, or another one that is on the paper."""
    (left, right), (bottom, top) = axes.get_xlim(), axes.get_ylim()
    points = points_on(form.x, form.y, curve.points)
    inside = [(x, y) for x, y in points if left <= x <= right and bottom <= y <= top]
    if not inside:
        return Label(named(curve.name), [], colour)
    middle = inside[len(inside) // 2]
    places = [inside[-1], max(inside, key=lambda place: place[1]), middle, inside[0]]
    places += [inside[len(inside) * n // 8] for n in (1, 2, 3, 5, 6, 7)]
    return Label(named(curve.name), places, colour)


def _between(start: tuple[float, float], end: tuple[float, float], share: float) -> tuple[float, float]:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])
