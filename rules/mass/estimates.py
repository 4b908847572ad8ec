"""Estimates of the mass system: a height of the centre of gravity by lifting an axle, a gearbox by its rating."""

from __future__ import annotations

from swaplint.api import Build, book, practice, quantity
from swaplint.engineering import statics

MOMENTS = practice("moments about the axle that stays down, as in any statics text")
GEARBOXES = book(
    "Gearboxes by the torque that they are rated for: manual 0.15 to 0.22 kg/(N·m), automatic 0.25 to 0.35",
    known="from memory",
)
MANUAL, AUTOMATIC = 0.185, 0.30
"""Mass for each newton metre of the rating, kg: the middles."""


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


@quantity(
    "mass.gearbox-by-rating",
    "mass",
    "kg",
    formula="m = 0.185 kg/(N·m) of the torque that it is rated for, of an automatic with its converter 0.30",
    symbols={"torque that it is rated for": "driveline.gearbox.input_torque_rating"},
    sources=[GEARBOXES],
    stands_in_for="driveline.gearbox.mass",
    tolerance=0.6,
)
def gearbox_by_rating(build: Build) -> float:
    """Estimate the mass of the gearbox from the torque that it is rated for."""
    gearbox = build.driveline.gearbox
    return gearbox.input_torque_rating * (AUTOMATIC if gearbox.kind == "automatic" else MANUAL)
