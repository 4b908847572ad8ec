"""The rule about parts of the fuel system that no build can do without."""

from __future__ import annotations

from functools import partial

from swaplint.api import Build, Verdict, all_of, cautions, holds, is_fitted, practice, rule

PARTS = {"tank": "fuel tank", "supply": "fuel line to the engine"}
FED = practice("an engine burns fuel out of a tank, through a line")


@rule(
    "fuel.needed-parts",
    level="error",
    due="quote",
    sources=[FED.giving("limit", "a tank and a supply line")],
    cautions=[cautions.FUEL_FIRE],
    about="plumbing.fuel.tank",
    bad=[{"plumbing.fuel.tank": {"fitted": False}}, {"plumbing.fuel.supply": {"fitted": False}}],
    good=[{"plumbing.fuel.second_tank": {"fitted": False}}],
)
def needed_parts(build: Build) -> Verdict:
    """Are the tank and its line there?

    Computes: nothing; looks for a tank or a supply line that is stated as not fitted.
    Limit: common practice: an engine has both. Pumps, filters, vent and return are asked for by their own rules.
    Consequence: The engine gets no fuel, or fuel comes out of something that nobody looked at.
    Remedy: state the tank and the line that feed the engine.
    Cannot tell: whether the engine is a gas engine, whose tanks are not modelled.
    """
    return all_of({name: partial(_there, build, name) for name in PARTS})


def _there(build: Build, name: str) -> Verdict:
    there = is_fitted(getattr(build.plumbing.fuel, name))
    says = f"The build has a {PARTS[name]}." if there else f"There is no {PARTS[name]}: the engine gets no fuel."
    return holds(there, says, on=f"plumbing.fuel.{name}")
