"""The rule about the exhaust-gas recirculation that the engine brings."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    practice,
    rule,
    sheet,
)

RECIRCULATION = "plumbing.exhaust.recirculation"
WHOLE = practice("exhaust-gas recirculation stays whole: gas, coolant and wiring joined, its pipe free of strain")

_WITH: dict[str, object] = {
    "engine.exhaust.recirculation": {"fitted": True, "cooled": True, "enters": "behind-charge-cooler"},
    RECIRCULATION: {
        "enters": "behind-charge-cooler",
        "coolant_joined": True,
        "valve_joined": True,
        "strain_free": True,
    },
}


@rule(
    "intake.recirculation",
    level="error",
    due="build",
    sources=[
        sheet("engine.exhaust.recirculation"),
        WHOLE.giving("limit", "gas, coolant and wiring joined, a pipe free of strain"),
    ],
    cautions=[cautions.HOT, cautions.LAW],
    about=RECIRCULATION,
    bad=[
        {**_WITH, RECIRCULATION: {"fitted": False}},
        {**_WITH, f"{RECIRCULATION}.enters": "before-compressor"},
        {**_WITH, f"{RECIRCULATION}.coolant_joined": False},
        {**_WITH, f"{RECIRCULATION}.valve_joined": False},
        {**_WITH, f"{RECIRCULATION}.strain_free": False},
    ],
    good=[_WITH],
)
def recirculation(build: Build) -> Verdict:
    """Is the exhaust-gas recirculation that the engine is certified with whole and joined?

    Computes: nothing; what the engine brings is compared with what the swap leaves.
    Limit: the engine's data sheet: it is there, and its gas joins the air where the engine maker has it. Its cooler has
    coolant, its valve is joined to the control unit: errors. Its hot pipe moves freely and is tight: a warning, common
    practice.
    Consequence: The control unit cuts power and the certificate ends, or a dry cooler cracks.
    Remedy: what the sentence names, as the engine maker shows it.
    Cannot tell: a valve that sticks, and soot in the intake.
    """
    if not is_fitted(build.engine.exhaust.recirculation):
        return does_not_apply("The engine has no exhaust-gas recirculation.")
    demands: dict[str, Callable[[], Verdict]] = {"there": lambda: _there(build)}
    if given(lambda: is_fitted(build.plumbing.exhaust.recirculation)) is not False:
        demands |= {
            "enters": lambda: _enters(build),
            "coolant": lambda: _coolant(build),
            "valve": lambda: _valve(build),
            "strain": lambda: _strain(build),
        }
    return all_of(demands)


def _there(build: Build) -> Verdict:
    there = is_fitted(build.plumbing.exhaust.recirculation)
    says = (
        "The exhaust-gas recirculation is there."
        if there
        else "The exhaust-gas recirculation is left out: the engine no longer is what was certified. Fit it again."
    )
    return holds(there, says, on=RECIRCULATION)


def _enters(build: Build) -> Verdict:
    wanted, found = build.engine.exhaust.recirculation.enters, build.plumbing.exhaust.recirculation.enters
    on = f"{RECIRCULATION}.enters"
    right = wanted == found
    place = str(wanted).replace("-", " ").replace("charge cooler", "the charge-air cooler")
    place = place.replace("before compressor", "ahead of the compressor")
    says = f"The gas joins the air {place}, as the engine maker has it." if right else f"Lead the gas in {place}."
    return holds(right, says, on=on, advice=advice(on, str(wanted)))


def _coolant(build: Build) -> Verdict:
    if not build.engine.exhaust.recirculation.cooled:
        return does_not_apply("Nothing cools the gas on its way.")
    joined = build.plumbing.exhaust.recirculation.coolant_joined
    says = (
        "Its cooler has coolant."
        if joined
        else "Its cooler has no coolant and cracks: join feed and return, and bleed them."
    )
    return holds(joined, says, on=f"{RECIRCULATION}.coolant_joined")


def _valve(build: Build) -> Verdict:
    joined = build.plumbing.exhaust.recirculation.valve_joined
    says = (
        "Valve and sensors are joined to the control unit."
        if joined
        else "Valve or sensors are not joined: the control unit sets a fault and cuts power. Join them as it expects."
    )
    return holds(joined, says, on=f"{RECIRCULATION}.valve_joined")


def _strain(build: Build) -> Verdict:
    free = build.plumbing.exhaust.recirculation.strain_free
    says = (
        "Its pipe is tight and free of strain."
        if free
        else "Its hot pipe is strained or leaks, and cracks: fit a bellows, and hold it on the engine."
    )
    return holds(free, says, level="warning", on=f"{RECIRCULATION}.strain_free")
