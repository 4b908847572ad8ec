"""Brackets and cross-members: bending of plates, boxes and beams, fillet welds, and what structural steel bears.

Sources: section moduli and beams from any text on strength of materials (Shigley, from memory); yield and tensile
strength by steel class from EN 10025-2, read in a page that copies its table; fillet welds after the simplified method
of EN 1993-1-8, read in summaries. All are for steel structures at rest: welds that are shaken tire at far less.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from swaplint.engineering.guards import ImpossibleInput, OutsideRange, not_negative, positive, said


class Steel(NamedTuple):
    """A class of structural steel: least yield up to 16 mm and up to 40 mm, least tensile strength, Pa; weld factor."""

    thin: float
    thick: float
    tensile: float
    weld_factor: float


STEELS: Final = {
    "S235": Steel(235e6, 225e6, 360e6, 0.80),
    "S275": Steel(275e6, 265e6, 410e6, 0.85),
    "S355": Steel(355e6, 345e6, 470e6, 0.90),
}
"""EN 10025-2 for products of 3 to 40 mm (second-hand); the weld factor is β_w of EN 1993-1-8 (second-hand)."""

WELD_PARTIAL_FACTOR: Final = 1.25
"""γ_M2 of EN 1993-1-8, the value that it recommends (second-hand)."""


def _steel(name: str) -> Steel:
    if name not in STEELS:
        raise OutsideRange(f"'{name}' is not in the table of steels")
    return STEELS[name]


def yield_of_steel(name: str, thickness: float) -> float:
    """Least yield strength, Pa, of a steel class at a thickness, m, up to 40 mm.

    >>> round(yield_of_steel("S355", 0.020) / 1e6)
    345
    """
    steel = _steel(name)
    if positive("thickness", thickness) > 0.040:
        raise OutsideRange("steel thicker than 40 mm is not in the table")
    return steel.thin if thickness <= 0.016 else steel.thick


def weld_strength(name: str) -> float:
    """Design shear strength, Pa, of a fillet weld on a steel class: f_u/(√3·β_w·γ_M2), EN 1993-1-8, simplified method.

    >>> round(weld_strength("S235") / 1e6, 1)
    207.8
    """
    steel = _steel(name)
    return steel.tensile / (math.sqrt(3.0) * steel.weld_factor * WELD_PARTIAL_FACTOR)


def plate_modulus(depth: float, thickness: float, plates: int = 1) -> float:
    """Section modulus, m³, of plates that stand on edge, depth along the load: n·t·h²/6. Lengths in m.

    >>> round(plate_modulus(0.080, 0.008) * 1e9)
    8533
    """
    if plates < 1:
        raise ImpossibleInput(f"there is at least one plate, not {plates}")
    return plates * positive("thickness", thickness) * positive("depth", depth) ** 2 / 6.0


def box_modulus(depth: float, width: float, wall: float) -> float:
    """Section modulus, m³, of a rectangular hollow section with sharp corners: (b·h³ - b_i·h_i³)/(6·h). Lengths in m.

    The rounded corners of a real section take a few per cent off.

    >>> round(box_modulus(0.060, 0.040, 0.004) * 1e9)
    11502
    """
    h, b, t = positive("depth", depth), positive("width", width), positive("wall", wall)
    if 2.0 * t >= min(h, b):
        raise ImpossibleInput(f"a wall of {said(t, 'mm')} fills a box of {said(b, 'mm')} by {said(h, 'mm')}")
    # A wall of next to nothing leaves no modulus that can be told from none.
    return positive("section modulus", (b * h**3 - (b - 2.0 * t) * (h - 2.0 * t) ** 3) / (6.0 * h))


def weld_stress(force: float, arm: float, depth: float, throat: float, runs: int, flange: float = 0.0) -> float:
    """Stress, Pa, in upright fillet welds at the root of a bracket: √((M/W)² + (F/A)²).

    `force` N acts at `arm` m from the root; `runs` welds of `throat` m stand along its `depth` m, each counted shorter
    by two throats for its ends. A box has two more of length `flange` m along top and bottom, which bear bending alone.

    >>> round(weld_stress(10e3, 0.100, 0.080, 0.004, 2) / 1e6, 1)
    145.7
    """
    a = positive("throat", throat)
    length = positive("depth", depth) - 2.0 * a
    if length <= 0.0 or runs < 1:
        raise ImpossibleInput("a weld is longer than its two ends")
    modulus = runs * a * length**2 / 6.0 + a * not_negative("flange", flange) * depth
    bending = positive("force", force) * not_negative("arm", arm) / modulus
    return math.hypot(bending, force / (runs * a * length))


def greatest_moment(span: float, loads: Sequence[tuple[float, float]]) -> float:
    """Greatest bending moment, N·m, of a beam on two supports under point loads, as (force N, place m from one end).

    >>> greatest_moment(1.0, [(1000.0, 0.5)])
    250.0
    """
    length = positive("span", span)
    for _, place in loads:
        if not 0.0 <= place <= length:
            raise ImpossibleInput(f"a load at {said(place, 'mm')} does not stand on a beam of {said(length, 'mm')}")
    support = sum(force * (length - place) for force, place in loads) / length

    def moment(at: float) -> float:
        return support * at - sum(force * (at - place) for force, place in loads if place < at)

    return max((abs(moment(place)) for _, place in loads), default=0.0)
