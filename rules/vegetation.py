"""Whether a vehicle works where grass and brush can catch fire."""

from __future__ import annotations

from swaplint.api import Build, given


def over_vegetation(build: Build) -> bool:
    """Whether it works or stands over grass, brush or litter.

    One that stays on roads does not, unless the spec says so; of one that leaves them it must be known.
    """
    stated = given(lambda: build.build.duty.vegetation)
    if stated is None and given(lambda: build.build.duty.terrain) == "road":
        return False
    return build.build.duty.vegetation
