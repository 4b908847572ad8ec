"""Estimates of the mass system: the height of the centre of gravity from a weighing with one axle lifted."""

from __future__ import annotations

from swaplint.api import Build, practice, quantity
from swaplint.engineering import statics

MOMENTS = practice("moments about the axle that stays down, as in any statics text")


@quantity(
    "mass.height-by-lifting",
    "length",
    "mm",
    formula="h = r + Δm·L/(m·tan θ), sin θ = lift/L; scales within 5 kg, angle within 0.3°, suspension blocked",
    symbols={
        "r": "vehicle.mass.lift_radius",
        "Δm": "vehicle.mass.lift_gain",
        "m": "vehicle.mass.lift_mass",
        "L": "vehicle.wheelbase",
    },
    sources=[MOMENTS],
    stands_in_for="vehicle.mass.laden_height",
    tolerance=0.12,
)
def height_by_lifting(build: Build) -> float:
    """Estimate the height of the centre of gravity from a weighing with one axle lifted."""
    mass = build.vehicle.mass
    return statics.height_by_lifting(
        mass.lift_mass, mass.lift_gain, mass.lift, build.vehicle.wheelbase, mass.lift_radius
    )
