"""Rules of the feeds of control units: the engine's, and every other one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    cautions,
    does_not_apply,
    holds,
    is_fitted,
    path_of,
    practice,
    rule,
    sheet,
)

from ..power import quantities as power_quantities
from ..power import units, unsaid
from . import feeding, wiring

KEY_TRUTH = practice("a switched feed of the engine comes from a terminal that is live in run and in crank")
DIRECT_FEED = practice("a control unit's constant feed comes from the battery through a fuse of its own")
ALL_GROUNDS = practice("every ground pin of a control unit is connected")


# -- feeds ------------------------------------------------------------------------------------------------------------
def switched_feeds(build: Build) -> list[Any]:
    """The feeds that the key switches."""
    return [feed for feed in wiring.feeds(build) if feed.kind == "switched"]


@rule(
    "controls.key-feed-crank",
    level="error",
    due="quote",
    sources=[
        sheet("engine.ecm.feeds"),
        sheet("engine.ecm.hold_up_time"),
        KEY_TRUTH.giving("limit", "live in run and in crank, dead in off"),
    ],
    changed={"0.2.0": "A feed that the key does not cut off is an error: the engine runs on."},
    adjust=["electrics.cables.*.start"],
    each=switched_feeds,
    without=unsaid.NO_RELAY,
    bad=[
        {"electrics.cables.ecm_switched.start": "key-accessory"},
        {"electrics.key_switch.terminals.run.gap": "400 ms"},
        {"electrics.cables.ecm_switched.start": "cab-fuses"},
    ],
    good=[
        {
            "electrics.cables.ecm_switched.start": "cab-fuses",
            "electrics.cables.ecm_switched.switched_by": ["key-run", "key-start"],
            "electrics.cables.ecm_switched.relay_rating": "20 A",
        }
    ],
)
def key_feed_crank(build: Build, feed: Any) -> Verdict:
    """Is the engine's switched feed alive in both run and crank?

    Computes: which nodes are live in each position of the key, from the battery through cables, relays that a live
    node closes, and the terminals of the key switch. The control unit's own outputs close a relay only once one of its
    switched feeds is live without them.
    Limit: live in run, and in crank where the engine's data sheet asks for it, and dead in off: errors. The break while
    the key turns from run to crank is at most the time that the sheet says the control unit rides through. Accessory
    terminals as a rule die in crank: the engine cranks and does not start.
    Consequence: The engine cranks and does not start, or runs on when the key is turned off.
    Remedy: a terminal that is live in both, or a relay whose coil is fed from run or crank through diodes.
    Cannot tell: a worn switch, and an old one that nobody has measured: take a meter to it in all four positions.
    """
    return feeding.alive(build, feed)


def feeds_and_unit(build: Build) -> list[Any]:
    """The feeds of the control unit, and the unit itself for its grounds."""
    if not is_fitted(build.engine.ecm):
        return []
    return [*wiring.feeds(build), build.engine.ecm]


@rule(
    "controls.ecm-feed",
    level="error",
    due="quote",
    sources=[
        sheet("engine.ecm.feeds"),
        DIRECT_FEED.giving("limit", "fed from the battery, with no key switch and no relay between"),
        ALL_GROUNDS.giving("limit", "every ground pin"),
        power_quantities.RESISTANCE,
    ],
    cautions=[cautions.FUEL_FIRE, cautions.BATTERY_ARC],
    fallbacks=[wiring.FEED_DROP, power_quantities.FRAME_RETURN, power_quantities.SWITCH],
    adjust=["electrics.cables.*.size", "electrics.cables.*.fuse"],
    each=feeds_and_unit,
    later={"ground-pins": "build"},
    without=unsaid.NO_RELAY,
    bad=[
        {"electrics.cables.ecm.fuse": "25 A"},
        {"electrics.ecm.ground_pins_used": 1},
        {"engine.ecm.feeds.main.current": "40 A"},
        {"engine.ecm.feeds.second": {"kind": "constant", "current": "5 A", "fuse": "7.5 A", "live_in_crank": True}},
    ],
    good=[{"engine.ecm.feeds.main.current": "18 A"}],
)
def ecm_feed(build: Build, feed: Any) -> Verdict:
    """Has the control unit its feeds from the right place, with the right fuse and little loss, and all its grounds?

    Computes: the way from the battery to each pin that the engine's data sheet names; the voltage lost on it at the
    pin's highest current, there and back.
    Limit: every pin is fed; a constant feed comes from the battery with no relay and no key switch between; its fuse
    is the one that the sheet asks for; 0.5 V is lost at most at 12 V where the sheet says nothing (common practice);
    every ground pin is used.
    Consequence: The control unit loses its supply and the engine cuts out or will not start, or a wire burns.
    Remedy: a cable from the battery's positive through the fuse of the engine's data sheet; more copper. A main switch
    in the feed is judged by power.isolation-shutdown.
    Cannot tell: what else shares the feed, and what ahead of the key switch is lost on a switched one; short peaks of
    the injectors.
    """
    unit = build.engine.ecm
    if path_of(feed) != path_of(unit):
        return feeding.fed_rightly(build, feed)
    on = "electrics.ecm.ground_pins_used"
    return all_of(
        ground_pins=lambda: feeding.grounds(
            build.electrics.ecm.ground_pins_used, unit.ground_pins, "the control unit", on
        )
    )


# -- the feeds of other control units ---------------------------------------------------------------------------------
SECOND_UNIT = {
    "electrics.controllers.display": {
        "essential": False,
        "wiring_kept": False,
        "ground_pins": 2,
        "ground_pins_used": 2,
        "hold_up_time": "50 ms",
        "after_run_time": "0 s",
        "min_voltage_crank": "7 V",
        "feeds": {
            "main": {"kind": "constant", "current": "1 A", "fuse": "5 A", "live_in_crank": True, "drop_max": "0.5 V"},
            "key": {"kind": "switched", "current": "1 A", "fuse": "5 A", "live_in_crank": True, "drop_max": "0.5 V"},
        },
    },
    "electrics.cables.display_main": {
        "role": "other",
        "start": "cab-fuses",
        "end": "display-main",
        "size": "1 mm2",
        "length": "1 m",
        "current": "1 A",
        "returns_by": "own-conductor",
        "return_length": "1 m",
        "insulation_temp": "105 degC",
        "place": "cab",
        "bundled_with": 1,
        "fuse": "5 A",
    },
    "electrics.cables.display_key": {
        "role": "switched-feed",
        "start": "key-run",
        "end": "display-key",
        "size": "1 mm2",
        "length": "1 m",
        "current": "1 A",
        "returns_by": "own-conductor",
        "return_length": "1 m",
        "insulation_temp": "105 degC",
        "place": "cab",
        "bundled_with": 1,
        "fuse": "5 A",
    },
}
"""A display of its own beside what the sound spec has: two feeds, each with its cable."""


def other_switched_feeds(build: Build) -> list[Any]:
    """The feeds of other control units that the key switches."""
    return [feed for feed in wiring.other_feeds(build) if feed.kind == "switched"]


@rule(
    "controls.controller-live",
    level="error",
    due="quote",
    sources=[
        sheet("driveline.gearbox.controller.feeds"),
        sheet("driveline.gearbox.controller.hold_up_time"),
        KEY_TRUTH.giving("limit", "live in run and in crank, dead in off"),
    ],
    adjust=["electrics.cables.*.start"],
    about="electrics.controllers",
    each=other_switched_feeds,
    without={
        **unsaid.NO_RELAY,
        "electrics.controllers.*.feeds": "The feeds of each control unit are asked for by controls.controller-feed.",
    },
    bad=[
        {**SECOND_UNIT, "electrics.cables.display_key.start": "key-accessory"},
        {**SECOND_UNIT, "electrics.controllers.display.hold_up_time": "5 ms"},
    ],
    good=[SECOND_UNIT],
)
def controller_live(build: Build, feed: Any) -> Verdict:
    """Is the switched feed of every other control unit alive in run, in crank where it must be, and dead in off?

    Computes: which nodes are live in each position of the key, as for the engine's control unit. The feeds of a gearbox
    controller end at nodes such as gearbox-main, those of any other at its own name.
    Limit: live in run, and in crank where its data sheet asks for it; the break while the key turns is at most the time
    that its sheet says it rides through: errors for a gearbox controller and for what the vehicle needs, else warnings.
    Dead in off, or it drains the battery: a warning.
    Consequence: The controller restarts in every start: no drive, a fault lamp, or a flat battery.
    Remedy: a terminal that is live in both, or a relay whose coil is fed from run or crank through diodes.
    Cannot tell: what a control unit does while it restarts; wiring that stays as the vehicle's maker laid it.
    """
    return feeding.alive(build, feed, level=_level(units.unit_of(build, feed)))


def _level(unit: Any) -> feeding.Level:
    return "error" if units.is_vital(unit) else "warning"


def others_and_feeds(build: Build) -> list[Any]:
    """Every other control unit for its grounds, its feeds, and the sections that do not say whether there are any."""
    return [*units.others(build), *wiring.other_feeds(build), *units.nobody_says(build)]


@rule(
    "controls.controller-feed",
    level="error",
    due="quote",
    sources=[
        sheet("driveline.gearbox.controller.feeds"),
        DIRECT_FEED.giving("limit", "fed from the battery, with no key switch and no relay between"),
        ALL_GROUNDS.giving("limit", "every ground pin"),
        power_quantities.RESISTANCE,
    ],
    cautions=[cautions.FUEL_FIRE, cautions.BATTERY_ARC],
    fallbacks=[wiring.FEED_DROP, power_quantities.FRAME_RETURN, power_quantities.SWITCH],
    adjust=["electrics.cables.*.size", "electrics.cables.*.fuse"],
    about="electrics.controllers",
    each=others_and_feeds,
    later={"ground-pins": "build"},
    without=unsaid.NO_RELAY,
    bad=[
        {**SECOND_UNIT, "electrics.cables.display_main": None},
        {**SECOND_UNIT, "electrics.cables.display_main.fuse": "7.5 A"},
        {**SECOND_UNIT, "electrics.controllers.display.ground_pins_used": 1},
    ],
    good=[SECOND_UNIT],
)
def controller_feed(build: Build, part: Any) -> Verdict:
    """Has every other control unit its feeds from the right place, the right fuse, little loss, and its grounds?

    Computes: the same as for the engine's control unit, for the controller of an automatic gearbox, the units of the
    vehicle that stay, and those that the build adds.
    Limit: every feed of its data sheet has a cable, a constant one straight from the battery; the fuse of the sheet;
    0.5 V lost at most at 12 V where the sheet says nothing (common practice); every ground pin is used. Errors for a
    gearbox controller, a unit that blocks the start and one that the vehicle needs, else warnings. A unit whose wiring
    stays as the vehicle's maker laid it is not asked.
    Consequence: The controller loses its supply: no drive, a dead display, or a wire that burns.
    Remedy: a cable from the battery's positive through the fuse that its data sheet asks for; more copper.
    Cannot tell: what else shares the feed; what an old loom has lost in forty years.
    """
    if path_of(part) in map(path_of, units.nobody_says(build)):
        units.ask_whether(build, part)
    if ".feeds." in path_of(part):
        return feeding.fed_rightly(build, part, level=_level(units.unit_of(build, part)))
    return _whole_unit(part)


def _whole_unit(unit: Any) -> Verdict:
    """The verdict on a control unit for itself: it asks for feeds, and its grounds are used."""
    who = units.called(unit)
    if units.is_kept(unit):
        return does_not_apply(f"The wiring of {who} stays as the vehicle's maker laid it.")
    demands: dict[str, Callable[[], Verdict]] = {
        "asks": lambda: holds(
            bool(unit.feeds),
            f"{len(unit.feeds)} feeds are stated for {who}: it has at least one.",
            level=_level(unit),
            on=f"{path_of(unit)}.feeds",
        ),
        "ground-pins": lambda: feeding.grounds(
            unit.ground_pins_used, unit.ground_pins, who, f"{path_of(unit)}.ground_pins_used", level=_level(unit)
        ),
    }
    return all_of(demands)
