"""Rules about torque and speed from the gearbox to the wheels: transfer case, axles, shafts."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any, Literal

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    limit_or_none,
    name_of,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
)
from swaplint.engineering import shafts as tubes

from .. import sources
from ..gearing import chain, places
from ..gearing import quantities as gearing
from ..gearing.fitted_tyres import unlike
from . import loads as q
from .quantities import peak_torque

Level = Literal["error", "warning"]
TORQUE = ("torque", "N m")
TRANSFER, DRIVETRAIN = "driveline.transfer", "driveline.drivetrain"
LOW_LIMIT = "driveline.transfer.low_torque_limit"

TUBE = practice(
    "shear stress of at most 125 MPa in common drawn steel tube, half of its shear yield where that is known"
)
RATIOS = practice("ratios that are stated twice agree within 1 %, which is rounding")
WHIRL = practice("a shaft turns at up to 0.70 of its calculated whirling speed, never above 0.80")

GRIP = "driveline.drivetrain.highest_grip"
GRIP_LESS = 0.99
"""A little less grip tells whether the tyres decide."""
SHEAR = Practice("shear stress of at most 125 MPa in common steel tube (85 to 175)", 125e6, TUBE, between=(85e6, 175e6))

TWICE = "The axle's ratio is what every rule goes by: its teeth state it once more, within 1 %, where they are known."

SHARE_OF_YIELD = 0.5
WHIRLS = 0.80
RATIO_TOLERANCE = 0.01
"""How far a stated ratio may be from the one that follows from others: rounding."""


# -- transfer case and axles ------------------------------------------------------------------------------------------
def loaded_parts(build: Build) -> list[Any]:
    """The parts that the rule on axle torque judges: transfer case, powered axles, the ratio of the whole.

    Of a vehicle with one axle listed the other is asked for: whether the engine drives it, too.
    """
    driveline = build.driveline
    parts: list[Any] = [] if chain.left_out(driveline.transfer) else [driveline.transfer]
    return [*parts, *chain.powered_or_asked(build), driveline.drivetrain]


@rule(
    "driveline.axle-torque",
    level="error",
    due="plan",
    sources=[
        sheet("driveline.axles.rear.output_torque_rating"),
        sheet("driveline.transfer.output_torque_rating"),
        RATIOS.giving("limit", "1 %"),
        sources.VEHICLE_DYNAMICS.giving("formula", "torque from the engine, torque at which the tyres slip"),
    ],
    fallbacks=[q.GRIP_ROAD, q.GRIP_ROCK, q.REVERSE],
    about="driveline.axles.*.output_torque_rating",
    each=loaded_parts,
    instead={"driveline.axles.*.engaged": "driveline.axles.*.driven"},
    without={
        "driveline.axles.*.ring_teeth": TWICE,
        "driveline.axles.*.pinion_teeth": TWICE,
        "driveline.axles.*.hub_reduction": TWICE,
        "driveline.drivetrain.crawl_ratio": "A sum that somebody made: compared where it is stated, and used nowhere.",
        "driveline.axles.*.x": places.BY_NAME,
    },
    bad=[
        {"driveline.axles.rear.output_torque_rating": "5000 Nm"},
        {"driveline.transfer.output_torque_rating": "2500 Nm"},
        {"driveline.axles.rear.pinion_teeth": 9},
        {"driveline.axles.front.hub_reduction": 2.5},
        {"driveline.drivetrain.crawl_ratio": 115.6},
        {"driveline.axles.rear.engaged": "always", "driveline.axles.rear.driven": False},
    ],
    good=[
        {"driveline.drivetrain.crawl_ratio": 46.2},
        {"driveline.axles.rear.torque_share": "100 %"},
        {"driveline.transfer.low_torque_limit": "250 Nm"},
    ],
)
def axle_torque(build: Build, loaded: Any) -> Verdict:
    """What is the largest torque that can reach transfer case and axles, and are they rated for it?

    Computes: torque from the engine in first gear, or in reverse where that is lower, T_max · stall ratio · i_first ·
    i_low · i_axle · η, and the torque at which the tyres slip, μ · m_axle · g · r; the lesser counts. Low range is
    counted once, in the transfer case. A stated axle ratio is compared with its teeth and hub reduction, and with the
    other powered axle's; a stated crawl ratio with the product of the stated ratios: that is where low range gets in
    twice. Whether an axle is stated as driven in road use and as engaged at times only.
    Limit: the component's peak rating, from its sheet; a warning where only an axle loaded to its rating, heavier than
    in any load case, brings the torque. Ratios agree within 1 %.
    Consequence: Pull is not as planned, or an axle or transfer case breaks and takes engine braking with it.
    Remedy: a limit on the engine's torque in low range, less load on the axle, or a part rated for the torque that is
    found.
    Cannot tell: shock when a wheel lands, and fatigue. The grip of the ground decides: 0.8 is a dry road, 1.0 is rock.
    """
    path = path_of(loaded)
    if path == DRIVETRAIN:
        if given(lambda: loaded.crawl_ratio) is None:
            return does_not_apply("No crawl ratio is stated.")
        return all_of(crawl_ratio=lambda: _crawl_ratio(build, loaded.crawl_ratio))
    if path == TRANSFER:
        under = partial(q.transfer_torque_under, build)
        return all_of(torque=lambda: _torque(build, loaded, under, q.transfer_driven_torque(build)))
    chain.engaged(build, loaded)  # of an axle that is not listed the engine's drive is asked for
    demands: dict[str, Callable[[], Verdict]] = {}
    if given(lambda: chain.says_otherwise(loaded)):
        demands["driven"] = lambda: _two_ways(loaded)
    if given(lambda: (loaded.ring_teeth, loaded.pinion_teeth)) is not None:
        demands["teeth"] = lambda: _teeth(build, loaded)
    other = _axle_before(build, loaded)
    if other is not None:
        demands["same-ratio"] = lambda: _same_ratio(build, loaded, other)
    demands["torque"] = lambda: _torque(
        build, loaded, partial(q.axle_torque_under, build, loaded), q.axle_driven_torque(build, loaded)
    )
    return all_of(demands)


def _torque(build: Build, loaded: Any, under: Callable[..., float], driven: float) -> Verdict:
    found, rating = under(laden=False), loaded.output_torque_rating
    if found < driven:
        says = (
            f"The tyres slip at {shown(found, *TORQUE)}; the engine could bring {shown(driven, *TORQUE)}: the "
            "tyres decide."
        )
    else:
        says = f"The engine brings at most {shown(found, *TORQUE)}, less than the tyres take: the engine decides."
    level, also = _laden(found, lambda: under(laden=True), rating)
    limit = advice(LOW_LIMIT, _low_limit(build, rating / driven) if found > rating else None)
    return at_most(found, rating, says + also, level=level, on=f"{path_of(loaded)}.output_torque_rating", advice=limit)


def _laden(found: float, when_laden: Callable[[], float], rating: float) -> tuple[Level, str]:
    """How much it weighs that a torque is above a rating with axles at their ratings, and what to say of it.

    What a load case never puts on an axle makes no error.
    """
    laden = found if found <= rating else when_laden()
    if laden >= found:
        return "error", ""
    says = (
        f" That is with the axle loaded to its rating; as heavy as a load case makes it, it is {shown(laden, *TORQUE)}."
    )
    return ("error" if laden > rating else "warning"), says


def _low_limit(build: Build, factor: float) -> float | None:
    """The torque limit in low range that brings what the engine gives down by a factor, where that is enough."""
    peak = peak_torque(build)
    limit = given(lambda: build.driveline.transfer.low_torque_limit)
    wanted = factor * (peak if limit is None else min(peak, limit))
    if gearing.low_range(build) * wanted < gearing.high_range(build) * peak:
        return None
    return wanted


def _crawl_ratio(build: Build, stated: float) -> Verdict:
    found, on = gearing.lowest_ratio(build), "driveline.drivetrain.crawl_ratio"
    says = f"Stated {stated:.1f}; first gear, lowest range and final drive make {found:.1f}."
    says += _low_range_in(build, stated / found)
    return holds(_agree(stated, found), says, on=on, advice=advice(on, found))


def _two_ways(axle: Any) -> Verdict:
    """What to say of an axle that is stated as driven in road use in two ways that exclude each other."""
    when, on = chain.words(axle.engaged), f"{path_of(axle)}.driven"
    says = f"Stated as {'' if axle.driven else 'not '}driven in road use, and as engaged {when}: every rule here takes "
    says += f"it as engaged {when}. If that is right, write driven = "
    right = "true; if not, say in engaged when it is."
    if axle.driven:
        right = "false; if it is always driven, engaged = always."
    return holds(False, says + right, on=on)


def _teeth(build: Build, axle: Any) -> Verdict:
    """Whether an axle's ratio is the one that its teeth make."""
    hubs, on = given(lambda: axle.hub_reduction), f"{path_of(axle)}.ratio"
    made = axle.ring_teeth / axle.pinion_teeth * (1.0 if hubs is None else hubs)
    says = f"Stated {axle.ratio:.2f}; the teeth {int(axle.ring_teeth)}:{int(axle.pinion_teeth)}"
    says += f"{'' if hubs is None else f' and a hub reduction of {hubs:.2f}'} make {made:.2f}."
    says += _low_range_in(build, axle.ratio / made)
    return holds(_agree(axle.ratio, made), says, on=on, advice=advice(on, made))


def _axle_before(build: Build, axle: Any) -> Any | None:
    """The powered axle whose ratio an axle must share: the first that is listed before it and states one."""
    for other in chain.powered_axles(build):
        if path_of(other) == path_of(axle):
            return None
        if given(partial(getattr, other, "ratio")) is not None:
            return other
    return None


def _same_ratio(build: Build, axle: Any, other: Any) -> Verdict:
    if unlike(build) and places.end_of(build, axle) != places.end_of(build, other):
        return does_not_apply("The tyres in front and behind are unlike: see gearing.axles-alike.")
    on, alike = f"{path_of(axle)}.ratio", _agree(axle.ratio, other.ratio)
    says = f"Stated {axle.ratio:.2f}; the axle {name_of(other)} has {other.ratio:.2f}."
    if not alike:
        says += " With both driven, on tyres all alike, the driveline winds up: give both one ratio."
    return holds(alike, says, on=on, advice=advice(on, other.ratio))


def _agree(stated: float, made: float) -> bool:
    return abs(stated / made - 1.0) <= RATIO_TOLERANCE


def _low_range_in(build: Build, factor: float) -> str:
    """What to say where two ratios differ by just the low range."""
    low = given(lambda: gearing.low_range(build))
    if low is None or _agree(low, 1.0) or not (_agree(factor, low) or _agree(1 / factor, low)):
        return ""
    return (
        f" They differ by the low range, {low:.2f}, which one side counts twice: it belongs in the transfer case only."
    )


# -- strength of the shafts -------------------------------------------------------------------------------------------
@rule(
    "driveline.shaft-strength",
    level="error",
    due="quote",
    sources=[
        sheet("driveline.shafts.*.input_joint.torque_rating"),
        TUBE.giving("limit", "half of the tube's shear yield"),
        sources.MACHINE_DESIGN.giving("formula", "shear stress of a tube in torsion"),
    ],
    cautions=[cautions.ROTATING],
    fallbacks=[SHEAR, q.REVERSE],
    adjust=["driveline.shafts.*.tube_outer"],
    each=chain.shafts,
    bad=[
        {"driveline.shafts.rear.tube_wall": "1.2 mm"},
        {"driveline.shafts.front.input_joint.torque_rating": "900 Nm"},
        {"driveline.shafts.rear.output_joint.torque_rating": "900 Nm"},
    ],
    good=[{"driveline.shafts.rear.tube_outer": "88.9 mm"}, {"driveline.shafts.rear.tube_wall": "3 mm"}],
)
def shaft_strength(build: Build, shaft: Any) -> Verdict:
    """Are tube and joints of each propshaft strong enough for the torque that can reach it?

    Computes: shear stress in the skin of the tube, τ = 16·T·D/(π·(D⁴ − d⁴)), at the largest torque: from the engine in
    first gear or a lower reverse, and low range where the shaft stands behind it, or from the tyres, whichever is less.
    Limit: half of the tube's shear yield; 125 MPa for common steel tube where that is not known. Joints: their sheets,
    at the running angle. A warning where only an axle loaded to its rating, heavier than in any load case, brings it.
    Consequence: The shaft breaks under load: drive is lost, and the loose end beats at lines, floor and people.
    Remedy: a larger tube of the usual sizes, or the next larger joint. Fit a retaining loop where a broken shaft could
    reach fuel or brake lines or people.
    Cannot tell: quality of the welds, balance, yokes and splines. Shock adds half to the torque, and more.
    """
    demands: dict[str, Callable[[], Verdict]] = {"tube": lambda: _tube(build, shaft)}
    for joint in q.joints_of(build, shaft):
        demands[f"torque.{name_of(joint)}"] = partial(_joint_torque, build, shaft, joint)
    return all_of(demands)


def _tube(build: Build, shaft: Any) -> Verdict:
    allowed, torque = _allowed_shear(build, shaft), q.shaft_torque(build, shaft)
    found, on = q.shaft_stress(build, shaft), f"{path_of(shaft)}.tube_outer"
    wall = shaft.tube_wall
    fits = (d for d in tubes.TUBE_DIAMETERS if 2 * wall < d and tubes.torque_at_stress(allowed, d, wall) >= torque)
    smallest = next(fits, None) if found > allowed else None
    says = f"{shown(torque)} put {shown(found)} into the tube."
    takes = tubes.torque_at_stress(allowed, shaft.tube_outer, wall)
    level, also = _laden(torque, lambda: q.shaft_torque_under(build, shaft, laden=True), takes)
    if found > allowed:
        says += also or _by_the_tyres(build, shaft)
    return at_most(found, allowed, says, level=level, on=on, advice=advice(on, smallest))


def _by_the_tyres(build: Build, shaft: Any) -> str:
    """What is said of a torque at which the tyres slip: it counts what the axles may carry, and not what they do."""
    less = at(build, {GRIP: GRIP_LESS * q.grip(build)})
    same = next(other for other in chain.shafts(less) if path_of(other) == path_of(shaft))
    if q.shaft_torque(less, same) >= q.shaft_torque(build, shaft):
        return " The engine brings that before the tyres slip."
    return " At that the tyres slip with each axle loaded to its rating; one that carries less brings less."


def _allowed_shear(build: Build, shaft: Any) -> float:
    stated = given(lambda: shaft.shear_yield)
    if stated is not None or given(lambda: shaft.material) == "aluminium":
        return SHARE_OF_YIELD * float(shaft.shear_yield)
    return use_practice(build, SHEAR)


def _joint_torque(build: Build, shaft: Any, joint: Any) -> Verdict:
    torque, rating = q.shaft_torque(build, shaft), joint.torque_rating
    says = f"{shown(torque)} reach the {name_of(joint).replace('_', ' ')}; it is rated for {shown(rating)}."
    level, also = _laden(torque, lambda: q.shaft_torque_under(build, shaft, laden=True), rating)
    if torque > rating:
        says += also or _by_the_tyres(build, shaft)
        says += " Fit the next larger joint."
    return at_most(torque, rating, says, level=level, on=f"{path_of(joint)}.torque_rating")


# -- whirling ---------------------------------------------------------------------------------------------------------
@rule(
    "driveline.critical-speed",
    level="warning",
    due="quote",
    sources=[
        sheet("driveline.shafts.*.speed_max"),
        WHIRL.giving("limit", "0.70, an error above 0.80"),
        sources.WHIRLING.giving("formula", "whirling speed of a slender tube on two hinges"),
    ],
    cautions=[cautions.ROTATING],
    adjust=["driveline.shafts.*.length", "driveline.shafts.*.tube_outer"],
    each=chain.shafts,
    bad=[
        {"driveline.shafts.rear.length": "2300 mm", "driveline.shafts.rear.driven_x": "3656 mm"},
        {"driveline.shafts.rear.speed_max": "2000 r/min"},
    ],
    good=[{"driveline.shafts.rear.length": "900 mm"}, {"driveline.shafts.rear.speed_max": "5500 r/min"}],
)
def critical_speed(build: Build, shaft: Any) -> Verdict:
    """Does any propshaft run too near its whirling speed?

    Computes: the highest speed of the shaft from road speed, tyres and the ratio behind it, as a share of the speed at
    which a slender tube on two hinges whirls, (π/L)²·√(E·I/(ρ·A)).
    Limit: the shaft maker's highest speed, where he states one; and 70 % of the calculated whirling speed, because play
    in joints and slip brings the real one below the theory. Above 80 % it is an error: a whirling shaft bursts without
    warning.
    Consequence: The shaft bows out, shakes and bursts at speed, and tears what lies beside it.
    Remedy: a shorter piece, a tube of larger diameter, or two pieces with a centre bearing.
    Cannot tell: looseness of the slip joint, balance, bending of engine and gearbox as one body, speed downhill beyond
    the highest road speed stated.
    """
    return all_of({"maker-speed": lambda: _maker_speed(build, shaft), "whirl": lambda: _whirl(build, shaft)})


def _maker_speed(build: Build, shaft: Any) -> Verdict:
    most = limit_or_none(lambda: shaft.speed_max)
    if most is None:
        return does_not_apply("The shaft's maker limits no speed: what whirls is judged.")
    speed = q.shaft_speed(build, shaft)
    says = f"The shaft turns at up to {shown(speed)}; its maker allows {shown(most)}."
    says += " Fit one that is made for it, or two shorter pieces." if speed > most else ""
    return at_most(speed, most, says, level="error", on=f"{path_of(shaft)}.speed_max")


def _whirl(build: Build, shaft: Any) -> Verdict:
    if given(lambda: shaft.length < tubes.SLENDER_LENGTH * shaft.tube_outer) is True:
        return does_not_apply("A shaft shorter than five diameters does not whirl.")
    share, speed = q.whirl_share(build, shaft), q.shaft_speed(build, shaft)
    allowed = tubes.ALLOWED_SHARE_OF_CRITICAL_SPEED
    longest = tubes.longest_shaft(speed, shaft.tube_outer, shaft.tube_wall, allowed, *q.material_of(shaft))
    says = f"The shaft turns at up to {shown(speed)}; by theory it whirls at {shown(q.critical_speed(build, shaft))}."
    on = f"{path_of(shaft)}.length"
    level: Level = "error" if share > WHIRLS else "warning"
    return at_most(share, allowed, says, level=level, on=on, advice=advice(on, longest))
