"""The rule about the places that the build is designed for."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_least,
    does_not_apply,
    owner,
    rule,
    shown,
)

from ..places import design_places

POINTS = "build.design.points"


@rule(
    "cooling.design-places",
    level="warning",
    due="quote",
    sources=[owner("build.design.ambient_max"), owner("build.design.altitude_max")],
    about=POINTS,
    bad=[
        {
            POINTS: {
                "plain": {"altitude": "0 m", "ambient": "32 degC"},
                "pass": {"altitude": "1500 m", "ambient": "20 degC"},
            }
        },
        {
            POINTS: {
                "plain": {"altitude": "0 m", "ambient": "40 degC"},
                "hill": {"altitude": "400 m", "ambient": "30 degC"},
            }
        },
    ],
    good=[
        {
            POINTS: {
                "plain": {"altitude": "0 m", "ambient": "40 degC"},
                "pass": {"altitude": "1500 m", "ambient": "24 degC"},
            }
        }
    ],
    without={
        "build.design.points": "Without places all rules take the hottest air and the highest place themselves.",
    },
)
def design_places_reach(build: Build) -> Verdict:
    """Do the stated places reach up to the hottest air and the highest place of the build?

    Computes: the hottest air and the greatest height among the places.
    Limit: the hottest air and the highest place that the owner asks for. Where places are stated the cooling is judged
    at them alone.
    Consequence: The cooling is proven for mild places only, and the engine overheats in the one left out.
    Remedy: one more place: the hottest one with its height, the highest one with its hottest air.
    Cannot tell: whether height and air of a place belong together: ask somebody who works there.
    """
    places = design_places(build)
    if not places:
        return does_not_apply("The spec states no places, only the hottest air and the highest place.")
    wanted = build.build.design

    def hottest() -> Verdict:
        found = max(float(place.ambient) for place in places)
        asked = shown(wanted.ambient_max)
        says = f"The hottest of the places has {shown(found, 'temperature', 'degC')}; {asked} is asked for."
        if found < wanted.ambient_max:
            says += " Name the place where it gets so hot."
        return at_least(found, wanted.ambient_max, says, unit=("temperature", "degC"), scale=10.0)

    def highest() -> Verdict:
        found = max(float(place.altitude) for place in places)
        says = (
            f"The highest of the places is {shown(found, 'length', 'm')} up; {shown(wanted.altitude_max)} is asked for."
        )
        if found < wanted.altitude_max:
            says += " Name the place that is so high."
        return at_least(found, wanted.altitude_max, says, unit=("length", "m"), scale=1000.0)

    return all_of(hottest=hottest, highest=highest)
