"""Tubular shafts: torsion, whirling and length.

A tube is given by its outer diameter and wall; a solid bar is a tube whose wall is half its diameter.
Sources: Shigley, *Mechanical Engineering Design*, chapters on torsion and shafts; Den Hartog, *Mechanical
Vibrations*, chapter on critical speeds (both from memory).
"""

from __future__ import annotations

import math
from typing import Final

from swaplint.engineering.constants import G
from swaplint.engineering.guards import ImpossibleInput, OutsideRange, finite, not_negative, positive, said, share

STEEL_ELASTIC_MODULUS: Final = 206e9
"""Young's modulus of carbon steel, Pa (handbooks give 200 to 210 GPa)."""

STEEL_SHEAR_MODULUS: Final = 79.3e9
"""Shear modulus of carbon steel, Pa (Shigley's table of materials, from memory)."""

STEEL_DENSITY: Final = 7850.0
"""Density of carbon steel, kg/m³ (handbook value)."""

ALUMINIUM_ELASTIC_MODULUS: Final = 69e9
"""Young's modulus of wrought aluminium, Pa (handbooks give 69 to 72 GPa)."""

ALUMINIUM_DENSITY: Final = 2700.0
"""Density of wrought aluminium, kg/m³ (handbook value)."""

ALLOWED_SHARE_OF_CRITICAL_SPEED: Final = 0.70
"""Highest running speed as a share of the calculated whirling speed.

Common practice: 0.65 to 0.75, because joints, slip and imbalance put the real whirling speed below the
theory.
"""

TUBE_DIAMETERS: Final = (0.0508, 0.0635, 0.0762, 0.0889, 0.1016, 0.1143)
"""Outside diameters of the tube that propshafts are usually made of, m (common practice: whole and half inches)."""

THINNEST_WALL: Final = 1e-9
"""Wall in outer diameters below which D⁴ - d⁴ would be lost to rounding. Real tubes are a million times as thick."""

SLENDER_LENGTH: Final = 5.0
"""Length in outer diameters below which the formula for slender shafts is not used."""


def _inner_diameter(outer_diameter: float, wall: float) -> float:
    positive("outer_diameter", outer_diameter)
    positive("wall", wall)
    if wall > outer_diameter / 2.0:
        raise ImpossibleInput(
            f"a wall of {said(wall, 'mm')} is thicker than half the outer diameter, {said(outer_diameter, 'mm')}"
        )
    if wall < THINNEST_WALL * outer_diameter:
        raise ImpossibleInput(
            f"a wall of {said(wall, 'mm')} is next to nothing beside the outer diameter, {said(outer_diameter, 'mm')}"
        )
    return outer_diameter - 2.0 * wall


def tube_area(outer_diameter: float, wall: float) -> float:
    """Return the area of the section, m². Arguments in m.

    >>> round(tube_area(0.0889, 0.0026) * 1e6, 1)
    704.9
    """
    inner = _inner_diameter(outer_diameter, wall)
    return math.pi / 4.0 * (outer_diameter**2 - inner**2)


def tube_second_moment(outer_diameter: float, wall: float) -> float:
    """Return the second moment of area about a diameter, m⁴: π·(D⁴ - d⁴)/64. Arguments in m.

    The polar second moment is twice this value.

    >>> round(tube_second_moment(0.05, 0.025) * 1e9, 2)
    306.8
    """
    inner = _inner_diameter(outer_diameter, wall)
    return math.pi / 64.0 * (outer_diameter**4 - inner**4)


def solid_torque_at_stress(stress: float, diameter: float) -> float:
    """Return the torque, N·m, that brings a shear stress, Pa, to the surface of a solid round shaft: τ·π·d³/16.

    >>> round(solid_torque_at_stress(0.577 * 900e6, 0.030))
    2753
    """
    return positive("stress", stress) * math.pi * positive("diameter", diameter) ** 3 / 16.0


def torsional_stress(torque: float, outer_diameter: float, wall: float) -> float:
    """Return the shear stress at the outer skin, Pa: 16·T·D/(π·(D⁴ - d⁴)). Torque in N·m, lengths in m.

    Holds for elastic stress in a plain tube; welds, splines and holes raise it.

    >>> round(torsional_stress(1000.0, 0.0762, 0.0021) / 1e6, 1)
    56.7
    """
    polar = 2.0 * tube_second_moment(outer_diameter, wall)
    return abs(finite("torque", torque)) * outer_diameter / 2.0 / polar


def torque_at_stress(stress: float, outer_diameter: float, wall: float) -> float:
    """Return the torque, N·m, that brings the outer skin to `stress` Pa.

    >>> round(torque_at_stress(125e6, 0.0762, 0.0021))
    2203
    """
    return positive("stress", stress) / torsional_stress(1.0, outer_diameter, wall)


def twist(
    torque: float,
    outer_diameter: float,
    wall: float,
    length: float,
    shear_modulus: float = STEEL_SHEAR_MODULUS,
) -> float:
    """Return the angle of twist, rad: T·L/(G·J). Torque in N·m, lengths in m, modulus in Pa.

    >>> round(math.degrees(twist(1000.0, 0.0762, 0.0021, 1.5)), 2)
    1.61
    """
    polar = 2.0 * tube_second_moment(outer_diameter, wall)
    return (
        finite("torque", torque) * not_negative("length", length) / (positive("shear_modulus", shear_modulus) * polar)
    )


def critical_speed(
    length: float,
    outer_diameter: float,
    wall: float,
    elastic_modulus: float = STEEL_ELASTIC_MODULUS,
    density: float = STEEL_DENSITY,
) -> float:
    """Return the first whirling speed of a uniform shaft on two hinges, rad/s: (π/L)²·√(E·I/(ρ·A)).

    `length` is joint centre to joint centre, m. This is Euler's exact value for a slender beam; shear and
    rotary inertia lower it, by about 4 % for a thin tube ten diameters long and by about 13 % at five.
    Play in joints and slip, and soft bearings, lower it further: see ALLOWED_SHARE_OF_CRITICAL_SPEED.
    Raises OutsideRange for shafts shorter than SLENDER_LENGTH diameters, where whirling is not what limits.

    >>> round(critical_speed(1.5, 0.0762, 0.00165) * 60 / (2 * math.pi))
    5657
    """
    positive("length", length)
    area = tube_area(outer_diameter, wall)
    _slender(length, outer_diameter)
    stiffness = positive("elastic_modulus", elastic_modulus) * tube_second_moment(outer_diameter, wall)
    return (math.pi / length) ** 2 * math.sqrt(stiffness / (positive("density", density) * area))


def longest_shaft(
    speed: float,
    outer_diameter: float,
    wall: float,
    allowed_share: float = ALLOWED_SHARE_OF_CRITICAL_SPEED,
    elastic_modulus: float = STEEL_ELASTIC_MODULUS,
    density: float = STEEL_DENSITY,
) -> float:
    """Return the one-piece length, m, at which `speed` rad/s is `allowed_share` of the whirling speed.

    Raises OutsideRange where that length is too short for the formula of `critical_speed`.

    >>> round(longest_shaft(3500 * 2 * math.pi / 60, 0.0762, 0.00165), 3)
    1.596
    """
    if share("allowed_share", allowed_share) == 0.0:
        raise ImpossibleInput("allowed_share must be greater than zero")
    reference = 100.0 * outer_diameter
    at_reference = critical_speed(reference, outer_diameter, wall, elastic_modulus, density)
    return _slender(reference * math.sqrt(allowed_share * at_reference / positive("speed", speed)), outer_diameter)


def _slender(length: float, outer_diameter: float) -> float:
    if length < SLENDER_LENGTH * outer_diameter:
        raise OutsideRange(
            f"a length of {said(length, 'mm')} is below {SLENDER_LENGTH:g} diameters: the formula is for slender shafts"
        )
    return length


def critical_speed_from_deflection(deflection: float, uniform: bool = True) -> float:
    """Return the whirling speed, rad/s, from the greatest static deflection under its own weight, m.

    √(g/δ) is exact for a single mass on a light shaft (`uniform` false); for a uniform shaft on two hinges
    the exact factor on it is π²/√(384/5) = 1.126. Source: Den Hartog (from memory).

    >>> round(critical_speed_from_deflection(0.0005), 1)
    157.7
    """
    factor = math.pi**2 / math.sqrt(384.0 / 5.0) if uniform else 1.0
    return factor * math.sqrt(G / positive("deflection", deflection))


def length_change(length: float, along: float, across: float) -> float:
    """Return how much longer a shaft becomes when one joint moves `along` and `across` it, all in m.

    √((L + along)² + across²) - L: plane geometry; `along` positive away from the other joint.

    >>> round(length_change(1.2, 0.0, 0.1), 5)
    0.00416
    """
    positive("length", length)
    moved = math.hypot(length + finite("along", along), finite("across", across))
    return moved - length


def plunge(length: float, drop: float, rise: float, shift: float) -> float:
    """Return how much longer a shaft becomes when the axle that it drives moves, all in m.

    At rest it has `length` from joint to joint and its driven end lies `drop` below the driving one. The axle then
    moves up by `rise` and rearward by `shift`: √((√(L² - drop²) + shift)² + (rise - drop)²) - L, plane geometry.
    Raises ImpossibleInput for a shaft that would stand upright.

    >>> round(plunge(0.5, drop=0.3, rise=0.3, shift=0.0), 6)
    -0.1
    """
    along = positive("length", length) ** 2 - finite("drop", drop) ** 2
    if along <= 0.0:
        raise ImpossibleInput(f"a shaft {said(length, 'mm')} long cannot drop by {said(drop, 'mm')}")
    return math.hypot(math.sqrt(along) + finite("shift", shift), finite("rise", rise) - drop) - length


def plunge_range(length: float, drop: float, rise: float, shift: float) -> tuple[float, float]:
    """Return the least and the greatest change of length, m, on the way of `plunge` from rest to its end.

    The axle moves in a straight line, so that the length over the share t of the way is the distance of a point from a
    line: shortest at t = (d·rise - a·shift)/(rise² + shift²), where that lies on the way, and longest at one of its
    ends. `rise` is negative for the way down.

    >>> [round(change, 6) for change in plunge_range(0.5, drop=0.3, rise=0.6, shift=0.0)]
    [-0.1, 0.0]
    """
    end = plunge(length, drop, rise, shift)
    way = finite("rise", rise) ** 2 + finite("shift", shift) ** 2
    changes = [0.0, end]
    if way > 0.0:
        along = math.sqrt(length**2 - drop**2)
        nearest = (drop * rise - along * shift) / way
        if 0.0 < nearest < 1.0:
            changes.append(plunge(length, drop, nearest * rise, nearest * shift))
    return min(changes), max(changes)
