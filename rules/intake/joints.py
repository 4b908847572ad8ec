"""Rules of charge-air joints and of the crankcase breather."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

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
    use_practice,
    within,
)
from swaplint.engineering import pipes
from swaplint.spec.systems.intake import ChargePipe

from .. import sources
from . import quantities as q

BREATHER = "plumbing.intake.breather"

PRESSURE_RESERVE = 1.5
GAP_LOW, GAP_HIGH = 0.010, 0.020
JOINTS = practice(
    "charge hoses rated for 1.5 times the boost, beads on every end, T-bolt or constant-tension clamps, 10 to 20 mm "
    "between pipe ends"
)
HOT_SIDE = Practice(
    "charge air of 200 °C ahead of the cooler",
    200.0 + 273.15,
    practice("charge air ahead of the cooler reaches 180 to 200 °C"),
)
HOLDING = ("t-bolt", "constant-tension", "v-band", "quick-connector")

CRANKCASE = Practice(
    "crankcase pressure of at most 0.5 kPa", 0.5e3, practice("crankcase pressure within 0.5 kPa of the outside air")
)
FROST = -15.0 + 273.15
WORN = 3.0
VENTING = practice(
    "a breather line rises or falls without a low loop, joins the intake behind the air-mass sensor and ahead of the "
    "turbocharger after an oil separator, and is kept from frost below -15 °C"
)


# -- charge air -------------------------------------------------------------------------------------------------------
@rule(
    "intake.boost-joints",
    level="warning",
    due="build",
    sources=[sheet("engine.charge_air.pressure_max"), sources.HOSE_CLAMPS, JOINTS],
    cautions=[cautions.HOT],
    adjust=["plumbing.charge_air.pipes.*.hose_pressure", "plumbing.charge_air.pipes.*.hose_temperature"],
    fallbacks=[HOT_SIDE],
    each=q.charge_pipes,
    bad=[
        {"plumbing.charge_air.pipes.hot.hose_pressure": "150 kPa"},
        {"plumbing.charge_air.pipes.hot.hose_temperature": "120 degC"},
        {"plumbing.charge_air.pipes.cold.beaded": False},
        {"plumbing.charge_air.pipes.cold.clamp": "worm-drive"},
        {"plumbing.charge_air.pipes.cold.gap": "45 mm"},
    ],
    good=[{"plumbing.charge_air.pipes.hot.hose_pressure": "800 kPa"}],
)
def boost_joints(build: Build, pipe: ChargePipe) -> Verdict:
    """Are charge-air hoses and clamps rated for pressure and heat, and kept from blowing off?

    Computes: the force that pushes a hose off its pipe, F = p·π·D²/4; the hottest charge air on the hottest day, ahead
    of or behind the cooler.
    Limit: hoses rated for 1.5 times the greatest boost and for that air (200 °C ahead of the cooler where the engine's
    sheet is silent); a bead on every pipe end; T-bolt, constant-tension or better clamps; 10 to 20 mm between the pipe
    ends in a hose: common practice.
    Consequence: A hose bursts or blows off under boost: the engine loses its power at once, and smokes.
    Remedy: the rating in the sentence; silicone or fluoro-lined hose on the hot side.
    Cannot tell: leaks. Test the joints cold with air, at 150 kPa at most, from behind a guard. A hose that bridges from
    engine to frame also needs free length: see mounts.flexible-bridges.
    """
    on = path_of(pipe)
    demands: list[Callable[[], Verdict]] = [
        partial(_hose_pressure, build, pipe),
        partial(_hose_heat, build, pipe),
        lambda: holds(
            pipe.beaded,
            "Every pipe end under a hose has a bead."
            if pipe.beaded
            else f"A pipe end has no bead, and {shown(q.blow_off_force(build, pipe), digits=3)} push the hose off it: "
            "roll one, or weld on a beaded end.",
            on=f"{on}.beaded",
        ),
        lambda: holds(
            pipe.clamp in HOLDING,
            "The clamps hold boost."
            if pipe.clamp in HOLDING
            else "These clamps lose their grip as the hose warms and settles: use T-bolt or constant-tension clamps.",
            on=f"{on}.clamp",
        ),
        partial(_gap, pipe),
    ]
    return all_of(*demands, default="warning")


def _hose_pressure(build: Build, pipe: ChargePipe) -> Verdict:
    boost = build.engine.charge_air.pressure_max
    wanted = PRESSURE_RESERVE * boost
    says = (
        f"The hoses are rated for {shown(pipe.hose_pressure)}; {shown(boost)} of boost asks for "
        f"{shown(wanted, 'gauge_pressure', 'kPa')}. It pushes a hose off with "
        f"{shown(q.blow_off_force(build, pipe), digits=3)}."
    )
    return at_least(pipe.hose_pressure, wanted, says, on=f"{path_of(pipe)}.hose_pressure")


def _hose_heat(build: Build, pipe: ChargePipe) -> Verdict:
    hottest = given(lambda: q.charge_temperature(build, pipe))
    if hottest is None:
        # Behind the cooler nothing stands in for what is not stated: reading it again says what is missing.
        hot = pipe.place == "before-cooler"
        hottest = use_practice(build, HOT_SIDE) if hot else q.charge_temperature(build, pipe)
    says = (
        f"The hoses are rated for {shown(pipe.hose_temperature)}; on the hottest day "
        f"{shown(hottest, 'temperature', 'degC')} of charge air pass them."
    )
    return at_least(pipe.hose_temperature, hottest, says, on=f"{path_of(pipe)}.hose_temperature", scale=100.0)


def _gap(pipe: ChargePipe) -> Verdict:
    says = f"{shown(pipe.gap)} between the pipe ends: below 10 mm they strike, above 20 mm the hose swells."
    verdict = within(pipe.gap, GAP_LOW, GAP_HIGH, says, on=f"{path_of(pipe)}.gap")
    # Spoken of only where it is not met, so that a pass shows pressure and heat.
    return verdict if verdict.kind == "fail" else holds(True, says)


# -- breather ---------------------------------------------------------------------------------------------------------
@rule(
    "intake.crankcase-vent",
    level="error",
    due="build",
    sources=[sheet("engine.breather.restriction_max"), sheet("engine.breather.kind"), sources.PIPE_FLOW, VENTING],
    cautions=[cautions.LAW],
    about=BREATHER,
    adjust=[f"{BREATHER}.bore"],
    fallbacks=[CRANKCASE, q.BLOW_BY, *[q.AIR_DIESEL, q.AIR_PETROL]],
    bad=[
        {f"{BREATHER}.bore": "8 mm"},
        {f"{BREATHER}.low_point": True},
        {f"{BREATHER}.exit": "open-air"},
        {f"{BREATHER}.exit": "before-sensor"},
        {f"{BREATHER}.separator": False},
        {"build.design.ambient_min": "-15.5 degC", f"{BREATHER}.heated": False},
    ],
    good=[{f"{BREATHER}.bore": "25 mm"}],
)
def crankcase_vent(build: Build) -> Verdict:
    """Does the crankcase breathe as the engine requires, without blocking and without oil in the air-mass sensor?

    Computes: the pressure that the breather line takes at the engine's blow-by: as its sheet states it, else 1 % of the
    air (common practice).
    Limit: the engine's data sheet, else 0.5 kPa. An engine built with a closed breather keeps it closed: opening it
    breaks its certificate and is an error, as is a low loop, which fills and freezes. A closed one enters behind the
    air-mass sensor and ahead of the turbocharger, behind an oil separator, and is kept from frost where it gets colder
    than -15 °C: warnings.
    Consequence: Oil is blown past seals or into intake and open air: leaks, fouled parts, a diesel that runs away.
    Remedy: the bore in the sentence, which also does for the blow-by of a worn engine; a line that falls all the way.
    Pressure pushes seals out; oil drawn in through the breather can make a diesel run away.
    Cannot tell: how well the separator works, and how worn the engine is: blow-by may grow threefold.
    """
    line = build.plumbing.intake.breather
    closed = build.engine.breather.kind == "closed"
    demands: list[Callable[[], Verdict]] = [
        partial(_breather_drop, build),
        lambda: holds(
            not line.low_point,
            "The breather line has a low loop, where oil and water gather and freeze: make it fall all the way."
            if line.low_point
            else "The breather line has no low loop.",
            on=f"{BREATHER}.low_point",
        ),
    ]
    if closed:
        demands += [
            partial(_closed_exit, build),
            lambda: holds(
                line.separator,
                "An oil separator stands in the line."
                if line.separator
                else "Nothing parts the oil off, and it ends in turbocharger and charge-air cooler: fit a separator.",
                level="warning",
                on=f"{BREATHER}.separator",
            ),
        ]
    demands.append(partial(_frost, build))
    return all_of(*demands)


def _breather_drop(build: Build) -> Verdict:
    limit = or_practice(lambda: build.engine.breather.restriction_max, CRANKCASE)
    found = q.breather_drop(build)
    worn = pipes.smallest_bore_in_series(lambda bore: q.breather_drop_at(build, WORN, bore), limit, pipes.HOSE_BORES)
    says = (
        f"{shown(q.blow_by(build), digits=3)} of blow-by take {shown(found, digits=3)} in a bore of "
        f"{shown(build.plumbing.intake.breather.bore)}."
    )
    if worn is not None:
        says += f" For three times that, of a worn engine, {worn * 1e3:.0f} mm would do."
    return at_most(found, limit, says, on=f"{BREATHER}.bore")


def _closed_exit(build: Build) -> Verdict:
    where, on = build.plumbing.intake.breather.exit, f"{BREATHER}.exit"
    if where in ("open-air", "catch-can"):
        return holds(
            False,
            "The engine is built and certified with a closed breather, and this one is opened: lead it back into the "
            "pipe ahead of turbocharger or throttle, through a separator.",
            on=on,
        )
    right = where == "clean-air-pipe"
    says = (
        "The breather enters between filter or air-mass sensor and turbocharger or throttle."
        if right
        else "The breather enters ahead of the air-mass sensor, which its oil falsifies: lead it in behind the sensor."
    )
    return holds(right, says, level="warning", on=on)


def _frost(build: Build) -> Verdict:
    coldest = build.build.design.ambient_min
    if coldest >= FROST:
        return holds(True, "It does not get cold enough for the breather to freeze.")
    heated: bool = build.plumbing.intake.breather.heated
    says = f"At {shown(coldest)} the water in the blow-by freezes"
    says += "; the line is heated or insulated." if heated else ": heat or insulate the line."
    return holds(heated, says, level="warning", on=f"{BREATHER}.heated")
