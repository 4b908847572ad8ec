"""Derived numbers of the mounts system: the engine unit, how it shakes, and what its mounts carry."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import partial

from swaplint.api import (
    Build,
    OutsideRange,
    Practice,
    given,
    is_fitted,
    once,
    or_practice,
    path_of,
    practice,
    quantity,
)
from swaplint.engineering import bolts as threads
from swaplint.engineering import statics, vibration
from swaplint.engineering.constants import G
from swaplint.spec.systems.gearing import Axle
from swaplint.spec.systems.mounts import Mount

from .. import sources
from ..driveline import loads
from ..gearing import chain
from ..ledger_masses import unit_part_mass

GYRATION = Practice(
    "radius of gyration of the unit in roll 0.35 of its overall width",
    0.35,
    practice("roll inertia estimated as M·(0.35·width)², within about a quarter"),
    review=True,
)
SHOCKS = practice("shock on brackets of 3 times the weight on roads and 5 off them, and of 3 along the vehicle")
SHOCK_ROAD = Practice("vertical shock of 3 times the weight (road)", 3.0, SHOCKS)
SHOCK_OFF_ROAD = Practice("vertical shock of 5 times the weight (off road)", 5.0, SHOCKS)
SHOCK_ALONG = Practice("shock along the vehicle of 3 times the weight", 3.0, SHOCKS)

SOFTER = Practice(
    "mounts 1.6 times softer under a lasting load than when shaken (1.2 to 1.6)",
    1.6,
    practice("rubber mounts are 1.2 to 1.6 times softer under a load that lasts than under quick shaking"),
    between=(1.2, 1.6),
)

UPRIGHT = Practice(
    "mounts that stand upright, leaning 0°", 0.0, practice("an engine mount stands upright unless seen to lean")
)
AS_SPRINGS = (SOFTER, UPRIGHT)
"""What may stand in where mounts are reckoned with as springs."""

RIGID = "rigid"
ROD = "torque-rod"
NOTHING = 1e-9
"""Share of its stiffness that a torque rod has up and down: none, and no spring is reckoned with as none at all."""


# -- the unit -------------------------------------------------------------------------------------------------------
def _centre(build: Build, axis: str) -> float:
    engine = statics.PointMass(build.engine.mass.wet, getattr(build.engine.centre_of_gravity, axis))
    attached = build.vehicle.engine_unit.attached.values()
    items = [engine, *(statics.PointMass(unit_part_mass(build, item), getattr(item, axis)) for item in attached)]
    return statics.centre_of_gravity(items)[0]


@quantity(
    "mounts.unit-mass",
    "mass",
    "kg",
    formula="M = engine, wet, + Σ attached",
    sources=[sources.STATICS.giving("formula")],
)
def unit_mass(build: Build) -> float:
    """Mass of the engine with all that hangs on the same mounts."""
    attached = build.vehicle.engine_unit.attached.values()
    return build.engine.mass.wet + sum(unit_part_mass(build, item) for item in attached)


@quantity("mounts.centre-x", "length", "mm", formula="Σ m·x/M", sources=[sources.STATICS.giving("formula")])
def centre_x(build: Build) -> float:
    """Centre of gravity of the unit behind the rear face of the block."""
    return _centre(build, "x")


@quantity("mounts.centre-y", "length", "mm", formula="Σ m·y/M", sources=[sources.STATICS.giving("formula")])
def centre_y(build: Build) -> float:
    """Centre of gravity of the unit to the left of the crank."""
    return _centre(build, "y")


@quantity("mounts.centre-z", "length", "mm", formula="Σ m·z/M", sources=[sources.STATICS.giving("formula")])
def centre_z(build: Build) -> float:
    """Centre of gravity of the unit above the middle of the crank."""
    return _centre(build, "z")


# -- stiffness ------------------------------------------------------------------------------------------------------
@once
def mounts(build: Build) -> tuple[Mount, ...]:
    """The mounts that are fitted."""
    return tuple(mount for mount in build.vehicle.mounts.values() if is_fitted(mount))


def is_rod(mount: Mount) -> bool:
    """Whether it is a torque rod, which pushes and pulls across the crank and carries no weight."""
    return given(lambda: mount.kind) == ROD


@once
def bearing(build: Build) -> tuple[Mount, ...]:
    """The mounts that carry the unit: all but torque rods."""
    return tuple(mount for mount in mounts(build) if not is_rod(mount))


def rigid_mounts(build: Build) -> list[Mount]:
    """The mounts that give way nowhere."""
    return [mount for mount in mounts(build) if mount.kind == RIGID]


def _others(build: Build) -> list[Mount]:
    others = [mount for mount in bearing(build) if mount.kind != RIGID]
    if not others:
        raise OutsideRange("every mount is rigid, so that the unit neither moves nor is isolated")
    return others


def _softening(mount: Mount, *, lasting: bool) -> float:
    """How many times softer than when it is shaken a mount is."""
    return or_practice(lambda: mount.dynamic_factor, SOFTER) if lasting else 1.0


def axial(build: Build, mount: Mount, *, lasting: bool = False) -> float:
    """Stiffness along a mount's axis, when shaken or under a `lasting` load.

    A rigid one counts as the softest of the others: no movement is then left out.
    """
    counted = _others(build) if mount.kind == RIGID else [mount]
    return min(m.axial_stiffness / _softening(m, lasting=lasting) for m in counted)


def shear(build: Build, mount: Mount, *, lasting: bool = False) -> float:
    """Stiffness across a mount's axis, when shaken or under a `lasting` load, a rigid one as the softest other."""
    counted = _others(build) if mount.kind == RIGID else [mount]
    return min(m.shear_stiffness / _softening(m, lasting=lasting) for m in counted)


def lean_left(mount: Mount) -> float:
    """How far a mount's axis leans to the left. A mount in the middle has no side to lean to."""
    lean = or_practice(lambda: mount.lean, UPRIGHT)
    if lean == 0.0 or mount.y == 0.0:
        return 0.0
    return -lean if mount.y > 0.0 else lean


def springs(build: Build, y: float = 0.0, z: float = 0.0, *, lasting: bool = False) -> list[vibration.Mount]:
    """The mounts as springs in the plane across the vehicle, their places taken from a point."""
    return [_spring(build, m, m.y - y, m.z - z, lasting=lasting) for m in mounts(build)]


def _spring(build: Build, mount: Mount, y: float, z: float, *, lasting: bool) -> vibration.Mount:
    stiff = axial(build, mount, lasting=lasting)
    if is_rod(mount):
        return vibration.Mount(y, NOTHING * stiff, z, stiff)
    return vibration.inclined_mount(y, z, stiff, shear(build, mount, lasting=lasting), lean_left(mount))


def vertical(build: Build, mount: Mount, *, lasting: bool = False) -> float:
    """Stiffness of a mount up and down."""
    if is_rod(mount):
        return 0.0
    lean, stiff = lean_left(mount), axial(build, mount, lasting=lasting)
    if lean == 0.0:
        return stiff
    return vibration.inclined_mount(0.0, 0.0, stiff, shear(build, mount, lasting=lasting), lean).vertical


@quantity(
    "mounts.vertical-stiffness",
    "stiffness",
    "N/mm",
    formula="Σ (k_axial·cos² lean + k_shear·sin² lean), dynamic",
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def vertical_stiffness(build: Build) -> float:
    """Stiffness of all mounts together, up and down."""
    return sum(vertical(build, mount) for mount in mounts(build))


# -- shaking ----------------------------------------------------------------------------------------------------------
@quantity(
    "mounts.firing-frequency",
    "frequency",
    "Hz",
    formula="f = n_idle · cylinders · 2/strokes, strokes of one cycle: four-stroke or two-stroke",
    symbols={
        "n_idle": "engine.speed.idle",
        "cylinders": "engine.cylinders",
        "strokes": "engine.strokes",
    },
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def firing_frequency(build: Build) -> float:
    """Firing frequency at idle."""
    engine = build.engine
    return vibration.firing_frequency(engine.speed.idle, int(engine.cylinders), engine.strokes == 2)


@quantity(
    "mounts.bounce-frequency",
    "frequency",
    "Hz",
    formula="f = √(Σk/M)/(2π)",
    symbols={
        "Σk": "mounts.vertical-stiffness",
        "M": "mounts.unit-mass",
    },
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def bounce_frequency(build: Build) -> float:
    """Natural frequency of the unit up and down, not coupled with roll."""
    return vibration.natural_frequency(vertical_stiffness(build), unit_mass(build))


@quantity(
    "mounts.isolation-ratio",
    formula="R = firing frequency at idle/bounce frequency",
    symbols={
        "firing frequency at idle": "mounts.firing-frequency",
        "bounce frequency": "mounts.bounce-frequency",
    },
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def isolation_ratio(build: Build) -> float:
    """How far idle firing lies above the natural frequency of bounce."""
    return firing_frequency(build) / bounce_frequency(build)


@quantity(
    "mounts.roll-inertia",
    "inertia",
    "kg m2",
    formula="as stated, else I = M·(0.35·width)²",
    sources=[sources.SPRINGS_AND_MASSES.giving("formula", "inertia from a radius of gyration")],
)
def roll_inertia(build: Build) -> float:
    """Moment of inertia of the unit in roll."""
    unit = build.vehicle.engine_unit
    stated = given(lambda: unit.roll_inertia)
    if stated is not None:
        return stated
    share = or_practice(lambda: unit.roll_inertia, GYRATION)
    radius: float = share * unit.width
    return unit_mass(build) * radius**2


@quantity(
    "mounts.roll-stiffness",
    "rotational_stiffness",
    "N m/deg",
    formula="Σ (k_vertical·y² + k_transverse·h² − 2·k_cross·y·h) about the centre of gravity",
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def roll_stiffness(build: Build) -> float:
    """Stiffness of the mounts against roll about the centre of gravity."""
    return vibration.roll_stiffness(springs(build, centre_y(build), centre_z(build)))


def modes(build: Build) -> tuple[float, float]:
    """Frequencies of the coupled modes: the one that is mostly bounce, the one that is mostly roll."""
    mass, inertia = unit_mass(build), roll_inertia(build)
    found = vibration.bounce_roll_modes(mass, inertia, springs(build, centre_y(build), centre_z(build)))
    upper_rolls = vibration.second_coordinate_share(mass, inertia, found.upper_shape) >= 0.5
    return (found.lower, found.upper) if upper_rolls else (found.upper, found.lower)


@quantity(
    "mounts.bounce-mode",
    "frequency",
    "Hz",
    formula="M·z'' + Σk·z + Σk·y·φ = 0, I·φ'' + Σk·y·z + k_roll·φ = 0: the mode with most energy in z",
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def bounce_mode(build: Build) -> float:
    """Natural frequency of the mode that is mostly bounce, coupled with roll."""
    return modes(build)[0]


@quantity(
    "mounts.roll-mode",
    "frequency",
    "Hz",
    formula="as mounts.bounce-mode: the mode with most energy in φ",
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def roll_mode(build: Build) -> float:
    """Natural frequency of the mode that is mostly roll, coupled with bounce."""
    return modes(build)[1]


@quantity(
    "mounts.roll-ratio",
    formula="firing frequency at idle/roll mode",
    symbols={"firing frequency at idle": "mounts.firing-frequency", "roll mode": "mounts.roll-mode"},
    sources=[sources.SPRINGS_AND_MASSES.giving("formula")],
)
def roll_ratio(build: Build) -> float:
    """How far idle firing lies above the roll mode."""
    return firing_frequency(build) / roll_mode(build)


# -- which way it stands --------------------------------------------------------------------------------------------
def facing(build: Build) -> str:
    """Which way the engine's own front faces."""
    return build.vehicle.engine_place.front_faces


def stands_across(build: Build) -> bool:
    """Whether the crank lies across the vehicle."""
    return facing(build) in ("left", "right")


# -- forces -----------------------------------------------------------------------------------------------------------
@once
def supports(build: Build) -> tuple[statics.Support, ...]:
    """The mounts seen from above. Three of them share a load whatever their stiffness, so that none is asked for."""
    fitted = bearing(build)
    alike = len(fitted) == 3
    return tuple(statics.Support(m.x, m.y, 1.0 if alike else vertical(build, m, lasting=True)) for m in fitted)


@once
def reactions(build: Build, roll_torque: float = 0.0) -> Mapping[str, float]:
    """Upward force of each mount under the unit's weight and a torque that presses the left side down, by path.

    Two mounts that it hangs from, with a torque rod, share the weight as their places along the crank have it.
    """
    if len(mounts(build)) > len(bearing(build)) == 2:
        return _on_two(build, *bearing(build))
    forces = statics.support_reactions(
        supports(build), unit_mass(build) * G, centre_x(build), centre_y(build), roll_torque
    )
    return {path_of(mount): force for mount, force in zip(bearing(build), forces, strict=True)}


def _on_two(build: Build, one: Mount, other: Mount) -> Mapping[str, float]:
    apart = other.x - one.x
    if apart == 0.0:
        raise OutsideRange("the two mounts that carry the unit stand at one place along the crank")
    weight = unit_mass(build) * G
    on_other = weight * (centre_x(build) - one.x) / apart
    return {path_of(one): weight - on_other, path_of(other): on_other}


@quantity(
    "mounts.static-load",
    "force",
    "N",
    formula="F = k·(a + b·x + c·y) with ΣF = M·g and the moments about both axes in equilibrium",
    sources=[sources.STATICS.giving("formula")],
    each=mounts,
)
def static_load(build: Build, mount: Mount) -> float:
    """Weight that a mount carries."""
    if is_rod(mount):
        return 0.0
    return reactions(build)[path_of(mount)]


@quantity(
    "mounts.reaction-torque",
    "torque",
    "N m",
    formula="torque at the last output of the unit in first gear or a lower reverse, no more than makes the tyres "
    "slip: of the gearbox, of a bolted transfer case, or of the wheels where the crank lies across and the final drive "
    "is in the unit",
    sources=[sources.STATICS.giving("formula")],
)
def reaction_torque(build: Build) -> float:
    """Torque that turns the unit against its mounts: from the engine, or from tyres that slip."""
    inside = _with_final_drive(build)
    others = {chain.driven_through(axle) for axle in chain.powered_axles(build)} - {"shaft"}
    if others and not _stands_apart(build):
        does = "drive" if len(others) > 1 else "drives"
        raise OutsideRange(
            f"{' and '.join(chain.THROUGH[other] for other in sorted(others))} at the unit {does} an axle, and how "
            "that pulls at it or turns it is not computed: have mounts and gaps judged for it"
        )
    if inside:
        return _wheel_torque(build, inside)
    transfer = build.driveline.transfer
    if is_fitted(transfer) and transfer.mounting == "bolted":
        return loads.transfer_torque(build)
    return loads.gearbox_held_torque(build)


def _stands_apart(build: Build) -> bool:
    """Whether the transfer case stands behind a shaft, so that what it drives does not pull at the unit."""
    transfer = build.driveline.transfer
    return is_fitted(transfer) and given(lambda: transfer.mounting) == "remote"


def _wheel_torque(build: Build, inside: list[Axle]) -> float:
    """Torque of the wheels: it turns a unit that has its final drive in it along a crank that lies across."""
    if not stands_across(build):
        raise OutsideRange(
            "the final drive stands in the gearbox's housing and the crank along the vehicle, so that the wheels' "
            "torque pitches the unit, which is not computed: have mounts and gaps judged for it"
        )
    if len(chain.powered_axles(build)) > 1:
        raise OutsideRange(
            "the unit holds the torque of the wheels and of a propshaft at once, which is not computed: have mounts "
            "and gaps judged for it"
        )
    return loads.axle_torque(build, inside[0])


def _with_final_drive(build: Build) -> list[Axle]:
    """The axles whose final drive stands in the gearbox's housing."""
    return [axle for axle in build.driveline.axles.values() if given(partial(getattr, axle, "integral")) is True]


def torque_loads(build: Build, mount: Mount) -> tuple[float, float]:
    """Least and greatest upward force of a mount under the weight and the torque of either direction."""
    torque = reaction_torque(build)
    weight = static_load(build, mount)
    if len(bearing(build)) < len(mounts(build)):
        turned = _force_in_roll(build, mount, torque)
    else:
        turned = abs(reactions(build, torque)[path_of(mount)] - weight)
    return weight - turned, weight + turned


def _force_in_roll(build: Build, mount: Mount, torque: float) -> float:
    """What a torque puts on a mount, up and across together, where the unit turns about its elastic axis."""
    free = vibration.free_roll(springs(build, lasting=True))
    spring = _spring(build, mount, mount.y, mount.z, lasting=True)
    roll = torque / free.stiffness
    left, up = -roll * (mount.z - free.axis_height), roll * (mount.y - free.axis_lateral)
    return math.hypot(
        spring.vertical * up + spring.cross * left,
        spring.transverse * left + spring.cross * up,
    )


@quantity(
    "mounts.peak-load",
    "force",
    "N",
    formula="mounts.static-load with ± mounts.reaction-torque about the crank; with a torque rod ± k·φ times the "
    "distance from the elastic axis",
    sources=[sources.STATICS.giving("formula")],
    each=mounts,
)
def peak_load(build: Build, mount: Mount) -> float:
    """Greatest force on a mount at full torque in the lowest gear."""
    return torque_loads(build, mount)[1]


@quantity(
    "mounts.least-load",
    "force",
    "N",
    formula="as mounts.peak-load, the other direction",
    sources=[sources.STATICS.giving("formula")],
    each=mounts,
)
def least_load(build: Build, mount: Mount) -> float:
    """Least force on a mount at full torque in the lowest gear; negative where the mount is pulled apart."""
    return torque_loads(build, mount)[0]


@quantity(
    "mounts.rear-face-moment",
    "torque",
    "N m",
    formula="M_b = Σ m·g·x − Σ F·x over what hangs and what holds behind the rear face, at rest",
    sources=[sources.STATICS.giving("formula")],
)
def rear_face_moment(build: Build) -> float:
    """Bending moment at the rear face of the block; positive where the gearbox hangs down."""
    attached = build.vehicle.engine_unit.attached.values()
    hanging = [(unit_part_mass(build, item) * G, item.x) for item in attached]
    held = reactions(build)
    return statics.bending_moment(hanging, [(held[path_of(m)], m.x) for m in bearing(build)])


# -- brackets -------------------------------------------------------------------------------------------------------
def vertical_shock(build: Build) -> float:
    """Vertical shock, in times the weight."""
    off_road = build.build.duty.terrain == "off-road"
    return or_practice(lambda: build.engine.mounting.shock_vertical, SHOCK_OFF_ROAD if off_road else SHOCK_ROAD)


@quantity(
    "mounts.bracket-force",
    "force",
    "N",
    formula="the greater of n_vertical·F_static + |F_torque| and n_along·F_static",
    sources=[sources.STATICS.giving("formula")],
    each=mounts,
)
def bracket_force(build: Build, mount: Mount) -> float:
    """Force that a mount's bracket must bear."""
    weight = static_load(build, mount)
    torque = peak_load(build, mount) - weight
    along = or_practice(lambda: build.engine.mounting.shock_along, SHOCK_ALONG)
    return max(vertical_shock(build) * abs(weight) + abs(torque), along * abs(weight))


@quantity(
    "mounts.bolt-safety",
    formula="R_e/√(σ² + 3τ²): τ = F/(n·A_s) across or σ = F/(n·A_s) along the bolts, + σ = F·offset/(spacing·n/2·A_s)",
    sources=[
        sources.MACHINE_DESIGN.giving("formula", "stress in a group of bolts"),
        sources.BOLTS.giving("formula", "yield strength by class"),
    ],
    each=mounts,
)
def bolt_safety(build: Build, mount: Mount) -> float:
    """Safety on yield of the bolts that hold a mount's bracket."""
    group = mount.bolts
    return threads.group_safety(
        bracket_force(build, mount),
        int(group.pieces),
        float(group.size.removeprefix("M")) / 1000.0,
        threads.yield_of_class(group.property_class),
        in_shear=group.loaded == "across",
        offset=group.offset,
        spacing=group.spacing,
    )
