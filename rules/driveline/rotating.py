"""The rule about what turns with the crank: flywheel, clutch, converter."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Verdict, at_most, cautions, path_of, rule, sheet, shown

from ..gearing import chain
from .interfaces import AUTOMATIC

RPM = ("rotation", "r/min")


def turning_parts(build: Build) -> list[Any]:
    """What turns with the crank and has a highest speed of its own: the flywheel, and the clutch or the converter."""
    driveline = build.driveline
    return [build.engine.flywheel, driveline.converter if chain.has_converter(build) else driveline.clutch]


@rule(
    "driveline.burst-speed",
    level="error",
    due="build",
    sources=[
        sheet("driveline.clutch.speed_max"),
        sheet("driveline.converter.speed_max"),
        sheet("engine.flywheel.speed_max"),
        sheet("engine.speed.overspeed_max"),
    ],
    cautions=[cautions.ROTATING],
    about="driveline.clutch.speed_max",
    each=turning_parts,
    bad=[
        {"driveline.clutch.speed_max": "4300 r/min"},
        {"engine.flywheel.speed_max": "4000 r/min"},
        {**AUTOMATIC, "driveline.converter.speed_max": "4200 r/min"},
    ],
    good=[{"driveline.clutch.speed_max": "4500 r/min"}, AUTOMATIC],
)
def burst_speed(build: Build, turning: Any) -> Verdict:
    """Do flywheel, clutch and converter hold together at the highest speed that the engine may be driven to?

    Computes: nothing; the speed that the engine may reach when the vehicle drives it, downhill or in a gear too low.
    Limit: the highest speed that the maker of each part allows.
    Consequence: The part flies to pieces; cast iron goes through bell housing, floor and people.
    Remedy: a part that is rated for the engine's speed. Ask for a tested rating, not for what others ran.
    Cannot tell: a disc that a wrong down-shift spins faster than the engine while the pedal is down, cracks from heat,
    a part turned or drilled after it was rated. The fan: see cooling.fan-flow.
    """
    most, fastest = turning.speed_max, build.engine.speed.overspeed_max
    says = f"The engine may be driven to {shown(fastest)}; this part is rated for {shown(most)}."
    says += " Fit one that is rated for it." if fastest > most else ""
    return at_most(fastest, most, says, on=f"{path_of(turning)}.speed_max", unit=RPM)
