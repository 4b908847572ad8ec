"""What is done and looked at where the engine hangs: lifting, welding, gaps, bolts."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, step
from swaplint.spec.systems.fit import Clearance

from .. import sources
from .movement import gap_at_rest, gaps, movement
from .quantities import unit_mass


@step("mounts.sling", moment="before-lifting", cautions=[cautions.CRUSH])
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


@step(
    "mounts.gap",
    moment="trial-fit",
    instrument="feeler gauge or ruler, ±1 mm",
    write="vehicle.clearances.*.gap",
    sources=[sources.SPRINGS_AND_MASSES.giving("limit", "how far the engine moves on its mounts")],
    each=gaps,
)
def gap(build: Build, part: Clearance) -> Expected:
    """Measure the gap with the engine on its mounts.

    How: Weight on the mounts, everything fitted that the engine moves with. It must exceed what the engine moves.
    """
    return expect(lambda: gap_at_rest(part), at_least=lambda: movement(build, part))


@step("mounts.witness", moment="first-drive", instrument="putty in every gap")
def witness(build: Build) -> Expected:
    """Look at the marks in the gaps around the engine after a hard start and a hard stop.

    How: Putty in each gap before the drive; full torque in first gear, a hard stop, rough ground.
    Stop: something knocks or rubs.
    """
    if len(build.vehicle.clearances):
        return expect("every mark untouched")
    return expect("nothing touched")


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
