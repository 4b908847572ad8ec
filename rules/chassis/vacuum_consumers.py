"""The rule about what vacuum works besides the brakes."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    cautions,
    does_not_apply,
    holds,
    is_fitted,
    name_of,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.spec.systems.chassis import VacuumConsumer

from . import vacuum_quantities as q

APART = practice("nothing hangs on the booster's side of its check valve but the booster and its reservoir")
ACTUATOR = Practice(
    "vacuum actuators work from a depression of 40 kPa on (30 to 50)",
    40e3,
    practice("flaps, hub and axle locks work at the vacuum of a part-throttle engine, 30 to 50 kPa"),
    between=(30e3, 50e3),
)
CONSUMERS = "vehicle.vacuum_consumers"


@rule(
    "chassis.vacuum-consumers",
    level="warning",
    due="build",
    sources=[
        sheet(f"{CONSUMERS}.*.depression"),
        APART.giving("limit", "a check valve of its own"),
        q.HEIGHT,
        q.THROTTLED,
    ],
    cautions=[cautions.BRAKES],
    about=CONSUMERS,
    fallbacks=[ACTUATOR],
    each=lambda build: list(build.vehicle.vacuum_consumers.values()),
    bad=[
        {f"{CONSUMERS}.heater_flaps.after": "nothing"},
        {f"{CONSUMERS}.heater_flaps.own_check_valve": False},
        {f"{CONSUMERS}.heater_flaps.depression": "80 kPa"},
    ],
    good=[{f"{CONSUMERS}.heater_flaps.after": "cable"}],
)
def vacuum_consumers(build: Build, consumer: VacuumConsumer) -> Verdict:
    """Does what vacuum worked besides the brakes still work, and can it not empty the booster?

    Computes: the depression that the booster's source reaches at the highest place.
    Limit: what the consumer needs, 40 kPa where that is not stated (common practice); a check valve of its own, or a
    line that leaves ahead of the booster's (common practice): an error, because a leak there takes the brakes'
    assistance.
    Consequence: Flaps, hubs or axle locks stay dead, or a leak in their line takes the brakes' assistance.
    Remedy: a vacuum pump and a branch with a check valve; or an electric or cable actuator in its place.
    Cannot tell: how much air each takes and how tight it is: pull vacuum on its line and watch the gauge.
    """
    if not is_fitted(consumer):
        return does_not_apply("It is not fitted.")
    path, name = path_of(consumer), name_of(consumer)
    if consumer.after in ("electric", "cable"):
        how = "current" if consumer.after == "electric" else "a cable"
        return holds(True, f"{name} is worked by {how} now.", on=f"{path}.after")
    if consumer.after == "nothing":
        says = f"{name} was worked by vacuum and is worked by nothing now: connect it, or give it another actuator."
        return holds(False, says, on=f"{path}.after")
    if consumer.after == "own-source":
        return holds(True, f"{name} has a source of its own.", on=f"{path}.after")
    return all_of(check_valve=lambda: _apart(consumer), depression=lambda: _strong_enough(build, consumer))


def _apart(consumer: VacuumConsumer) -> Verdict:
    name, apart = name_of(consumer), consumer.own_check_valve
    says = (
        f"A leak in the line of {name} does not empty the booster."
        if apart
        else f"A leak in the line of {name} empties the booster: branch it off ahead of the booster's check valve."
    )
    return holds(apart, says, level="error" if not apart else None, on=f"{path_of(consumer)}.own_check_valve")


def _strong_enough(build: Build, consumer: VacuumConsumer) -> Verdict:
    on = f"{path_of(consumer)}.depression"
    if not q.has_source(build):
        if build.vehicle.brakes.assist == "vacuum":
            return does_not_apply("The booster's hose leads to no source of vacuum: see chassis.vacuum-source.")
        return holds(False, "The booster's hose leads to no source of vacuum.", on=on)
    found, needed = q.available_depression(build), or_practice(lambda: consumer.depression, ACTUATOR)
    needs = shown(needed, "pressure_difference", "kPa")
    says = f"At the highest place the source reaches {shown(found)}; {name_of(consumer)} needs {needs}."
    return at_least(found, needed, says, on=on)
