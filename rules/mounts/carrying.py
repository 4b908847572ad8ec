"""Rules about what mounts, brackets and the rear face of the block carry."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from swaplint.api import (
    Build,
    ImpossibleInput,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    needs_review,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    within,
)
from swaplint.engineering import bolts, statics
from swaplint.engineering.constants import G
from swaplint.spec.systems.mounts import BOLT_SIZES, Mount

from .. import sources
from ..ledger_masses import unit_part_mass
from . import quantities as q

MM = ("length", "mm")
N = ("force", "N")
NM = ("torque", "N m")
BAND = practice("a rubber mount works well between 60 and 90 % of the weight that it is rated for")
BAND_LOW = Practice("a mount carries at least 60 % of its rated weight", 0.60, BAND)
MIDDLE = 0.75
"""The middle of the band in which a rubber mount works well, as a share of its rating."""
SUPPORT = Practice(
    "rear mount within 150 mm of the centre of gravity of what hangs behind the engine",
    0.150,
    practice("a rear mount near the gearbox's centre of gravity leaves little bending at the engine's rear face"),
)
CAPTIVE = practice(
    "a mount that is pulled apart is captive, or has a rebound stop: rubber alone does not hold an engine"
)
FRAMES = practice(
    "a frame's flange is drilled, or a frame welded, only where its maker or a licensed engineer allows it"
)
BOLTED = practice("bolts of brackets with a safety of 2 on yield under shock; two bolts at least")
FAR_BEYOND = 20.0
"""Peak load over load at rest on a mount's sheet from which on one of the two is likelier misread."""
BOLT_SAFETY, LEAST_BOLTS = 2.0, 2


@rule(
    "mounts.static-share",
    level="warning",
    due="build",
    sources=[
        sheet("vehicle.mounts.*.load_max"),
        sources.STATICS.giving("formula", "share of each mount in the weight"),
    ],
    cautions=[cautions.CRUSH],
    fallbacks=[BAND_LOW, *q.AS_SPRINGS],
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
    Remedy: a mount rated for the share that it has to carry, or another place for it.
    Cannot tell: preload from brackets that do not line up: loosen all mounts, rock the unit, tighten them last.
    """
    if q.is_rod(mount):
        if not q.bearing(build):
            says = "Every mount is a torque rod, and none carries the unit: state those that do."
            return holds(False, says, on=f"{path_of(mount)}.kind")
        return does_not_apply("A torque rod carries no weight.")
    load = q.static_load(build, mount)
    most, path = mount.load_max, path_of(mount)
    low = given(lambda: mount.load_min)
    least = or_practice(lambda: mount.load_min, BAND_LOW) * most if low is None else low
    says = f"The unit weighs {shown(q.unit_mass(build))}, of which it carries {shown(load)}"
    if load <= 0.0:
        pulled = f"{shown(-load, 'force', 'N')} pull it apart: the weight lies outside the mounts"
        return holds(False, f"The unit weighs {shown(q.unit_mass(build))}. {pulled}.", level="error")
    if load > most:
        says += ": it sags and tears under so much"
    elif load < least:
        says += ": it is too hard for so little, and passes on every shake"
    over = load > most
    # A mount loaded in the middle of its band; a lower end that its sheet states comes down with it.
    suits = advice(f"{path}.load_min", BAND_LOW.value * load / MIDDLE) if low is not None and not over else None
    return within(
        load,
        least,
        most,
        f"{says}.",
        level="error" if over else "warning",
        on=f"{path}.load_max" if over else path,
        unit=N,
        advice=suits or advice(f"{path}.load_max", load / MIDDLE),
    )


@rule(
    "mounts.torque-reaction",
    level="error",
    due="build",
    sources=[
        sheet("vehicle.mounts.*.peak_load_max"),
        CAPTIVE.giving("limit", "where a mount is pulled apart"),
        sources.STATICS.giving("formula", "forces under weight and torque"),
    ],
    cautions=[cautions.FRAME],
    fallbacks=q.AS_SPRINGS,
    about="vehicle.mounts",
    each=q.mounts,
    bad=[{"vehicle.mounts.front_left.peak_load_max": "3 kN"}, {"vehicle.mounts.front_left.captive": False}],
    good=[{"vehicle.mounts.front_left.peak_load_max": "12 kN"}],
)
def torque_reaction(build: Build, mount: Mount) -> Verdict:
    """Do the mounts bear full torque in the lowest gear, forwards and backwards?

    Computes: the torque at the last output that is bolted to the engine, of the gearbox in first gear or a lower
    reverse, of a bolted transfer case in its lowest range, or of the wheels where the crank lies across the vehicle,
    but no more than makes the tyres slip; shared by the mounts as their stiffness and distance have it, F ±
    T·k·y/Σk·y², on top of the weight. With a torque rod the unit turns about the elastic axis of rod and mounts, and
    each bears its stiffness times how far it is moved there, up and across.
    Limit: the mount's sheet. A mount that is pulled apart must be captive: its rubber alone does not hold the engine.
    Consequence: The mount tears, and the engine swings into fan, steering or brake pipes.
    Remedy: mounts further apart, a third point as a torque arm, or stronger or captive mounts.
    Cannot tell: shock when the clutch is dropped, up to half as much again; a gearbox that hangs by itself; a torque
    rod that stands at a slant, or is tight at rest.
    """
    demands: dict[str, Callable[[], Verdict]] = {"peak-load": lambda: _peak_load(build, mount)}
    if not q.is_rod(mount) and given(lambda: q.least_load(build, mount) < 0.0):
        demands["captive"] = lambda: _captive(build, mount)
    if given(lambda: not mount.load_max <= mount.peak_load_max <= FAR_BEYOND * mount.load_max):
        demands["peak-sense"] = lambda: _peak_sense(mount)
    return all_of(demands)


def _peak_sense(mount: Mount) -> Verdict:
    says = f"Its sheet is said to allow {shown(mount.load_max)} at rest and {shown(mount.peak_load_max)} at a peak; "
    says += "mounts bear 3 to 10 times what they carry at rest. Look at both again."
    return needs_review(says, on=f"{path_of(mount)}.peak_load_max", found=mount.peak_load_max)


def _peak_load(build: Build, mount: Mount) -> Verdict:
    most, least = q.peak_load(build, mount), q.least_load(build, mount)
    on = f"{path_of(mount)}.peak_load_max"
    says = _turned(build, most, least)
    if max(most, -least) > mount.peak_load_max:
        says += " Set the mounts further apart, add a torque arm, or fit stronger ones."
    return at_most(max(most, -least), mount.peak_load_max, says, on=on, unit=N)


def _captive(build: Build, mount: Mount) -> Verdict:
    says = _turned(build, q.peak_load(build, mount), q.least_load(build, mount))
    held = "It is captive." if mount.captive else "Use a captive mount, or one with a rebound stop."
    on = f"{path_of(mount)}.captive"
    return holds(mount.captive, f"{says} {held}", on=on, advice=advice(on, True))


def _turned(build: Build, most: float, least: float) -> str:
    says = f"{shown(q.reaction_torque(build))} turns the unit: it presses this mount with up to {shown(most)} and "
    if least < 0.0:
        return f"{says}pulls it apart with up to {shown(-least, 'force', 'N')}, weight included."
    return f"{says}with {shown(least)} at least, weight included."


@rule(
    "mounts.rear-face-moment",
    level="error",
    due="quote",
    sources=[
        sheet("engine.rear_face.bending_moment_max"),
        sources.STATICS.giving("formula", "bending moment"),
    ],
    fallbacks=[SUPPORT, q.SHOCK_ROAD, q.SHOCK_OFF_ROAD, *q.AS_SPRINGS],
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
    behind the engine: common practice, and so a warning.
    Consequence: The flywheel housing or the rear of the block cracks, and the gearbox works loose.
    Remedy: a rear mount where no moment is left at rest. The fault is typical of a long transfer case that is bolted on
    while the rear mount is left out.
    Cannot tell: bending vibration of engine and gearbox together.
    """
    limit = given(lambda: build.engine.rear_face.bending_moment_max)
    if limit is None:
        return _near_the_gearbox(build)
    moment = abs(q.rear_face_moment(build))
    shocks = build.engine.rear_face.moment_is == "with-shocks"
    factor = q.vertical_shock(build) if shocks else 1.0
    how = f"{shown(moment, *NM)} at rest" + (f", {shown(factor * moment, *NM)} with shocks" if shocks else "")
    best = _better_place(build) if factor * moment > limit else None
    says = f"What hangs behind the engine bends its joint with the gearbox, at the rear face of the block, by {how}."
    behind = [mount for mount in q.bearing(build) if mount.x > 0.0]
    if best is None or len(behind) == 1:
        place = None if best is None else advice(f"{path_of(behind[0])}.x", best)
        return at_most(factor * moment, limit, says, unit=NM, advice=place)
    says += f" Rear mounts {shown(best, *MM, digits=3)} behind that face would leave no bending at rest."
    return at_most(factor * moment, limit, says, unit=NM)


def _behind(build: Build) -> tuple[float, float]:
    """Weight of what hangs behind the rear face, and the place of its centre of gravity."""
    items = [item for item in build.vehicle.engine_unit.attached.values() if item.x > 0.0]
    masses = [(unit_part_mass(build, item), item.x) for item in items]
    mass = sum(each for each, _ in masses)
    return mass * G, sum(each * x for each, x in masses) / mass if mass > 0.0 else 0.0


def _better_place(build: Build) -> float | None:
    """Where rear mounts leave no moment at rest, behind the face; None where there is no such place."""
    weight, x = _behind(build)
    ahead = [mount for mount in q.bearing(build) if mount.x < 0.0]
    behind = [mount for mount in q.bearing(build) if mount.x > 0.0]
    if not ahead or not behind:
        return None
    front = sum(mount.x for mount in ahead) / len(ahead)
    engine = q.unit_mass(build) * G - weight
    if engine <= 0.0:
        return None
    own = (q.unit_mass(build) * G * q.centre_x(build) - weight * x) / engine
    try:
        return statics.rear_support_without_bending(engine, own, weight, x, front)
    except ImpossibleInput:  # nothing hangs behind, or the unit tips forward
        return None


def _near_the_gearbox(build: Build) -> Verdict:
    near = or_practice(lambda: build.engine.rear_face.bending_moment_max, SUPPORT)
    weight, x = _behind(build)
    if weight <= 0.0:
        return holds(True, "Nothing hangs behind the rear face.")
    away = min((abs(mount.x - x) for mount in q.bearing(build)), default=x)
    says = (
        f"What hangs behind the engine has its centre of gravity {shown(x, *MM)} behind the rear face of the block; "
        f"the nearest mount is {shown(away, *MM)} from there."
    )
    level: Literal["error", "warning"] = "error"
    if away > near:
        says += " Far from any mount it bends the engine's rear: ask the engine maker what bending moment that bears."
        level = "warning"  # many a sound layout has its mount further off: the sheet decides
    return at_most(away, near, says, level=level, on="vehicle.mounts", unit=MM)


@rule(
    "mounts.bracket-shock",
    level="error",
    due="build",
    sources=[
        BOLTED.giving("limit", "safety on yield, number of bolts"),
        FRAMES.giving("limit", "joints with the frame"),
        sources.MACHINE_DESIGN.giving("formula", "stress in a group of bolts"),
        sources.BOLTS.giving("formula", "yield and stress area by class and size"),
    ],
    cautions=[cautions.FRAME],
    fallbacks=[q.SHOCK_ROAD, q.SHOCK_OFF_ROAD, q.SHOCK_ALONG, *q.AS_SPRINGS],
    about="vehicle.mounts",
    each=q.mounts,
    bad=[
        {
            "vehicle.mounts.front_left.bolts.size": "M8",
            "vehicle.mounts.front_left.bolts.property_class": "4.6",
            "vehicle.mounts.front_left.bolts.torque": "9 N m",
        },
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
    Remedy: bolts of a larger size, a higher class, or more of them; a shorter bracket; the rows further apart.
    Cannot tell: welds, fatigue, the bracket itself, and the frame where the force enters it.
    """
    demands: dict[str, Callable[[], Verdict]] = {"two-bolts": lambda: _two_bolts(mount)}
    if given(lambda: mount.bolts.pieces < LEAST_BOLTS) is not True:
        demands["bolt-strength"] = lambda: _bolt_strength(build, mount)
    return all_of(demands, frame_joint=lambda: _frame_joint(mount))


def _two_bolts(mount: Mount) -> Verdict:
    pieces, on = int(mount.bolts.pieces), f"{path_of(mount)}.bolts.pieces"
    says = "A single bolt holds this bracket: use two or more." if pieces == 1 else f"{pieces} bolts hold this bracket."
    return at_least(pieces, LEAST_BOLTS, says, on=on, advice=advice(on, LEAST_BOLTS))


def _bolt_strength(build: Build, mount: Mount) -> Verdict:
    group, on = mount.bolts, f"{path_of(mount)}.bolts.size"
    safety, force = q.bolt_safety(build, mount), q.bracket_force(build, mount)
    says = f"{int(group.pieces)} {group.size} of class {group.property_class} bear {shown(force)} with a safety of "
    larger = _larger(group.size, BOLT_SAFETY / safety) if safety < BOLT_SAFETY else None
    return at_least(safety, BOLT_SAFETY, f"{says}{safety:.2f}.", on=on, advice=advice(on, larger))


def _larger(size: str, factor: float) -> str | None:
    """The smallest usual bolt with so many times the stress area of one of a size."""
    wanted = factor * bolts.stress_area(_diameter(size))
    return next((other for other in BOLT_SIZES if bolts.stress_area(_diameter(other)) >= wanted), None)


def _diameter(size: str) -> float:
    return float(size.removeprefix("M")) / 1000.0


def _frame_joint(mount: Mount) -> Verdict:
    kind, on = mount.frame_joint, f"{path_of(mount)}.frame_joint"
    if kind not in ("drilled-flange", "welded"):
        return holds(True, "Its joint with the frame is of the usual kind.", on=on)
    what = "A hole in a frame flange" if kind == "drilled-flange" else "A weld on the frame"
    allowed = mount.frame_maker_allows
    needs = "is allowed here" if allowed else "needs the frame maker's or a licensed engineer's word"
    return holds(allowed, f"{what} {needs}.", on=on)
