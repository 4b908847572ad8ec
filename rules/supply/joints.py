"""The rule about joints: two ends that differ need something between them, and somebody who supplies it."""

from __future__ import annotations

from typing import Literal

from swaplint.api import Build, Verdict, cautions, given, holds, name_of, needs_review, path_of, practice, rule
from swaplint.spec.systems.supply import LOOK_ALIKE, Joint, JointEnd, SupplyLine

from .quoted import item_of

FITS = practice("two ends that differ in form or size take an adapter")

STOPS = ("driveline", "fuel", "brakes", "steering")
"""Where a makeshift is dangerous, so that the work stops for a fitting."""
SUPPLIED = ("kit", "shop", "owner", "existing")


@rule(
    "supply.interface-adapters",
    level="error",
    due="quote",
    sources=[FITS.giving("limit", "ends that fit, or an adapter with a supplier")],
    cautions=[cautions.FUEL_FIRE, cautions.BRAKES],
    about="joints",
    each=lambda build: list(build.joints.values()),
    bad=[
        {"joints.lift_pump.other.size": "M18x1.5"},
        {"joints.lift_pump.other.form": "taper-pipe-thread"},
        {"joints.lift_pump.other.side": "inner"},
        {"supply[10].joins": []},
    ],
    good=[{"joints.lift_pump.other.size": "m16 x 1.5"}, {"supply[10].joins": [], "supply[2].joins": ["heater_stub"]}],
)
def interface_adapters(build: Build, joint: Joint) -> Verdict:
    """Does each pair of ends fit, or does somebody supply what joins them?

    Computes: nothing; compares the form, the size and the side of both ends of each joint, and looks for a line of the
    scope of supply that names the joint in `joins`.
    Limit: equal, or an adapter; a missing one is an error where driveline, fuel, brakes or steering are joined.
    Consequence: The work stops for a fitting, or somebody makes one that leaks.
    Remedy: ask for the adapter that is named, and name the joint in the `joins` of its line.
    Cannot tell: joints that nobody listed; metric, inch and pipe threads that look alike: measure pitch and taper with
    a gauge before ordering.
    """
    lines = [line for line in build.supply if name_of(joint) in (given(lambda line=line: line.joins) or ())]  # type: ignore[misc]
    one, other = joint.one, joint.other
    both = _both(one, other)
    supplied = [line for line in lines if line.by in SUPPLIED]
    if _fit(one, other):
        if joint.known_by == "eye" and str(one.form) in LOOK_ALIKE:
            says = f"{both} fit as far as the eye can tell: put a thread gauge on them before parts are ordered."
            return needs_review(says, on=path_of(joint))
        return holds(True, f"{both} fit.", on=path_of(joint))
    if supplied:
        return _joined(joint, both, supplied[0])
    says = f"{both} do not fit, and nobody supplies what joins them: ask for an adapter, and name {name_of(joint)} in "
    return holds(False, f"{says}the joins of its line.", level=_level(joint), on=path_of(joint))


def _joined(joint: Joint, both: str, line: SupplyLine) -> Verdict:
    if joint.known_by == "eye" and {str(joint.one.form), str(joint.other.form)} & set(LOOK_ALIKE):
        says = f"{item_of(line)} is to join {both}, which are known by eye: put a thread gauge on them first."
        return needs_review(says, on=path_of(joint))
    return holds(True, f"{item_of(line)} joins {both}.", on=path_of(joint))


def _fit(one: JointEnd, other: JointEnd) -> bool:
    sides = {str(one.side), str(other.side)}
    return (
        one.form == other.form
        and _squashed(one.size) == _squashed(other.size)
        and sides in ({"outer", "inner"}, {"alike"})
    )


def _squashed(size: str) -> str:
    """A size as it is compared: 'M16x1.5', 'M16 x 1,5' and 'm16×1.5' are one."""
    return "".join(str(size).casefold().replace("×", "x").replace(",", ".").split())


def _both(one: JointEnd, other: JointEnd) -> str:
    """Both ends, the sizes first: `M16x1.5 inner and M18x1.5 outer (metric thread)`."""
    if one.form == other.form:
        return f"{_sized(one)} and {_sized(other)} ({_words(one)})"
    return f"{_sized(one)} ({_words(one)}) and {_sized(other)} ({_words(other)})"


def _sized(end: JointEnd) -> str:
    return str(end.size) if end.side == "alike" else f"{end.size} {end.side}"


def _words(end: JointEnd) -> str:
    return str(end.form).replace("-", " ")


def _level(joint: Joint) -> Literal["error", "warning"]:
    return "error" if joint.carries in STOPS else "warning"
