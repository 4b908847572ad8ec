"""The rule about the vent of the tank: air in, vapour out, fuel in when rolled over."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    practice,
    rule,
    shown,
)

from .. import sources
from . import tank_quantities as q
from .ethanol import PETROL
from .quantities import is_diesel

VENT = "plumbing.fuel.vent"

TANK_VENT = practice("tank vent: 6 mm bore or more, at most 0.5 kPa, roll-over valve, end above the wading depth")
VENT_BORE, USUAL_BORE, VENT_DROP = 0.006, 0.008, 500.0
CANISTER = practice("petrol vehicles from 1993 on have a canister, older ones and their engines here and there")
CANISTER_YEAR = 1993


@rule(
    "fuel.venting",
    level="error",
    due="quote",
    sources=[
        sources.PIPE_FLOW.giving("formula", "pressure loss of air in the vent line"),
        TANK_VENT.giving("limit", "6 mm bore, 0.5 kPa, a roll-over valve, an end above the wading depth"),
        CANISTER.giving("limit", "a canister, by the year where nobody states what there was", demands=["canister"]),
    ],
    cautions=[cautions.FUEL_FIRE],
    adjust=[f"{VENT}.bore"],
    without={"build.design.wade_depth": "A vehicle whose owner states no wading depth is not taken into deep water."},
    about=VENT,
    bad=[
        {VENT: {"fitted": False}},
        {f"{VENT}.path": "cap-only"},
        {f"{VENT}.bore": "3 mm"},
        {f"{VENT}.rollover_valve": False},
        {f"{VENT}.end_height": "200 mm"},
        {**PETROL, f"{VENT}.path": "own-line"},
    ],
    good=[{f"{VENT}.bore": "10 mm"}],
)
def venting(build: Build) -> Verdict:
    """Does the tank breathe well enough for burning, filling and heating, and stay shut when rolled over?

    Computes: the pressure that the air takes through the vent, plus the opening pressure of its valve. The air is the
    burn, or the filling rate where the filler has no breather of its own.
    Limit: common practice: a vent of its own, not the cap alone, 6 mm bore or more, at most 0.5 kPa, a roll-over
    valve, an end above the wading depth and away from heat. Petrol breathes through a canister that the engine purges
    where vehicle or engine package had one; where nobody says so, in vehicles from 1993 on.
    Consequence: Vacuum starves the engine, water gets in, or fuel and vapour get out and can catch fire.
    Remedy: a wider vent line, the missing valve or canister.
    Cannot tell: spit-back while filling, and what a vent filter full of dust adds to the suction.
    """
    vent = build.plumbing.fuel.vent
    demands: dict[str, Callable[[], Verdict]] = {"vent": lambda: _vent(build)}
    if given(lambda: is_fitted(vent)):
        demands |= {
            "path": lambda: _vent_path(build),
            "pressure": lambda: _vent_drop(build),
            "bore": lambda: _vent_bore(build),
            "rollover-valve": lambda: _rollover_valve(build),
            "end-place": lambda: _vent_place(build),
        }
        if given(lambda: is_diesel(build)) is not True:
            demands["canister"] = lambda: _canister(build)
        if given(lambda: build.build.design.wade_depth) is not None:
            demands["end-height"] = lambda: _vent_height(build)
    return all_of(demands)


def _vent(build: Build) -> Verdict:
    fitted = is_fitted(build.plumbing.fuel.vent)
    wrong = (
        "The tank has no vent: vacuum starves the engine, heat presses fuel out. Fit a vent line with a roll-over valve"
        + (", through a canister." if given(lambda: is_diesel(build)) is False else ".")
    )
    says = "The tank has a vent." if fitted else wrong
    return holds(fitted, says, on=VENT, advice=None if fitted else advice(f"{VENT}.bore", USUAL_BORE))


def _vent_path(build: Build) -> Verdict:
    alone = build.plumbing.fuel.vent.path == "cap-only"
    says = (
        "The tank breathes through its cap only, which dust and a wrong cap shut: give it a vent line of its own."
        if alone
        else "The tank breathes through a line of its own."
    )
    return holds(not alone, says, on=f"{VENT}.path")


def _canister(build: Build) -> Verdict:
    if is_diesel(build):
        return does_not_apply("Diesel gives off too little vapour to need a canister.")
    canister, path = build.plumbing.fuel.canister, build.plumbing.fuel.vent.path
    if path != "canister" or not is_fitted(canister):
        on = "plumbing.fuel.canister" if path == "canister" else f"{VENT}.path"
        if not _canister_belongs(build):
            return holds(True, "Neither the vehicle nor the engine package ever had a canister.", on=on)
        says = (
            "Petrol vapour must go to a canister that the engine purges, as vehicle or engine were certified: fit it. "
            "Where neither ever had one, state that."
        )
        return holds(False, says, on=on)
    says = (
        "The tank breathes through a canister that the engine purges."
        if canister.purged
        else "The engine does not purge the canister, which then fills with petrol: join the purge valve."
    )
    return holds(canister.purged, says, on="plumbing.fuel.canister.purged")


def _canister_belongs(build: Build) -> bool:
    """Whether vehicle or engine package were made with a canister; by the vehicle's year where neither is stated."""
    had, purges = given(lambda: build.vehicle.original.canister), given(lambda: build.engine.fuel.canister_purge)
    if had or purges:
        return True
    if had is None and purges is None and build.vehicle.first_registered >= CANISTER_YEAR:
        return True
    return build.vehicle.original.canister or build.engine.fuel.canister_purge


def _air(build: Build) -> str:
    vent, drop = build.plumbing.fuel.vent, q.vent_drop(build)
    says = f"{shown(q.vent_flow(build), digits=3)} of air through {shown(vent.bore)} take {shown(drop, digits=3)}"
    by_valve = vent.opening_pressure > 0.5 * drop
    return f"{says}, most of it to open the valve." if by_valve else f"{says}."


def _vent_drop(build: Build) -> Verdict:
    says = (
        f"{_air(build)} {shown(VENT_DROP, 'pressure_difference', 'kPa')} are as much as a tank takes (common practice)."
    )
    return at_most(q.vent_drop(build), VENT_DROP, says, on=f"{VENT}.bore")


def _vent_bore(build: Build) -> Verdict:
    bore, on = build.plumbing.fuel.vent.bore, f"{VENT}.bore"
    says = f"The vent line has a bore of {shown(bore)}"
    says += "." if bore >= VENT_BORE else ": dirt, a kink or ice soon shuts it."
    return at_least(bore, VENT_BORE, says, level="warning", on=on, advice=advice(on, VENT_BORE))


def _rollover_valve(build: Build) -> Verdict:
    fitted = build.plumbing.fuel.vent.rollover_valve
    says = (
        "The vent has a roll-over valve."
        if fitted
        else "The vent has no roll-over valve: a vehicle on its side spills its fuel. Fit one."
    )
    on = f"{VENT}.rollover_valve"
    return holds(fitted, says, on=on, advice=None if fitted else advice(on, True))


def _vent_place(build: Build) -> Verdict:
    clear = build.plumbing.fuel.vent.clear_of_heat
    says = (
        "The vent ends away from heat and sparks."
        if clear
        else "The vent ends near heat, sparks or the cab's air: lead its end elsewhere."
    )
    return holds(clear, says, on=f"{VENT}.clear_of_heat")


def _vent_height(build: Build) -> Verdict:
    height, wade, on = build.plumbing.fuel.vent.end_height, build.build.design.wade_depth, f"{VENT}.end_height"
    says = f"The vent ends {shown(height)} above the ground; the vehicle wades {shown(wade)}."
    return at_least(height, wade, says, on=on, scale=height, advice=advice(on, wade))
