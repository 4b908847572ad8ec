"""Piecewise-linear curves: full-load torque, pump flow, fan flow, alternator output.

A curve is a table of (x, y) points read from a data sheet. Between two points the value is interpolated
linearly; beyond the first and the last point nothing is known, so nothing is extrapolated. A drawn curve is
smooth between its points, so a coarse table cuts off crests and fills hollows: give the points where the
curve bends.

Every function takes the points as read and refuses fewer than two, values that are not finite, and x values
that do not strictly increase (`ImpossibleInput`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from swaplint.engineering.guards import ImpossibleInput, OutsideRange, finite, not_negative, said

Point = tuple[float, float]
Curve = Sequence[Point]

_TIE = 1e-12  # two products closer than this, relative, are the same maximum computed by two roundings
_ROUNDING = 1e-9  # what unit conversion may do to an x that was meant to be an end of the table


class _Checked(tuple[Point, ...]):
    """Points that have been checked: a search along a curve need not check them at each step."""

    __slots__ = ()


def checked_curve(points: Curve, unit: str = "") -> tuple[Point, ...]:
    """Return the points as a tuple if they make a curve: at least two, x strictly increasing, all finite.

    Raises `ImpossibleInput` else. `unit` is how a sentence tells x.

    >>> checked_curve([(1000.0, 250.0), (2000.0, 260.0)])
    ((1000.0, 250.0), (2000.0, 260.0))
    """
    if isinstance(points, _Checked):
        return points
    curve = _Checked((finite("x of a curve", x), finite("y of a curve", y)) for x, y in points)
    if len(curve) < 2:
        raise ImpossibleInput(f"a curve needs at least two points, not {len(curve)}")
    for (before, _), (after, _) in pairwise(curve):
        if not after > before:
            raise ImpossibleInput(
                f"each point of a curve must lie beyond the one before, but {said(after, unit)} follows "
                f"{said(before, unit)}"
            )
    return curve


def interpolate(points: Curve, x: float, unit: str = "") -> float:
    """Return y at `x` by linear interpolation between the two neighbouring points.

    x and y carry whatever units the table has; `unit` is how a sentence tells x. `OutsideRange` if `x` lies outside the
    table; an `x` that misses an end by rounding (a billionth of it) counts as that end.

    >>> interpolate([(1000.0, 400.0), (2000.0, 600.0)], 1500.0)
    500.0
    """
    curve = checked_curve(points, unit)
    first, last = curve[0][0], curve[-1][0]
    nearest = min(max(finite("x", x), first), last)
    if not math.isclose(x, nearest, rel_tol=_ROUNDING):
        raise OutsideRange(
            f"{said(x, unit)} is outside the curve, which runs from {said(first, unit)} to {said(last, unit)}"
        )
    for (x0, y0), (x1, y1) in pairwise(curve):
        if nearest <= x1:
            share_of_step = (nearest - x0) / (x1 - x0)
            return y0 * (1.0 - share_of_step) + y1 * share_of_step
    raise AssertionError("the range check above covers every x")  # pragma: no cover


def clipped(points: Curve, low: float, high: float) -> tuple[Point, ...]:
    """Return the curve between x = `low` and x = `high`, with interpolated end points.

    `OutsideRange` if either end lies outside the table, `ImpossibleInput` if `low` is not below `high`.

    >>> clipped([(0.0, 0.0), (10.0, 10.0), (20.0, 10.0)], 5.0, 15.0)
    ((5.0, 5.0), (10.0, 10.0), (15.0, 10.0))
    """
    if not finite("low", low) < finite("high", high):
        raise ImpossibleInput("the low end must lie below the high end")
    inside = tuple(point for point in checked_curve(points) if low < point[0] < high)
    return ((low, interpolate(points, low)), *inside, (high, interpolate(points, high)))


def scaled(points: Curve, factor: float) -> tuple[Point, ...]:
    """Return the curve with every y multiplied by `factor` (0 or more), for example an altitude derate.

    >>> scaled([(1000.0, 400.0), (2000.0, 600.0)], 0.5)
    ((1000.0, 200.0), (2000.0, 300.0))
    """
    not_negative("factor", factor)
    return tuple((x, y * factor) for x, y in checked_curve(points))


def cut_off(points: Curve, limit: float) -> tuple[Point, ...]:
    """Return the curve with every y held down to `limit`, with a point wherever it bends at the limit.

    For a full-load curve, the torque that an electronic limit lets through.

    >>> cut_off([(1000.0, 400.0), (1400.0, 600.0), (2000.0, 300.0)], 500.0)
    ((1000.0, 400.0), (1200.0, 500.0), (1600.0, 500.0), (2000.0, 300.0))
    """
    curve = checked_curve(points)
    finite("limit", limit)
    out = [(curve[0][0], min(curve[0][1], limit))]
    for (x0, y0), (x1, y1) in pairwise(curve):
        if (y0 - limit) * (y1 - limit) < 0.0:
            crossing = x0 + (limit - y0) / (y1 - y0) * (x1 - x0)
            if out[-1][0] < crossing < x1:
                out.append((crossing, limit))
        out.append((x1, min(y1, limit)))
    # Points in the middle of the flat part say nothing.
    return tuple(
        point
        for n, point in enumerate(out)
        if not (0 < n < len(out) - 1 and out[n - 1][1] == point[1] == out[n + 1][1] == limit)
    )


def maximum(points: Curve) -> Point:
    """Return the point with the greatest y; of several, the one with the lowest x.

    A piecewise-linear curve has its maximum at a table point.

    >>> maximum([(1000.0, 480.0), (1400.0, 600.0), (1900.0, 600.0), (2600.0, 485.0)])
    (1400.0, 600.0)
    """
    return max(checked_curve(points), key=lambda point: point[1])  # of equal ones the first


def product_maxima(points: Curve) -> tuple[Point, ...]:
    """Return every (x, x·y) where the product x·y is greatest, in order of x.

    For torque in N·m over engine speed in rad/s this is the power maximum in W. On a linear torque segment
    y = a + b·x the power a·x + b·x² is a parabola, so with falling torque its crest, at x = -a/(2·b), may lie
    between two table points.

    >>> product_maxima([(0.0, 100.0), (100.0, 0.0)])
    ((50.0, 2500.0),)
    """
    curve = checked_curve(points)
    candidates = [(x, x * y) for x, y in curve]
    for (x0, y0), (x1, y1) in pairwise(curve):
        slope = (y1 - y0) / (x1 - x0)
        if slope < 0.0:
            crest = (slope * x0 - y0) / (2.0 * slope)
            if x0 < crest < x1:
                candidates.append((crest, crest * interpolate(curve, crest)))
    best = max(product for _, product in candidates)
    return tuple(sorted(point for point in candidates if math.isclose(point[1], best, rel_tol=_TIE)))
