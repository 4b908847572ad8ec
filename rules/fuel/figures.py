"""What the fuel system looks like: the pressure budget of its line, and the tank on the slope."""

from __future__ import annotations

import math
from collections.abc import Sequence

from swaplint.api import (
    Axis,
    Budget,
    Budgets,
    Build,
    Point,
    ScaleDrawing,
    Shape,
    Sketch,
    figure,
    given,
    is_fitted,
    limit_or_none,
    shown,
)
from swaplint.engineering import tanks

from ..slopes import steepest_along
from . import quantities as q
from . import tank_quantities as t

XY = tuple[float, float]


@figure("fuel.pressure-budget")
def pressure_budget(build: Build) -> Budgets:
    """Pressure along the fuel supply line, warm and cold.

    What friction, fittings, lift and filters due to be changed take at the engine's supply flow. Where the engine draws
    the fuel itself the sum is the depression at its inlet; where a pump feeds it, what is left of the pump's pressure.
    """
    fed = is_fitted(build.plumbing.fuel.pump)
    if fed:
        limit = given(lambda: limit_or_none(lambda: build.engine.fuel.inlet_pressure_min))
    else:
        limit = given(lambda: limit_or_none(lambda: build.engine.fuel.max_inlet_restriction))
    budgets = [_budget(build, case, fed=fed, limit=limit) for case in q.fuel_cases(build)]
    name = "least pressure at the engine" if fed else "most depression at the engine's inlet"
    return Budgets(Axis("pressure", "pressure_difference", "kPa"), budgets, name)


def _budget(build: Build, case: str, *, fed: bool, limit: float | None) -> Budget:
    steps = [
        ("friction", q.supply_friction(build, case)),
        ("fittings", q.supply_fittings(build, case)),
        ("lift", q.supply_lift(build, case)),
        ("filters", q.filter_drop(build, case)),
    ]
    name = f"{case} fuel, {shown(q.fuel_temperature(build, case))}"
    if not fed:
        q.supply_loss(build, case)
        return Budget(name, 0.0, steps, limit, end_name="depression at the engine")
    taken = [(what, -loss) for what, loss in steps]
    pressure = build.plumbing.fuel.pump.pressure
    return Budget(name, pressure, taken, limit, start_name="pump", end_name="left at the engine", least=True)


# -- the tank on the slope --------------------------------------------------------------------------------------------
@figure("fuel.tank-on-slopes")
def tank_on_slopes(build: Build) -> ScaleDrawing:
    """The tank, its fuel and its pick-up on the steepest working slopes.

    To scale, the tank as a box without baffles, tilted the way that runs the fuel from the pick-up: along the vehicle
    with the front at the right, across it as seen from the front. The fuel drawn is what must be aboard for the pick-up
    to stay covered with both slopes at once; on one of them alone it stands higher.
    """
    box, tank, design = t.tank_box(build), build.plumbing.fuel.tank, build.build.design
    aboard, steepest = t.covering_volume(build), steepest_along(build)
    away_long = -1.0 if tank.pickup_x > 0.0 else 1.0
    away_side = -1.0 if tank.pickup_y > 0.0 else 1.0
    along = _sketch(
        box.length,
        box.height,
        (tank.pickup_x, tank.pickup_height),
        away_long * steepest,
        tanks.surface_height(box, aboard, *tanks.surface_slopes(away_long * steepest, 0.0)),
        f"along the vehicle, tilted by {shown(steepest, 'angle', 'deg')}, {shown(aboard)} aboard",
    )
    across = _sketch(
        box.width,
        box.height,
        (tank.pickup_y, tank.pickup_height),
        away_side * design.tilt_side,
        tanks.surface_height(box, aboard, *tanks.surface_slopes(0.0, away_side * design.tilt_side)),
        f"across the vehicle, tilted by {shown(design.tilt_side, 'angle', 'deg')}, {shown(aboard)} aboard",
    )
    return ScaleDrawing(Axis("level distance", "length", "mm"), Axis("height", "length", "mm"), [along, across])


def _sketch(wide: float, high: float, pick_up: XY, tilt: float, middle: float, name: str) -> Sketch:
    """A section of the tank as it stands on the slope: the fuel level, the tank turned.

    `middle` is how high the fuel stands above the floor in the middle; a positive tilt lowers the end at the right.
    """
    corners = [(-wide / 2, 0.0), (wide / 2, 0.0), (wide / 2, high), (-wide / 2, high)]
    slope = math.tan(tilt)
    wet = _below(corners, middle, slope)
    surface = [place for place in wet if abs(place[1] - middle - slope * place[0]) < 1e-9]
    shapes = [Shape("fuel", _turned(wet, tilt), "area")] if len(wet) > 2 else []
    shapes.append(Shape("tank", _turned(corners, tilt), "outline"))
    if len(surface) > 1:
        ends = sorted(_turned(surface, tilt))
        shapes.append(Shape("surface", [ends[0], ends[-1]], "line", "fuel surface"))
    (mouth,) = _turned([pick_up], tilt)
    return Sketch(name, shapes, [Point("pick-up", *mouth)])


def _turned(places: Sequence[XY], tilt: float) -> list[XY]:
    sine, cosine = math.sin(tilt), math.cos(tilt)
    return [(x * cosine + z * sine, -x * sine + z * cosine) for x, z in places]


def _below(corners: Sequence[XY], middle: float, slope: float) -> list[XY]:
    """The part of an area below a line through (0, `middle`)."""
    out: list[XY] = []
    for (x0, z0), (x1, z1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        above0, above1 = z0 - middle - slope * x0, z1 - middle - slope * x1
        if above0 <= 0.0:
            out.append((x0, z0))
        if above0 * above1 < 0.0:
            share = above0 / (above0 - above1)
            out.append((x0 + share * (x1 - x0), z0 + share * (z1 - z0)))
    return out
