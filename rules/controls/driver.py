"""Rules of what the driver works and sees: pedal, tachometer, warning lamps, diagnostic connector."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    OutsideRange,
    Verdict,
    advice,
    all_of,
    at_most,
    does_not_apply,
    given,
    holds,
    is_fitted,
    path_of,
    practice,
    quantity,
    rule,
    sheet,
    shown,
)

from .. import sources
from ..power import network as power
from ..power import unsaid
from . import from_bus, wiring

RUNAWAY = (
    "An accelerator that does not match makes the engine run away: never change its voltages with resistors; "
    "switch off "
    "and wheels chocked while it is tried."
)
TACH_ERROR = practice("a tachometer that reads within 3 %")
SERVICE_FEED = practice("a constant, fused feed of 5 to 10 A to the diagnostic connector")
PEDAL_ROUNDING = practice("two data sheets round the ratio of a pedal's tracks alike to 2 %")

TACH_LIMIT = 0.03
ENGINE_SPEED = 190
"""Parameter of SAE J1939-71 that is the engine's speed."""
SERVICE_FUSE = 10.0
"""Fuse, A, that is advised for the feed of a diagnostic connector: the larger of those in common use."""

# -- pedal ------------------------------------------------------------------------------------------------------------
SAME_NUMBER = 0.02 * (1.0 + 1e-9)
"""Two sheets that round the same number differ by no more, relative to it."""
PEDAL_FACTS = ("tracks", "track_ratio", "inverted", "supplies", "supply_voltage", "idle_switch", "connector")


@rule(
    "controls.pedal-match",
    level="error",
    due="quote",
    sources=[
        sheet("engine.pedal"),
        PEDAL_ROUNDING.giving("limit", "2 % between two ratios"),
        sources.US_ACCELERATORS.giving("limit", "idle with one spring or one wire off", known="second-hand"),
    ],
    cautions=[RUNAWAY],
    about="electrics.pedal",
    later={"unchanged-voltages": "build", "returns-to-idle": "commission"},
    bad=[
        {"electrics.pedal.track_ratio": 1.0},
        {"electrics.pedal.connector": "another (invented)"},
        {"electrics.pedal.voltages_adapted": True},
        {"electrics.pedal.returns_to_idle": False},
    ],
    good=[{"electrics.pedal.track_ratio": 2.01}],
)
def pedal_match(build: Build) -> Verdict:
    """Is the accelerator pedal the one that the control unit expects, and does the engine go to idle without it?

    Computes: nothing; compares the pedal with the engine's data sheet, the ratio of its tracks within 2 %.
    Limit: number of tracks, their ratio and sense, supplies, voltage, idle switch and connector are equal; nothing
    stands between pedal and control unit; with one spring or one wire off the engine goes to idle (US FMVSS 124).
    Consequence: The engine does not answer the pedal, limps, or does not come back to idle when it is let go.
    Remedy: the pedal that the engine's data sheet names, with its connector. A pedal that looks alike may have
    another output curve.
    Cannot tell: the curve of the output; a floor mat; whether the pedal box stands the foot.
    """
    wanted, fitted = build.engine.pedal, build.electrics.pedal
    if not is_fitted(wanted):
        return does_not_apply("The engine is worked by a cable, not by a pedal with sensors.")
    if not is_fitted(fitted):
        says = "The engine expects a pedal with sensors, and none is fitted."
        return all_of(fitted=lambda: holds(False, says, on="electrics.pedal"))
    demands: dict[str, Callable[[], Verdict]] = {
        fact.replace("_", "-"): lambda fact=fact: _same(wanted, fitted, fact)  # type: ignore[misc]
        for fact in PEDAL_FACTS
    }
    return all_of(
        demands,
        unchanged_voltages=lambda: _unchanged(fitted),
        returns_to_idle=lambda: holds(
            fitted.returns_to_idle,
            "With one spring off, or one wire off, the engine goes to idle."
            if fitted.returns_to_idle
            else "With one spring or one wire off the engine does not go to idle: find out why before it is driven.",
            on="electrics.pedal.returns_to_idle",
        ),
    )


def _unchanged(fitted: Any) -> Verdict:
    says = "Nothing changes the pedal's voltages."
    if fitted.voltages_adapted:
        says = "Resistors or a box change the pedal's voltages on the way to the control unit: take them out, fit the "
        says += "right pedal."
    return holds(not fitted.voltages_adapted, says, on="electrics.pedal.voltages_adapted")


_FACT_WORDS = {"inverted": "one track falling as the other rises", "track_ratio": "ratio of the tracks"}
"""What a mechanic calls a fact about a pedal, where its field has another name."""


def _same(wanted: Any, fitted: Any, fact: str) -> Verdict:
    asked, found = getattr(wanted, fact), getattr(fitted, fact)
    numeric = isinstance(asked, float) and not isinstance(asked, bool)
    same = abs(found - asked) <= SAME_NUMBER * abs(asked) if numeric else found == asked
    says = (
        f"Pedal, {_FACT_WORDS.get(fact, fact.replace('_', ' '))}: {_said(found)}; the control unit expects "
        f"{_said(asked)}."
    )
    if not same:
        says += " Fit the pedal that the engine's data sheet names."
    return holds(bool(same), says, on=f"electrics.pedal.{fact}")


def _said(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else shown(value)


# -- tachometer -------------------------------------------------------------------------------------------------------
@quantity(
    "controls.tach-source",
    formula="from the data sheet; for an alternator poles/2 · pulley ratio",
    sources=[
        practice("an alternator's phase gives one pulse for each pole pair and turn").giving(
            "formula", "half as many pulses as poles for each turn of an alternator"
        )
    ],
)
def tach_source(build: Build) -> float:
    """Pulses that the tachometer's source gives for each turn of the engine."""
    source = build.electrics.tach.source
    if source == "alternator":
        alternator = build.engine.alternator
        return float(alternator.poles / 2.0 * alternator.pulley_ratio)
    if source == "engine-output":
        return float(build.engine.outputs.tach.pulses_per_rev)
    raise OutsideRange("the tachometer is fed from the bus and counts no pulses")


@quantity(
    "controls.tach-error",
    "share",
    "%",
    formula="source pulses · correction / pulses that the gauge is built for - 1",
    symbols={
        "source pulses": "controls.tach-source",
        "correction": "electrics.tach.correction",
        "pulses that the gauge is built for": "electrics.tach.pulses_per_rev",
    },
    sources=[practice("a tachometer shows the pulses that it gets over those that it is built for").giving("formula")],
)
def tach_error(build: Build) -> float:
    """How much too much the tachometer reads; negative where it reads too little."""
    correction = given(lambda: build.electrics.tach.correction)
    through = tach_source(build) * (1.0 if correction is None else correction)
    return float(through / build.electrics.tach.pulses_per_rev - 1.0)


@rule(
    "controls.tach-signal",
    level="note",
    due="build",
    sources=[sheet("engine.outputs.tach.pulses_per_rev"), TACH_ERROR.giving("limit", "3 %")],
    adjust=["electrics.tach.correction"],
    without={
        "electrics.tach.correction": "A ratio box that nobody states is not there: the gauge counts what its source "
        "gives."
    },
    about="electrics.tach",
    bad=[{"electrics.tach.pulses_per_rev": 3}, {"electrics.tach.correction": 1.05}],
    good=[{"electrics.tach.pulses_per_rev": 3, "electrics.tach.correction": 1.5}],
)
def tach_signal(build: Build) -> Verdict:
    """Does the tachometer read right with this engine?

    Computes: pulses for each turn of the engine from its source, times the factor of a ratio box, over those that the
    gauge is built for; an alternator gives poles/2·pulley ratio. For one that reads the bus, whether there is a bus and
    a device on it that takes the engine's speed; whether that is sent is judged by network.signal-availability.
    Limit: 3 % (common practice); a note, a warning where the gauge is all that guards against over-speed.
    Consequence: The driver reads a wrong engine speed, and labours the engine or over-revs it.
    Remedy: a ratio box of the factor that sets it right, or a gauge on the bus.
    Cannot tell: whether the gauge takes the voltage and shape of the signal.
    """
    tach = build.electrics.tach
    if not is_fitted(tach):
        return does_not_apply("The vehicle has no tachometer.")
    guard = given(lambda: tach.only_guard)
    if tach.source == "bus":
        return _tach_on_bus(build, "warning" if guard else "note")
    output = build.engine.outputs.tach
    if tach.source == "engine-output" and not is_fitted(output):
        return holds(
            False,
            "The engine has no output for a tachometer: take the alternator or the bus.",
            on="electrics.tach.source",
        )
    error = tach_error(build)
    way = "right" if error == 0.0 else f"{shown(abs(error), 'share', '%')} too {'much' if error > 0 else 'little'}"
    return at_most(
        abs(error),
        TACH_LIMIT,
        f"The source gives {shown(tach_source(build))} pulses for each turn, the gauge is built for "
        f"{shown(tach.pulses_per_rev)}: it reads {way}.",
        level="warning" if guard else "note",
        on="electrics.tach.correction"
        if given(lambda: tach.correction) is not None
        else "electrics.tach.pulses_per_rev",
        unit=("share", "%"),
        advice=advice("electrics.tach.correction", tach.pulses_per_rev / tach_source(build)),
    )


def _tach_on_bus(build: Build, level: Any) -> Verdict:
    """Whether a tachometer that reads the bus can show anything."""
    dead, on = from_bus.why_dead(build, ENGINE_SPEED), "electrics.tach.source"
    if not dead:
        return does_not_apply("The tachometer reads the bus: see network.signal-availability.")
    says = f"The tachometer reads the bus, {dead}: it stays at zero. State the device that shows the speed, with what "
    says += "it needs, or take the engine's output or the alternator."
    return holds(False, says, level=level, on=on)


BUS = "SAE J1939"
"""What a diagnostic connector carries that hangs on the vehicle's own bus."""


# -- diagnostic connector ---------------------------------------------------------------------------------------------
@rule(
    "controls.diagnostic-access",
    level="error",
    due="quote",
    sources=[
        sheet("engine.diagnostics"),
        sources.DIAGNOSTIC_CONNECTOR.giving("limit", "in reach of the driver, without a tool", known="second-hand"),
        SERVICE_FEED.giving("limit", "a constant feed with a fuse"),
    ],
    about="electrics.diagnostic",
    later={"in-reach": "build", "no-tool": "build"},
    without=unsaid.NO_RELAY,
    bad=[
        {"electrics.diagnostic.connector": "SAE J1939-13"},
        {"electrics.diagnostic.protocol": "ISO 14230"},
        {"electrics.diagnostic.needs_tool": True},
        {"electrics.diagnostic.in_reach": False},
        {"electrics.cables.diagnostic.end": "lighter"},
    ],
    good=[{"engine.diagnostics.required": False}],
)
def diagnostic_access(build: Build) -> Verdict:
    """Is there a diagnostic connector in reach of the driver, fed, and of the type and protocol of the engine's tool?

    Computes: the way of the connector's feed, from the battery with no key switch or relay between.
    Limit: type and protocol of the engine's data sheet; in reach from the driver's seat and no tool needed (SAE
    J1962); a constant, fused feed. An error where diagnosis is part of the engine's certificate, else a warning.
    Consequence: Nobody can read the fault codes: every fault is guesswork, and an inspection may refuse it.
    Remedy: the connector that the engine's tool plugs into, inside the area of SAE J1962, with a fused feed of 5 to
    10 A and a pair of wires to the trunk; its stub is judged by network.stub-length.
    Cannot tell: whether the tool's software talks to this calibration.
    """
    if given(lambda: is_fitted(build.engine.ecm)) is False:
        return does_not_apply("The engine has no control unit that a tool could talk to.")
    socket = build.electrics.diagnostic
    level: Any = "error" if build.engine.diagnostics.required else "warning"
    if not is_fitted(socket):
        says = f"There is no diagnostic connector: fit one to {build.engine.diagnostics.connector}."
        return all_of(fitted=lambda: holds(False, says, level=level, on="electrics.diagnostic"))
    wanted, on = build.engine.diagnostics, "electrics.diagnostic"
    on_bus = {"bus": lambda: _has_bus(build, level)} if given(lambda: socket.protocol) == BUS else {}
    return all_of(
        on_bus,
        connector=lambda: holds(
            socket.connector == wanted.connector,
            f"The connector is {_kind(socket.connector)}; the engine's tool plugs into {_kind(wanted.connector)}.",
            level=level,
            on=f"{on}.connector",
            advice=advice(f"{on}.connector", wanted.connector),
        ),
        protocol=lambda: holds(
            socket.protocol == wanted.protocol,
            f"Its wires carry {_kind(socket.protocol)}; the engine's tool speaks {_kind(wanted.protocol)}.",
            level=level,
            on=f"{on}.protocol",
        ),
        in_reach=lambda: holds(
            socket.in_reach,
            "It is in reach from the driver's seat."
            if socket.in_reach
            else "It is out of reach from the driver's seat: move it there.",
            level=level,
            on=f"{on}.in_reach",
        ),
        no_tool=lambda: holds(
            not socket.needs_tool,
            "One gets at it only with a tool: free it." if socket.needs_tool else "One gets at it without a tool.",
            level=level,
            on=f"{on}.needs_tool",
        ),
        constant_feed=lambda: _constantly_fed(build, level),
        fuse=lambda: _fused(build, level),
    )


def _has_bus(build: Build, level: Any) -> Verdict:
    there = is_fitted(build.electrics.network)
    says = "The vehicle has the bus that its wires carry."
    if not there:
        says = f"Its wires carry {BUS}, and the vehicle has no bus: lay one from the engine to the connector."
    return holds(there, says, level=level, on="electrics.network")


def _constantly_fed(build: Build, level: Any) -> Verdict:
    ways = wiring.cables_at(build, wiring.DIAGNOSTIC)
    steady = bool(ways) and wiring.direct(build, wiring.DIAGNOSTIC)
    says = "The diagnostic connector is fed from the battery, whatever the key says."
    if not steady:
        says = f"No constant feed leads from the battery to the node {wiring.DIAGNOSTIC}: it takes one, fused."
    return holds(steady, says, level=level, on=f"{path_of(ways[0])}.start" if ways else "electrics.cables")


def _fused(build: Build, level: Any) -> Verdict:
    ways = wiring.cables_at(build, wiring.DIAGNOSTIC)
    if not ways:
        return does_not_apply(f"No cable leads to the node {wiring.DIAGNOSTIC}.")
    guarded, on = power.protecting(build, ways[0]) is not None, f"{path_of(ways[0])}.fuse"
    says = "A fuse protects its feed." if guarded else "No fuse protects the feed of the diagnostic connector."
    return holds(guarded, says, level=level, on=on, advice=advice(on, SERVICE_FUSE))


def _kind(word: object) -> str:
    """A kind of connector or protocol in a sentence."""
    return "of another kind" if word == "other" else str(word)
