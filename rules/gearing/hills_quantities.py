"""Derived numbers of climbing and moving off."""

from __future__ import annotations

from swaplint.api import Build, Practice, given, is_fitted, or_practice, path_of, practice, quantity, sheet
from swaplint.engineering import atmosphere, curves, gears, road_load
from swaplint.engineering.constants import G
from swaplint.spec.systems.gearing import Axle

from .. import sources
from ..places import highest_of_all
from . import chain, places
from .quantities import (
    altitude_factor,
    axle_ratio,
    finite_grade,
    gear_ratios,
    ground_coefficient,
    low_range,
    lowest_ratio,
    overall_ratio,
    rolling_radius,
    torque_curve,
)


def at_the_highest_place(build: Build) -> tuple[tuple[tuple[float, float], ...], road_load.Resistance]:
    """The full-load curve, and what resists the laden vehicle, on the ground and in the air of the highest place."""
    factor = altitude_factor(build)
    curve = tuple((speed, torque * factor) for speed, torque in torque_curve(build))
    resistance = road_load.Resistance(
        build.vehicle.mass.gvwr,
        ground_coefficient(build),
        build.vehicle.aero.drag_coefficient * build.vehicle.aero.frontal_area,
        atmosphere.standard_density(highest_of_all(build)),
    )
    return curve, resistance


def driven_share(build: Build, *, low: bool = True) -> float:
    """Share of the laden mass on driven wheels: as stated, but no more than the axles driven in a range are rated for.

    The share is stated with every axle engaged, as it climbs the design grade.
    """
    stated = build.driveline.drivetrain.driven_mass_share
    engaged = _engaged(build, low)
    for axle in engaged:
        places.end_of(build, axle)  # where nobody says it, its rating could be either end's
    rated = given(lambda: sum(places.axle_rating(build, axle) for axle in engaged) / build.vehicle.mass.gvwr)
    return stated if rated is None else min(stated, rated)


def _engaged(build: Build, low: bool) -> list[Axle]:
    """The axles that turn with the gearbox in a range, each once."""
    together = {path_of(axle): axle for drive in chain.drives(build) if drive.low == low for axle in drive.axles}
    return list(together.values())


LADEN = practice("the centre of gravity of a laden vehicle stands a quarter of the wheelbase above the ground")
LADEN_HEIGHT = Practice("centre of gravity of the laden vehicle a quarter of its wheelbase high", 0.25, LADEN)


def load_shift(build: Build, *, low: bool = True) -> float:
    """How much of the slope's pull comes onto the driven wheels: height of the centre of gravity over the wheelbase.

    Uphill load moves from the front axle to the rear. With both driven, or none known, nothing is lost. What a driven
    rear axle gains counts only where the height is stated.
    """
    ends = {places.end_of(build, axle) for axle in _engaged(build, low)}
    if ends == {"front"}:
        base = build.vehicle.wheelbase
        return -or_practice(lambda: build.vehicle.mass.laden_height / base, LADEN_HEIGHT)
    if ends == {"rear"}:
        return given(lambda: build.vehicle.mass.laden_height / build.vehicle.wheelbase) or 0.0
    return 0.0


def _traction(build: Build, *, low: bool) -> road_load.Traction:
    driven = build.vehicle.mass.gvwr * driven_share(build, low=low)
    return road_load.Traction(driven, build.driveline.drivetrain.traction_coefficient, load_shift(build, low=low))


def grip_grade(build: Build) -> float:
    """Steepest slope on which the tyres still grip with the axles driven that are driven in the lowest range."""
    grip = _traction(build, low=True)
    ground, mass = ground_coefficient(build), build.vehicle.mass.gvwr
    return road_load.traction_grade(mass, grip.driven_mass, grip.adhesion, ground, shift=grip.shift)


@quantity(
    "gearing.grip",
    "force",
    "kN",
    formula="F = μ·m_driven·g, with every axle engaged",
    symbols={"μ": "driveline.drivetrain.traction_coefficient"},
    sources=[sources.TERRAMECHANICS.giving("formula")],
)
def grip(build: Build) -> float:
    """Force that the driven tyres can put on the ground of the design grade, before the slope takes of their load."""
    traction = _traction(build, low=True)
    return traction.adhesion * traction.driven_mass * G


def best_climb(build: Build, ratio: float, *, low: bool) -> road_load.Climb:
    """The steepest slope at full load with an overall ratio, at the highest place, and at which speed it is held."""
    curve, resistance = at_the_highest_place(build)
    drivetrain = build.driveline.drivetrain
    traction = _traction(build, low=low)
    drive = road_load.Drive(curve, ratio, drivetrain.efficiency, rolling_radius(build))
    return road_load.best_climb(drive, resistance, traction)


def ratio_to_climb(build: Build, grade: float) -> float:
    """Overall ratio with which the engine's highest torque climbs a grade that the lowest gear of all does not."""
    curve, resistance = at_the_highest_place(build)
    speed, torque = curves.maximum(curve)
    radius = rolling_radius(build)
    # A lower gear is slower: what the air takes with the present one is the most that it can take.
    drag = resistance.drag(gears.road_speed(speed, lowest_ratio(build), radius))
    efficiency = build.driveline.drivetrain.efficiency
    return road_load.ratio_for_grade(
        grade, torque, efficiency, radius, resistance.mass, resistance.rolling_coefficient, drag
    )


def ratio_to_start(build: Build, grade: float, mass: float) -> float:
    """Overall ratio with which a mass moves off on a grade."""
    return road_load.ratio_for_grade(
        grade,
        torque_when_moving_off(build) * USABLE_AT_LAUNCH,
        build.driveline.drivetrain.efficiency,
        rolling_radius(build),
        mass,
        ground_coefficient(build),
    )


@quantity(
    "gearing.climb",
    "grade",
    "%",
    formula="steepest grade over the torque curve: sin θ + C_r·cos θ = (T·d·i·η/r − drag)/(m·g), "
    "at most what the tyres grip: μ·(m_driven/m·cos θ ± h/L·sin θ), m_driven as stated and within the ratings of the "
    "axles driven then, plus where they stand behind, minus where in front, neither where both are driven",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "slope that the pull holds"),
        sources.TERRAMECHANICS.giving("formula", "grip on the ground"),
    ],
    each=gear_ratios,
)
def climb_in_gear(build: Build, gear: float) -> float:
    """Steepest slope climbed at full load in a gear, high range, at the highest place."""
    return finite_grade(best_climb(build, overall_ratio(build, gear), low=False).grade)


@quantity(
    "gearing.steepest-climb",
    "grade",
    "%",
    formula="as gearing.climb, with the overall ratio of first gear in the lowest range",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "slope that the pull holds"),
        sources.TERRAMECHANICS.giving("formula", "grip on the ground"),
    ],
)
def steepest_climb(build: Build) -> float:
    """Steepest slope climbed at full load in the lowest gear of all, at the highest place."""
    return finite_grade(best_climb(build, lowest_ratio(build), low=True).grade)


# -- moving off -------------------------------------------------------------------------------------------------------
START = practice("solo start grade of 20 % on roads and 30 % off them in the lowest range")
START_ROAD = Practice("solo start grade of at least 20 % (road)", 0.20, START)
START_OFF_ROAD = Practice("solo start grade of at least 30 % (off road)", 0.30, START)

HILL_START = 0.12
"""The grade on which a vehicle with its trailer must move off.

Vehicle makers' handbooks state their trailer loads for it, in dense air. EU 1230/2012 asks for five such starts in
five minutes at the mass of the combination: from memory.
"""


def may_tow(build: Build) -> bool:
    """Whether the vehicle may tow: it may where nobody says that it has no towbar, or that nothing is left to tow."""
    if given(lambda: is_fitted(build.vehicle.towbar)) is False:
        return False
    return given(lambda: build.vehicle.mass.gcwr <= build.vehicle.mass.gvwr) is not True


def start_wanted(build: Build) -> float:
    """Slope on which the laden vehicle must move off."""
    off_road = build.build.duty.terrain == "off-road"
    return or_practice(lambda: build.build.design.start_grade, START_OFF_ROAD if off_road else START_ROAD)


LAUNCH = practice("85 % of the launch torque counts when moving off, the rest is kept for accelerating")
USABLE_AT_LAUNCH = 0.85


@quantity(
    "gearing.launch-torque",
    "torque",
    "N m",
    formula="launch torque of the sheet, times the stall ratio where there is a torque converter",
    sources=[sheet("engine.torque.launch").giving("formula", "launch torque")],
)
def launch_torque(build: Build) -> float:
    """Torque that goes into the gearbox when the vehicle moves off, in dense air."""
    torque = build.engine.torque.launch
    if chain.has_converter(build):
        return torque * build.driveline.converter.stall_ratio
    return torque


def torque_when_moving_off(build: Build) -> float:
    """Torque that goes into the gearbox when the vehicle moves off at the highest place."""
    return launch_torque(build) * altitude_factor(build)


def starts_on(build: Build, ratio: float, mass: float, *, thin_air: bool = True) -> float:
    """Steepest slope on which a mass moves off at the highest place; infinite where the force would lift it."""
    return road_load.startable_grade(
        torque_when_moving_off(build) if thin_air else launch_torque(build),
        USABLE_AT_LAUNCH,
        ratio,
        build.driveline.drivetrain.efficiency,
        rolling_radius(build),
        mass,
        ground_coefficient(build),
    )


@quantity(
    "gearing.start-grade",
    "grade",
    "%",
    formula="sin θ + C_r·cos θ = 0.85·T_launch·d·i_lowest·η/(r·m·g), solo at its gross rating, d the derate at the "
    "highest place",
    symbols={
        "T_launch": "gearing.launch-torque",
        "d": "gearing.altitude-factor",
        "i_lowest": "gearing.lowest-ratio",
        "η": "driveline.drivetrain.efficiency",
        "r": "gearing.rolling-radius",
        "m": "vehicle.mass.gvwr",
    },
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "slope that the pull holds"),
        LAUNCH.giving("formula", "85 % of the launch torque"),
    ],
)
def start_grade(build: Build) -> float:
    """Steepest slope on which the laden vehicle moves off."""
    return finite_grade(starts_on(build, lowest_ratio(build), build.vehicle.mass.gvwr))


@quantity(
    "gearing.start-grade-trailer",
    "grade",
    "%",
    formula="as gearing.start-grade, with the combination rating as the mass",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "slope that the pull holds"),
        LAUNCH.giving("formula", "85 % of the launch torque"),
    ],
)
def start_grade_with_trailer(build: Build) -> float:
    """Steepest slope on which vehicle and trailer move off."""
    return finite_grade(starts_on(build, lowest_ratio(build), build.vehicle.mass.gcwr))


@quantity(
    "gearing.trailer-grip",
    "grade",
    "%",
    formula="(μ·m_driven/m_combination − C_r)/(1 + μ·h/L), as gearing.climb for the grip; without h/L where one driven "
    "axle stands behind: what it gains is left out",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "load that a slope moves between the axles"),
        sources.TERRAMECHANICS.giving("formula", "grip on the ground"),
    ],
)
def trailer_grip_grade(build: Build) -> float:
    """Steepest slope that the tyres of the driven axles grip with the trailer behind, in the lowest range."""
    grip, mass = _traction(build, low=True), max(build.vehicle.mass.gcwr, build.vehicle.mass.gvwr)
    shift = min(grip.shift, 0.0)
    return road_load.traction_grade(mass, grip.driven_mass, grip.adhesion, ground_coefficient(build), shift=shift)


@quantity(
    "gearing.reverse-ratio",
    formula="i = i_reverse · i_transfer,low · i_axle",
    symbols={
        "i_reverse": "driveline.gearbox.reverse_ratio",
        "i_transfer,low": "driveline.transfer.low",
        "i_axle": "gearing.axle-ratio",
    },
    sources=[sources.KINEMATICS.giving("formula")],
)
def reverse_ratio(build: Build) -> float:
    """Overall ratio in reverse, lowest range."""
    return gears.overall_ratio([build.driveline.gearbox.reverse_ratio, low_range(build), axle_ratio(build)])


@quantity(
    "gearing.reverse-start-grade",
    "grade",
    "%",
    formula="as gearing.start-grade, with the overall ratio in reverse",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "slope that the pull holds"),
        LAUNCH.giving("formula", "85 % of the launch torque"),
    ],
)
def reverse_start_grade(build: Build) -> float:
    """Steepest slope up which the laden vehicle moves off backwards."""
    return finite_grade(starts_on(build, reverse_ratio(build), build.vehicle.mass.gvwr))
