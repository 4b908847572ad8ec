"""Estimates of the chassis system: what a tape measure tells of a vacuum booster."""

from __future__ import annotations

import math

from swaplint.api import Build, OutsideRange, book, practice, quantity

SHELL = practice("rim, rod and spring leave 0.85 to 0.9 of the area across a vacuum booster's shell")
STROKE = practice("air that a diaphragm sweeps: its effective area times its way")
SHELL_VOLUME = book("Vacuum boosters, volume of the shell against what is swept", known="from memory")
LEFT = 0.875
USUAL_STROKE = (0.030, 0.040)
"""Metres: the strokes for which the volume of the shell against what is swept is known."""


@quantity(
    "chassis.booster-area",
    "area",
    "cm2",
    formula="A = 0.875 · π/4 · D², for each diaphragm",
    symbols={"D": "vehicle.brakes.booster.shell_diameter"},
    sources=[SHELL],
    stands_in_for="vehicle.brakes.booster.diaphragm_area",
    tolerance=0.24,
)
def booster_area(build: Build) -> float:
    """Estimate the effective area of the booster from the diameter of its shell."""
    booster = build.vehicle.brakes.booster
    return booster.diaphragms * LEFT * math.pi / 4.0 * booster.shell_diameter**2


@quantity(
    "chassis.booster-swept-volume",
    "volume",
    "L",
    formula="V = A · s",
    symbols={"A": "vehicle.brakes.booster.diaphragm_area", "s": "vehicle.brakes.booster.stroke"},
    sources=[STROKE],
    stands_in_for="vehicle.brakes.booster.swept_volume",
    tolerance=0.5,
)
def booster_swept_volume(build: Build) -> float:
    """Estimate the air of one full application from the booster's area and stroke."""
    return build.vehicle.brakes.booster.diaphragm_area * build.vehicle.brakes.booster.stroke


@quantity(
    "chassis.booster-volume",
    "volume",
    "L",
    formula="V = 2.15 · swept volume, 2 to 2.3 where the stroke is some 35 mm",
    symbols={"swept volume": "vehicle.brakes.booster.swept_volume"},
    sources=[SHELL_VOLUME],
    stands_in_for="vehicle.brakes.booster.volume",
    tolerance=0.5,
)
def booster_volume(build: Build) -> float:
    """Estimate the volume of the booster from what it sweeps."""
    booster = build.vehicle.brakes.booster
    if not USUAL_STROKE[0] <= booster.stroke <= USUAL_STROKE[1]:
        raise OutsideRange("the volume of the shell is known for the usual stroke of a booster alone")
    return 2.15 * booster.swept_volume
