"""Trials of the vehicle as a whole: weighbridge, brakes and their vacuum, road speed."""

from swaplint.spec.fields import TRIAL, WEIGHBRIDGE, count, measure, text
from swaplint.spec.systems.commissioning.trial import Trial, place_height, turning


class Weighing(Trial):
    """The finished vehicle on the weighbridge: nobody in it, nothing loaded, engine off, brakes off."""

    front: float = measure(
        "reading of the front axle, or of the front axles together",
        "mass",
        "kg",
        typical=1200,
        plausible=(150, 12000),
        where=WEIGHBRIDGE,
    )
    rear: float = measure(
        "reading of the rear axle, or of the rear axles together",
        "mass",
        "kg",
        typical=1100,
        plausible=(150, 30000),
        where=WEIGHBRIDGE,
    )
    whole: float = measure(
        "reading of the whole vehicle on one plate",
        "mass",
        "kg",
        typical=2300,
        plausible=(400, 40000),
        where=WEIGHBRIDGE,
    )
    fuel_share: float = measure(
        "share of a full tank that was aboard",
        "share",
        "%",
        typical=50,
        plausible=(0, 100),
        where=TRIAL,
        zero=True,
    )


class VacuumTrial(Trial):
    """The vacuum that helps the brakes."""

    altitude: float = place_height()
    idle: float = measure(
        "depression that is reached at idle",
        "pressure_difference",
        "kPa",
        typical=75,
        plausible=(5, 100),
        where=TRIAL,
    )
    recovery_time: float = measure(
        "time from empty until the brake warning goes out, engine at idle",
        "time",
        "s",
        typical=15,
        plausible=(0.2, 600),
        where=TRIAL,
    )
    applications_left: float = count(
        "full applications of the pedal with the engine stopped, from that depression, before the warning comes on",
        typical=2,
        plausible=(0, 30),
        where=TRIAL,
        zero=True,
    )
    hold_loss: float = measure(
        "depression lost in `hold_time` after the engine was stopped, pedal free",
        "pressure_difference",
        "kPa",
        typical=1,
        plausible=(0, 100),
        where=TRIAL,
        zero=True,
    )
    hold_time: float = measure("time of that wait", "time", "s", typical=60, plausible=(5, 3600), where=TRIAL)


class BrakeTrial(Trial):
    """The brake test before the vehicle goes on the road; `by` is the qualified person."""

    efficiency: float = measure(
        "sum of the braking forces over the weight of the vehicle, service brake",
        "share",
        "%",
        typical=60,
        plausible=(1, 120),
        where=TRIAL,
    )
    imbalance: float = measure(
        "difference of the forces of the two wheels of an axle over the larger, the worst axle",
        "share",
        "%",
        typical=10,
        plausible=(0, 100),
        where=TRIAL,
        zero=True,
    )
    report: str = text("number of the test's report", typical="invented 2026-114", where=TRIAL)


class RoadTrial(Trial):
    """Road speed: by satellite, by the speedometer and by the engine's speed, held steady."""

    true_speed: float = measure(
        "true road speed that was held",
        "speed",
        "km/h",
        typical=80,
        plausible=(10, 200),
        where=TRIAL,
    )
    indicated_speed: float = measure(
        "what the speedometer showed then", "speed", "km/h", typical=83, plausible=(5, 250), where=TRIAL
    )
    engine_speed: float = turning("engine speed then, in top gear and high range", 2000)
