"""Estimates of the driveline: what a calliper and a hardness tester tell of a half-shaft."""

from __future__ import annotations

from swaplint.api import Build, OutsideRange, book, quantity
from swaplint.engineering import shafts
from swaplint.spec.systems.driveline.axles import HalfShafts
from swaplint.spec.systems.gearing import Axle

from .. import sources

STEEL = book(
    "Strength of steel by its hardness, and what of the yield torque a shaft bears in shocks", known="from memory"
)
TENSILE = 3.4e6
"""Tensile strength, Pa, for one of Brinell hardness."""
YIELD = 0.75
"""Yield over tensile strength: 0.6 to 0.9."""
SHEAR = 0.577
"""Yield in shear over that in tension."""
IN_SHOCKS = 0.5
"""Working torque over that at yield, for shocks."""
HARDNESS = (150.0, 400.0)
"""Where tensile strength goes with hardness: a skin hardened by induction tells nothing of the core."""


@quantity(
    "driveline.half-shaft-by-diameter",
    "torque",
    "N m",
    formula="T = 0.5 · 0.577·0.75·3.4 MPa·HB · π·d³/16: half of the torque at yield",
    symbols={
        "HB": "driveline.axles.*.half_shafts.hardness",
        "d": "driveline.axles.*.half_shafts.smallest_diameter",
    },
    sources=[STEEL.giving("formula", "strength by hardness, half of the torque at yield")],
    stands_in_for="driveline.axles.*.half_shafts.torque_rating",
    tolerance=0.4,
)
def half_shaft_by_diameter(build: Build, half: HalfShafts) -> float:
    """Estimate the torque of a half-shaft from its smallest diameter and hardness."""
    if not HARDNESS[0] <= half.hardness <= HARDNESS[1]:
        raise OutsideRange("strength goes with hardness from 150 to 400 alone")
    stress = IN_SHOCKS * SHEAR * YIELD * TENSILE * half.hardness
    return shafts.solid_torque_at_stress(stress, half.smallest_diameter)


@quantity(
    "driveline.ratio-by-teeth",
    formula="i = teeth of the ring gear/teeth of the pinion, times the hub reduction",
    symbols={
        "teeth of the ring gear": "driveline.axles.*.ring_teeth",
        "teeth of the pinion": "driveline.axles.*.pinion_teeth",
        "hub reduction": "driveline.axles.*.hub_reduction",
    },
    sources=[sources.KINEMATICS.giving("formula")],
    stands_in_for="driveline.axles.*.ratio",
    tolerance=0.001,
)
def ratio_by_teeth(build: Build, axle: Axle) -> float:
    """Estimate the ratio of an axle from the teeth of its gears."""
    return axle.ring_teeth / axle.pinion_teeth * axle.hub_reduction
