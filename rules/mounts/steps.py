"""What is done and looked at where the engine hangs: lifting, welding, gaps, bolts."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, given, sheet, step
from swaplint.spec.systems.fit import Clearance
from swaplint.spec.systems.mounts import Mount

from .. import sources
from .movement import gap_left, gaps, movement
from .quantities import mounts, unit_mass

MOVES = [sources.SPRINGS_AND_MASSES.giving("limit", "how far the engine moves on its mounts")]


@step(
    "mounts.sling",
    moment="before-lifting",
    cautions=[cautions.CRUSH],
    after=["power.battery-off", "cooling.drained", "chassis.refrigerant"],
)
def sling(build: Build) -> Expected:
    """Support the vehicle, and sling the engine with all that hangs on it.

    How: Stands under the frame on firm ground; chains or straps on the maker's lifting eyes, above the middle of the
    weight; lift by a hand's breadth and look before going on.
    Stop: the load tilts, a strap slips, or somebody reaches under it.
    """
    return expect(lambda: unit_mass(build), "the lifting gear is rated for more than what hangs on it")


@step("mounts.welding", moment="trial-fit", cautions=[cautions.FRAME, cautions.FUEL_FIRE])
def welding(build: Build) -> Expected:
    """Make frame and brackets safe to weld.

    How: Battery off, plugs of every control unit off, the welder's clamp beside the weld; fuel lines and tank out of
    the way; whoever inspects the frame has seen the drawing.
    """
    len(build.vehicle.mounts)
    return expect("no cable or line within an arm's length of the weld")


def _over_axles(build: Build) -> list[Clearance]:
    """The gaps that are smallest with the suspension on its stop."""
    return [gap for gap in gaps(build) if gap.kind in ("axle", "propshaft")]


def _at_rest(build: Build) -> list[Clearance]:
    return [gap for gap in gaps(build) if gap.kind not in ("axle", "propshaft")]


@step(
    "mounts.gap",
    moment="trial-fit",
    instrument="feeler gauge or ruler, ±1 mm",
    write="vehicle.clearances.*.gap",
    sources=MOVES,
    each=_at_rest,
)
def gap(build: Build, part: Clearance) -> Expected:
    """Measure the gaps around the engine on its mounts.

    How: Weight on the mounts, everything fitted that the engine moves with. The limit is what the engine moves.
    """
    return expect(lambda: part.gap, at_least=lambda: movement(build, part))


@step(
    "mounts.gap-at-bump",
    moment="trial-fit",
    instrument="feeler gauge or ruler, ±1 mm",
    write="vehicle.clearances.*.gap_at_bump",
    sources=MOVES,
    cautions=[cautions.CRUSH],
    each=_over_axles,
)
def gap_at_bump(build: Build, part: Clearance) -> Expected:
    """Measure the gaps over axles and shafts with the suspension on its stops.

    How: As the others, the axle jacked against its stops on both sides, then on one.
    """
    return expect(lambda: part.gap_at_bump, at_least=lambda: movement(build, part))


@step(
    "mounts.witness",
    moment="first-drive",
    instrument="putty in every gap, calliper ±1 mm",
    write="measured.launch.gaps.*.least",
    also=["measured.launch.date", "measured.launch.by"],
    sources=[sheet("vehicle.clearances.*.gap_min")],
    after=["gearing.engine-speed"],
    each=gaps,
    accuracy=0.1,
)
def witness(build: Build, part: Clearance) -> Expected:
    """Measure what the mark in the gap still shows after a hard start, a hard stop and rough ground.

    How: Putty in each gap before the drive; full torque in first gear, a hard stop, rough ground. The prediction is for
    the worst case: more than that is well.
    Stop: something knocks or rubs.
    """
    asked = given(lambda: part.gap_min)
    return expect(lambda: gap_left(build, part), "or more", at_least=None if asked is None else lambda: part.gap_min)


@step("mounts.tighten", moment="before-crank", instrument="torque wrench", cautions=[cautions.CRUSH], each=mounts)
def tighten(build: Build, mount: Mount) -> Expected:
    """Tighten the bolts of the mount's bracket.

    How: Threads clean and dry, weight on the mounts, crosswise in two rounds; mark each bolt.
    """
    return expect(lambda: mount.bolts.torque, "each bolt")


@step("mounts.bolts", moment="first-hundred-hours", instrument="torque wrench", cautions=[cautions.CRUSH])
def bolts(build: Build) -> Expected:
    """Tighten the bolts of mounts, brackets and adapter again, after 50 km and after 500 km.

    How: Weight on the mounts, to the torque of the drawing; mark each bolt.
    """
    len(build.vehicle.mounts)
    return expect("no bolt turns further than its mark")


@step("mounts.rubber", moment="yearly", instrument="lamp and lever")
def rubber(build: Build) -> Expected:
    """Look at the rubber of the mounts.

    How: Lift the engine a little with a lever at each mount.
    """
    len(build.vehicle.mounts)
    return expect("no crack, no rubber off its metal, no oil on it")
