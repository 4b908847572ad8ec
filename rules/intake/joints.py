"""Rules of charge-air joints and of the crankcase breather."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    OutsideRange,
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
    needs_review,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    told,
    use_practice,
    within,
)
from swaplint.engineering import pipes
from swaplint.spec.systems.intake import ChargePipe

from .. import sources
from ..cooling import charge_quantities as cooling
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
OPENED = ("open-air", "catch-can")
HOLDING = ("t-bolt", "constant-tension", "v-band", "quick-connector")

CRANKCASE = Practice(
    "crankcase pressure of at most 0.5 kPa", 0.5e3, practice("crankcase pressure within 0.5 kPa of the outside air")
)
FROST = -15.0 + 273.15
WORN = 3.0
FEW, MANY = 0.002, 0.05
"""Blow-by over the engine's air outside which the sheet is doubted: a fifth and five times the usual 1 %."""
VENTING = practice(
    "a breather line rises or falls without a low loop, joins the intake behind the air-mass sensor and ahead of the "
    "turbocharger after an oil separator, and is kept from frost below -15 °C"
)


def _bare_sides(build: Build) -> list[str]:
    """The sides of an air-cooled charge-air cooler at which no pipe is stated; a water-cooled one may sit on one."""
    stated = {given(lambda pipe=pipe: str(pipe.place)) for pipe in q.charge_pipes(build)}  # type: ignore[misc]
    if None in stated or not stated or given(lambda: cooling.water_cooled(build)) is not False:
        return []
    if not is_fitted(build.plumbing.cooling.charge_cooler):
        return []
    return [side for side in ("before-cooler", "after-cooler") if side not in stated]


def pipes_and_sides(build: Build) -> list[Any]:
    """The charge pipes; and the charge air as a whole where one side of its cooler has no pipe stated."""
    whole = [build.plumbing.charge_air] if given(lambda: _bare_sides(build)) else []
    return [*q.charge_pipes(build), *whole]


# -- charge air -------------------------------------------------------------------------------------------------------
@rule(
    "intake.boost-joints",
    level="warning",
    due="build",
    sources=[
        sheet("engine.charge_air.pressure_max"),
        sources.STATICS.giving("formula", "force of a pressure on the bore"),
        JOINTS.giving("limit", "1.5 times the boost, beads, clamps that hold, 10 to 20 mm between pipe ends"),
    ],
    cautions=[cautions.HOT],
    adjust=["plumbing.charge_air.pipes.*.hose_pressure", "plumbing.charge_air.pipes.*.hose_temperature"],
    fallbacks=[HOT_SIDE],
    each=pipes_and_sides,
    bad=[
        {"plumbing.charge_air.pipes.hot.hose_pressure": "150 kPa"},
        {"plumbing.charge_air.pipes.hot.hose_temperature": "120 degC"},
        {"plumbing.charge_air.pipes.cold.beaded": False},
        {"plumbing.charge_air.pipes.cold.clamp": "worm-drive"},
        {"plumbing.charge_air.pipes.cold.gap": "45 mm"},
    ],
    good=[{"plumbing.charge_air.pipes.hot.hose_pressure": "800 kPa"}],
)
def boost_joints(build: Build, pipe: Any) -> Verdict:
    """Are charge-air hoses and clamps rated for pressure and heat, and kept from blowing off?

    Computes: the force that pushes a hose off its pipe, F = p·π·D²/4; the hottest charge air on the hottest day, ahead
    of or behind the cooler.
    Limit: hoses rated for 1.5 times the greatest boost and for that air (200 °C ahead of the cooler where the engine's
    sheet is silent); a pipe on either side of an air-cooled cooler; a bead on every pipe end; T-bolt, constant-tension
    or better clamps; 10 to 20 mm between the pipe ends in a hose: common practice.
    Consequence: A hose bursts or blows off under boost: the engine loses its power at once, and smokes.
    Remedy: hose of a higher rating; silicone or fluoro-lined hose on the hot side.
    Cannot tell: leaks. Test the joints cold with air, at 150 kPa at most, from behind a guard. A hose that bridges from
    engine to frame also needs free length: see mounts.flexible-bridges.
    """
    if path_of(pipe) == path_of(build.plumbing.charge_air):
        where = " and ".join(side.replace("-", " the ") for side in _bare_sides(build))
        says = f"No charge pipe is stated {where}: nobody looks at its joints. State it."
        return all_of(stated=lambda: holds(False, says, on="plumbing.charge_air.pipes"))
    return all_of(
        hose_pressure=lambda: _hose_pressure(build, pipe),
        hose_temperature=lambda: _hose_heat(build, pipe),
        bead=lambda: _bead(build, pipe),
        clamp=lambda: _clamp(pipe),
        gap=lambda: _gap(pipe),
    )


def _bead(build: Build, pipe: ChargePipe) -> Verdict:
    beaded, on = pipe.beaded, f"{path_of(pipe)}.beaded"
    if beaded:
        return holds(True, "Every pipe end under a hose has a bead.", on=on)
    force = given(lambda: q.blow_off_force(build, pipe))
    pushed = "boost pushes" if force is None else f"{shown(force, 'force', 'N', digits=3)} push"
    return holds(
        False, f"A pipe end has no bead, and {pushed} the hose off it: roll one, or weld on a beaded end.", on=on
    )


def _clamp(pipe: ChargePipe) -> Verdict:
    good = pipe.clamp in HOLDING
    says = (
        "The clamps hold boost."
        if good
        else "These clamps lose their grip as the hose warms and settles: use T-bolt or constant-tension clamps."
    )
    return holds(good, says, on=f"{path_of(pipe)}.clamp")


def _hose_pressure(build: Build, pipe: ChargePipe) -> Verdict:
    boost = build.engine.charge_air.pressure_max
    wanted, on = PRESSURE_RESERVE * boost, f"{path_of(pipe)}.hose_pressure"
    says = (
        f"The hoses are rated for {shown(pipe.hose_pressure)}, for {shown(boost)} of boost, which pushes a hose off "
        f"with {shown(q.blow_off_force(build, pipe), digits=3)}."
    )
    if pipe.hose_pressure < wanted:
        says += f" Fit hose rated for {shown(wanted, 'gauge_pressure', 'kPa', digits=3)} or more."
    return at_least(pipe.hose_pressure, wanted, says, on=on, advice=advice(on, wanted))


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
    if pipe.hose_temperature < hottest:
        says += " They soften and burst: fit silicone or fluoro-lined hose."
    on = f"{path_of(pipe)}.hose_temperature"
    return at_least(pipe.hose_temperature, hottest, says, on=on, scale=100.0, advice=advice(on, hottest))


def _gap(pipe: ChargePipe) -> Verdict:
    says = f"{shown(pipe.gap)} between the pipe ends: {told('below 10 mm they strike, above 20 mm the hose swells')}."
    return within(pipe.gap, GAP_LOW, GAP_HIGH, says, on=f"{path_of(pipe)}.gap")


# -- breather ---------------------------------------------------------------------------------------------------------
@rule(
    "intake.crankcase-vent",
    level="error",
    due="build",
    sources=[
        sheet("engine.breather.restriction_max"),
        sheet("engine.breather.kind"),
        sources.PIPE_FLOW.giving("formula", "pressure loss of pipe flow"),
        VENTING.giving("limit", "no low loop, the place where it enters, a separator, no frost below -15 °C"),
    ],
    cautions=[cautions.LAW],
    about=BREATHER,
    adjust=[f"{BREATHER}.bore"],
    fallbacks=[CRANKCASE, q.BLOW_BY, q.AIR_DIESEL, q.AIR_PETROL],
    bad=[
        {f"{BREATHER}.bore": "8 mm"},
        {f"{BREATHER}.low_point": True},
        {f"{BREATHER}.exit": "open-air", "build.places.state.equipment.asked": "nothing"},
        {f"{BREATHER}.exit": "before-sensor"},
        {f"{BREATHER}.separator": False},
        {"build.design.ambient_min": "-15.5 degC", f"{BREATHER}.heated": False},
    ],
    good=[{f"{BREATHER}.bore": "25 mm"}],
)
def crankcase_vent(build: Build) -> Verdict:
    """Does the crankcase breathe as the engine requires, without blocking and without oil in the air-mass sensor?

    Computes: the pressure that the breather line takes at the engine's blow-by: as its sheet states it, else 1 % of the
    air (common practice); a sheet of less than a fifth or more than five times that goes before a person.
    Limit: the engine's data sheet, else 0.5 kPa. An engine built with a closed breather keeps it closed: opening it
    breaks its certificate and is an error, as is a low loop, which fills and freezes. A closed one enters behind the
    air-mass sensor and ahead of the turbocharger, behind an oil separator, and is kept from frost where it gets colder
    than -15 °C: warnings. Lines that the sheet names, to the manifold and for clean air, are joined, and a valve keeps
    boost out.
    Consequence: Oil is blown past seals or into the intake: leaks, fouled parts, a diesel that runs away.
    Remedy: a bore that also does for three times the blow-by, of a worn engine; a line that falls all the way.
    Pressure pushes seals out; oil drawn in through the breather can make a diesel run away.
    Cannot tell: how well the separator works, and how worn the engine is: blow-by may grow threefold.
    """
    if given(lambda: is_fitted(build.plumbing.intake.breather)) is False:
        return all_of(stays_closed=lambda: _no_breather(build))
    demands: dict[str, Callable[[], Verdict]] = {
        "pressure": lambda: _breather_drop(build),
        "low-loop": lambda: _low_loop(build),
    }
    if given(lambda: not FEW <= _share(build) <= MANY):
        demands["blow-by"] = lambda: _doubtful(build)
    if given(lambda: build.engine.breather.kind) != "open":
        demands |= {"stays-closed": lambda: _stays_closed(build), "separator": lambda: _separator(build)}
        if given(lambda: build.plumbing.intake.breather.exit) not in OPENED:
            demands["entry"] = lambda: _entry(build)
    if given(lambda: build.build.design.ambient_min >= FROST) is not True:
        demands["frost"] = lambda: _frost(build)
    # A diesel has no throttle to draw with; of a petrol engine it must be known.
    if given(lambda: build.engine.fuel_type) == "petrol" or given(lambda: build.engine.breather.manifold_line):
        demands["manifold-line"] = lambda: _manifold_line(build)
    if given(lambda: build.engine.fuel_type) == "petrol" or given(lambda: build.engine.breather.fresh_air):
        demands["fresh-air"] = lambda: _fresh_air(build)
    return all_of(demands)


def _share(build: Build) -> float:
    """The stated blow-by as a share of the engine's air."""
    air = max(q.volume_flow(build, case) for case in q.cases(build))
    if air == 0.0:
        raise OutsideRange("an engine that draws no air has no blow-by")
    return float(build.engine.breather.flow / air)


def _doubtful(build: Build) -> Verdict:
    says = (
        f"{shown(build.engine.breather.flow)} of blow-by are {shown(_share(build), 'share', '%', digits=2)} of the air "
    )
    says += "that the engine draws; sound engines have about 1 %. Look at the sheet again, and at its unit."
    return needs_review(says, on="engine.breather.flow", found=build.engine.breather.flow)


def _no_breather(build: Build) -> Verdict:
    if not _closed(build):
        return does_not_apply("The engine breathes into the open by itself, with no line to it.")
    says = (
        "The engine is built and certified with a closed breather, and there is none: lead it into the pipe ahead of "
    )
    return holds(False, f"{says}turbocharger or throttle, through a separator.", on=BREATHER)


def _manifold_line(build: Build) -> Verdict:
    if not build.engine.breather.manifold_line:
        return does_not_apply("No line draws the crankcase gas into the manifold.")
    line, on = build.plumbing.intake.breather, f"{BREATHER}.manifold_joined"
    if not line.manifold_joined:
        says = "The breather's line to the manifold is not joined, and the idle is wrong: join it, with its valve."
        return holds(False, says, on=on)
    cooler = build.plumbing.cooling.charge_cooler
    boosted = given(lambda: build.engine.charge_air.pressure_max) is not None or (
        given(lambda: is_fitted(cooler)) is not False
    )
    if boosted and not line.non_return:
        says = "Boost gets into the crankcase through the line to the manifold and blows seals out: fit its valve."
        return holds(False, says, on=f"{BREATHER}.non_return")
    return holds(True, "The breather's line to the manifold is joined.", on=on)


def _fresh_air(build: Build) -> Verdict:
    if not build.engine.breather.fresh_air:
        return does_not_apply("No line brings clean air into the crankcase.")
    joined = build.plumbing.intake.breather.fresh_air_joined
    says = (
        "The crankcase gets its clean air."
        if joined
        else "The line for clean air is not joined: the crankcase draws dust past its seals. Join it behind the filter."
    )
    return holds(joined, says, level="warning", on=f"{BREATHER}.fresh_air_joined")


def _low_loop(build: Build) -> Verdict:
    low = build.plumbing.intake.breather.low_point
    says = (
        "The breather line has a low loop, where oil and water gather and freeze: make it fall all the way."
        if low
        else "The breather line has no low loop."
    )
    return holds(not low, says, on=f"{BREATHER}.low_point")


def _separator(build: Build) -> Verdict:
    if not _closed(build):
        return does_not_apply("The engine is built with an open breather.")
    there = build.plumbing.intake.breather.separator
    says = (
        "An oil separator stands in the line."
        if there
        else "Nothing parts the oil off, and it ends in turbocharger and charge-air cooler: fit a separator."
    )
    return holds(there, says, level="warning", on=f"{BREATHER}.separator")


def _breather_drop(build: Build) -> Verdict:
    limit = or_practice(lambda: build.engine.breather.restriction_max, CRANKCASE)
    found, bore, on = q.breather_drop(build), build.plumbing.intake.breather.bore, f"{BREATHER}.bore"
    says = f"{shown(q.blow_by(build), digits=3)} of blow-by take {shown(found, digits=3)} in a bore of {shown(bore)}."
    if found > limit:
        says += " The pressure pushes oil past the seals: fit a wider line."
    return at_most(found, limit, says, on=on, advice=advice(on, None if found <= limit else _worn_bore(build, limit)))


def _worn_bore(build: Build, limit: float) -> float | None:
    """The smallest bore [m] that also does for the blow-by of a worn engine; None where none of the series does."""
    return pipes.smallest_bore_in_series(lambda bore: q.breather_drop_at(build, WORN, bore), limit, pipes.HOSE_BORES)


def _closed(build: Build) -> bool:
    return build.engine.breather.kind == "closed"


def _stays_closed(build: Build) -> Verdict:
    if not _closed(build):
        return does_not_apply("The engine is built with an open breather.")
    opened = build.plumbing.intake.breather.exit in OPENED
    says = (
        "The engine is built and certified with a closed breather, and this one is opened: lead it back into the pipe "
        "ahead of turbocharger or throttle, through a separator."
        if opened
        else "The breather stays closed, as the engine is certified."
    )
    return holds(not opened, says, on=f"{BREATHER}.exit")


def _entry(build: Build) -> Verdict:
    if not _closed(build):
        return does_not_apply("The engine is built with an open breather.")
    right = build.plumbing.intake.breather.exit == "clean-air-pipe"
    says = (
        "The breather enters between filter or air-mass sensor and turbocharger or throttle."
        if right
        else "The breather enters ahead of the air-mass sensor, which its oil falsifies: lead it in behind the sensor."
    )
    return holds(right, says, level="warning", on=f"{BREATHER}.exit")


def _frost(build: Build) -> Verdict:
    coldest = build.build.design.ambient_min
    heated: bool = build.plumbing.intake.breather.heated
    says = f"At {shown(coldest)} the water in the blow-by freezes"
    says += "; the line is heated or insulated." if heated else ": heat or insulate the line."
    return holds(heated, says, level="warning", on=f"{BREATHER}.heated")
