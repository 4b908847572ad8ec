"""Numbers of a figure as its drawing and its words show them: in the unit of the axis, in the unit system in force."""

from __future__ import annotations

from collections.abc import Sequence

from swaplint.declare.figures import XY, Axis
from swaplint.reports.drawing.canvas import named
from swaplint.units.output import in_unit_shown, shown, unit_shown


def on_axis(axis: Axis, value: float) -> float:
    """An SI value as a number on an axis."""
    return in_unit_shown(float(value), axis.kind, axis.unit) if axis.kind else float(value)


def points_on(x: Axis, y: Axis, points: Sequence[XY]) -> list[XY]:
    """Points as numbers on two axes."""
    return [(on_axis(x, a), on_axis(y, b)) for a, b in points]


def in_words(axis: Axis, value: float) -> str:
    """An SI value with its unit."""
    return shown(float(value), axis.kind, axis.unit) if axis.kind else shown(float(value))


def titled(axis: Axis, most: int = 60) -> str:
    """The title of an axis with its unit, in so many letters at most.

    >>> titled(Axis("road speed", "speed", "km/h"))
    'Road speed, km/h'
    """
    unit = unit_shown(axis.kind, axis.unit) if axis.kind else ""
    title = named(axis.title, most)
    return title[:1].upper() + title[1:] + (f", {unit}" if unit else "")
