"""Estimates of the chassis system: what a tape measure tells of a vacuum booster and of a heater core."""

from __future__ import annotations

import math

from swaplint.api import Build, OutsideRange, book, practice, quantity
from swaplint.engineering import heat_exchangers, radiators
from swaplint.engineering.heat_exchangers import FlowArrangement

from .. import sources
from . import cab_quantities as cab

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
    sources=[SHELL.giving("formula", "0.875 of the area across the shell")],
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
    sources=[STROKE.giving("formula")],
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
    sources=[SHELL_VOLUME.giving("formula", "2.15 times what is swept")],
    stands_in_for="vehicle.brakes.booster.volume",
    tolerance=0.5,
)
def booster_volume(build: Build) -> float:
    """Estimate the volume of the booster from what it sweeps."""
    booster = build.vehicle.brakes.booster
    if not USUAL_STROKE[0] <= booster.stroke <= USUAL_STROKE[1]:
        raise OutsideRange("the volume of the shell is known for the usual stroke of a booster alone")
    return 2.15 * booster.swept_volume


@quantity(
    "chassis.heater-effectiveness-of-core",
    "share",
    "%",
    formula="ε of crossflow by UA = 4.4 kW/(m²·K) · face · (depth/32 mm)^0.80 · (fins per inch/14)^0.83 · "
    "(air speed/4 m/s)^0.41",
    sources=[sources.LOUVRED.giving("formula", "conductance of brazed aluminium cores, coolant turbulent")],
    stands_in_for="plumbing.cooling.heater.effectiveness",
    tolerance=0.5,
)
def heater_effectiveness_of_core(build: Build) -> float:
    """Estimate the effectiveness of the heater core from its size, its fins and the flows through it."""
    heater = build.plumbing.cooling.heater
    core = heater.core
    if core.kind != "aluminium-slit-fins":
        raise OutsideRange("plain fins of copper and brass are known too poorly")
    face = core.width * core.height
    ua = radiators.core_conductance(face, core.depth, core.fins_per_inch, heater.air_flow / face)
    return heat_exchangers.effectiveness_from_ua(ua, *cab.heater_rates(build), FlowArrangement.CROSSFLOW_UNMIXED)
