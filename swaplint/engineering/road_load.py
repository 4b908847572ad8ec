"""Forces on a vehicle on the road, and what an engine and its gearing can do against them.

Grade is rise over horizontal run (0.12 for 12 %), never an angle; the forces use the exact sine and cosine
of its angle. `mass` is the whole mass moved, with trailer. Air speed is taken as road speed: no wind.

Sources: Gillespie, Fundamentals of Vehicle Dynamics (road loads, tractive force); Wong, Theory of Ground
Vehicles (traction limit, gradeability). Rolling resistance is a constant share of the wheel load; on soft
ground that share is the largest unknown of all, and on a slope the limit is often not the engine but the
tyres, the brakes or stability: these functions know nothing of the last two.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, NamedTuple

from swaplint.engineering import curves, gears
from swaplint.engineering.constants import G
from swaplint.engineering.guards import ImpossibleInput, OutsideRange, finite, not_negative, positive, said, share
from swaplint.engineering.roots import crossing


def grade_force(mass: float, grade: float) -> float:
    """Return the force along the road, N, with which gravity holds `mass` (kg) back on a grade.

    m·g·sin(atan(grade)); negative downhill. Mass above zero, else `ImpossibleInput`.

    >>> round(grade_force(1000.0, 0.12), 1)
    1168.4
    """
    return positive("mass", mass) * G * math.sin(math.atan(finite("grade", grade)))


def car_tyre_coefficient(pressure: float, speed: float) -> float:
    """Rolling resistance coefficient of a car tyre on a hard road, from its pressure, Pa above the air, and the speed.

    c = 0.005 + (0.01 + 0.0095·(v/100 km/h)²)/p, p in bar (a published engineering table, read second-hand), within
    about a fifth. Not for the tread of a mud tyre.

    >>> round(car_tyre_coefficient(2.5e5, 80 / 3.6), 4), round(car_tyre_coefficient(4.5e5, 80 / 3.6), 4)
    (0.0114, 0.0086)
    """
    bar = positive("pressure", pressure) / 1e5
    return 0.005 + (0.01 + 0.0095 * (not_negative("speed", speed) * 3.6 / 100.0) ** 2) / bar


def rolling_resistance(mass: float, coefficient: float, grade: float = 0.0) -> float:
    """Return the rolling resistance, N, of `mass` (kg) on a grade: C·m·g·cos(atan(grade)).

    `coefficient` is 0 or more; about 0.006 to 0.015 on hard roads and 0.05 to 0.25 on soft ground (handbook
    values). Mass above zero. Else `ImpossibleInput`.

    >>> round(rolling_resistance(1000.0, 0.012), 1)
    117.7
    """
    weight_on_road = positive("mass", mass) * G * math.cos(math.atan(finite("grade", grade)))
    return not_negative("rolling resistance coefficient", coefficient) * weight_on_road


def aerodynamic_drag(air_density: float, drag_area: float, speed: float) -> float:
    """Return the drag, N, at a speed in m/s (0 or more): ρ/2·Cd·A·v².

    `air_density` in kg/m³ (above zero), `drag_area` the drag coefficient times the frontal area, m² (0 or
    more), else `ImpossibleInput`.

    >>> round(aerodynamic_drag(1.225, 0.45 * 2.8, 100 / 3.6), 1)
    595.5
    """
    area = not_negative("drag area", drag_area)
    return 0.5 * positive("air density", air_density) * area * not_negative("speed", speed) ** 2


def wheel_force(torque: float, overall_ratio: float, efficiency: float, rolling_radius: float) -> float:
    """Return the force of the driven wheels on the road, N, from the engine torque: T·i·η/r.

    Steady speed, engine driving: torque in N·m, 0 or more. `efficiency` (above 0, up to 1) is that of the
    whole driveline in that gear, `rolling_radius` in m. Else `ImpossibleInput`.

    >>> wheel_force(250.0, 10.0, 0.9, 0.4)
    5625.0
    """
    geared = not_negative("torque", torque) * positive("overall ratio", overall_ratio)
    return geared * _efficiency(efficiency) / positive("rolling radius", rolling_radius)


def climbable_grade(force: float, mass: float, rolling_coefficient: float) -> float:
    """Return the grade on which `force` (N), net of drag, just balances gravity and rolling resistance.

    Solves sin θ + C·cos θ = F/(m·g) exactly: θ = asin(F/(m·g·√(1 + C²))) - atan C, and returns tan θ.
    Infinite if the force would lift the vehicle up any slope, negative if it does not even hold the level
    road. The tyres may hold less: see `traction_grade`. Mass above zero, coefficient 0 or more, else
    `ImpossibleInput`.

    >>> round(climbable_grade(1168.42 + 116.84, 1000.0, 0.012), 4)
    0.12
    """
    weight = positive("mass", mass) * G
    return _grade(finite("force", force) / weight, not_negative("rolling coefficient", rolling_coefficient))


def traction_grade(
    mass: float,
    driven_mass: float,
    adhesion: float,
    rolling_coefficient: float,
    drag: float = 0.0,
    shift: float = 0.0,
) -> float:
    """Return the steepest grade that the driven wheels can push the vehicle up before they slip.

    The force at the driven wheels is at most μ·g·(m_driven·cos θ + m·shift·sin θ), and has to overcome gravity, all
    rolling resistance and `drag` (N). Without drag the grade is (μ·m_driven/m - C)/(1 - μ·shift). `driven_mass` (kg,
    up to `mass`) is what rests on the driven axles on level ground; `adhesion` μ is 0 or more, about 0.8 on dry roads.

    Load moves to the lower axle on a grade: `shift` is the height of the centre of gravity over the wheelbase, as it
    is for a driven rear axle, negative for a driven front axle, 0 where both are driven. `OutsideRange` where grip
    and shift together would push it up any slope, `ImpossibleInput` for impossible values.

    >>> round(traction_grade(2000.0, 1200.0, 0.8, 0.02), 3)
    0.46
    >>> round(traction_grade(2000.0, 1200.0, 0.8, 0.02, shift=-0.25), 3)
    0.383
    """
    if positive("driven mass", driven_mass) > positive("mass", mass):
        raise ImpossibleInput(f"the driven wheels cannot carry {driven_mass:g} kg of {mass:g} kg")
    gain = 1.0 - not_negative("adhesion", adhesion) * finite("shift", shift)
    if gain <= 0.0:
        raise OutsideRange(f"a grip of {adhesion:g} on wheels that gain {shift:g} of the slope's pull holds any slope")
    surplus = not_negative("rolling coefficient", rolling_coefficient) - adhesion * driven_mass / mass
    return _grade(-not_negative("drag", drag) / (mass * G * gain), surplus / gain)


def startable_grade(
    launch_torque: float,
    usable_share: float,
    overall_ratio: float,
    efficiency: float,
    rolling_radius: float,
    mass: float,
    rolling_coefficient: float,
) -> float:
    """Return the grade on which the vehicle can move off, from the torque the clutch can pass at launch.

    The force balance of `climbable_grade` at zero speed. `launch_torque` (N·m) is what the engine gives at
    launch speed, off boost; times the stall torque ratio for a torque converter. `usable_share` (above 0,
    up to 1) keeps some of it back for accelerating the vehicle; 0.85 is common practice.

    >>> round(startable_grade(400.0, 0.85, 30.0, 0.9, 0.5, 7000.0, 0.015), 3)
    0.261
    """
    usable = positive("usable share", share("usable share", usable_share))
    force = wheel_force(launch_torque * usable, overall_ratio, efficiency, rolling_radius)
    return climbable_grade(force, mass, rolling_coefficient)


def ratio_for_grade(
    grade: float,
    torque: float,
    efficiency: float,
    rolling_radius: float,
    mass: float,
    rolling_coefficient: float,
    drag: float = 0.0,
) -> float:
    """Return the overall ratio with which `torque` (N·m, above zero) holds a grade against `drag` (N).

    i = (m·g·(sin θ + C·cos θ) + drag)·r/(T·η). `OutsideRange` if the vehicle would roll down by itself.

    >>> round(ratio_for_grade(0.25, 400.0, 0.9, 0.5, 7000.0, 0.015), 2)
    24.51
    """
    force = grade_force(mass, grade) + rolling_resistance(mass, rolling_coefficient, grade)
    force += not_negative("drag", drag)
    if force <= 0.0:
        raise OutsideRange(f"on a grade of {grade:.1%} the vehicle needs no driving force")
    return force * positive("rolling radius", rolling_radius) / (positive("torque", torque) * _efficiency(efficiency))


def governed_curve(torque_curve: curves.Curve, no_load_speed: float) -> tuple[curves.Point, ...]:
    """Return the full-load torque curve extended along the governor line to zero torque at no-load speed.

    Engine speeds in rad/s, torque in N·m. A governed engine reaches its no-load speed only unloaded; between
    the last full-load point and it the torque falls, here linearly (common practice). Without this line a
    governed top speed comes out too high. `OutsideRange` if the curve already reaches `no_load_speed`.

    >>> governed_curve([(150.0, 600.0), (270.0, 480.0)], 300.0)
    ((150.0, 600.0), (270.0, 480.0), (300.0, 0.0))
    """
    curve = curves.checked_curve(torque_curve, "r/min")
    if not positive("no-load speed", no_load_speed) > curve[-1][0]:
        raise OutsideRange(
            f"the torque curve runs to {said(curve[-1][0], 'r/min')} already, so no governor line to "
            f"{said(no_load_speed, 'r/min')} can follow it"
        )
    return (*curve, (no_load_speed, 0.0))


@dataclass(frozen=True, slots=True)
class Resistance:
    """What has to be overcome: mass kg, rolling coefficient, drag area Cd·A m², air density kg/m³.

    >>> vehicle = Resistance(mass=1500.0, rolling_coefficient=0.012, drag_area=0.9, air_density=1.225)
    >>> round(vehicle.force(25.0)), round(vehicle.power(25.0, grade=0.02))
    (521, 20379)
    """

    mass: float
    rolling_coefficient: float
    drag_area: float
    air_density: float

    def __post_init__(self) -> None:
        self.force(0.0)  # refuses impossible values here rather than at the first use

    def drag(self, speed: float) -> float:
        """Return the aerodynamic drag, N, at a speed in m/s."""
        return aerodynamic_drag(self.air_density, self.drag_area, speed)

    def force(self, speed: float, grade: float = 0.0) -> float:
        """Return the force, N, that holds a steady speed (m/s) on a grade."""
        rolling = rolling_resistance(self.mass, self.rolling_coefficient, grade)
        return self.drag(speed) + rolling + grade_force(self.mass, grade)

    def power(self, speed: float, grade: float = 0.0) -> float:
        """Return the power at the wheels, W, that holds a steady speed (m/s) on a grade."""
        return self.force(speed, grade) * speed


@dataclass(frozen=True, slots=True)
class Drive:
    """An engine in one gear: full-load torque (N·m over rad/s), overall ratio, efficiency, radius m.

    The curve's own range is the usable range of engine speed. Torque at the flywheel, net of accessories,
    derated for altitude before it comes here; engine speeds and torques must not be negative.

    >>> gear = Drive(((100.0, 500.0), (200.0, 500.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    >>> gear.force(150.0), gear.road_speed(150.0)
    (4500.0, 15.0)
    """

    torque_curve: tuple[curves.Point, ...]
    overall_ratio: float
    efficiency: float
    rolling_radius: float

    def __post_init__(self) -> None:
        # Kept as checked: a search along the curve reads it a hundred times.
        object.__setattr__(self, "torque_curve", curves.checked_curve(self.torque_curve, "r/min"))
        for speed, torque in self.torque_curve:
            not_negative("engine speed", speed)
            wheel_force(torque, self.overall_ratio, self.efficiency, self.rolling_radius)

    def force(self, engine_speed: float) -> float:
        """Return the force at the driven wheels, N, at an engine speed (rad/s) inside the curve."""
        torque = curves.interpolate(self.torque_curve, engine_speed, "r/min")
        return wheel_force(torque, self.overall_ratio, self.efficiency, self.rolling_radius)

    def engine_speed(self, road_speed: float) -> float:
        """Return the engine speed, rad/s, at a road speed in m/s."""
        return gears.engine_speed(road_speed, self.overall_ratio, self.rolling_radius)

    def road_speed(self, engine_speed: float) -> float:
        """Return the road speed, m/s, at an engine speed in rad/s."""
        return gears.road_speed(engine_speed, self.overall_ratio, self.rolling_radius)


class Traction(NamedTuple):
    """Grip of the driven wheels: mass on the driven axles on level ground, kg, and adhesion coefficient.

    `shift` is how much of the slope's pull comes onto them: see `traction_grade`.
    """

    driven_mass: float
    adhesion: float
    shift: float = 0.0


class Climb(NamedTuple):
    """A grade held: at which engine speed (rad/s), at which road speed (m/s), and what ends it there."""

    grade: float
    engine_speed: float
    road_speed: float
    limited_by: Literal["engine", "traction"]


class SteadySpeed(NamedTuple):
    """The highest steady speed in a gear: road speed (m/s), engine speed (rad/s), and what ends it there.

    `limited_by` is "resistance" where the engine's force equals the road's, and "engine speed" where force
    would be left at the upper end of the torque curve.
    """

    road_speed: float
    engine_speed: float
    limited_by: Literal["resistance", "engine speed"]


def grade_held(drive: Drive, resistance: Resistance, road_speed: float, traction: Traction | None = None) -> Climb:
    """Return the grade held at full load at a steady road speed (m/s) in this gear.

    Without `traction` the tyres are taken to hold. `OutsideRange` if the engine speed lies outside the curve.

    >>> gear = Drive(((100.0, 500.0), (200.0, 500.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    >>> round(grade_held(gear, Resistance(4000.0, 0.012, 3.0, 1.2), road_speed=15.0).grade, 3)
    0.093
    """
    return _climb(drive, resistance, drive.engine_speed(road_speed), traction)


def _climb(drive: Drive, resistance: Resistance, engine_speed: float, traction: Traction | None) -> Climb:
    road_speed = drive.road_speed(engine_speed)
    drag = resistance.drag(road_speed)
    grade = climbable_grade(drive.force(engine_speed) - drag, resistance.mass, resistance.rolling_coefficient)
    if traction is not None:
        grip = traction_grade(
            resistance.mass,
            traction.driven_mass,
            traction.adhesion,
            resistance.rolling_coefficient,
            drag,
            traction.shift,
        )
        if grip < grade:
            return Climb(grip, engine_speed, road_speed, "traction")
    return Climb(grade, engine_speed, road_speed, "engine")


def best_climb(drive: Drive, resistance: Resistance, traction: Traction | None = None) -> Climb:
    """Return the steepest grade held in this gear over the whole range of the torque curve.

    The net force, wheel force less drag, is a parabola in engine speed on each linear torque segment, so its
    maximum is at a table point or at a crest between two: all of them are tried. With `traction`
    the grip is judged at the engine's best speed; at a lower one drag would leave it a trifle more.

    >>> gear = Drive(((100.0, 500.0), (200.0, 500.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    >>> climb = best_climb(gear, Resistance(4000.0, 0.012, 3.0, 1.2))
    >>> round(climb.grade, 3), climb.engine_speed
    (0.099, 100.0)
    """
    best = max(
        _speeds_of_interest(drive, resistance),
        key=lambda speed: drive.force(speed) - resistance.drag(drive.road_speed(speed)),
    )
    return _climb(drive, resistance, best, traction)


def power_reserve(drive: Drive, resistance: Resistance, road_speed: float) -> float:
    """Return the power left at full load at a road speed (m/s) on the level, as a share of the power needed.

    P_available/P_road - 1: 0.5 means half as much again is left, below 0 the speed cannot be held.
    `OutsideRange` if the engine speed lies outside the curve or nothing resists.

    >>> gear = Drive(((100.0, 500.0), (200.0, 500.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    >>> round(power_reserve(gear, Resistance(4000.0, 0.012, 3.0, 1.2), road_speed=20.0), 2)
    2.78
    """
    needed = resistance.force(positive("road speed", road_speed))
    if needed <= 0.0:
        raise OutsideRange("without rolling resistance and drag there is no road load to compare with")
    return drive.force(drive.engine_speed(road_speed)) / needed - 1.0


def steady_speed(drive: Drive, resistance: Resistance, grade: float = 0.0) -> SteadySpeed | None:
    """Return the highest speed that this gear holds at full load on a grade, or None if it holds none.

    The highest engine speed of the curve at which the wheel force is not below the road's. Between table
    points the surplus force is a parabola with its crest upwards, so above the crest it crosses zero once.
    With a hollow in the torque curve the vehicle may hold a speed that it cannot reach in this gear. Give
    the curve a governor line (`governed_curve`) for a governed engine.

    >>> gear = Drive(((100.0, 500.0), (200.0, 500.0)), overall_ratio=5.0, efficiency=0.9, rolling_radius=0.5)
    >>> steady_speed(gear, Resistance(4000.0, 0.012, 3.0, 1.2)).limited_by
    'engine speed'
    >>> steady_speed(gear, Resistance(4000.0, 0.012, 3.0, 1.2), grade=0.2) is None
    True
    """

    def surplus(engine_speed: float) -> float:
        return drive.force(engine_speed) - resistance.force(drive.road_speed(engine_speed), grade)

    speeds = _speeds_of_interest(drive, resistance)
    if surplus(speeds[-1]) >= 0.0:
        return SteadySpeed(drive.road_speed(speeds[-1]), speeds[-1], "engine speed")
    for high, low in pairwise(reversed(speeds)):
        if surplus(low) >= 0.0:
            found = crossing(lambda speed: -surplus(speed), low, high)
            return SteadySpeed(drive.road_speed(found), found, "resistance")
    return None


def _speeds_of_interest(drive: Drive, resistance: Resistance) -> list[float]:
    """Return, ascending, all engine speeds between which the net force rises or falls throughout."""
    speeds = [speed for speed, _ in drive.torque_curve]
    force_per_torque = wheel_force(1.0, drive.overall_ratio, drive.efficiency, drive.rolling_radius)
    drag_per_speed_squared = resistance.drag(drive.road_speed(1.0))
    if drag_per_speed_squared > 0.0:
        for (speed0, torque0), (speed1, torque1) in pairwise(drive.torque_curve):
            slope = (torque1 - torque0) / (speed1 - speed0)
            crest = force_per_torque * slope / (2.0 * drag_per_speed_squared)
            if speed0 < crest < speed1:
                speeds.append(crest)
    return sorted(speeds)


def _grade(force_per_weight: float, coefficient: float) -> float:
    """Return tan θ for the first θ where sin θ + coefficient·cos θ = force_per_weight, or ±infinity."""
    sine = force_per_weight / math.hypot(1.0, coefficient)
    if abs(sine) >= 1.0:
        return math.copysign(math.inf, sine)
    angle = math.asin(sine) - math.atan(coefficient)
    return math.copysign(math.inf, angle) if abs(angle) >= math.pi / 2.0 else math.tan(angle)


def _efficiency(value: float) -> float:
    return positive("efficiency", share("efficiency", value))
