"""Rules of the start circuit."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    holds,
    practice,
    rule,
    sheet,
)

from ..power import unsaid
from . import feeding, switching, wiring

STARTER_RELAY = practice(
    "the starter's solenoid is switched by a relay, its coil in series with a neutral or clutch switch"
)


@rule(
    "controls.start-interlock",
    level="error",
    due="quote",
    sources=[
        sheet("engine.starter.solenoid_current"),
        STARTER_RELAY.giving("limit", "live in crank only, with an interlock"),
        switching.RELAY_SIZE.giving("formula", "relay rating that is advised"),
    ],
    cautions=[
        "A vehicle that starts in gear jumps: nobody in front of it or under it while the start circuit is tried."
    ],
    fallbacks=[switching.KEY_RATING],
    adjust=["electrics.cables.*.relay_rating", "electrics.start.interlock"],
    about="electrics.start",
    without=unsaid.NO_RELAY,
    bad=[
        {"electrics.start.interlock": "none"},
        {"electrics.cables.solenoid.relay_rating": "15 A"},
        {"electrics.cables.solenoid.switched_by": ["key-run"]},
    ],
    good=[{"electrics.start.interlock": "neutral"}],
)
def start_interlock(build: Build) -> Verdict:
    """Does the starter turn only when it may, and does what switches its solenoid bear the current?

    Computes: whether the starter's solenoid is live in crank and in no other position of the key; the rating of the
    relay on its way, or of the key switch's terminal, against the solenoid's pull-in current.
    Limit: live in crank only; relay or terminal rated for the current, 10 A for a key switch of no known rating:
    errors. A neutral switch on an automatic gearbox (an error), a neutral or clutch switch on a manual one (a
    warning).
    Consequence: The vehicle jumps as the key is turned, the starter does not turn, or it does not stop turning.
    Remedy: a relay rated at one and a half times the solenoid's current, its coil in series with the switch. Pull-in
    takes up to three times the current that holds.
    Cannot tell: a switch that somebody has bridged.
    """
    ways = wiring.cables_at(build, wiring.SOLENOID)
    demands: dict[str, Callable[[], Verdict]] = {"interlock": lambda: _interlock(build)}
    if not ways:
        says = f"No cable ends at the node {wiring.SOLENOID}: the start circuit is not stated."
        demands["stated"] = lambda: holds(False, says, on="electrics.cables")
    else:
        demands["only-in-crank"] = lambda: _only_in_crank(build)
        demands["switch-rating"] = lambda: switching.bears(
            build, wiring.SOLENOID, build.engine.starter.solenoid_current, "the solenoid"
        )
    return all_of(demands)


def _interlock(build: Build) -> Verdict:
    kind = build.electrics.start.interlock
    automatic = build.driveline.gearbox.kind == "automatic"
    enough = kind == "neutral" or (kind == "clutch" and not automatic)
    has = "none" if kind == "none" else f"a {kind} switch"
    says = f"Interlock of the starter: {has}, on {'an automatic' if automatic else 'a manual'} gearbox."
    if not enough:
        says += (
            f" Put a {'neutral' if automatic else 'clutch or neutral'} switch in the coil circuit of the start relay."
        )
    return holds(enough, says, level="error" if automatic else "warning", on="electrics.start.interlock")


def _listed(words: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def _only_in_crank(build: Build) -> Verdict:
    live_in = [p for p in ("off", "accessory", "run", "crank") if wiring.SOLENOID in wiring.live(build, p)]
    right = live_in == ["crank"]
    says = f"The solenoid is live with the key in {_listed(live_in) or 'no position'}"
    says += "." if right else "; it must be live in crank and nowhere else."
    return holds(right, says, on=feeding.source_field(build, wiring.SOLENOID))
