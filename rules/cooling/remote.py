"""The rule about a radiator that does not stand ahead of the engine."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    cautions,
    does_not_apply,
    holds,
    is_fitted,
    name_of,
    practice,
    rule,
)

from .points import air_at, driving_points

RADIATOR = "plumbing.cooling.radiator"
REMOTE = practice(
    "a radiator away from the engine: electric fans, air without the wind of driving, bleeds at high points"
)

_AT_REAR = {
    f"{RADIATOR}.place": "rear",
    f"{RADIATOR}.wind_reaches": True,
    f"{RADIATOR}.runs_bleed": True,
    f"{RADIATOR}.runs_held": True,
    "plumbing.cooling.fan.drive": "electric",
    "plumbing.cooling.fan.curve_voltage": "13 V",
    "plumbing.cooling.fan.motor_voltage": "13 V",
    "plumbing.cooling.fan.curve": [{"flow": "0 m3/s", "pressure": "250 Pa"}, {"flow": "1.5 m3/s", "pressure": "0 Pa"}],
    "vehicle.clearances.fan_shroud.gap": "5 mm",
}


@rule(
    "cooling.remote-radiator",
    level="error",
    due="quote",
    sources=[REMOTE.giving("limit", "what a radiator at the end of long pipes needs")],
    cautions=[cautions.ROTATING, cautions.HOT],
    about=RADIATOR,
    bad=[
        {**_AT_REAR, f"{RADIATOR}.wind_reaches": False},
        {**_AT_REAR, f"{RADIATOR}.runs_bleed": False},
        {**_AT_REAR, f"{RADIATOR}.runs_held": False},
    ],
    good=[_AT_REAR],
)
def remote_radiator(build: Build) -> Verdict:
    """Does a radiator away from the engine get its air, and its pipes no trapped air?

    Computes: nothing. What the pipes lose is in cooling.external-circuit, where each run stands as a hose with its
    length; the coolant in them belongs into the volume of the system.
    Limit: common practice: a fan with a motor of its own, an error; air at the operating points from the fan alone
    unless a duct brings the wind; a bleed at every high point of the runs; pipes held along the frame: warnings.
    Consequence: The radiator gets no air or holds an air lock: the engine overheats on its first long climb.
    Remedy: electric fans for the whole heat, air flows stated for the fan alone, a bleed screw at each high point.
    Cannot tell: dust and mud that the wheels throw on it, and hot air of the exhaust that it draws in.
    """
    radiator = build.plumbing.cooling.radiator
    if radiator.place == "front":
        return does_not_apply("The radiator stands ahead of the engine.")
    return all_of(
        fan=lambda: _fan(build),
        wind=lambda: _wind(build),
        bleed=lambda: _bleed(build),
        runs=lambda: _runs(build),
    )


def _fan(build: Build) -> Verdict:
    fan, on = build.plumbing.cooling.fan, "plumbing.cooling.fan.drive"
    if not is_fitted(fan):
        says = "No fan moves air through a radiator that the wind of driving hardly reaches: fit electric ones."
        return holds(False, says, on="plumbing.cooling.fan")
    electric = fan.drive == "electric"
    says = (
        "Its fan has a motor of its own."
        if electric
        else "The engine cannot drive a fan at this radiator: fit electric ones."
    )
    return holds(electric, says, on=on)


def _wind(build: Build) -> Verdict:
    on = f"{RADIATOR}.wind_reaches"
    if build.plumbing.cooling.radiator.wind_reaches:
        return holds(True, "A duct brings it the wind of driving.", on=on)
    windy = [name_of(point) for point in driving_points(build) if not air_at(build, point).fan_only]
    if not windy:
        return holds(True, "Its air is stated as that of the fan alone.", on=on)
    says = (
        "The air through it counts on the wind of driving, which does not reach it: state the flow of the fan alone, "
        "or fit a duct."
    )
    return holds(False, says, level="warning", on=f"plumbing.cooling.air.{windy[0]}.fan_only")


def _bleed(build: Build) -> Verdict:
    good = build.plumbing.cooling.radiator.runs_bleed
    says = (
        "Every high point of its pipes can be bled."
        if good
        else "Air stays in a high point of its pipes and stops the flow: put a vent or bleed screw there."
    )
    return holds(good, says, level="warning", on=f"{RADIATOR}.runs_bleed")


def _runs(build: Build) -> Verdict:
    good = build.plumbing.cooling.radiator.runs_held
    says = (
        "Its pipes are held along the frame."
        if good
        else "Its pipes are not held clear of exhaust and moving parts: clamp them along the frame, with flexible ends."
    )
    return holds(good, says, level="warning", on=f"{RADIATOR}.runs_held")
