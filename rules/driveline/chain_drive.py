"""The rule about a chain or belt that drives an axle."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Verdict, at_most, cautions, given, path_of, practice, quantity, rule, sheet, shown
from swaplint.engineering import gears

from .. import sources
from ..gearing import chain
from . import loads

PULL = practice("the pull of a chain or toothed belt is the torque of its wheel over the radius at which it runs there")
CHAIN = {
    "driveline.axles.rear.driven_through": "chain",
    "driveline.axles.rear.final_chain": {"teeth": 45, "pitch": "25.4 mm", "pull_max": "80 kN"},
    "driveline.shafts.rear": {"fitted": False},
}

TO_A_PERSON = (
    "exhaust.flex-section",
    "fit.bay-box",
    "fit.fan-gap",
    "fit.hood-clearance",
    "fit.steering-shaft-clearance",
    "fit.sump-axle",
    "mounts.bracket-shock",
    "mounts.bracket-strength",
    "mounts.cross-member",
    "mounts.flexible-bridges",
    "mounts.movement-envelope",
    "mounts.torque-reaction",
)
"""The rules that cannot tell how a chain at the unit moves it, and leave that to a person."""


def chained(build: Build) -> list[Any]:
    """The axles that a chain or belt drives."""
    return [axle for axle in chain.powered_axles(build) if chain.driven_through(axle) in ("chain", "belt")]


@quantity(
    "driveline.chain-pull",
    "force",
    "N",
    formula="F = T_axle/(i_hub·r); r = p/(2·sin(π/z)) of a chain wheel, z·p/(2π) of a belt pulley",
    sources=[PULL.giving("formula", "pull"), sources.MACHINE_DESIGN.giving("formula", "radius through the pins")],
    each=chained,
)
def chain_pull(build: Build, axle: Any) -> float:
    """Largest pull of the chain or belt that drives an axle: of the engine, or of tyres that slip."""
    drive, hub = axle.final_chain, given(lambda: float(axle.hub_reduction))
    radius_of = gears.belt_pulley_radius if chain.driven_through(axle) == "belt" else gears.chain_wheel_radius
    return loads.axle_torque(build, axle) / ((1.0 if hub is None else hub) * radius_of(drive.pitch, drive.teeth))


@rule(
    "driveline.chain-pull",
    level="error",
    due="quote",
    sources=[
        sheet("driveline.axles.rear.final_chain.pull_max"),
        PULL.giving("formula", "pull"),
        sources.MACHINE_DESIGN.giving("formula", "radius through the pins"),
    ],
    cautions=[cautions.ROTATING],
    about="driveline.axles.*.final_chain",
    each=chained,
    stricter=TO_A_PERSON,
    without={
        "driveline.axles.*.driven_through": "Where no shaft drives an axle, and nobody says what else does, "
        "driveline.housing-match asks."
    },
    bad=[{**CHAIN, "driveline.axles.rear.final_chain.pull_max": "30 kN"}],
    good=[CHAIN],
)
def chain_strength(build: Build, axle: Any) -> Verdict:
    """Does the chain or belt to an axle bear the largest pull that the engine and the tyres can put on it?

    Computes: the largest torque at the axle, from the engine or from tyres that slip, over hub reduction and the radius
    at which chain or belt runs on the wheel there.
    Limit: the greatest pull that its maker allows in such a drive.
    Consequence: The chain breaks, jams in its wheel and locks the axle, or flies out at who stands near.
    Remedy: a larger or a double chain, a wider belt; a larger wheel on the axle, with the smaller one to match.
    Cannot tell: wear, slack and line of the wheels, the whip of a loose chain, its speed and its oil; two chains side
    by side share the pull unevenly. A ratio stated against the teeth: see driveline.axle-torque.
    """
    pull, on = chain_pull(build, axle), f"{path_of(axle)}.final_chain.pull_max"
    most = axle.final_chain.pull_max
    says = f"Up to {shown(pull, digits=3)} pull at the {chain.driven_through(axle)}, which bears {shown(most)}."
    says += " Fit a stronger one, or a larger wheel on the axle." if pull > most else ""
    return at_most(pull, most, says, on=on)
