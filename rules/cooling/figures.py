"""What the cooling system looks like: the engine's heat against what the radiator gives off."""

from __future__ import annotations

from swaplint.api import Axis, Bar, Bars, Build, figure, shown

from . import heat_quantities as q
from . import points


@figure("cooling.heat")
def heat(build: Build) -> Bars:
    """Heat of the engine against what the radiator gives off.

    On the hottest day at sea level, with the coolant at the highest temperature that the engine's maker allows and what
    stands in front of the radiator giving its heat to the air first.
    """
    bars = [
        Bar(points.words(point).lower(), q.coolant_heat(build, point), q.radiator_heat(build, point))
        for point in points.points(build)
    ]
    day, limit = build.build.design.ambient_max, build.engine.coolant.top_tank_max
    group = f"air of {shown(day)}, coolant at {shown(limit)}"
    return Bars(Axis("heat flow", "power", "kW"), [(group, bars)], "heat to the coolant", "radiator gives off")
