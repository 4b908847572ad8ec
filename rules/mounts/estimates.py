"""Estimates of the mounts system: what a tape measure, a pull scale and a stopwatch tell of rubber and of a unit."""

from __future__ import annotations

from swaplint.api import Build, or_practice, practice, quantity
from swaplint.engineering import vibration
from swaplint.engineering.constants import G
from swaplint.spec.systems.mounts import EngineUnit, Mount

from .quantities import SOFTER, unit_mass

TWO_READINGS = practice("stiffness of a spring from two loads and the way between them, as in any statics text")
THREE_ROPES = practice("period of a body that swings on three ropes, as in any mechanics text")


def _along(mount: Mount) -> float:
    """Static stiffness along a mount's axis, from how far it sinks."""
    return vibration.stiffness_between_readings(mount.sink_load * G, mount.sink)


def _across(mount: Mount) -> float:
    """Static stiffness across a mount's axis, from how far a pull moves it."""
    return vibration.stiffness_between_readings(mount.pull, mount.pull_give)


# Half a millimetre on three is 16 %; where rubber's own factor is not known, 30 %. Each counts twice.
READ = 0.32
READ_OF_UNKNOWN_RUBBER = 0.6


@quantity(
    "mounts.stiffness-from-sink",
    "stiffness",
    "N/mm",
    formula="k = dynamic factor · ΔF/Δs, ΔF the added weight and Δs how much further it sinks under it",
    sources=[TWO_READINGS.giving("formula")],
    stands_in_for="vehicle.mounts.*.axial_stiffness",
    tolerance=READ,
)
def stiffness_from_sink(build: Build, mount: Mount) -> float:
    """Estimate the stiffness along its axis from how far it sinks and its dynamic factor."""
    return mount.dynamic_factor * _along(mount)


@quantity(
    "mounts.stiffness-from-sink-alone",
    "stiffness",
    "N/mm",
    formula="as mounts.stiffness-from-sink, with the dynamic factor of rubber in general",
    sources=[TWO_READINGS.giving("formula")],
    stands_in_for="vehicle.mounts.*.axial_stiffness",
    tolerance=READ_OF_UNKNOWN_RUBBER,
)
def stiffness_from_sink_alone(build: Build, mount: Mount) -> float:
    """Estimate the stiffness along its axis from how far it sinks alone."""
    return or_practice(lambda: mount.dynamic_factor, SOFTER) * _along(mount)


@quantity(
    "mounts.shear-stiffness-from-pull",
    "stiffness",
    "N/mm",
    formula="k = dynamic factor · ΔF/Δs, ΔF the force across and Δs how much further it gives way under it",
    sources=[TWO_READINGS.giving("formula")],
    stands_in_for="vehicle.mounts.*.shear_stiffness",
    tolerance=READ,
)
def shear_stiffness_from_pull(build: Build, mount: Mount) -> float:
    """Estimate the stiffness across its axis from how far a pull moves it and its dynamic factor."""
    return mount.dynamic_factor * _across(mount)


@quantity(
    "mounts.shear-stiffness-from-pull-alone",
    "stiffness",
    "N/mm",
    formula="as mounts.shear-stiffness-from-pull, with the dynamic factor of rubber in general",
    sources=[TWO_READINGS.giving("formula")],
    stands_in_for="vehicle.mounts.*.shear_stiffness",
    tolerance=READ_OF_UNKNOWN_RUBBER,
)
def shear_stiffness_from_pull_alone(build: Build, mount: Mount) -> float:
    """Estimate the stiffness across its axis from how far a pull moves it alone."""
    return or_practice(lambda: mount.dynamic_factor, SOFTER) * _across(mount)


@quantity(
    "mounts.roll-inertia-by-swing",
    "inertia",
    "kg m2",
    formula="I = M·g·r²·T²/(4π²·L)",
    symbols={
        "M": "mounts.unit-mass",
        "r": "vehicle.engine_unit.swing_radius",
        "T": "vehicle.engine_unit.swing_period",
        "L": "vehicle.engine_unit.swing_length",
    },
    sources=[THREE_ROPES.giving("formula")],
    stands_in_for="vehicle.engine_unit.roll_inertia",
    tolerance=0.1,
)
def roll_inertia_by_swing(build: Build) -> float:
    """Estimate the moment of inertia from how slowly the unit swings on three ropes."""
    unit: EngineUnit = build.vehicle.engine_unit
    return vibration.inertia_by_swing(unit_mass(build), unit.swing_radius, unit.swing_period, unit.swing_length)
