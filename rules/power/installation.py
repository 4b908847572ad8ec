"""Rules of grounds, the battery's place, and the main switch."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from swaplint.api import (
    Build,
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
    is_fitted,
    name_of,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import bolts, conductors
from swaplint.engineering.constants import G

from .. import sources
from . import main_switch, network, units

GROUND_PATHS = practice(
    "a ground from engine, frame and cab to the battery, the engine's as thick as the starter cable"
)
HOLD_DOWN = practice("a battery held against twice its weight in any direction, ten times in an occupied cab")
BATTERY_HEAT = Practice("battery at 60 °C at most", 333.15, practice("60 °C as the highest temperature of a battery"))
TANK_DISTANCE = practice("no battery directly above or below a fuel tank, filler or filter")
ISOLATING = practice(
    "a main switch interrupts neither the alternator while it charges nor the control unit's after-run"
)
AFTER_RUN = Practice("control unit needs power for 60 s after the key is off", 60.0, ISOLATING)

AFTER_RUN_SPARE = practice("15 s to spare after the control unit's after-run")
BOLT_SHARE = practice("half of a bolt's yield strength for holding, the rest for tightening")

AFTER_RUN_MARGIN = 15.0
OPEN_HOLD = 2.0
CAB_HOLD = 10.0
"""Times the battery's weight that its hold-down must take: small craft by analogy, and common practice in a cab."""
INSIDE = ("cab", "load-space")
"""Places of a battery where its gas gathers."""


@rule(
    "power.grounding",
    level="error",
    due="build",
    sources=[GROUND_PATHS.giving("limit", "which grounds there are, each as thick as what it returns")],
    cautions=[cautions.BATTERY_ARC],
    adjust=["electrics.grounds.*.size"],
    about="electrics.grounds",
    without={
        "electrics.cables.*.returns_by": "How the control unit's current comes back is asked for by "
        "power.circuit-drop.",
        "electrics.grounds.*.material": "A cable that is sold by its size alone is of copper, and clad aluminium is "
        "marked so: weigh a length where in doubt.",
    },
    bad=[
        {"electrics.grounds.engine.size": "25 mm2"},
        {"electrics.grounds.cab": None},
        {"electrics.cables.ecm.returns_by": "frame", "electrics.cables.ecm.return_length": "0.3 m"},
        {"electrics.grounds.frame.size": "4 mm2"},
    ],
    good=[{"electrics.grounds.engine.size": "70 mm2"}],
)
def grounding(build: Build) -> Verdict:
    """Is there a complete and thick return from engine, frame and cab to the battery?

    Computes: the ways through the grounds from the engine block, the frame and an insulated cab to the battery's
    negative; on the engine's way the thinnest conductor against the thinnest of the starter cables, those that join the
    same two nodes counted together, copper-clad aluminium as the copper of its resistance.
    Limit: common practice: every way is there (an error). Rubber mounts insulate the engine: without a strap the
    starter current finds throttle and gearbox cables and bearings; an engine that touches metal somewhere is a
    warning. The engine's way is as thick as the starter cable, the frame's and the cab's as the thickest cable whose
    current comes back there, and the control unit does not return through the frame (warnings).
    Consequence: Current finds other ways: control cables and bearings burn, it cranks slowly, electronics fail.
    Remedy: the straps that are missing, the engine's as thick as the starter cable, at clean studs.
    Cannot tell: paint under a lug, and old straps that nobody has noted.
    """
    nodes = [network.ENGINE, network.FRAME]
    if given(lambda: build.electrics.cab_insulated) is not False:
        nodes.append(network.CAB)
    demands: dict[str, Callable[[], Verdict]] = {
        f"ground.{node}": lambda node=node: _grounded(build, node)  # type: ignore[misc]
        for node in nodes
    }
    if given(lambda: network.return_path(build, network.ENGINE) is None) is not True:
        demands["thickness"] = lambda: _thick_enough(build)
    for node in nodes[1:]:
        if given(lambda node=node: network.return_path(build, node) is None) is not True:  # type: ignore[misc]
            demands[f"thickness.{node}"] = lambda node=node: _as_thick_as_its_feeds(build, node)  # type: ignore[misc]
    demands["control-unit"] = lambda: _control_unit_return(build)
    return all_of(demands)


def _fed_through(build: Build, node: str) -> list[Any]:
    """The cables whose current comes back by frame or cab; those of a cab that hangs on its own strap feed it."""
    if node == network.CAB:
        return [cable for cable in network.cables(build) if cable.role == "cab-feed"]
    return [cable for cable in network.cables(build) if given(lambda cable=cable: cable.returns_by) == "frame"]  # type: ignore[misc]


def _as_thick_as_its_feeds(build: Build, node: str) -> Verdict:
    """Whether the way back from frame or cab is no thinner than the thickest cable whose current it carries."""
    if node == network.CAB and not build.electrics.cab_insulated:
        return does_not_apply("The cab touches the frame.")
    feeds, grounds = _fed_through(build, node), network.grounds(build)
    if not feeds:
        return does_not_apply(f"No cable is said to return by the {node}.")
    path = network.return_path(build, node) or []
    thinnest = min(path, key=lambda ground: _size_of_all(grounds, ground))
    feed = max(feeds, key=_as_copper)
    found, wanted = _size_of_all(grounds, thinnest), _as_copper(feed)
    says = f"The {node}'s way back to the battery is {shown(found, 'conductor', 'mm2')} of copper at its thinnest, and "
    says += f"the cable from {feed.start} to {feed.end}, whose current it carries, {shown(wanted, 'conductor', 'mm2')}"
    says += "." if found >= wanted else ": no fuse is in that strap, and it burns first. Fit a thicker one."
    help = _thicker(thinnest, wanted) if len(network.alongside(grounds, thinnest)) == 1 else None
    on, unit = f"{path_of(thinnest)}.size", ("conductor", "mm2")
    return at_least(found, wanted, says, level="warning", on=on, unit=unit, advice=help)


def _starter_size(build: Build) -> float | None:
    """Size of the starter cable at its thinnest; what lies side by side counts together."""
    starter = network.cables_for(build, "starter")
    return min((_size_of_all(starter, cable) for cable in network.starter_feed(build) or []), default=None)


def _size_of_all(parts: Sequence[Any], part: Any) -> float:
    """Copper of all that lies side by side; of clad aluminium what copper would do for it."""
    return float(sum(_as_copper(twin) for twin in network.alongside(parts, part)))


def _as_copper(part: Any) -> float:
    clad = network.material_of(part) is conductors.Material.COPPER_CLAD_ALUMINIUM
    return float(part.size / (conductors.CLAD_ALUMINIUM_RESISTANCE_RATIO if clad else 1.0))


def _grounded(build: Build, node: str) -> Verdict:
    if node == network.CAB and not build.electrics.cab_insulated:
        return does_not_apply("The cab touches the frame.")
    if network.return_path(build, node) is not None:
        return holds(True, f"A ground leads from the {node} to the battery.")
    if node != network.ENGINE:
        return holds(False, f"No ground leads from the {node} to the battery: fit a strap.")
    mounts = given(lambda: [m.insulating for m in build.vehicle.mounts.values() if is_fitted(m)])
    rubber = " (every mount insulates it)" if mounts and all(mounts) else ""
    says = f"No ground leads from the engine block{rubber} to the battery: fit a strap as thick as the starter cable."
    return holds(False, says, level="warning" if mounts and not all(mounts) else "error")


def _thick_enough(build: Build) -> Verdict:
    path = network.return_path(build, network.ENGINE) or []
    size = _starter_size(build)
    if size is None:
        return holds(True, "The engine has its ground.")
    grounds = network.grounds(build)
    thinnest = min(path, key=lambda ground: _size_of_all(grounds, ground))
    found = _size_of_all(grounds, thinnest)
    return at_least(
        found,
        size,
        f"The engine's way back to the battery is {shown(found, 'conductor', 'mm2')} of copper at its thinnest, the "
        f"starter cable {shown(size, 'conductor', 'mm2')}: the return carries the same current.",
        level="warning",
        on=f"{path_of(thinnest)}.size",
        unit=("conductor", "mm2"),
        advice=_thicker(thinnest, size) if len(network.alongside(grounds, thinnest)) == 1 else None,
    )


def _thicker(ground: Any, copper: float) -> Any:
    """The advice of a ground as good as so much copper."""
    return advice(f"{path_of(ground)}.size", copper * ground.size / _as_copper(ground))


def _control_unit_return(build: Build) -> Verdict:
    for cable in network.cables_for(build, "ecm-feed"):
        if given(lambda cable=cable: cable.returns_by) == "frame":  # type: ignore[misc]
            return holds(
                False,
                "The control unit returns through the frame: give it a conductor of its own to the battery or to the "
                "stud that its sheet names.",
                level="warning",
                on=f"{path_of(cable)}.returns_by",
            )
    return holds(True, "The control unit does not return through the frame.")


@rule(
    "power.battery-location",
    level="error",
    due="build",
    sources=[
        sources.US_BATTERIES.giving("limit", "cover and ventilation", known="second-hand"),
        sources.SMALL_CRAFT_METRIC.giving("limit", "held against twice the battery's weight", known="second-hand"),
        HOLD_DOWN.giving("limit", "ten times the weight in a cab"),
        TANK_DISTANCE.giving("limit", "not above or below fuel"),
        sources.BOLTS.giving("formula", "strength of bolts of class 4.6", known="from memory"),
        BOLT_SHARE.giving("formula", "share of it that holds"),
    ],
    cautions=[cautions.BATTERY_ARC],
    fallbacks=[BATTERY_HEAT],
    adjust=["electrics.batteries.*.hold_down_bolts", "electrics.batteries.*.hold_down_bolt"],
    each=lambda build: [battery for battery in build.electrics.batteries.values() if is_fitted(battery)],
    bad=[
        {
            "electrics.batteries.main.place": "cab",
            "electrics.batteries.main.vented_outside": False,
            "electrics.cables.*.place_temperature": "50 degC",
        },
        {"electrics.batteries.main.relative_to_tank": "above"},
        {"electrics.batteries.main.hold_down_bolts": 0},
        {"electrics.batteries.main.temperature_max": "45 degC"},
    ],
    good=[{"electrics.batteries.main.place": "cab"}],
)
def battery_location(build: Build, battery: Any) -> Verdict:
    """Is the battery held, covered, vented, and away from heat, people and fuel?

    Computes: the force that its hold-down takes, n·A_s·R_e/2 with bolts of property class 4.6, against twice the
    battery's weight, ten times in a cab.
    Limit: US 49 CFR 393.30 for cover and ventilation; not directly above or below a fuel tank, filler or filter; gas
    led outside from a cab or load space (errors). The temperature that the battery's maker allows, else 60 °C
    (a warning).
    Consequence: The battery breaks loose, overheats or gases: acid on people, an explosion, a fire at the tank.
    Remedy: bolts, a vented box, a shield or another place.
    Cannot tell: the strength of the floor and of the tray; gas from a battery that is overcharged.
    """
    path = path_of(battery)
    demands: dict[str, Callable[[], Verdict]] = {
        "hold-down": lambda: _held(battery),
        "away-from-fuel": lambda: holds(
            battery.relative_to_tank in ("apart", "beside"),
            "No fuel tank, filler or filter is above or below the battery."
            if battery.relative_to_tank in ("apart", "beside")
            else f"The battery stands {battery.relative_to_tank} a fuel tank, filler or filter, where a leak meets a "
            "spark: move one of the two.",
            on=f"{path}.relative_to_tank",
        ),
        "cover": lambda: holds(
            battery.covered,
            "The battery is covered, its live terminals insulated."
            if battery.covered
            else "A tool that falls on the battery shorts it: cover it, and insulate its live terminals.",
            level="error" if battery.place == "cab" else "warning",
            on=f"{path}.covered",
        ),
        "temperature": lambda: at_most(
            battery.place_temperature,
            or_practice(lambda: battery.temperature_max, BATTERY_HEAT),
            f"It gets up to {shown(battery.place_temperature)} where it stands; a shield or more distance to what "
            "is hot "
            "cools it.",
            level="warning",
            scale=20.0,
            on=f"{path}.place_temperature",
        ),
    }
    if given(lambda: battery.place in INSIDE) is not False:
        demands["vent"] = lambda: _vented(battery)
    return all_of(demands)


def _vented(battery: Any) -> Verdict:
    if battery.place not in INSIDE:
        return does_not_apply("It stands in the open.")
    place = str(battery.place).replace("-", " ")
    says = f"In the {place} it stands in a closed box that is vented to the outside."
    if not battery.vented_outside:
        says = f"Its gas explodes in the {place}: put it in a closed box that is vented to the outside."
    return holds(battery.vented_outside, says, on=f"{path_of(battery)}.vented_outside")


def _held(battery: Any) -> Verdict:
    times = CAB_HOLD if battery.place == "cab" else OPEN_HOLD
    wanted = times * battery.mass * G
    number = int(battery.hold_down_bolts)
    held = bolts.holding_force(number, float(battery.hold_down_bolt[1:]) / 1000.0) if number else 0.0
    return at_least(
        held,
        wanted,
        f"{number} bolts hold {shown(held, 'force', 'kN')}; {times:g} times the weight of {shown(battery.mass)} is "
        f"{shown(wanted, 'force', 'kN')}.",
        level="error" if battery.place == "cab" else "warning",
        on=f"{path_of(battery)}.hold_down_bolts",
        unit=("force", "kN"),
    )


@rule(
    "power.isolation-shutdown",
    level="warning",
    due="build",
    sources=[
        sheet("engine.ecm.after_run_time"),
        ISOLATING.giving("limit", "what a main switch must not interrupt"),
        AFTER_RUN_SPARE.giving("limit", "15 s to spare"),
    ],
    cautions=[cautions.BATTERY_ARC],
    fallbacks=[AFTER_RUN],
    adjust=["electrics.isolator.off_delay", "electrics.isolator.breaks_field"],
    about="electrics.isolator",
    bad=[
        {"electrics.cables.ecm.start": "isolator"},
        {"electrics.isolator.breaks_field": False, "electrics.cables.alternator.end": "starter"},
    ],
    good=[{"electrics.cables.ecm.start": "isolator", "electrics.isolator.interlock": True}],
)
def isolation_shutdown(build: Build) -> Verdict:
    """Can the main switch be opened without hurting the alternator or cutting the control unit's after-run?

    Computes: whether alternator and control unit are still joined to the battery with the main switch open, by the
    cables and, for what returns through engine or frame, by the grounds; a switch may stand in either. The same of the
    constant feeds of every other control unit, which may work on for a while. And whether the open switch cuts
    anything: one in the way back cuts engine, frame and cab, or current goes on by the one that is left.
    Limit: common practice: the control unit keeps its feed until its after-run has ended, 60 s where its sheet is
    silent, with 15 s to spare; an alternator that charges is never cut off its battery, which lets its voltage jump.
    Consequence: Opening the switch burns the alternator's diodes, or cuts off a control unit still at work.
    Remedy: the control unit on a fused feed of its own ahead of the switch, or a delay as long as its after-run; an
    auxiliary contact that stops the engine or opens the alternator's field first.
    Cannot tell: whether drivers wait: a lamp or an interlock makes them. Fire vehicles and the like often must have a
    main switch.
    """
    isolator = build.electrics.isolator
    if not is_fitted(isolator):
        return does_not_apply("The vehicle has no main switch.")
    cables, grounds = network.cables(build), network.grounds(build)
    if not network.passes([*cables, *grounds], network.ISOLATOR):
        says = "A main switch is fitted, and no cable or ground is stated to lead through the node isolator: state "
        says += "what it cuts."
        return all_of(stated=lambda: holds(False, says, on="electrics.isolator"))
    demands: dict[str, Callable[[], Verdict]] = {"cuts": lambda: main_switch.cuts(build)}
    feeds = network.cables_for(build, "ecm-feed")
    if any(_cut_off(build, cable, cable.end) for cable in feeds):
        demands["after-run"] = lambda: _after_run(build)
    elif feeds:
        demands["after-run"] = lambda: holds(True, "The control unit keeps its feed with the main switch open.")
    for unit in units.others(build):
        if given(lambda unit=unit: _others_cut_off(build, unit)):  # type: ignore[misc]
            demands[f"after-run.{name_of(unit)}"] = lambda unit=unit: _after_run_of(build, unit)  # type: ignore[misc]
    if network.passes(cables, network.ALTERNATOR):
        demands["alternator"] = lambda: holds(
            not _alternator_cut_off(build) or isolator.breaks_field,
            "Opened while the engine runs, the switch leaves the alternator on the battery, or stops it first."
            if not _alternator_cut_off(build) or isolator.breaks_field
            else "Opened while the engine runs, the switch cuts the alternator off the battery, and its voltage jumps: "
            "let it open the alternator's field, or stop the engine, first.",
            on="electrics.isolator.breaks_field",
        )
    return all_of(demands)


def _cut_off(build: Build, cable: Any, node: str) -> bool:
    """Whether an open main switch parts a node that a cable leads to from the battery, on the way out or back."""
    if network.is_cut_off(network.cables(build), network.POSITIVE, node):
        return True
    grounds = network.grounds(build)
    if not network.passes(grounds, network.ISOLATOR) or cable.returns_by == "own-conductor":
        return False
    back = network.FRAME if cable.returns_by == "frame" else network.ENGINE
    return network.is_cut_off(grounds, back, network.NEGATIVE)


def _alternator_cut_off(build: Build) -> bool:
    cables = network.cables_for(build, "alternator")
    nodes = {path_of(cable): network.node_of(build, network.alternator_of(build, cable)) for cable in cables}
    return any(_cut_off(build, cable, nodes[path_of(cable)]) for cable in cables) or (
        network.is_cut_off(network.cables(build), network.POSITIVE, network.ALTERNATOR)
    )


def _others_cut_off(build: Build, unit: Any) -> bool:
    """Whether an open main switch cuts off a constant feed of a control unit besides the engine's."""
    if units.is_kept(unit):
        return False
    pins = [units.pin_of(feed) for feed in units.feeds_of(unit) if feed.kind == "constant"]
    return any(_cut_off(build, cable, cable.end) for cable in network.cables(build) if cable.end in pins)


def _after_run_of(build: Build, unit: Any) -> Verdict:
    isolator, needed = build.electrics.isolator, unit.after_run_time
    if needed > 0.0:
        needed += AFTER_RUN_MARGIN
    says = f"The main switch cuts off {units.called(unit)}, which needs power for {shown(needed, 'time', 's')} after "
    says += "the key is off, with the margin."
    if given(lambda: isolator.interlock):
        return holds(True, "The main switch cannot open before the control unit has finished.")
    return at_least(isolator.off_delay, needed, says, on="electrics.isolator.off_delay", scale=60.0)


def _after_run(build: Build) -> Verdict:
    isolator = build.electrics.isolator
    needed = or_practice(lambda: build.engine.ecm.after_run_time, AFTER_RUN) + AFTER_RUN_MARGIN
    if isolator.interlock:
        return holds(True, "The main switch cannot open before the control unit has finished.")
    return at_least(
        isolator.off_delay,
        needed,
        f"The control unit is fed through the main switch: it needs power for {shown(needed, 'time', 's')} after the "
        "key is off, with the margin.",
        on="electrics.isolator.off_delay",
        advice=advice("electrics.isolator.off_delay", needed),
    )
