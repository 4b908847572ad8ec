"""Bolts with metric coarse threads: stress area and the force that a set of them holds."""

from __future__ import annotations

import math
from typing import Final

from .guards import ImpossibleInput, OutsideRange, positive, share

COARSE_PITCH_MM: Final[dict[float, float]] = {5: 0.8, 6: 1.0, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2.0, 16: 2.0, 20: 2.5}
"""Pitch, mm, of the coarse thread of each nominal diameter, mm (ISO 261)."""

WEAKEST_YIELD: Final = 240e6
"""Yield strength, Pa, of property class 4.6, the weakest in common use (ISO 898-1)."""


def stress_area(diameter: float) -> float:
    """Tensile stress area, m², of a coarse thread of nominal diameter, m: π/4·(d − 0.9382·p)².

    Sources: ISO 898-1 for the formula, ISO 261 for the pitch p. A diameter outside the table is `OutsideRange`.

    >>> round(stress_area(0.008) * 1e6, 1)
    36.6
    """
    mm = round(positive("bolt diameter", diameter) * 1000.0, 6)
    if mm not in COARSE_PITCH_MM:
        raise OutsideRange(f"no coarse thread of {mm:g} mm is in the table")
    return math.pi / 4.0 * (mm - 0.9382 * COARSE_PITCH_MM[mm]) ** 2 * 1e-6


def holding_force(bolts: int, diameter: float, yield_strength: float = WEAKEST_YIELD, used: float = 0.5) -> float:
    """Force, N, that bolts hold in tension, using a share of their yield strength, Pa: n·A_s·share·R_e.

    The share of one half leaves room for tightening; common practice.

    >>> round(holding_force(2, 0.008))
    8786
    """
    if bolts < 0:
        raise ImpossibleInput(f"number of bolts must not be negative, not {bolts}")
    return bolts * stress_area(diameter) * positive("yield strength", yield_strength) * share("used share", used)
