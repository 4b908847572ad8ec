"""The rule about the fluids of brakes, clutch and steering, and the seals that they touch."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    cautions,
    does_not_apply,
    given,
    holds,
    name_of,
    needs_review,
    part_named,
    path_of,
    practice,
    regulation,
    rule,
    sheet,
)

US_FLUIDS = regulation(
    "US 49 CFR 571.116, motor vehicle brake fluids, edition of 1998 (definitions read in a partial copy)",
    known="second-hand",
)
BOILING = practice("brake fluid of DOT 3 boils earlier than DOT 4, and that earlier than DOT 5.1")

CLUTCH = "driveline.clutch.fluid"
BRAKES = "vehicle.brakes.fluid"
ENDS = {BRAKES: ("master", "wheels"), CLUTCH: ("master", "slave")}
"""What the fluid of each has at its two ends, at the least; in the steering it is pump and gear."""

GLYCOL, SILICONE, MINERAL = "glycol", "silicone", "mineral oil"
SIGNS = {
    SILICONE: re.compile("dot5(?!1)|j1705|silicone(?!free)"),
    GLYCOL: re.compile("dot[34]|dot51|j1703|j1704|iso4925|glycol"),
    MINERAL: re.compile("atf|mineral|petroleum|iso7308|din51524|hlp|hvlp|isovg|hydraulicoil"),
}
"""What in a standard's name tells of what a fluid is made of."""
GRADES = ("dot3", "dot4", "dot51")
"""Brake fluids on glycol, in the order of their boiling points."""


def circuits(build: Build) -> Iterator[Any]:
    """The fluids of brakes, clutch and steering; whether the build has each, the rule asks."""
    yield build.vehicle.brakes.fluid
    yield build.driveline.clutch.fluid
    yield build.vehicle.steering.fluid


def _none_because(build: Build, fluid: Any) -> str | None:
    """Why a build has no such fluid; None where it has."""
    where = path_of(fluid)
    if where == BRAKES:
        return "Air works the brakes." if build.vehicle.brakes.assist == "air" else None
    if where == CLUTCH:
        if build.driveline.gearbox.kind != "manual":
            return "There is no clutch pedal."
        return None if build.driveline.clutch.worked_by == "hydraulics" else "No fluid works the clutch."
    return None if build.vehicle.steering.assist == "hydraulic" else "No fluid assists the steering."


def squashed(name: str) -> str:
    """A standard's name as it is compared: 'DOT 5.1' and 'dot5.1' are one."""
    return "".join(letter for letter in name.casefold() if letter.isalnum())


def family_of(name: str) -> str | None:
    """What a fluid of a standard is made of; None where that is not known here.

    >>> family_of("DOT 5"), family_of("DOT 5.1"), family_of("DOT 4 LV"), family_of("ATF type A"), family_of("B 7")
    ('silicone', 'glycol', 'glycol', 'mineral oil', None)
    """
    kinds = [kind for kind, signs in SIGNS.items() if signs.search(squashed(name))]
    return kinds[0] if len(kinds) == 1 else None


@rule(
    "chassis.hydraulic-fluid",
    level="error",
    due="build",
    sources=[
        sheet("vehicle.brakes.fluid.parts.*.made_for").giving("limit", "fluids that the part is made for"),
        sheet("driveline.clutch.fluid.parts.*.made_for").giving("limit", "fluids that the part is made for"),
        sheet("vehicle.steering.fluid.parts.*.made_for").giving("limit", "fluids that the part is made for"),
        US_FLUIDS.giving("limit", "brake fluid and mineral oil are for seals of different rubber"),
        BOILING.giving("limit", "a grade that boils no earlier", demands=["grade"]),
    ],
    cautions=[cautions.BRAKES],
    about="vehicle.brakes.fluid",
    each=circuits,
    bad=[
        {f"{BRAKES}.parts.master.made_for": ["mineral oil"]},
        {f"{BRAKES}.standards": ["DOT 5"]},
        {f"{BRAKES}.parts.wheels.made_for": ["DOT 5.1"]},
        {f"{CLUTCH}.parts.slave.made_for": ["ISO 7308"]},
        {
            f"{CLUTCH}.standards": ["mineral oil"],
            f"{CLUTCH}.parts.master.made_for": ["mineral oil"],
            f"{CLUTCH}.parts.slave.made_for": ["mineral oil"],
            "driveline.clutch.filled_from": "brakes",
        },
        {"vehicle.steering.fluid.standards": ["DOT 4"]},
    ],
    good=[
        {f"{BRAKES}.standards": ["DOT 5.1"]},
        {
            f"{CLUTCH}.standards": ["mineral oil"],
            f"{CLUTCH}.parts.master.made_for": ["mineral oil"],
            f"{CLUTCH}.parts.slave.made_for": ["mineral oil"],
            "driveline.clutch.filled_from": "own",
        },
    ],
)
def hydraulic_fluid(build: Build, fluid: Any) -> Verdict:
    """Do the seals of brakes, clutch and steering bear the fluid that is poured in?

    Computes: what each fluid is made of by its standard: glycol (DOT 3, 4 and 5.1), silicone (DOT 5) or mineral oil
    (ATF, hydraulic oil); compares it with what each part that it touches is made for, and clutch with brakes where both
    are filled from one reservoir. Of glycol fluids it compares the grade.
    Limit: the data sheet of each part, or the lid of its reservoir: an error where none of its fluids is of that kind.
    A grade that boils earlier than what the part is made for: a warning.
    Consequence: Wrong fluid swells the seals: weeks later the pedal sinks, or the brakes stay on.
    Remedy: a master cylinder, slave cylinder or booster made for the fluid that is in the rest, or the other parts
    changed as well. A part that had the wrong fluid in it gets new seals: rinsing does not save them.
    Cannot tell: what is in the reservoir in truth; a mixture; hoses; parts between the two ends that nobody lists.
    Some seals bear silicone and glycol: where a sheet names both, both pass.
    """
    none = _none_because(build, fluid)
    if none is not None:
        return does_not_apply(none)
    wetted = _wetted(fluid)
    demands: dict[str, Callable[[], Verdict]] = {
        f"seals.{name_of(part)}": partial(_borne, fluid, part) for part in wetted
    }
    if _grade(fluid.standards) is not None:
        demands["grade"] = lambda: _boils_late_enough(fluid, wetted)
    if path_of(fluid) == CLUTCH and _unlike(build):
        demands["one-reservoir"] = lambda: _apart(build)
    return all_of(demands)


def _wetted(fluid: Any) -> list[Any]:
    """The parts that a fluid touches: those listed, and of its two ends the one that is not."""
    listed = list(fluid.parts.values())
    if not listed:
        return listed
    first, second = ENDS.get(path_of(fluid), ("pump", "gear"))
    ahead = [first in name_of(part) for part in listed]
    left_out = ([] if any(ahead) else [first]) + ([second] if all(ahead) else [])
    return [*listed, *(part_named(fluid, "parts", name) for name in left_out)]


def _unlike(build: Build) -> bool:
    """Whether what the clutch takes and what the brakes take are known to be of different kinds."""
    clutch, brakes = (
        given(lambda fluid=fluid: _families(fluid.standards))  # type: ignore[misc]
        for fluid in (build.driveline.clutch.fluid, build.vehicle.brakes.fluid)
    )
    return bool(clutch and brakes and not clutch & brakes)


def _apart(build: Build) -> Verdict:
    own, on = build.driveline.clutch.filled_from == "own", "driveline.clutch.filled_from"
    kinds = f"clutch takes {_listed(build.driveline.clutch.fluid.standards)}, the brakes take "
    kinds += _listed(build.vehicle.brakes.fluid.standards)
    if own:
        return holds(True, f"The {kinds}, each from a reservoir of its own: mark both lids.", on=on)
    return holds(False, f"The {kinds}, and one reservoir fills both: give the clutch one of its own.", on=on)


def _borne(fluid: Any, part: Any) -> Verdict:
    poured, borne = list(fluid.standards), list(part.made_for)
    on = f"{path_of(part)}.made_for"
    says = f"The fluid is {_listed(poured)}; {name_of(part).replace('_', ' ')}: made for {_listed(borne)}"
    kinds, allowed = _families(poured), _families(borne)
    if {squashed(name) for name in poured} & {squashed(name) for name in borne} and len(kinds) < 2:
        return holds(True, f"{says}.", on=on)
    if len(kinds) > 1:
        both = " and ".join(sorted(kinds))
        return needs_review(f"{says}. {both.capitalize()} do not mix: state the one that is poured in.", on=on)
    if not kinds or not allowed:
        return needs_review(f"{says}: whether they are of one kind is not known here. Ask the part's maker.", on=on)
    if kinds & allowed:
        return holds(True, f"{says}: both {' and '.join(sorted(kinds))}.", on=on)
    says += f": {' and '.join(sorted(kinds))} ruins seals for {' and '.join(sorted(allowed))}. Fit a part made for it."
    return holds(False, says, on=on)


def _boils_late_enough(fluid: Any, wetted: list[Any]) -> Verdict:
    found = _grade(fluid.standards)
    assert found is not None
    for part in wetted:
        least = _grade(part.made_for)
        if least is not None and least > found:
            says = f"The fluid is {_listed(fluid.standards)}; {name_of(part).replace('_', ' ')}: made for "
            says += f"{_listed(part.made_for)}, which boils later. Fill it with that."
            return holds(False, says, level="warning", on=f"{path_of(fluid)}.standards")
    return holds(True, "No part asks for a fluid that boils later.", on=f"{path_of(fluid)}.standards")


def _grade(names: Iterable[str]) -> int | None:
    """The lowest grade of brake fluid that a list names, by its place in their order; None where it names none."""
    grades = [order for name in names for order, key in enumerate(GRADES) if squashed(name).startswith(key)]
    return min(grades) if grades else None


def _families(names: Iterable[str]) -> set[str]:
    return {family for name in names if (family := family_of(name)) is not None}


def _listed(names: Iterable[str]) -> str:
    return " or ".join(str(name) for name in names) or "nothing that is named"
