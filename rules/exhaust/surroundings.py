"""Rules of what is around the exhaust: heat, and where the gas goes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    cautions,
    does_not_apply,
    each_of,
    given,
    holds,
    is_fitted,
    only_asking,
    part_named,
    path_of,
    practice,
    rule,
    shown,
)
from swaplint.spec.systems.exhaust import HeatGap

from .. import sources
from ..mounts import movement
from ..mounts.quantities import AS_SPRINGS
from ..needed import needed
from ..vegetation import over_vegetation

Level = Literal["error", "warning", "note"]

SCREEN = "plumbing.intake.inlet.ember_screen"
OUTLET, GAPS = "plumbing.exhaust.outlet", "plumbing.exhaust.heat_gaps"

HEAT = practice(
    "beside a bare turbocharger, manifold or down-pipe 200 mm to what burns, 150 mm to brake hose and rubber, 100 mm "
    "to wiring, 75 mm to the floor; half behind a shield with air behind it"
)
STEERING_HEAT = practice("50 mm from the exhaust to steering shaft and joints, half behind a shield")
REGULATED = {"wiring": 0.050, "brake-part": 0.050, "combustible": 0.050, "gas-line": 0.150}
"""Least gap by regulation, m."""
BESIDE_TURBO = {
    "wiring": 0.100,
    "brake-part": 0.150,
    "rubber": 0.150,
    "floor": 0.075,
    "combustible": 0.200,
    "steering": 0.050,
}
"""Least gap beside the hottest parts, m: common practice. What burns keeps further off than what chars or melts."""
SHIELD = 0.5
WORDS = {
    "wiring": "wiring",
    "brake-part": "a brake part",
    "rubber": "rubber",
    "floor": "the floor",
    "combustible": "something that burns",
    "gas-line": "a line of pressurised gas",
    "steering": "steering shaft or joint",
}
EVERYWHERE = ("wiring", "brake-part", "floor", "steering")
"""What every vehicle has somewhere near its exhaust: how near is asked for, or `fitted = false` says that it is far."""

OPENING = 0.300
GAS = practice(
    "no outlet under the body, within 300 mm of a window or vent that opens, onto a tyre, tank, brakes or people"
)
SPARKS = practice("off the road a spark arrester, unless the forest authority accepts turbocharger or filter instead")


# -- heat -------------------------------------------------------------------------------------------------------------
def heat_gaps(build: Build) -> list[HeatGap]:
    """What is near the exhaust. There is always something: a floor, wiring, rubber."""
    return needed(build, GAPS, [gap for gap in each_of(build.plumbing.exhaust.heat_gaps) if is_fitted(gap)])


def gaps_asked(build: Build) -> list[HeatGap]:
    """What is near the exhaust, and whatever every vehicle has there that nobody says how near it is."""
    found = heat_gaps(build)
    if only_asking(build) and len(found) == 1:
        return found  # where nobody lists any the host makes one up, and that one is asked for
    kinds = {given(lambda gap=gap: str(gap.what)) for gap in found}  # type: ignore[misc]
    if None in kinds:
        return found  # it may be any of them, and is asked for already
    listed = build.plumbing.exhaust.heat_gaps
    far = [name for name, gap in listed.items() if not is_fitted(gap)]
    left_out = [
        kind for kind in EVERYWHERE if kind not in kinds and not any(kind.split("-")[0] in name for name in far)
    ]
    asked = [name for name in (kind.replace("-", "_") for kind in left_out) if name not in listed]
    return [*found, *(part_named(build.plumbing.exhaust, "heat_gaps", name) for name in asked)]


def least_gap(gap: HeatGap) -> float:
    """The gap, m, that something near the exhaust needs. Raises `Unknown` where what it is is not stated."""
    by_law = REGULATED.get(gap.what, 0.0)
    if not gap.near_turbocharger and gap.what in REGULATED:
        return by_law
    beside = BESIDE_TURBO.get(gap.what, by_law)
    return max(by_law, beside * SHIELD if gap.shielded else beside)


def gap_left(build: Build, gap: HeatGap) -> float:
    """The gap, m, with the engine at its stops: as stated, or what its movement leaves of the clearance it names."""
    name = given(lambda: gap.clearance)
    return gap.gap if name is None else movement.gap_left(build, build.vehicle.clearances[name])


@rule(
    "exhaust.heat-clearance",
    level="warning",
    due="build",
    sources=[
        sources.EXHAUST_GAPS.giving(
            "limit", "50 mm to wiring, brake parts and what burns, 150 mm to gas lines", known="published"
        ),
        HEAT.giving(
            "limit",
            "200 mm to what burns, 150 mm to brake hose and rubber, 100 mm to wiring, 75 mm to the floor; half behind "
            "a shield",
        ),
        STEERING_HEAT.giving("limit", "50 mm to steering shaft and joints", known="from memory"),
    ],
    cautions=[cautions.FUEL_FIRE, cautions.HOT],
    fallbacks=AS_SPRINGS,
    adjust=[f"{GAPS}.*.gap"],
    each=gaps_asked,
    bad=[
        {f"{GAPS}.starter_cable.gap": "80 mm"},
        {f"{GAPS}.brake_hose.gap": "40 mm"},
    ],
    good=[
        {
            f"{GAPS}.starter_cable.gap": "60 mm",
            f"{GAPS}.starter_cable.shielded": True,
        }
    ],
    instead={f"{GAPS}.*.clearance": f"{GAPS}.*.gap"},
)
def heat_clearance(build: Build, gap: HeatGap) -> Verdict:
    """Is everything that burns, melts or boils far enough from the exhaust?

    Computes: each gap, as stated with the engine at its stops, or less the engine's movement where it names a gap under
    `vehicle.clearances`; it is compared with what its kind needs.
    Limit: 50 mm to wiring, brake parts and what burns, 150 mm to lines of pressurised gas, by regulation, shielded or
    not. Common practice: beside turbocharger, manifold and down-pipe 200 mm to what burns, 150 mm to brake hose and
    100 mm to wiring; 150 mm to rubber, 75 mm to the floor and 50 mm to steering shaft and joints anywhere; half of that
    behind a shield. An error for brake parts and gas lines, and wherever the regulation's gap is missed; a warning
    otherwise, as for the steering shaft, whose gap is known from memory alone. Wiring, brake parts, floor and steering
    are asked for; `fitted = false` says that one is nowhere near.
    Consequence: What is too near burns, melts or boils: brakes fail, cables short out, or the vehicle burns.
    Remedy: a wider gap, or a shield with air behind it.
    Cannot tell: heat that gathers in a closed tunnel; gas is 550 to 650 °C while a particulate filter is burnt clean.
    Fuel lines and tank are judged by fuel.line-routing; gaps that are listed under `vehicle.clearances` alone by
    mounts.movement-envelope.
    """
    name = given(lambda: gap.clearance)
    if name is not None and name not in build.vehicle.clearances:
        return holds(False, f"No gap under vehicle.clearances is called {name}.", on=f"{path_of(gap)}.clearance")
    wanted, by_law, left = least_gap(gap), REGULATED.get(gap.what, 0.0), gap_left(build, gap)
    severe = gap.what in ("brake-part", "gas-line") or left < by_law
    shield = "behind a shield" if gap.shielded else "without a shield"
    place = "turbocharger, manifold or down-pipe" if gap.near_turbocharger else "exhaust"
    says = (
        f"{shown(left, 'length', 'mm', digits=3)} from {WORDS[gap.what]} to the {place}, {shield}: "
        f"{shown(wanted, 'length', 'mm', digits=3)} or more are needed by "
        f"{'regulation' if wanted == by_law else 'common practice'}."
    )
    if name is not None:
        says += f" That is what the engine's movement leaves of the gap {name}."
    level: Level = "error" if severe else "warning"
    on = f"{path_of(gap)}.gap" if name is None else f"vehicle.clearances.{name}.gap"
    mends = [advice(on, None if name is not None else wanted)]
    if left < wanted and not gap.shielded:
        with_shield = max(by_law, SHIELD * wanted)
        if with_shield < wanted:
            says += f" Behind a shield {shown(with_shield, 'length', 'mm', digits=3)} would do."
        if left >= with_shield:
            mends.append(advice(f"{path_of(gap)}.shielded", True))
    return at_least(left, wanted, says, level=level, on=on, unit=("length", "mm"), advice=mends)


# -- outlet -----------------------------------------------------------------------------------------------------------
_POINTS = {
    "tyre": "The gas blows on a tyre",
    "fuel-tank": "The gas blows on the fuel tank",
    "brake-part": "The gas blows on a brake part",
    "load": "The gas blows on the load",
    "standing-place": "The gas blows where people stand",
}


@rule(
    "exhaust.outlet",
    level="error",
    due="build",
    sources=[
        sources.EXHAUST_RULE.giving("limit", "an end behind the cab", known="second-hand"),
        sources.SPARK_ARRESTERS.giving("limit", "what counts as a spark arrester", known="second-hand"),
        GAS.giving("limit", "clear of the body, 300 mm from what opens; what the gas must not blow on"),
        SPARKS.giving("limit", "a spark arrester over grass or brush"),
    ],
    cautions=[cautions.EXHAUST_GAS, cautions.FUEL_FIRE],
    about=OUTLET,
    adjust=[f"{OUTLET}.distance_to_opening"],
    bad=[
        {f"{OUTLET}.place": "ahead-of-cab"},
        {f"{OUTLET}.clear_of_body": False},
        {f"{OUTLET}.distance_to_opening": "200 mm"},
        {f"{OUTLET}.points_at": ["open-air", "tyre"]},
        {
            "build.duty.vegetation": True,
            SCREEN: True,
            f"{OUTLET}.spark_protection": "none",
        },
    ],
    good=[{f"{OUTLET}.distance_to_opening": "2 m"}],
)
def outlet(build: Build) -> Verdict:
    """Does the exhaust end where its gas cannot get into the cab, hit people or light what is below?

    Computes: nothing; the place of the outlet is compared.
    Limit: behind the driver's compartment or above the roof, by a regulation for trucks that is held against every
    vehicle; clear of the body, 300 mm or more from
    windows, doors and vents that open, and not onto tyre, tank, brakes, load or people (common practice). Where it
    works over grass or brush: not onto the ground, and a spark arrester, or a turbocharger or filter that the forest
    authority accepts in its place.
    Consequence: Carbon monoxide gets to people, or hot gas and sparks burn what they meet.
    Remedy: lead the pipe to the side or up, clear of what the sentence names.
    Cannot tell: wind, and gas that a box body draws in at its rear.
    """
    demands: dict[str, Callable[[], Verdict]] = {
        "place": lambda: _place(build),
        "clear-of-body": lambda: _clear_of_body(build),
        "distance-to-opening": lambda: _distance(build),
        "direction": lambda: _points(build),
    }
    demands["sparks"] = lambda: _sparks(build)
    return all_of(demands)


_PLACES = {"beside-cab": "beside the cab", "under-cab": "under the cab", "ahead-of-cab": "ahead of the cab"}


def _place(build: Build) -> Verdict:
    place = build.plumbing.exhaust.outlet.place
    behind = place in ("behind-cab", "above-roof")
    says = (
        "The exhaust ends behind the cab or above its roof."
        if behind
        else f"The exhaust ends {_PLACES[place]}, where gas gets in through windows and gaps: lead it "
        "behind the cab. The rule is one for trucks and is held against every vehicle."
    )
    return holds(behind, says, on=f"{OUTLET}.place")


def _clear_of_body(build: Build) -> Verdict:
    clear = build.plumbing.exhaust.outlet.clear_of_body
    says = (
        "The exhaust ends clear of body and load."
        if clear
        else "The exhaust ends under body or load, where gas gathers: lead it past the edge."
    )
    return holds(clear, says, on=f"{OUTLET}.clear_of_body")


def _distance(build: Build) -> Verdict:
    distance, on = build.plumbing.exhaust.outlet.distance_to_opening, f"{OUTLET}.distance_to_opening"
    says = f"The nearest window, door or vent is {shown(distance)} away."
    if distance < OPENING:
        says += f" Lead the outlet {shown(OPENING, 'length', 'mm')} or more away from it: carbon monoxide has no smell."
    return at_least(distance, OPENING, says, on=on)


def _points(build: Build) -> Verdict:
    on = f"{OUTLET}.points_at"
    points_at = needed(build, on, [str(what) for what in build.plumbing.exhaust.outlet.points_at])
    hit = [_POINTS[what] for what in points_at if what in _POINTS]
    if "ground" in points_at and over_vegetation(build):
        hit.append("The gas blows on the ground, where grass and brush catch fire")
    says = f"{'; '.join(hit)}: turn the outlet away." if hit else "The gas meets nothing that it harms."
    return holds(not hit, says, on=on)


def _sparks(build: Build) -> Verdict:
    if given(lambda: build.plumbing.exhaust.outlet.spark_protection) in (None, "none") and not over_vegetation(build):
        return does_not_apply("It does not work over grass or brush, which sparks could light.")
    protection, on = str(build.plumbing.exhaust.outlet.spark_protection), f"{OUTLET}.spark_protection"
    lacking = _not_there(build, protection)
    if lacking:
        says = f"Sparks are said to be held back by {lacking}, and there is none: fit a spark arrester to SAE J350."
        return holds(False, says, on=on)
    protected = protection != "none"
    says = (
        "Sparks are held back by what the forest authority accepts."
        if protected
        else "Nothing holds sparks back: fit a spark arrester to SAE J350, or ask the forest authority what it accepts."
    )
    return holds(protected, says, on=on)


def _not_there(build: Build, protection: str) -> str:
    """What is to hold sparks back and is not in the build; empty where it is."""
    if protection == "accepted-turbocharger" and given(lambda: build.engine.charged) is False:
        return "a turbocharger"
    devices = [device for device in each_of(build.plumbing.exhaust.devices) if is_fitted(device)]
    has_filter = any(given(lambda device=device: device.kind) == "particulate-filter" for device in devices)  # type: ignore[misc]
    if protection != "accepted-filter" or has_filter:
        return ""
    # A device of which nobody says what it is may be the filter: that is asked.
    return "" if any(device.kind == "particulate-filter" for device in devices) else "a filter"
