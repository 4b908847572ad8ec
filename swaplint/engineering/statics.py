"""Static loads: axles and wheels of a vehicle, mounts of an engine unit, bending at the rear face.

Axes: x rearward from the front axle (or, for an engine unit, from the rear face of the block), y to the
left, z up. These three in this order are left-handed, so turning moments are described in words, not by a
hand rule. Loads carried by axles and wheels are given in kilograms, as a weighbridge shows them; forces on
mounts in newtons.

Formulas are the equilibrium of forces and moments (any statics text); for vehicles on a slope, Gillespie,
*Fundamentals of Vehicle Dynamics*, chapter 1 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from swaplint.engineering.constants import G
from swaplint.engineering.guards import ImpossibleInput, finite, not_negative, positive, said


@dataclass(frozen=True, slots=True)
class PointMass:
    """One entry of a mass ledger: mass in kg at x, y, z in m. A removed item has a negative mass.

    An axle as weighed is an entry too: its mass at x = 0 (front) or x = wheelbase (rear).
    """

    mass: float
    x: float
    y: float = 0.0
    z: float = 0.0

    def __post_init__(self) -> None:
        for name in ("mass", "x", "y", "z"):
            finite(name, getattr(self, name))


@dataclass(frozen=True, slots=True)
class AxleLoads:
    """Load on the front and rear axle, kg; negative values are a relief, or an axle that lifts."""

    front: float
    rear: float

    @property
    def total(self) -> float:
        """Sum of both axles, kg."""
        return self.front + self.rear

    @property
    def front_share(self) -> float:
        """Front axle's share of the total, 1. Raises ImpossibleInput if the total is not positive."""
        return self.front / positive("total load", self.total)

    def __add__(self, other: AxleLoads) -> AxleLoads:
        return AxleLoads(self.front + other.front, self.rear + other.rear)


class CornerLoads(NamedTuple):
    """Load under each wheel position, kg."""

    front_left: float
    front_right: float
    rear_left: float
    rear_right: float

    @property
    def front_side_difference(self) -> float:
        """|left - right| of the front axle as a share of that axle's load, 1."""
        return abs(side_excess(self.front_left, self.front_right))

    @property
    def rear_side_difference(self) -> float:
        """|left - right| of the rear axle as a share of that axle's load, 1."""
        return abs(side_excess(self.rear_left, self.rear_right))


def side_excess(left: float, right: float) -> float:
    """Return what the left side of an axle carries more than the right, as a share of the axle's load, 1.

    (left - right)/(left + right), both in kg; negative where the right side carries more. Raises ImpossibleInput
    unless the axle carries something.

    >>> side_excess(520.0, 480.0)
    0.04
    """
    return (finite("left", left) - finite("right", right)) / positive("axle load", left + right)


def shift_to_level(difference: float, mass: float, track: float) -> float:
    """Return how far across an item of `mass` kg must move to take `difference` kg from between the sides, m.

    Moments: moving m by d changes left - right by 2·m·d/track, so d = difference·track/(2·m).

    >>> shift_to_level(difference=40.0, mass=50.0, track=1.5).__round__(6)
    0.6
    """
    return finite("difference", difference) * positive("track", track) / (2.0 * positive("mass", mass))


def spring_deflection(load: float, rate: float) -> float:
    """Return how far an axle sinks on its two springs under `load` kg, m: load·g/(2·rate).

    `rate` is the spring rate of one side at the wheel, N/m. A spring that stands inboard of the wheel, or at a slant,
    has a lower rate at the wheel: its own rate times the square of the motion ratio. Friction of leaf springs and the
    rates of bushes and stops are left out. A negative load is a relief: the axle rises. Source: Hooke's law.

    >>> spring_deflection(100.0, 50e3).__round__(6)
    0.009807
    """
    return finite("load", load) * G / (2.0 * positive("rate", rate))


def total_mass(masses: Iterable[PointMass]) -> float:
    """Return the sum of a ledger, kg.

    >>> total_mass([PointMass(900.0, 0.0), PointMass(-150.0, 0.1)])
    750.0
    """
    return math.fsum(item.mass for item in masses)


def height_by_lifting(mass: float, gain: float, lift: float, wheelbase: float, wheel_radius: float) -> float:
    """Height of the centre of gravity, m, from how much more an axle carries while the other is lifted.

    h = r + Δm·L/(m·tan θ) with sin θ = lift/L: moments about the axle that stays down, whose wheel centres, and those
    of the lifted one, stand at the radius r. Suspension blocked: free springs shift the load by more than the scales
    are off.

    >>> round(height_by_lifting(1800.0, 55.8, 0.60, 2.6, 0.36), 2)
    0.7
    """
    positive("mass", mass), positive("gain", gain), positive("lift", lift)
    positive("wheelbase", wheelbase), positive("wheel radius", wheel_radius)
    if not lift < wheelbase:
        raise ImpossibleInput(
            f"an axle cannot be lifted by {said(lift, 'mm')} on a wheelbase of {said(wheelbase, 'mm')}"
        )
    return wheel_radius + gain * wheelbase / (mass * math.tan(math.asin(lift / wheelbase)))


def centre_of_gravity(masses: Iterable[PointMass]) -> tuple[float, float, float]:
    """Return x, y, z of the centre of gravity, m. Raises ImpossibleInput unless the total mass is positive.

    >>> centre_of_gravity([PointMass(600.0, 0.0, z=0.5), PointMass(400.0, 2.5, z=0.5)])
    (1.0, 0.0, 0.5)
    """
    items = list(masses)
    mass = positive("total mass", total_mass(items))
    return (
        math.fsum(item.mass * item.x for item in items) / mass,
        math.fsum(item.mass * item.y for item in items) / mass,
        math.fsum(item.mass * item.z for item in items) / mass,
    )


def axle_loads(masses: Iterable[PointMass], wheelbase: float) -> AxleLoads:
    """Return what a ledger puts on each axle on level ground, kg.

    Moments about the front axle: rear = Σ m·x / wheelbase, front = Σ m - rear. A mass ahead of the front axle
    relieves the rear, one behind the rear axle relieves the front.

    >>> axle_loads([PointMass(120.0, -0.3)], wheelbase=2.6).front.__round__(2)
    133.85
    """
    positive("wheelbase", wheelbase)
    items = list(masses)
    rear = math.fsum(item.mass * item.x for item in items) / wheelbase
    return AxleLoads(total_mass(items) - rear, rear)


def towbar_loads(mass: float, overhang: float, wheelbase: float) -> AxleLoads:
    """Return what a nose load of `mass` kg, `overhang` m behind the rear axle, adds to each axle, kg.

    >>> towbar_loads(100.0, 1.0, 2.5)
    AxleLoads(front=-40.0, rear=140.0)
    """
    not_negative("nose load", mass)
    not_negative("overhang", overhang)
    return axle_loads([PointMass(mass, positive("wheelbase", wheelbase) + overhang)], wheelbase)


def shift_to_move_load(load: float, mass: float, wheelbase: float) -> float:
    """Return how far an item of `mass` kg must move along the vehicle to move `load` kg from axle to axle, m.

    >>> shift_to_move_load(load=20.0, mass=50.0, wheelbase=2.5)
    1.0
    """
    return finite("load", load) * positive("wheelbase", wheelbase) / positive("mass", mass)


def axle_forces_on_slope(
    masses: Iterable[PointMass], wheelbase: float, slope: float = 0.0, acceleration: float = 0.0
) -> tuple[float, float]:
    """Return the forces of the ground on front and rear axle normal to the road, N.

    `slope` is the angle of the road, rad, positive uphill; `acceleration` m/s², positive forwards; z of the
    masses is the height above the road. Front = (Σ m·g·(L - x)·cos slope - Σ m·z·(a + g·sin slope)) / L.
    Air forces and drive-line reactions are left out. A negative force means that the axle has lifted and
    the result no longer holds. Source: Gillespie, chapter 1 (from memory).

    >>> front, rear = axle_forces_on_slope([PointMass(1000.0, 1.25, z=0.5)], 2.5)
    >>> round(front, 2), round(rear, 2)
    (4903.32, 4903.32)
    """
    positive("wheelbase", wheelbase)
    if abs(finite("slope", slope)) >= math.pi / 2:
        raise ImpossibleInput(f"a slope must be less steep than a wall, not {said(slope, '°')}")
    finite("acceleration", acceleration)
    items = list(masses)
    weight = total_mass(items) * G * math.cos(slope)
    along = acceleration + G * math.sin(slope)
    rear = (
        math.fsum(item.mass * item.x * G * math.cos(slope) for item in items)
        + math.fsum(item.mass * item.z * along for item in items)
    ) / wheelbase
    return weight - rear, rear


def left_share(masses: Iterable[PointMass], track: float) -> float:
    """Return the share of the load on the left side, 1: one half plus y of the centre of gravity / track.

    Above 1 or below 0 means that the vehicle would tip.

    >>> left_share([PointMass(1000.0, 1.0, y=0.075)], track=1.5)
    0.55
    """
    return 0.5 + centre_of_gravity(masses)[1] / positive("track", track)


def sides_of_axle(
    masses: Iterable[PointMass], wheelbase: float, track: float, *, rear: bool = False
) -> tuple[float, float]:
    """Return the load under the left and the right wheel of the front or rear axle, kg.

    Four supports on a stiff frame are statically indeterminate. This splits each item between the axles by
    its x and lets each axle carry the side moment of its own part, which is right for a frame that is soft in
    torsion. A stiff frame moves the difference to the axle with the stiffer roll spring: weigh four wheels
    where it matters.

    >>> sides_of_axle([PointMass(100.0, 0.0, y=0.75)], 2.5, 1.5)
    (100.0, 0.0)
    """
    positive("track", track)
    items = list(masses)
    loads = axle_loads(items, wheelbase)
    if rear:
        load, moment = loads.rear, math.fsum(item.mass * item.x / wheelbase * item.y for item in items)
    else:
        load, moment = loads.front, math.fsum(item.mass * (1.0 - item.x / wheelbase) * item.y for item in items)
    return load / 2.0 + moment / track, load / 2.0 - moment / track


def corner_loads(masses: Iterable[PointMass], wheelbase: float, track_front: float, track_rear: float) -> CornerLoads:
    """Return the load under each of four wheel positions, kg: the sides of both axles.

    >>> corner_loads([PointMass(100.0, 0.0, y=0.75)], 2.5, 1.5, 1.5)
    CornerLoads(front_left=100.0, front_right=0.0, rear_left=0.0, rear_right=0.0)
    """
    positive("track_front", track_front)
    positive("track_rear", track_rear)
    items = list(masses)
    return CornerLoads(
        *sides_of_axle(items, wheelbase, track_front), *sides_of_axle(items, wheelbase, track_rear, rear=True)
    )


def balancing_position(masses: Iterable[PointMass], mass: float) -> float:
    """Return y, m, at which an item of `mass` kg brings the side moment of the other `masses` to nothing.

    >>> balancing_position([PointMass(40.0, 0.0, y=0.5)], mass=50.0)
    -0.4
    """
    return -math.fsum(item.mass * item.y for item in masses) / positive("mass", mass)


@dataclass(frozen=True, slots=True)
class Support:
    """A mount seen from above: x rearward and y left in m, vertical stiffness in N/m.

    With three supports that are not in line the stiffness does not change the reactions, so that any equal
    values will do.
    """

    x: float
    y: float
    stiffness: float = 1.0

    def __post_init__(self) -> None:
        finite("x", self.x)
        finite("y", self.y)
        positive("stiffness", self.stiffness)


def support_reactions(
    supports: Sequence[Support],
    weight: float,
    x: float,
    y: float,
    roll_torque: float = 0.0,
    pitch_torque: float = 0.0,
) -> tuple[float, ...]:
    """Return the upward force of each support on a rigid unit, N, in the order given; negative is uplift.

    `weight` in N acts downward at `x`, `y`. `roll_torque` in N·m is positive where it presses the left (y >
    0) supports down, `pitch_torque` where it presses the rear (greater x) supports down: an axial thrust F
    at a height h over the supports, pushing rearward, is a pitch torque F·h. A rigid unit on linear springs
    stays plane, so that the reactions are k·(a + b·x + c·y) with three constants from three equations of
    equilibrium. The reactions are linear in load and torque. Source: equilibrium and Hooke's law (any
    statics text).

    Raises ImpossibleInput for fewer than three supports, or supports that all stand on one line.

    >>> corners = [Support(0.0, 0.3), Support(0.0, -0.3), Support(1.0, 0.0)]
    >>> [round(force, 6) for force in support_reactions(corners, weight=3000.0, x=0.4, y=0.0)]
    [900.0, 900.0, 1200.0]
    """
    if len(supports) < 3:
        raise ImpossibleInput(f"a unit needs at least three supports, not {len(supports)}")
    finite("weight", weight)
    for name, value in (("x", x), ("y", y), ("roll_torque", roll_torque), ("pitch_torque", pitch_torque)):
        finite(name, value)
    stiffness = math.fsum(s.stiffness for s in supports)
    # With the origin at the elastic centre the bounce equation separates from the two rotations.
    x0 = math.fsum(s.stiffness * s.x for s in supports) / stiffness
    y0 = math.fsum(s.stiffness * s.y for s in supports) / stiffness
    kxx = math.fsum(s.stiffness * (s.x - x0) ** 2 for s in supports)
    kyy = math.fsum(s.stiffness * (s.y - y0) ** 2 for s in supports)
    kxy = math.fsum(s.stiffness * (s.x - x0) * (s.y - y0) for s in supports)
    determinant = kxx * kyy - kxy * kxy
    if determinant <= 1e-12 * max(kxx, kyy) ** 2:
        raise ImpossibleInput("the supports stand on one line and cannot hold the unit")
    moment_x = weight * (x - x0) + pitch_torque
    moment_y = weight * (y - y0) + roll_torque
    by_x = (moment_x * kyy - moment_y * kxy) / determinant
    by_y = (moment_y * kxx - moment_x * kxy) / determinant
    return tuple(s.stiffness * (weight / stiffness + by_x * (s.x - x0) + by_y * (s.y - y0)) for s in supports)


def unit_reaction_torque(engine_torque: float, ratio: float = 1.0, stall_ratio: float = 1.0) -> float:
    """Return the torque that the mounts of an engine unit must hold, N·m: engine torque·ratio·stall ratio.

    `ratio` is all reduction bolted to the engine: 1 for an engine on its own, first gear for an engine with
    its gearbox, times low range with a transfer case on it, times the final drive for a transaxle. Losses
    are left out, which is on the safe side. Source: equilibrium of the unit (any mechanics text).

    >>> unit_reaction_torque(300.0, ratio=4.0)
    1200.0
    """
    return finite("engine_torque", engine_torque) * positive("ratio", ratio) * positive("stall_ratio", stall_ratio)


def bending_moment(weights: Iterable[tuple[float, float]], supports: Iterable[tuple[float, float]]) -> float:
    """Return the bending moment at the rear face of the block, N·m; positive where the gearbox hangs down.

    Both arguments are pairs of force in N and distance in m behind the face: downward weights, upward support
    forces. What lies ahead of the face (distance below zero) does not enter: the moment is that of one side.
    A shock multiplies the result by the shock factor. Source: method of sections (any statics text).

    >>> bending_moment(weights=[(1500.0, 0.4)], supports=[(800.0, 0.6)]).__round__(6)
    120.0
    """
    hanging = math.fsum(finite("weight", w) * max(0.0, finite("distance", d)) for w, d in weights)
    held = math.fsum(finite("support", f) * max(0.0, finite("distance", d)) for f, d in supports)
    return hanging - held


def rear_support_without_bending(
    engine_weight: float, engine_x: float, gearbox_weight: float, gearbox_x: float, front_support_x: float
) -> float:
    """Return how far behind the rear face, m, a rear mount leaves no static bending moment there.

    Weights in N; distances in m from the rear face, positive rearward, so that `front_support_x` is negative.
    Moving the rear mount changes its own load, so that the force must not be held constant:
    x = Wg·xg·a / (We·(xe + a) + Wg·a) with a = -front_support_x. Source: equilibrium of the whole unit and of
    the part behind the face.

    >>> rear_support_without_bending(4000.0, -0.4, 1500.0, 0.4, -0.5).__round__(4)
    0.2609
    """
    positive("engine_weight", engine_weight)
    positive("gearbox_weight", gearbox_weight)
    positive("gearbox_x", gearbox_x)
    a = positive("distance of the front mount ahead of the face", -front_support_x)
    carried = engine_weight * (finite("engine_x", engine_x) + a) + gearbox_weight * a
    if carried <= 0.0:
        raise ImpossibleInput("the engine lies so far ahead of the front mount that the unit tips forward")
    return gearbox_weight * gearbox_x * a / carried
