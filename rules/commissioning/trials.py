"""Where the trials stand in a build spec, and what several modules ask of them."""

from __future__ import annotations

from swaplint.api import Build

CRANKING, CHARGING, BUS = "measured.cranking", "measured.charging", "measured.bus"
FUEL, LOAD, RUN = "measured.fuel", "measured.full_load", "measured.cooling"
LAUNCH, LADEN, SHIFTING, NOISE = "measured.launch", "measured.laden", "measured.shifting", "measured.noise"
WEIGHED, VACUUM, BRAKES, ROAD = "measured.weighing", "measured.vacuum", "measured.brakes", "measured.road"

COPPER = 0.00393
"""Rise of the resistance of copper for each K, referred to 20 °C (IEC 60028)."""
ROOM = 293.15
GOOD_JOINT = 0.2e-3
"""Resistance, Ω, that no good joint has: 20 mV for each 100 A (common practice)."""

NEAR_GOVERNED = 1.07
"""How many times its governed speed an engine may be read at: governors and speed readings are off by 7 % at most."""


def faster_than_governed(build: Build, speed: float) -> bool:
    """Whether a speed, rad/s, is one that no governor lets the engine pull at: it was read wrong, or typed wrong."""
    return speed > NEAR_GOVERNED * build.engine.speed.governed_max


def warm_copper(temperature: float) -> float:
    """How many times its resistance at 20 °C copper has at a temperature, K.

    >>> round(warm_copper(273.15), 4)
    0.9214
    """
    return 1.0 + COPPER * (temperature - ROOM)


def joint_limit(current: float) -> float:
    """Voltage across one joint above which it is bad, V.

    >>> round(joint_limit(400.0), 3)
    0.08
    """
    return GOOD_JOINT * current
