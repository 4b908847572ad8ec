"""Derived numbers of the gearing system."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from swaplint.api import (
    Build,
    OutsideRange,
    Practice,
    at,
    given,
    is_fitted,
    or_practice,
    path_of,
    practice,
    quantity,
    sheet,
    shown,
)
from swaplint.engineering import atmosphere, curves, gears, road_load, tyres
from swaplint.engineering import speedometer as speedometers
from swaplint.spec.systems.gearing import Axle, TyreMake

from .. import sources
from ..places import highest_of_all, torque_left
from . import chain, places
from .fitted_tyres import driven_tyres, reckoned_end, tyres_at, unlike

SEA_LEVEL = 0.0

SHIFT_LOSS = Practice(
    "150 r/min of engine speed lost in a manual shift",
    150 * math.tau / 60,
    practice("an engine loses 100 to 200 r/min while the clutch is open in an up-shift"),
)


# -- tyre and ratios ------------------------------------------------------------------------------------------------
@quantity(
    "gearing.tyre-diameter",
    "length",
    "mm",
    formula="as stated, or from the size on the sidewall: rim diameter + 2 · width · aspect",
    sources=[sources.TYRE_MARKINGS.giving("formula", "diameter from the size on the sidewall")],
    instead={"driveline.tyres.overall_diameter": "driveline.tyres.designation"},
)
def tyre_diameter(build: Build) -> float:
    """Outside diameter of the tyres."""
    return _diameter_of(driven_tyres(build))


def _diameter_of(fitted: TyreMake) -> float:
    stated = given(lambda: fitted.overall_diameter)
    if stated is not None:
        return stated
    designation = given(lambda: fitted.designation)
    if designation is None:
        return fitted.overall_diameter
    return tyres.overall_diameter(designation)


def construction(build: Build) -> str:
    """Carcass of the tyres: as stated, or by the letter in the size on the sidewall."""
    return _construction_of(driven_tyres(build))


def _construction_of(fitted: TyreMake) -> str:
    stated = given(lambda: fitted.construction)
    designation = given(lambda: fitted.designation)
    if stated is None and designation is not None:
        return tyres.read_designation(designation).construction
    return fitted.construction


@quantity(
    "gearing.rolling-radius",
    "length",
    "mm",
    formula="r = 3.05·D/(2π), for a radial tyre; U/(2π) where its rolling circumference U was measured",
    symbols={"D": "gearing.tyre-diameter"},
    sources=[sources.TYRE_ROLLING.giving("formula", "3.05 diameters to a turn")],
    instead={
        "driveline.tyres.overall_diameter": ["driveline.tyres.rolling_circumference", "driveline.tyres.designation"],
        "driveline.tyres.rolling_circumference": ["driveline.tyres.overall_diameter", "driveline.tyres.designation"],
    },
)
def rolling_radius(build: Build) -> float:
    """Rolling radius of the driven wheels."""
    if unlike(build) and (apart := _always_apart(build)) > FAR_APART:
        raise OutsideRange(
            f"front and rear are always driven and roll {shown(apart, 'share', '%', digits=2)} apart, so that there is "
            "no one road speed for an engine speed: see gearing.axles-alike"
        )
    fitted = driven_tyres(build)
    return _radius_of(fitted, lambda: tyre_diameter(build))


def _radius_of(fitted: TyreMake, diameter: Callable[[], float]) -> float:
    circumference = given(lambda: fitted.rolling_circumference)
    if circumference is not None:
        return tyres.rolling_radius_from_circumference(circumference)
    if _construction_of(fitted) != "radial":
        raise OutsideRange("for a tyre that is not radial the rolling circumference must be measured")
    return tyres.rolling_radius(diameter(), "radial")


def radius_at(build: Build, end: places.End) -> float:
    """Rolling radius, m, of the wheels in front or behind; that of the driven wheels where all are alike."""
    if not unlike(build):
        return rolling_radius(build)
    fitted = tyres_at(build, end)
    return _radius_of(fitted, lambda: _diameter_of(fitted))


FAR_APART = 0.05
"""From this share of difference on two ends that are always driven are no vehicle that anybody can reckon with."""


def _always_apart(build: Build) -> float:
    """By what share front and rear roll apart where both are always driven; nothing where that is not known."""
    driven = [axle for axle in chain.powered_axles(build) if chain.engaged(build, axle) == chain.ALWAYS]
    rolled = {places.end_of(build, axle): given(partial(_rolled, build, axle)) for axle in driven}
    front, rear = rolled.get("front"), rolled.get("rear")
    return 0.0 if front is None or rear is None else abs(front / rear - 1.0)


def _rolled(build: Build, axle: Axle) -> float:
    """What an axle rolls for one radian of its shaft, m."""
    return radius_at(build, places.end_of(build, axle)) / chain.fixed_ratio(axle)


def radius_of(build: Build, axle: Axle) -> float:
    """Rolling radius, m, of an axle's wheels."""
    return radius_at(build, places.end_of(build, axle)) if unlike(build) else rolling_radius(build)


def driven_axles(build: Build) -> list[Axle]:
    """The axles that the engine drives on the road. An empty table says nothing of them, as one that is missing."""
    axles = list(build.driveline.axles.values())
    axles = axles or list(at(build, {"driveline.axles": None}).driveline.axles.values())
    return [axle for axle in axles if is_fitted(axle) and chain.driven_on_the_road(axle)]


@quantity(
    "gearing.axle-ratio",
    formula="the ratio that all driven axles share; on unlike tyres that of the end which speed is reckoned by",
    sources=[sources.KINEMATICS.giving("formula")],
)
def axle_ratio(build: Build) -> float:
    """Final drive ratio of the driven axles."""
    driven = driven_axles(build)
    if unlike(build):  # on unlike tyres the other end has another ratio to roll alike: see gearing.axles-alike
        driven = [axle for axle in driven if places.end_of(build, axle) == reckoned_end(build)]
    ratios = [chain.fixed_ratio(axle) for axle in driven]
    if not ratios:
        raise OutsideRange("no axle is stated as driven")
    if max(ratios) - min(ratios) > 0.005 * max(ratios):
        raise OutsideRange("the driven axles have different ratios, so there is no one road speed for an engine speed")
    return ratios[0]


def final_drive(build: Build) -> str:
    """The field of the final drive, to advise another: of the axle that alone is driven, else of all alike."""
    driven = driven_axles(build)
    return f"{path_of(driven[0])}.ratio" if len(driven) == 1 else "driveline.axles.*.ratio"


def high_range(build: Build) -> float:
    """Ratio of the transfer case in high range; 1 where the vehicle has none."""
    return build.driveline.transfer.high if is_fitted(build.driveline.transfer) else 1.0


def low_range(build: Build) -> float:
    """Ratio of the transfer case in its lowest range; 1 where the vehicle has none."""
    return build.driveline.transfer.low if is_fitted(build.driveline.transfer) else 1.0


def gear_ratios(build: Build) -> Sequence[float]:
    """Ratios of the forward gears, first gear first."""
    return build.driveline.gearbox.ratios


def shifts(build: Build) -> list[tuple[float, float]]:
    """Every up-shift, as the ratio before and after."""
    ratios = gear_ratios(build)
    return list(zip(ratios[:-1], ratios[1:], strict=True))


@quantity(
    "gearing.overall-ratio",
    formula="i = i_gear · i_transfer,high · i_axle",
    symbols={
        "i_gear": "driveline.gearbox.ratios",
        "i_transfer,high": "driveline.transfer.high",
        "i_axle": "gearing.axle-ratio",
    },
    sources=[sources.KINEMATICS.giving("formula")],
    each=gear_ratios,
)
def overall_ratio(build: Build, gear: float) -> float:
    """Engine turns for one turn of the wheels, high range."""
    return gears.overall_ratio([gear, high_range(build), axle_ratio(build)])


@quantity(
    "gearing.top-ratio",
    formula="i = i_last gear · i_transfer,high · i_axle",
    sources=[sources.KINEMATICS.giving("formula")],
)
def top_ratio(build: Build) -> float:
    """Overall ratio in top gear, high range."""
    return overall_ratio(build, gear_ratios(build)[-1])


@quantity(
    "gearing.lowest-ratio",
    formula="i = i_first gear · i_transfer,low · i_axle",
    symbols={"i_transfer,low": "driveline.transfer.low", "i_axle": "gearing.axle-ratio"},
    sources=[sources.KINEMATICS.giving("formula")],
)
def lowest_ratio(build: Build) -> float:
    """Overall ratio in first gear, lowest range."""
    return gears.overall_ratio([gear_ratios(build)[0], low_range(build), axle_ratio(build)])


# -- cruise -----------------------------------------------------------------------------------------------------------
@quantity(
    "gearing.cruise-rpm",
    "rotation",
    "r/min",
    formula="n = v · i_top/(2π·r)",
    symbols={
        "v": "build.design.cruise_speed",
        "i_top": "gearing.top-ratio",
        "r": "gearing.rolling-radius",
    },
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def cruise_speed_engine(build: Build) -> float:
    """Engine speed at cruising speed in top gear."""
    return gears.engine_speed(build.build.design.cruise_speed, top_ratio(build), rolling_radius(build))


@quantity(
    "gearing.road-max-rpm",
    "rotation",
    "r/min",
    formula="n = v_max · i_top/(2π·r)",
    symbols={
        "v_max": "build.design.road_speed_max",
        "i_top": "gearing.top-ratio",
        "r": "gearing.rolling-radius",
    },
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def engine_speed_at_road_max(build: Build) -> float:
    """Engine speed at the highest road speed in top gear."""
    return gears.engine_speed(build.build.design.road_speed_max, top_ratio(build), rolling_radius(build))


NO_LIMIT = {
    "engine.torque.limit": "A calibration that cuts the curve off is one that the builder chooses; else it is whole."
}
"""Why a rule on pull may do without a limit on torque."""


def torque_curve(build: Build) -> tuple[tuple[float, float], ...]:
    """The engine's full-load curve as (speed, torque), cut off at the limit of its calibration where it has one."""
    curve = curves.checked_curve([(float(p.speed), float(p.torque)) for p in build.engine.torque_curve], "r/min")
    limit = given(lambda: build.engine.torque.limit)
    return curve if limit is None else curves.cut_off(curve, limit)


def road_resistance(build: Build, altitude: float = SEA_LEVEL) -> road_load.Resistance:
    """What resists the laden vehicle on the road."""
    return road_load.Resistance(
        build.vehicle.mass.gvwr,
        build.vehicle.rolling_resistance.road,
        build.vehicle.aero.drag_coefficient * build.vehicle.aero.frontal_area,
        atmosphere.standard_density(altitude),
    )


def top_gear_drive(build: Build) -> road_load.Drive:
    """Engine and driveline in top gear."""
    return road_load.Drive(
        torque_curve(build), top_ratio(build), build.driveline.drivetrain.efficiency, rolling_radius(build)
    )


@quantity(
    "gearing.cruise-road-power",
    "power",
    "kW",
    formula="P = (m·g·C_r + ½·ρ·C_d·A·v²)·v, on the level, sea-level air of 1.225 kg/m³",
    symbols={
        "m": "vehicle.mass.gvwr",
        "C_r": "vehicle.rolling_resistance.road",
        "C_d": "vehicle.aero.drag_coefficient",
        "A": "vehicle.aero.frontal_area",
        "v": "build.design.cruise_speed",
    },
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "road resistance"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "air of 1.225 kg/m³"),
    ],
)
def cruise_road_power(build: Build) -> float:
    """Power that the laden vehicle takes at cruising speed on the level."""
    return road_resistance(build).power(build.build.design.cruise_speed)


@quantity(
    "gearing.cruise-available-power",
    "power",
    "kW",
    formula="P = T(n)·2π·n·η, torque interpolated on the full-load curve",
    sources=[
        sheet("engine.torque_curve").giving("formula", "full-load curve"),
        sources.VEHICLE_DYNAMICS.giving("formula", "power at the wheels"),
    ],
)
def cruise_available_power(build: Build) -> float:
    """Power that full load brings to the wheels at cruising speed in top gear."""
    drive = top_gear_drive(build)
    speed = build.build.design.cruise_speed
    return drive.force(drive.engine_speed(speed)) * speed


@quantity(
    "gearing.cruise-reserve",
    "share",
    "%",
    formula="reserve = P_available/P_road − 1",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def cruise_reserve(build: Build) -> float:
    """Power left at cruising speed in top gear, relative to what the level road takes."""
    return road_load.power_reserve(top_gear_drive(build), road_resistance(build), build.build.design.cruise_speed)


@quantity(
    "gearing.cruise-grade",
    "grade",
    "%",
    formula="grade at which full load in top gear just holds cruising speed: sin θ + C_r·cos θ = (F − drag)/(m·g)",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def cruise_grade(build: Build) -> float:
    """Slope on which cruising speed is held in top gear."""
    climb = road_load.grade_held(top_gear_drive(build), road_resistance(build), build.build.design.cruise_speed)
    return finite_grade(climb.grade)


# -- the ground that is climbed -------------------------------------------------------------------------------------
@quantity(
    "gearing.altitude-factor",
    "share",
    "%",
    formula="d = 1 − loss/step · (altitude − altitude_free), at most 1",
    symbols={
        "loss": "engine.derate.altitude_loss",
        "step": "engine.derate.altitude_step",
        "altitude": "build.design.altitude_max",
        "altitude_free": "engine.derate.altitude_free",
    },
    sources=[sheet("engine.derate.altitude_loss").giving("formula", "loss of torque with height")],
)
def altitude_factor(build: Build) -> float:
    """Share of the torque that is left at the highest place."""
    return torque_left(build, highest_of_all(build))


def ground_coefficient(build: Build) -> float:
    """Rolling resistance coefficient of the ground that slopes are climbed on."""
    if build.build.duty.terrain == "off-road":
        return build.vehicle.rolling_resistance.off_road
    return build.vehicle.rolling_resistance.road


def finite_grade(grade: float) -> float:
    """A grade, or `OutsideRange` where the force would lift the vehicle up any slope."""
    if not math.isfinite(grade):
        raise OutsideRange("the force would push the vehicle up any slope, so there is no grade to state")
    return grade


# -- shifting, crawling, top speed ----------------------------------------------------------------------------------
def shift_loss(build: Build) -> float:
    """Engine speed lost in an up-shift; none in an automatic's."""
    gearbox = build.driveline.gearbox
    return or_practice(lambda: gearbox.shift_speed_loss, SHIFT_LOSS) if gearbox.kind == "manual" else 0.0


@quantity(
    "gearing.speed-after-shift",
    "rotation",
    "r/min",
    formula="n_after = n_shift · i_next/i − speed lost in the shift; n_shift is the rated speed where none is stated",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
    each=shifts,
    without={
        "driveline.gearbox.shift_speed": "At full load a driver shifts at the rated speed, where the engine gives the "
        "most power; whoever shifts earlier lands lower and says so."
    },
)
def speed_after_shift(build: Build, before: float, after: float) -> float:
    """Engine speed after an up-shift at full load."""
    return gears.speed_after_upshift(shift_speed(build), before, after, shift_loss(build))


def shift_speed(build: Build) -> float:
    """Engine speed at which it is shifted up at full load: the rated speed, or what is stated, up to the governed."""
    stated = given(lambda: build.driveline.gearbox.shift_speed)
    return build.engine.speed.rated if stated is None else min(stated, build.engine.speed.governed_max)


@quantity(
    "gearing.crawl-speed",
    "speed",
    "km/h",
    formula="v = n_idle · 2π·r/i_lowest",
    symbols={
        "n_idle": "engine.speed.idle",
        "r": "gearing.rolling-radius",
        "i_lowest": "gearing.lowest-ratio",
    },
    sources=[sources.KINEMATICS.giving("formula")],
)
def crawl_speed(build: Build) -> float:
    """Road speed at idle in the lowest gear of all."""
    return gears.crawl_speed(build.engine.speed.idle, lowest_ratio(build), rolling_radius(build))


@quantity(
    "gearing.governed-road-speed",
    "speed",
    "km/h",
    formula="v = n_governed · 2π·r/i_top",
    symbols={
        "n_governed": "engine.speed.governed_max",
        "i_top": "gearing.top-ratio",
        "r": "gearing.rolling-radius",
    },
    sources=[sources.KINEMATICS.giving("formula")],
)
def governed_road_speed(build: Build) -> float:
    """Road speed at the governor's limit in top gear."""
    return gears.road_speed(build.engine.speed.governed_max, top_ratio(build), rolling_radius(build))


def fastest_gear(build: Build) -> tuple[float, int]:
    """Highest speed on the level, and the number of the gear that reaches it."""
    curve = torque_curve(build)
    governed = build.engine.speed.governed_max
    if curve and governed > curve[-1][0]:
        curve = road_load.governed_curve(curve, governed)
    radius, resistance = rolling_radius(build), road_resistance(build)
    best = (0.0, 0)
    for number, gear in reversed(list(enumerate(gear_ratios(build), 1))):
        ratio = overall_ratio(build, gear)
        most = gears.road_speed(governed, ratio, radius)
        if most <= best[0]:
            break  # the governor ends this gear, and all below it, sooner
        drive = road_load.Drive(curve, ratio, build.driveline.drivetrain.efficiency, radius)
        steady = road_load.steady_speed(drive, resistance)
        if steady is not None:
            best = max(best, (min(steady.road_speed, most), number))
    if best[0] <= 0.0:
        raise OutsideRange("no gear can hold any speed on the level")
    return best


@quantity(
    "gearing.top-speed",
    "speed",
    "km/h",
    formula="highest v with P_available(v) = P_road(v) in any gear, high range, the torque falling to zero at the "
    "governed speed",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "where the power at the wheels meets the road's"),
        sheet("engine.torque_curve").giving("formula", "full-load curve"),
    ],
)
def top_speed(build: Build) -> float:
    """Highest speed on the level. Behind a tall top gear the gear below it may be the fastest."""
    return fastest_gear(build)[0]


LONG_HILLS = practice("main roads come down from the hills at 6 % for miles")
LONG_HILL = 0.06


@quantity(
    "gearing.downhill-speed",
    "speed",
    "km/h",
    formula="what it reaches on the level, or more: rolling down 6 %, v = √(2·m·g·(sin θ − C_r·cos θ)/(ρ·C_d·A)), "
    "at most n_governed · 2π·r/i_top",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "speed that it rolls to on a slope"),
        sources.KINEMATICS.giving("formula", "road speed at governed speed"),
        LONG_HILLS.giving("formula", "slope of 6 %"),
    ],
)
def downhill_speed(build: Build) -> float:
    """Speed that the laden vehicle runs to down a long hill in top gear, where nobody brakes."""
    level, resistance = top_speed(build), road_resistance(build)
    pulls = -resistance.force(0.0, -LONG_HILL)
    rolls = math.sqrt(max(pulls, 0.0) / resistance.drag(1.0))
    return max(level, min(rolls, governed_road_speed(build)))


@quantity(
    "gearing.tyre-speed",
    "speed",
    "km/h",
    formula="speed of the speed symbol",
    sources=[sources.TYRE_MARKINGS.giving("formula", "speed of each symbol")],
)
def tyre_speed(build: Build) -> float:
    """Speed that the tyres are rated for: the lower of front and rear where they are unlike."""
    speeds = [_speed_of(build.driveline.tyres)]
    if unlike(build):
        speeds.append(_speed_of(tyres_at(build, "front")))
    return min(speeds)


def _speed_of(fitted: TyreMake) -> float:
    symbol = given(lambda: fitted.speed_symbol)
    if symbol is None:
        designation = given(lambda: fitted.designation)
        symbol = tyres.read_designation(designation).speed_symbol if designation is not None else None
    return tyres.speed_of_symbol(symbol or fitted.speed_symbol)


@quantity(
    "gearing.overspeed-road-speed",
    "speed",
    "km/h",
    formula="v = n_overspeed · 2π·r/i",
    symbols={
        "n_overspeed": "engine.speed.overspeed_max",
        "r": "gearing.rolling-radius",
        "i": "gearing.overall-ratio",
    },
    sources=[
        sources.KINEMATICS.giving("formula", "road speed at an engine speed"),
        sheet("engine.speed.overspeed_max").giving("limit", "highest speed of the engine"),
    ],
    each=gear_ratios,
)
def overspeed_road_speed(build: Build, gear: float) -> float:
    """Road speed at which a gear, high range, drives the engine to its overspeed limit."""
    return gears.road_speed(build.engine.speed.overspeed_max, overall_ratio(build, gear), rolling_radius(build))


@dataclass(frozen=True, slots=True)
class DescentGear:
    """The gear for long descents: how it is called, and its overall ratio."""

    name: str
    ratio: float


def descent_gear(build: Build) -> DescentGear:
    """The lowest gear in which the speed of long descents keeps the engine within its governed speed.

    Low range counts where it may be driven: off the road, where the wheels can slip. Where even top gear drives the
    engine beyond its governor, it is top gear.
    """
    wheels = build.build.design.descent_speed / rolling_radius(build)
    found = [
        DescentGear(f"gear {number}{name}", step * overall_ratio(build, gear))
        for number, gear in enumerate(gear_ratios(build), 1)
        for name, step in [("", 1.0), *_low_range_off_the_road(build)]
    ]
    held = [gear for gear in found if wheels * gear.ratio <= build.engine.speed.governed_max]
    return max(held, key=lambda gear: gear.ratio) if held else min(found, key=lambda gear: gear.ratio)


def _low_range_off_the_road(build: Build) -> list[tuple[str, float]]:
    """What low range is called and adds to the ratio, where it may be driven."""
    if given(lambda: build.build.duty.terrain) != "off-road" or not is_fitted(build.driveline.transfer):
        return []
    return [(" of the low range", low_range(build) / high_range(build))]


@quantity(
    "gearing.speedometer-ratio",
    formula="V1/V2 = (i_now · D_then)/(i_then · D_now) · reading then · correction; i = 1 for a wheel sensor; for a "
    "radial tyre whose rolling circumference was measured D_now is that over 3.05",
    sources=[
        sources.KINEMATICS.giving("formula", "turns for a distance"),
        sources.TYRE_ROLLING.giving("formula", "3.05 diameters to a turn"),
    ],
    instead={
        "driveline.tyres.rolling_circumference": ["driveline.tyres.overall_diameter", "driveline.tyres.designation"]
    },
)
def speedometer_ratio(build: Build) -> float:
    """Indicated over true speed after the swap."""
    gauge = build.driveline.speedometer
    ahead_of_axle = gauge.source != "wheel"
    ratio = speedometers.indicated_ratio(
        gauge.calibrated_axle_ratio if ahead_of_axle else 1.0,
        gauge.calibrated_tyre_diameter,
        axle_ratio(build) if ahead_of_axle else 1.0,
        _rolling_diameter(build),
        gauge.calibrated_reading,
    )
    return ratio * gauge.correction


def _rolling_diameter(build: Build) -> float:
    """Outside diameter, m, that a tyre rolling as these were measured would have; else that of the tyres."""
    if given(lambda: driven_tyres(build).rolling_circumference) is None or construction(build) != "radial":
        return tyre_diameter(build)
    return rolling_radius(build) / tyres.rolling_radius(1.0)
