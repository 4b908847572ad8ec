"""What the mounts look like: where the unit shakes by itself, and what shakes it."""

from __future__ import annotations

from swaplint.api import Axis, Band, Build, Limit, Marks, figure
from swaplint.engineering import vibration

from . import quantities as q
from . import shaking


@figure("mounts.frequencies")
def frequencies(build: Build) -> Marks:
    """Natural frequencies of the engine unit against what excites it at idle.

    The unit on its mounts must shake by itself well below idle firing, bounce no lower than the axles and the body do,
    and roll clear of half and whole turns of the crank: there the bands stand.
    """
    idle, firing = build.engine.speed.idle, q.firing_frequency(build)
    half, whole = (vibration.order_frequency(idle, order) for order in (0.5, 1.0))
    clear = shaking.ORDER_CLEAR
    return Marks(
        Axis("frequency", "frequency", "Hz"),
        [
            ("unit on its mounts", [("roll", q.roll_mode(build)), ("bounce", q.bounce_mode(build))]),
            ("engine at idle", [("half a turn", half), ("a turn", whole), ("firing", firing)]),
        ],
        limits=[
            Limit("lowest bounce", shaking.LOWEST_BOUNCE),
            Limit("half of idle firing", firing / shaking.ENOUGH),
        ],
        bands=[
            Band("no roll here", (1.0 - clear) * half, (1.0 + clear) * half),
            Band("nor here", (1.0 - clear) * whole, (1.0 + clear) * whole),
        ],
        log=True,
    )
