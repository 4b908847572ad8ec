"""Involute splines: the room that a side fit leaves at the major diameter by design.

The flanks of a side fit centre hub and shaft, so that the hub's root is cut larger than the shaft's tip. How much
larger goes with the pitch, the pressure angle and the form of the root. Sources: basic dimensions of ANSI B92.1 (inch)
and B92.2M (metric, ISO 4156), read in tables that quote them; DIN 5480 from memory.
"""

from __future__ import annotations

from typing import Final

from swaplint.engineering.guards import ImpossibleInput, OutsideRange, positive

ROOM_IN_MODULES: Final = {
    ("B92.1", 30.0, "flat"): 0.35,
    ("B92.1", 30.0, "fillet"): 0.8,
    ("B92.1", 37.5, "fillet"): 0.6,
    ("B92.1", 45.0, "fillet"): 0.4,
    ("B92.2M", 30.0, "flat"): 0.5,
    ("B92.2M", 30.0, "fillet"): 0.8,
    ("DIN 5480", 30.0, "flat"): 0.2,
    ("DIN 5480", 30.0, "fillet"): 0.2,
}
"""Hub's root less shaft's tip, both on the diameter, in modules (1/P in inches is one module in inches).

B92.1, 30 degrees: hub (N + 1.35)/P with a flat and (N + 1.8)/P with a fillet root, shaft (N + 1)/P.
B92.2M, 30 degrees: hub m·(Z + 1.5) and m·(Z + 1.8), shaft m·(Z + 1). DIN 5480: hub d_B, shaft d_B - 0.2·m.
"""


def module_of_shaft(tip_diameter: float, teeth: int) -> float:
    """Module, m, of a shaft from the diameter over its teeth, m: D/(N + 1).

    Exact for 30 degrees by B92.1 and B92.2M; within a tenth for DIN 5480, which shifts its profile, and for the
    stub teeth of 37.5 and 45 degrees.

    >>> round(module_of_shaft(1.375 * 0.0254, 21) * 1e3, 4)
    1.5875
    """
    if teeth < 1:
        raise ImpossibleInput(f"a spline has at least one tooth, not {teeth}")
    return positive("tip_diameter", tip_diameter) / (teeth + 1)


def side_fit_room(tip_diameter: float, teeth: int, family: str, pressure_angle: float, root: str) -> float:
    """Room at the major diameter of a side fit, m, on the diameter.

    `family` is "B92.1", "B92.2M" or "DIN 5480", `pressure_angle` is in degrees, `root` is the form of the hub's root.
    Raises OutsideRange where no such form is in the table.

    >>> round(side_fit_room(1.375 * 0.0254, 21, "B92.1", 30.0, "flat") * 1e3, 3)
    0.556
    """
    share = ROOM_IN_MODULES.get((family, pressure_angle, root))
    if share is None:
        raise OutsideRange(f"{family} has no {root} root at {pressure_angle:g} degrees in the table")
    return share * module_of_shaft(tip_diameter, teeth)
