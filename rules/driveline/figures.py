"""What the driveline looks like from the side: its shafts at ride height, and the angles of their joints."""

from __future__ import annotations

import math
from typing import Any

from swaplint.api import Axis, Build, Point, ScaleDrawing, Shape, Sketch, figure, given, name_of, shown

from ..drawable import where_known
from ..gearing import chain
from . import loads as q

STUB = 0.20
"""How much of the parts at both ends is drawn, m."""


@figure("driveline.side-view")
def side_view(build: Build) -> ScaleDrawing:
    """The lines of propshafts from the side, at ride height.

    To scale, each line by itself, the drive from left to right; thin lines are the axes of what drives and is driven.
    The number at a joint is its angle in space, with its stop; drawn is its angle in side view.
    """
    sketches = [_line(build, shaft) for shaft in chain.last_shafts(build)]
    return ScaleDrawing(Axis("along the drive", "length", "mm"), Axis("height", "length", "mm"), sketches)


def _line(build: Build, last: Any) -> Sketch:
    line = chain.line_to(build, last)
    joints = [*(piece.input_joint for piece in line), last.output_joint]
    # How steep the first shaft stands is known by how far it drops; else it is drawn as if it were driven level.
    drop = given(lambda: line[0].drop)
    first = 0.0 if drop is None else -math.asin(max(-1.0, min(1.0, drop / line[0].length))) - joints[0].ride
    x = z = 0.0
    direction = float(first)
    shapes = [Shape("driving", [_at(x, z, direction, -STUB), (x, z)], "axis")]
    points = [_joint(joints[0], x, z)]
    for piece, joint_before, joint_behind in zip(line, joints, joints[1:], strict=False):
        direction += joint_before.ride
        end = _at(x, z, direction, piece.length)
        label = f"{name_of(piece)}, {shown(piece.length)}"
        shapes.append(Shape(name_of(piece), [(x, z), end], "line", label))
        x, z = end
        points.append(_joint(joint_behind, x, z))
    direction += joints[-1].ride
    shapes.append(Shape("driven", [(x, z), _at(x, z, direction, STUB)], "axis"))
    name = f"to the {chain.target(build, last)} {_what(chain.target(build, last))}"
    alike = where_known(lambda: shown(q.equivalent_angle(build, last)))
    return Sketch(f"{name}, turned as unevenly as by one joint of {alike}" if alike else name, shapes, points)


def _what(target: str) -> str:
    return "case" if target == chain.TRANSFER else "axle"


def _at(x: float, z: float, direction: float, far: float) -> tuple[float, float]:
    return x + far * math.cos(direction), z + far * math.sin(direction)


def _joint(joint: Any, x: float, z: float) -> Point:
    stop = given(lambda: joint.angle_max)
    says = shown(q.true_angle(joint, joint.ride), "angle", "deg")
    return Point(f"{says} (stop {shown(stop)})" if stop is not None else says, x, z)
