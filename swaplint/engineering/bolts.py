"""Bolts with metric coarse threads: stress area and the force that a set of them holds."""

from __future__ import annotations

import math
from typing import Final

from .guards import ImpossibleInput, OutsideRange, not_negative, positive, share

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
    mm = positive("bolt diameter", diameter) * 1000.0
    if mm not in COARSE_PITCH_MM:
        raise OutsideRange(f"no coarse thread M{mm:g} is in the table")
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


def preload(torque: float, diameter: float, nut_factor: float) -> float:
    """Force, N, that a bolt of nominal diameter, m, is stretched with by a tightening torque, N·m: T/(K·d).

    K is the nut factor: 0.2 for a bolt as it comes, less where it is oiled. Source: Shigley, chapter on bolted joints
    (from memory). A torque wrench reaches the force within a quarter at best.

    >>> round(preload(45.0, 0.010, 0.2))
    22500
    """
    return positive("torque", torque) / (positive("nut factor", nut_factor) * positive("bolt diameter", diameter))


PROPERTY_CLASSES: Final = ("4.6", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")
"""The property classes of steel bolts (ISO 898-1)."""


def yield_of_class(property_class: str) -> float:
    """Nominal yield strength, Pa, of a property class: first number · 100 MPa · second number/10.

    That is what the two numbers mean (ISO 898-1); the least yield that the standard guarantees is never below it.

    >>> round(yield_of_class("8.8") / 1e6)
    640
    """
    if property_class not in PROPERTY_CLASSES:
        raise OutsideRange(f"'{property_class}' is not a property class of steel bolts")
    strength, ratio = property_class.split(".")
    return float(strength) * 100e6 * float(ratio) / 10.0


def group_safety(
    force: float,
    bolts: int,
    diameter: float,
    yield_strength: float,
    *,
    in_shear: bool,
    offset: float,
    spacing: float,
) -> float:
    """Safety on yield of a group of bolts that holds a bracket against `force` N.

    The force acts across the bolts (`in_shear`) or along them, shared evenly, at `offset` m from the joint. Its moment
    is held by the bolts of one side only, half of them, over the `spacing` m to the other side: tension
    F·offset/(spacing·n/2). Tension and shear are put together after von Mises, R_e/√(σ² + 3τ²). Tightening and the
    friction that it brings are left out. Source: Shigley, chapter on bolted joints (from memory). Raises
    ImpossibleInput for a single bolt, which cannot hold a moment.

    >>> round(group_safety(14650.0, 2, 0.010, 640e6, in_shear=False, offset=0.0, spacing=0.06), 2)
    5.07
    """
    if bolts < 2:
        raise ImpossibleInput(f"a bracket is held by at least two bolts, not {bolts}")
    area = stress_area(diameter)
    even = positive("force", force) / (bolts * area)
    moment = force * not_negative("offset", offset) / (positive("spacing", spacing) * bolts / 2.0 * area)
    stress = math.sqrt(moment**2 + 3.0 * even**2) if in_shear else moment + even
    return positive("yield_strength", yield_strength) / stress
