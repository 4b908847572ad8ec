"""What is measured and tried of how the swap fits, before anything is made for good."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, step
from swaplint.spec.systems.driveline import PropShaft

from .behind import shaft_distance


@step(
    "fit.shaft-length",
    moment="trial-fit",
    instrument="tape measure between the joints' centres, ±2 mm",
    write="driveline.shafts.*.length",
    cautions=[cautions.CRUSH],
    each=lambda build: build.driveline.shafts.values(),
)
def shaft_length(build: Build, shaft: PropShaft) -> Expected:
    """Measure the place of the propshaft before it is ordered.

    How: Laden ride height, the vehicle on its wheels, engine and axles where they stay.
    """
    return expect(lambda: shaft_distance(build, shaft))


@step("fit.steering-free", moment="trial-fit", cautions=[cautions.STEERING, cautions.CRUSH])
def steering_free(build: Build) -> Expected:
    """Turn the steering from lock to lock with the engine in place.

    How: Wheels off the ground, then on it; the suspension at bump and hanging free; a second person looks from below.
    Stop: the steering shaft or a joint comes near engine, exhaust or a line.
    """
    return expect("nothing touches the steering anywhere, hot exhaust stays away from it")


@step("fit.bonnet", moment="trial-fit", instrument="putty on the highest points")
def bonnet(build: Build) -> Expected:
    """Close the bonnet over the engine, and let the suspension down on its stops.

    How: Putty on the highest points of the engine and on the sump above the axle.
    """
    return expect("no mark where the engine's movement is still to come")
