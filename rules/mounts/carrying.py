"""Rules about what mounts, brackets and the rear face of the block carry."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    given,
    holds,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    within,
)
from swaplint.engineering import statics
from swaplint.engineering.constants import G
from swaplint.spec.systems.mounts import Mount

from .. import sources
from . import quantities as q

N = ("force", "N")
NM = ("torque", "N m")
BAND = practice("a rubber mount works well between 60 and 90 % of the weight that it is rated for")
BAND_LOW = Practice("a mount carries at least 60 % of its rated weight", 0.60, BAND)
SUPPORT = Practice(
    "rear mount within 150 mm of the centre of gravity of what hangs behind the engine",
    0.150,
    practice("a rear mount near the gearbox's centre of gravity leaves little bending at the engine's rear face"),
)
BOLTED = practice("bolts of brackets with a safety of 2 on yield under shock; two bolts at least")
BOLT_SAFETY = 2.0


@rule(
    "mounts.static-share",
    level="warning",
    due="build",
    sources=[sheet("vehicle.mounts.*.load_max"), sources.STATICS, BAND],
    cautions=[cautions.CRUSH],
    fallbacks=[BAND_LOW],
    about="vehicle.mounts",
    each=q.mounts,
    bad=[{"vehicle.mounts.front_left.load_min": "1400 N"}, {"vehicle.mounts.rear_left.load_max": "500 N"}],
    good=[{"vehicle.mounts.front_left.load_min": None, "vehicle.mounts.front_left.load_max": "1500 N"}],
)
def static_share(build: Build, mount: Mount) -> Verdict:
    """Is each mount loaded within its rated band by the weight that hangs on it?

    Computes: the share of each mount in the weight of the unit, by moments about both axes; with four mounts or more
    by their stiffness too.
    Limit: the mount's sheet; where it gives no lower end, 60 % of its rating. Beyond the rating it is an error.
    Consequence: The mount sags and tears, or is too stiff for its share and passes on every shake.
    Remedy: a mount rated for the share that the sentence names, or another place for it. One that carries too little
    is too stiff for what it carries, one that carries too much sags and tears.
    Cannot tell: preload from brackets that do not line up: loosen all mounts, rock the unit, tighten them last.
    """
    load = q.static_load(build, mount)
    most, path = mount.load_max, path_of(mount)
    low = given(lambda: mount.load_min)
    least = or_practice(lambda: mount.load_min, BAND_LOW) * most if low is None else low
    says = f"It carries {shown(load)} of the unit's {shown(q.unit_mass(build))}"
    if load <= 0.0:
        return holds(False, f"{says}: it is pulled apart, for the weight lies outside the mounts.", level="error")
    says += f"; a mount rated for {shown(load / 0.9, *N, digits=3)} to {shown(load / 0.6, *N, digits=3)} suits that."
    over = load > most
    return within(
        load, least, most, says, level="error" if over else "warning", on=f"{path}.load_max" if over else path, unit=N
    )


@rule(
    "mounts.torque-reaction",
    level="error",
    due="build",
    sources=[sheet("vehicle.mounts.*.peak_load_max"), sources.STATICS, sources.MACHINE_DESIGN],
    cautions=[cautions.FRAME],
    about="vehicle.mounts",
    each=q.mounts,
    bad=[{"vehicle.mounts.front_left.peak_load_max": "3 kN"}, {"vehicle.mounts.front_left.captive": False}],
    good=[{"vehicle.mounts.front_left.peak_load_max": "12 kN"}],
)
def torque_reaction(build: Build, mount: Mount) -> Verdict:
    """Do the mounts bear full torque in the lowest gear, forwards and backwards?

    Computes: the torque at the last output that is bolted to the engine, of the gearbox in first gear, of a bolted
    transfer case in its lowest range, or of the wheels where the crank lies across the vehicle; shared by the mounts as
    their stiffness and distance have it, F ± T·k·y/Σk·y², on top of the weight.
    Limit: the mount's sheet. A mount that is pulled apart must be captive: its rubber alone does not hold the engine.
    Consequence: The mount tears, and the engine swings into fan, steering or brake pipes.
    Remedy: mounts further apart, a third point as a torque arm, or mounts that bear the force in the sentence. A torn
    mount lets the engine into fan, steering and brake pipes.
    Cannot tell: shock when the clutch is dropped, up to half as much again; reverse where it is lower than first gear;
    a gearbox that hangs by itself.
    """
    most, least = q.peak_load(build, mount), q.least_load(build, mount)
    path = path_of(mount)
    says = (
        f"{shown(q.reaction_torque(build))} turns the unit: {shown(most)} at most on this mount and {shown(least)} at "
        "least, weight included."
    )
    demands: list[Callable[[], Verdict] | Verdict] = [
        lambda: at_most(max(most, -least), mount.peak_load_max, says, on=f"{path}.peak_load_max", unit=N)
    ]
    if least < 0.0:
        demands.append(
            lambda: holds(mount.captive, f"{says} It is pulled apart: {_held(mount)}.", on=f"{path}.captive")
        )
    return all_of(*demands)


def _held(mount: Mount) -> str:
    return "it is captive" if mount.captive else "use a captive mount, or one with a rebound stop"


@rule(
    "mounts.rear-face-moment",
    level="error",
    due="quote",
    sources=[sheet("engine.rear_face.bending_moment_max"), sources.STATICS],
    fallbacks=[SUPPORT, q.SHOCK_ROAD, q.SHOCK_OFF_ROAD],
    about="engine.rear_face.bending_moment_max",
    bad=[
        {"engine.rear_face.bending_moment_max": "50 N m"},
        {"engine.rear_face.moment_is": "with-shocks", "engine.rear_face.bending_moment_max": "300 N m"},
    ],
    good=[{"engine.rear_face.moment_is": "with-shocks", "engine.rear_face.bending_moment_max": "1500 N m"}],
)
def rear_face_moment(build: Build) -> Verdict:
    """Is the bending moment at the engine's rear face, where the flywheel housing bolts on, within its limit?

    Computes: M_b = Σ m·g·x − Σ F·x over what hangs on and what holds the unit behind that face, the forces of the
    mounts from the equilibrium of the whole unit. It is taken times the vertical shock only where the limit is meant
    with shocks; most sheets give it for the weight at rest.
    Limit: the engine's data sheet; where it has none, a mount within 150 mm of the centre of gravity of what hangs
    behind the engine.
    Consequence: The flywheel housing or the rear of the block cracks, and the gearbox works loose.
    Remedy: a rear mount at the place in the sentence, where no moment is left at rest. Typical of a long transfer case
    that is bolted on while the rear mount is left out: the housing cracks.
    Cannot tell: bending vibration of engine and gearbox together.
    """
    limit = given(lambda: build.engine.rear_face.bending_moment_max)
    if limit is None:
        return _near_the_gearbox(build)
    moment = abs(q.rear_face_moment(build))
    shocks = build.engine.rear_face.moment_is == "with-shocks"
    factor = q.vertical_shock(build) if shocks else 1.0
    how = f"{shown(moment, *NM)} at rest" + (f", {shown(factor * moment, *NM)} with shocks" if shocks else "")
    return at_most(factor * moment, limit, f"At the rear face: {how}.{_better_place(build)}", unit=NM)


def _behind(build: Build) -> tuple[float, float]:
    """Weight of what hangs behind the rear face, and the place of its centre of gravity."""
    items = [item for item in build.vehicle.engine_unit.attached.values() if item.x > 0.0]
    mass = sum(item.mass for item in items)
    return mass * G, sum(item.mass * item.x for item in items) / mass if mass > 0.0 else 0.0


def _better_place(build: Build) -> str:
    weight, x = _behind(build)
    ahead = [mount for mount in q.mounts(build) if mount.x < 0.0]
    behind = [mount for mount in q.mounts(build) if mount.x > 0.0]
    if weight <= 0.0 or not ahead or not behind:
        return ""
    front = sum(mount.x for mount in ahead) / len(ahead)
    engine = q.unit_mass(build) * G - weight
    if engine <= 0.0:
        return ""
    own = (q.unit_mass(build) * G * q.centre_x(build) - weight * x) / engine
    if engine * (own - front) - weight * front <= 0.0:
        return ""
    best = statics.rear_support_without_bending(engine, own, weight, x, front)
    return f" Rear mounts {shown(best, 'length', 'mm', digits=3)} behind the face would leave none at rest."


def _near_the_gearbox(build: Build) -> Verdict:
    near = or_practice(lambda: build.engine.rear_face.bending_moment_max, SUPPORT)
    weight, x = _behind(build)
    if weight <= 0.0:
        return holds(True, "Nothing hangs behind the rear face.")
    away = min((abs(mount.x - x) for mount in q.mounts(build)), default=x)
    what = f"What hangs behind the engine has its centre of gravity {shown(x, 'length', 'mm')} behind the rear face; "
    return at_most(
        away,
        near,
        f"{what}the nearest mount is {shown(away, 'length', 'mm')} from there. Ask for the limit.",
        on="vehicle.mounts",
        unit=("length", "mm"),
    )


@rule(
    "mounts.bracket-shock",
    level="error",
    due="build",
    sources=[sources.MACHINE_DESIGN, sources.BOLTS, sources.ENGINE_CHANGES, BOLTED],
    cautions=[cautions.FRAME],
    fallbacks=[q.SHOCK_ROAD, q.SHOCK_OFF_ROAD, q.SHOCK_ALONG],
    about="vehicle.mounts",
    each=q.mounts,
    bad=[
        {"vehicle.mounts.front_left.bolts.size": "M8", "vehicle.mounts.front_left.bolts.property_class": "4.6"},
        {"vehicle.mounts.front_left.bolts.pieces": 1},
        {
            "vehicle.mounts.front_left.frame_joint": "drilled-flange",
            "vehicle.mounts.front_left.frame_maker_allows": False,
        },
    ],
    good=[
        {"vehicle.mounts.front_left.bolts.size": "M12"},
        {
            "vehicle.mounts.front_left.frame_joint": "drilled-flange",
            "vehicle.mounts.front_left.frame_maker_allows": True,
        },
    ],
)
def bracket_shock(build: Build, mount: Mount) -> Verdict:
    """Do the bolts of the brackets hold under shock, and may the frame be joined that way?

    Computes: the greater of the vertical shock with full torque on top and the shock along the vehicle; the stress
    that it and its moment about the joint bring into the bolts, as if the bracket's face helped nothing.
    Limit: a safety of 2 on yield, and two bolts at least: common practice. The shocks are the engine maker's, else 3
    times the weight on roads and 5 off them, and 3 along the vehicle. A hole in a frame flange, or a weld, only where
    the frame maker or a licensed engineer allows it.
    Consequence: Bolts or frame give way at the bracket, and the engine comes loose in a crash or on a track.
    Remedy: the size, class or number of bolts that the sentence leads to; a shorter bracket; the rows further apart.
    Cannot tell: welds, fatigue, the bracket itself, and the frame where the force enters it.
    """
    path, group = path_of(mount), mount.bolts

    def strength() -> Verdict:
        if group.pieces < 2:
            return holds(False, "A single bolt holds this bracket: use two at least.", on=f"{path}.bolts.pieces")
        safety = q.bolt_safety(build, mount)
        force = q.bracket_force(build, mount)
        area = BOLT_SAFETY / safety
        bolts = f"{int(group.pieces)} {group.size} of class {group.property_class}"
        says = f"{bolts} bear {shown(force)} with a safety of {safety:.2f}."
        if area > 1.0:
            says += f" They would need {area:.2f} times their area, or a class of that much more yield."
        return at_least(safety, BOLT_SAFETY, says, on=f"{path}.bolts.size")

    def joint() -> Verdict:
        kind = mount.frame_joint
        if kind not in ("drilled-flange", "welded"):
            return holds(True, "Its joint with the frame is of the usual kind.")
        allowed = mount.frame_maker_allows
        what = "A hole in a frame flange" if kind == "drilled-flange" else "A weld on the frame"
        says = (
            f"{what} is allowed here." if allowed else f"{what} needs the frame maker's or a licensed engineer's word."
        )
        return holds(allowed, says, on=f"{path}.frame_joint")

    return all_of(strength, joint)
