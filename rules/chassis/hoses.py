"""The rule about the hoses of heater, brake vacuum, steering and air conditioning."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    part_named,
    path_of,
    rule,
    standard,
)

MARKS = {
    "heater": ("SAE J20", "ISO 4081", "DIN 73411"),
    "brake-vacuum": ("SAE J1403", "FMVSS 106", "DIN 74310"),
    "steering-pressure": ("SAE J188", "SAE J2050", "SAE J2076"),
    "steering-return": ("SAE J189",),
    "refrigerant": ("SAE J2064", "SAE J3062"),
    "fuel": ("SAE J30", "SAE J1527", "ISO 7840", "ISO 19013"),
}
"""Standards of hoses by what they are made to carry. No hose of one kind does the work of another."""
OF_MARKS = standard(
    "SAE J20, J188, J189, J1403, J2050, J2064, J2076, J3062, ISO 4081, DIN 73411 and 74310, US FMVSS 106: hoses by use",
    known="from memory",
)


def kind_of(hose: Any) -> str:
    """What a hose carries: as stated, else by its own name where that says it."""
    said = given(lambda: str(hose.carries))
    if said is None and name_of(hose) in NEEDED:
        return name_of(hose)
    return str(hose.carries)


NEEDED = ("heater-feed", "heater-return", "brake-vacuum", "steering-pressure", "steering-return", "refrigerant-suction")


NEEDS: tuple[tuple[Callable[[Build], bool], tuple[str, ...]], ...] = (
    (lambda build: is_fitted(build.plumbing.cooling.heater), ("heater-feed", "heater-return")),
    (lambda build: build.vehicle.brakes.assist == "vacuum", ("brake-vacuum",)),
    (lambda build: build.vehicle.steering.assist == "hydraulic", ("steering-pressure", "steering-return")),
    (lambda build: is_fitted(build.plumbing.air_conditioning), ("refrigerant-suction",)),
)
"""What needs a hose, and what those carry."""


def hoses_needed(build: Build) -> list[str]:
    """What heater, booster, steering and air conditioning need a hose for."""
    return [what for needs, carried in NEEDS if needs(build) for what in carried]


def known_to_be_needed(build: Build) -> list[str]:
    """The same of those of which it is known that the build has them."""
    return [
        what
        for needs, carried in NEEDS
        if given(lambda needs=needs: needs(build))  # type: ignore[misc]
        for what in carried
    ]


def _hoses(build: Build) -> list[Any]:
    """The hoses that are stated, and those that are needed and not stated."""
    stated = given(lambda: [hose for hose in build.plumbing.hoses.values() if is_fitted(hose)]) or []
    there = {given(lambda hose=hose: kind_of(hose)) for hose in stated}  # type: ignore[misc]
    return [*stated, *(what for what in hoses_needed(build) if what not in there)]


def _made_for(marked: str) -> set[str]:
    """What a hose with this mark is made for, as far as the standards are known here."""
    said = " ".join(marked.upper().replace("-", " ").split()) + " "
    return {use for use, marks in MARKS.items() if any(f"{mark} " in said for mark in marks)}


@rule(
    "chassis.hoses",
    level="warning",
    due="build",
    sources=[OF_MARKS.giving("limit", "what each standard of hose is made for")],
    cautions=[cautions.BRAKES, cautions.STEERING],
    about="plumbing.hoses",
    each=_hoses,
    bad=[
        {"plumbing.hoses.brake_vacuum.marked": "SAE J20 R3"},
        {"plumbing.hoses.steering_pressure.marked": "SAE J30 R9"},
        {"plumbing.hoses.steering_return.marked": "SAE J20 R3"},
    ],
    good=[{"plumbing.hoses.heater_feed.marked": "DIN 73411"}],
)
def hoses(build: Build, hose: Any) -> Verdict:
    """Is each hose of heater, brake vacuum, steering and air conditioning made for what it carries?

    Computes: nothing; the standard that is printed on the hose is compared with what it carries.
    Limit: a standard for that use (from memory). A hose of a standard for another use fails; of a mark not known here a
    person decides.
    Consequence: Coolant hose on a booster collapses, fuel hose on a steering pump bursts.
    Remedy: hose that is sold and marked for it.
    Cannot tell: age, and a hose without a mark; the pressure that it is rated for: see chassis.steering-pressure.
    """
    missing = isinstance(hose, str)
    part: Any = part_named(build.plumbing, "hoses", str(hose)) if missing else hose
    carries, on = str(hose) if missing else kind_of(part), f"{path_of(part)}.marked"
    if carries == "other":
        return does_not_apply("What it carries is none of those that are judged here.")
    use = carries.partition("-")[0] if carries.startswith(("heater", "refrigerant")) else carries
    marked = str(part.marked)
    made_for = _made_for(marked)
    what = carries.replace("-", " ")
    if use in made_for:
        return holds(True, f"Marked {marked}: made for {what}.", on=on)
    if made_for:
        wrong = ", ".join(sorted(made_for)).replace("-", " ")
        return holds(False, f"Marked {marked}: that is hose for {wrong}, and it carries {what}.", on=on)
    return needs_review(f"Marked {marked}: whether it is made for {what} is for its maker to say.", on=on)
