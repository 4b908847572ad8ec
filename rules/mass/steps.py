"""What is weighed before the swap, and of the finished vehicle."""

from __future__ import annotations

from swaplint.api import Build, Expected, expect, step

from .quantities import empty, empty_axle

BRIDGE = "weighbridge, ±20 kg"
WEIGHING = "measured.weighing"


@step("mass.old-front", moment="before-lifting", instrument=BRIDGE, write="vehicle.mass.kerb_front")
def old_front(build: Build) -> Expected:
    """Weigh the front axle before anything is taken out.

    How: Level ground, tank full, nobody in it, engine off, brakes off. Every axle load of the swap rests on it.
    """
    return expect(lambda: build.vehicle.mass.kerb_front)


@step("mass.old-rear", moment="before-lifting", instrument=BRIDGE, write="vehicle.mass.kerb_rear")
def old_rear(build: Build) -> Expected:
    """Weigh the rear axle before anything is taken out.

    How: As the front axle.
    """
    return expect(lambda: build.vehicle.mass.kerb_rear)


@step(
    "mass.new-front",
    moment="first-drive",
    instrument=BRIDGE,
    write=f"{WEIGHING}.front",
    also=[f"{WEIGHING}.fuel_share", f"{WEIGHING}.date", f"{WEIGHING}.by"],
    after=["chassis.brake-test"],
    accuracy=0.03,
)
def new_front(build: Build) -> Expected:
    """Weigh the front axle of the finished vehicle.

    How: Level ground, also ahead of the platform and behind it; tank full, nobody in it, engine off, brakes off. Weigh
    twice, driving on from both ends.
    """
    return expect(lambda: empty_axle(build, "front"))


@step("mass.new-rear", moment="first-drive", instrument=BRIDGE, write=f"{WEIGHING}.rear", accuracy=0.03)
def new_rear(build: Build) -> Expected:
    """Weigh the rear axle of the finished vehicle.

    How: As the front axle.
    """
    return expect(lambda: empty_axle(build, "rear"))


@step("mass.new-whole", moment="first-drive", instrument=BRIDGE, write=f"{WEIGHING}.whole", accuracy=0.03)
def new_whole(build: Build) -> Expected:
    """Weigh the whole vehicle on one plate.

    How: Front and rear together come to the same within 20 kg; if not, the ground is not level: weigh again.
    """
    return expect(lambda: empty(build))
