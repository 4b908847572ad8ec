"""Rules of the suction side: restriction, filter, air speed, air-mass sensor."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal, cast

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    given,
    holds,
    is_fitted,
    needs_review,
    or_practice,
    owner,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    within,
)
from swaplint.engineering import pipes
from swaplint.engineering.gas_flow import Choked
from swaplint.spec.systems.intake import INTAKE_BORES_MM, ChargePipe, IntakeDuct

from .. import sources
from ..streams import streams
from . import quantities as q

Level = Literal["error", "warning", "note"]

DUCTS = "plumbing.intake.ducts.*.bore"
CHARGE_PIPES = "plumbing.charge_air.pipes.*.bore"
FILTER, SENSOR = "plumbing.intake.filter", "plumbing.intake.flow_sensor"
BORES = [bore / 1e3 for bore in INTAKE_BORES_MM]
AIR_FALLBACKS = [q.AIR_DIESEL, q.AIR_PETROL, q.UNDER_HOOD]

RESTRICTION = practice(
    "intake restriction of turbo-diesels 3 to 3.7 kPa new and 6.2 kPa at change, of petrol engines 2 to 2.5 and 3.7 kPa"
)
CLEAN_DIESEL = Practice("restriction of at most 3 kPa with a new filter (diesel)", 3.0e3, RESTRICTION)
CLEAN_PETROL = Practice("restriction of at most 2 kPa with a new filter (petrol)", 2.0e3, RESTRICTION)
DIRTY_DIESEL = Practice("restriction of at most 6.2 kPa at filter change (diesel)", 6.2e3, RESTRICTION)
DIRTY_PETROL = Practice("restriction of at most 3.7 kPa at filter change (petrol)", 3.7e3, RESTRICTION)

INDICATOR = practice("a service indicator is set above what a new filter takes at full load")

SERVICE = Practice("service every 250 h", 250 * 3600.0, practice("air filters are looked after every 250 h"))

SPEEDS = practice(
    "air up to 25 m/s in the suction ducts of a diesel, 30 m/s of a petrol engine, 35 m/s in charge pipes"
)
SUCTION_DIESEL, SUCTION_PETROL, CHARGE = 25.0, 30.0, 35.0
FAR_OVER = 1.3
"""From this many times the usual speed on it is a warning: common practice."""

STRAIGHTS = practice("an air-mass sensor has 5 diameters of straight pipe ahead of it and 2 behind it")
STRAIGHT_UP = Practice("5 diameters of straight pipe ahead of the air-mass sensor", 5.0, STRAIGHTS)
STRAIGHT_DOWN = Practice("2 diameters of straight pipe behind the air-mass sensor", 2.0, STRAIGHTS)
SAME_BORE = 0.005
HOUSING = 2.0
"""Length of the housing of an air-mass sensor at most, in its bores: common practice."""
SAME_BORE_PRACTICE = practice("the sensor stays in a housing of its own bore, within 0.5 %, behind a dry filter")


def _kpa(pressure: float) -> str:
    return shown(pressure, "pressure_difference", "kPa", digits=3)


# -- restriction ------------------------------------------------------------------------------------------------------
@rule(
    "intake.restriction",
    level="error",
    due="quote",
    sources=[
        sheet("engine.air.restriction_max_clean").giving("limit", demands=["clean"]),
        sheet("engine.air.restriction_max_dirty").giving("limit", demands=["dirty"]),
        INDICATOR.giving("limit", "above what a new filter takes", demands=["indicator"]),
        sources.GAS_PIPES.giving("formula", "isothermal flow of air with friction"),
        sources.AIR_CLEANERS.giving("formula", "drop of a filter, from the air that it is tested in"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "pressure of the air at a height"),
    ],
    adjust=[DUCTS, f"{FILTER}.change_at"],
    about="plumbing.intake.ducts",
    fallbacks=[CLEAN_DIESEL, CLEAN_PETROL, DIRTY_DIESEL, DIRTY_PETROL, *AIR_FALLBACKS],
    bad=[
        {f"{FILTER}.drop_clean": "3.5 kPa"},
        {f"{FILTER}.change_at": "7 kPa"},
        {f"{FILTER}.change_at": "1.2 kPa"},
    ],
    good=[{"plumbing.intake.ducts.*.bore": "114 mm"}],
)
def restriction(build: Build) -> Verdict:
    """Is the depression at the engine's air inlet within its limit, with a new filter and with a used one?

    Computes: with a new filter the losses of hood, pre-cleaner, filter and ducts and the speed of the air in the last
    duct; with a used one the depression at which the filter is changed and the ducts behind it. At each place that the
    owner states (build.design.points); without places on the hottest day at sea level and, 6.5 K for each km cooler, at
    the highest place. The same mass of thin or hot air is more volume; at a height it is the mass for the power that
    the sheet leaves there. The worst place counts.
    Limit: the engine's data sheet, clean and dirty: an error; where it is kept at sea level and passed in thin air
    only, a person decides, for the sheet does not say for which air it holds. Without a sheet 3 kPa new and 6.2 kPa at
    change for a diesel, 2 and 3.7 kPa for a petrol engine (common practice): a warning. The service indicator is set
    above what a new filter takes at full load: a warning.
    Consequence: The engine gets too little air: it loses power, smokes and burns more fuel.
    Remedy: wider ducts, a larger filter, or a service indicator set within what the sentence names. Restriction beyond
    the sheet's may end the engine's warranty and certificate.
    Cannot tell: mud, snow and ember screens that clog, soft hose that closes under suction, air let in by leaks.
    """
    return all_of(clean=lambda: _clean(build), dirty=lambda: _dirty(build), indicator=lambda: _indicator(build))


def _worst(build: Build, found: Callable[[Build, str], float]) -> tuple[str, float]:
    """The place where a depression is greatest, and the depression there."""
    by_place = {case: found(build, case) for case in q.cases(build)}
    case = max(by_place, key=lambda name: float(by_place[name]))
    return case, by_place[case]


def _clean(build: Build) -> Verdict:
    stated = given(lambda: build.engine.air.restriction_max_clean)
    fallback = CLEAN_DIESEL if q.is_diesel(build) else CLEAN_PETROL
    limit = or_practice(lambda: build.engine.air.restriction_max_clean, fallback)
    level: Level | None = None if stated is not None else "warning"
    ducts = "plumbing.intake.ducts"
    try:
        case, found = _worst(build, q.restriction_clean)
        low = q.clean_in(build, q.sea_level_air(build))
    except Choked:
        says = "The ducts are far too narrow: the air would come near to the speed of sound."
        return holds(False, says, level=level, on=ducts)
    fixed = q.devices_drop(build, case)
    says = (
        f"With a new filter {_kpa(found)} {q.place(build, case).words()}: hood, pre-cleaner and filter take "
        f"{_kpa(fixed)} and the ducts {_kpa(found - fixed)}."
    )
    if found <= limit:
        return at_most(found, limit, says, level=level, on=ducts)
    if level is None and low <= limit:
        return needs_review(f"{says} {_only_high(low, limit)}", on=ducts, found=found)
    if pipes.smallest_bore_in_series(q.restriction_by_bore(build, _airs(build)), limit, BORES) is None:
        says += " No bore of duct would do by itself: the filter, the pre-cleaner or the hood must be larger."
        return at_most(found, limit, says, level=level, on=f"{FILTER}.drop_clean")
    return at_most(found, limit, says, level=level, on=ducts)


def _airs(build: Build) -> list[q.Air]:
    return [q.air_at(build, case) for case in q.cases(build)]


def _only_high(low: float, limit: float) -> str:
    """What tells that the sheet's limit is passed in thin air alone."""
    return (
        f"At sea level it is {_kpa(low)}, within the sheet's {_kpa(limit)}; whether that limit holds in thinner air "
        f"its maker must say."
    )


def _dirty(build: Build) -> Verdict:
    stated = given(lambda: build.engine.air.restriction_max_dirty)
    fallback = DIRTY_DIESEL if q.is_diesel(build) else DIRTY_PETROL
    limit = or_practice(lambda: build.engine.air.restriction_max_dirty, fallback)
    try:
        case, found = _worst(build, q.restriction_dirty)
        low = q.dirty_in(build, q.sea_level_air(build))
    except Choked:
        return does_not_apply("The ducts are far too narrow, whatever the filter takes.")
    setting, on = build.plumbing.intake.filter.change_at, f"{FILTER}.change_at"
    behind = found - setting
    says = (
        f"The filter is changed at {shown(setting)}, and the ducts behind it add {_kpa(behind)} "
        f"{q.place(build, case).words()}."
    )
    level: Level | None = None if stated is not None else "warning"
    if found <= limit:
        return at_most(found, limit, says, level=level, on=on)
    lower = advice(on, limit - behind)
    if limit - behind < _worst(build, q.indicator_clean)[1]:
        says += " No setting would do: a new filter takes as much by itself. Fit a larger filter or wider ducts."
        lower = None
    if level is None and low <= limit:
        return needs_review(f"{says} {_only_high(low, limit)}", on=on, found=found, advice=lower)
    return at_most(found, limit, says, level=level, on=on, advice=lower)


def _indicator(build: Build) -> Verdict:
    try:
        case, least = _worst(build, q.indicator_clean)
    except Choked:
        return does_not_apply("The ducts are far too narrow, whatever the filter takes.")
    setting, on = build.plumbing.intake.filter.change_at, f"{FILTER}.change_at"
    says = (
        f"The service indicator shows at {shown(setting)}; behind a new filter {_kpa(least)} stand at full load "
        f"{q.place(build, case).words()}."
    )
    if setting < least:
        says += " It tells of a full filter from the first day on: set it higher, or fit a larger filter."
    return at_least(setting, least, says, level="warning", on=on)


# -- filter -----------------------------------------------------------------------------------------------------------
@rule(
    "intake.filter-capacity",
    level="warning",
    due="quote",
    sources=[
        sheet("plumbing.intake.filter.rated_flow"),
        owner("build.duty.service_interval"),
        sources.AIR_CLEANERS.giving("formula", "dust that a filter takes up, over the dust in the air"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "pressure of the air at a height"),
    ],
    adjust=[f"{FILTER}.rated_flow", f"{FILTER}.dust_capacity"],
    about=FILTER,
    fallbacks=[SERVICE, q.DUST_ROAD, q.DUST_OFF_ROAD, *AIR_FALLBACKS],
    bad=[{f"{FILTER}.rated_flow": "400 m3/h"}, {f"{FILTER}.dust_capacity": "200 g"}, {"build.duty.dust": "0.2 g/m3"}],
    good=[{f"{FILTER}.dust_capacity": "5 kg"}],
)
def filter_capacity(build: Build) -> Verdict:
    """Is the air filter large enough for the air, and for the dust of the work?

    Computes: the volume of air at full load, the greatest of all places, over the flow that the filter is rated for;
    the running time until the filter has taken up its dust, at full flow all the time, behind the pre-cleaner, near
    sea level. Less load makes it last longer.
    Limit: the filter maker's rated flow; the time between services, 250 h where none is stated (common practice). Where
    the dust is not stated the upper end of what is usual: 0.005 g/m³ on roads, 0.1 g/m³ off them.
    Consequence: The filter chokes the engine at full power, or is full of dust long before the next service.
    Remedy: a larger filter or a pre-cleaner.
    Cannot tell: the dust, which differs tenfold; whether housing and ducts are tight. Dust past the filter ruins an
    engine in hours.
    """
    return all_of(flow=lambda: _filter_flow(build), dust=lambda: _filter_dust(build))


def _filter_flow(build: Build) -> Verdict:
    rated = build.plumbing.intake.filter.rated_flow
    flow = max(q.volume_flow(build, case) for case in q.cases(build)) / streams(build.plumbing.intake.filter)
    load = max(q.filter_load(build, case) for case in q.cases(build))
    says = (
        f"The filter gets up to {shown(flow, 'volume_flow', 'm3/h', digits=3)} of the engine's air; it is rated for "
        f"{shown(rated)}, which is {shown(load, 'share', '%')} of load."
    )
    if flow > rated:
        says += " Fit a larger filter."
    on = f"{FILTER}.rated_flow"
    return at_most(flow, rated, says, on=on, advice=advice(on, flow))


def _filter_dust(build: Build) -> Verdict:
    wanted = or_practice(lambda: build.build.duty.service_interval, SERVICE)
    life = q.filter_life(build)
    capacity, on = build.plumbing.intake.filter.dust_capacity, f"{FILTER}.dust_capacity"
    says = (
        f"In {shown(q.dust(build), 'density', 'g/m3', digits=3)} of dust the filter lasts "
        f"{shown(life, 'duration', 'h', digits=3)} at full load; services come every "
        f"{shown(wanted, 'duration', 'h')}."
    )
    if life < wanted:
        says += " Fit a larger filter or a pre-cleaner, or look after it more often."
    return at_least(life, wanted, says, on=on, advice=advice(on, capacity * wanted / life if life > 0.0 else None))


# -- velocity ---------------------------------------------------------------------------------------------------------
def all_ducts(build: Build) -> list[IntakeDuct | ChargePipe]:
    """Suction ducts and charge pipes."""
    return [*q.ducts(build), *q.charge_pipes(build)]


@rule(
    "intake.duct-velocity",
    level="note",
    due="build",
    sources=[
        SPEEDS.giving("limit", "25 and 30 m/s in suction ducts, 35 m/s in charge pipes"),
        sources.PIPE_FLOW.giving("formula", "speed of a mass flow in a duct"),
    ],
    adjust=[DUCTS, CHARGE_PIPES],
    fallbacks=AIR_FALLBACKS,
    each=all_ducts,
    bad=[{"plumbing.charge_air.pipes.hot.bore": "45 mm"}],
    good=[{"plumbing.charge_air.pipes.hot.bore": "76 mm"}],
)
def duct_velocity(build: Build, duct: IntakeDuct | ChargePipe) -> Verdict:
    """Is the air slow enough in every duct and charge pipe?

    Computes: v = ṁ/(ρ·A) at full load, the greatest of all places; in charge pipes at full boost and the temperature
    ahead of or behind the cooler.
    Limit: common practice: 25 m/s in the suction ducts of a diesel, 30 m/s of a petrol engine, 35 m/s in charge pipes.
    A note; a warning from 1.3 times that on. The air-mass sensor's own housing and its straight pipe keep their bore.
    Consequence: The air loses pressure and makes noise on its way: the engine gives less than it could.
    Remedy: the next bore of the series.
    Cannot tell: soft hose that closes under suction: wire-reinforced hose holds. Some engines boost more at height.
    """
    if _is_meter(build, duct):
        says = "This run has the bore that the engine maker calibrated the air-mass sensor in, and keeps it."
        return holds(True, says, on=f"{path_of(duct)}.bore")
    if path_of(duct).startswith("plumbing.charge_air."):
        found, limit = q.charge_velocity(build, cast(ChargePipe, duct)), CHARGE
    else:
        found = q.duct_velocity(build, cast(IntakeDuct, duct))
        limit = SUCTION_DIESEL if q.is_diesel(build) else SUCTION_PETROL
    needed, on = duct.bore * (found / limit) ** 0.5, f"{path_of(duct)}.bore"
    fits = next((bore for bore in BORES if bore >= needed), None)
    says = f"{shown(found, digits=3)} in a bore of {shown(duct.bore)}; {shown(limit, 'speed', 'm/s')} is usual."
    if fits is None:
        says += " No bore of the series would do."
    level: Level = "warning" if found > FAR_OVER * limit else "note"
    return at_most(found, limit, says, level=level, on=on, advice=advice(on, fits))


def _is_meter(build: Build, duct: IntakeDuct | ChargePipe) -> bool:
    """Whether a duct is no more than the air-mass sensor's own housing and the straight pipe that it asks for."""
    sensor, place = build.engine.air.flow_sensor, build.plumbing.intake.flow_sensor
    if path_of(duct).startswith("plumbing.charge_air.") or given(lambda: is_fitted(sensor)) is not True:
        return False
    own = given(lambda: sensor.bore)
    if own is None or abs(duct.bore - own) > SAME_BORE * own:
        return False
    straight = given(lambda: place.straight_up + place.straight_down)
    return straight is not None and cast(IntakeDuct, duct).length <= straight + HOUSING * own


# -- air-mass sensor --------------------------------------------------------------------------------------------------
@rule(
    "intake.flow-sensor-run",
    level="warning",
    due="build",
    sources=[
        sheet("engine.air.flow_sensor.straight_up"),
        sheet("engine.air.flow_sensor.straight_down"),
        sheet("engine.air.flow_sensor.bore"),
        SAME_BORE_PRACTICE.giving("limit", "the sheet's bore within 0.5 %, behind a dry filter"),
    ],
    about=SENSOR,
    adjust=[f"{SENSOR}.straight_up", f"{SENSOR}.straight_down"],
    fallbacks=[STRAIGHT_UP, STRAIGHT_DOWN],
    bad=[
        {f"{SENSOR}.straight_up": "200 mm"},
        {f"{SENSOR}.straight_down": "60 mm"},
        {f"{SENSOR}.bore": "76 mm"},
        {f"{FILTER}.medium": "oiled"},
        {f"{SENSOR}.as_shown": False},
    ],
    good=[{f"{SENSOR}.straight_up": "600 mm"}],
)
def flow_sensor_run(build: Build) -> Verdict:
    """Does the air-mass sensor sit in its own housing, the right way up, with straight pipe before and behind it?

    Computes: the straight lengths in diameters of the sensor's housing; the error of the reported air in a housing of
    another bore, (D/D_calibrated)² − 1.
    Limit: the engine's data sheet; else 5 diameters ahead and 2 behind (common practice). The bore is that of the
    sheet within 0.5 %: an error, because fuel, boost and soot control follow this signal. No oiled filter ahead of the
    sensor, whose oil settles on it; the engine maker's filter box where the sheet asks for it.
    Consequence: The engine is told a wrong amount of air: it runs badly, smokes or sets fault codes.
    Remedy: a longer straight pipe; the housing that the engine came with, never bored out.
    Cannot tell: swirl behind the filter box. Where the breather enters is judged by intake.crankcase-vent.
    """
    wants = build.engine.air.flow_sensor
    if not is_fitted(wants):
        if "air-flow-sensor" in (given(lambda: list(build.engine.contains)) or []):
            says = "The engine package contains an air-mass sensor, and the engine is said to have none: look it up."
            return needs_review(says, on="engine.air.flow_sensor")
        return does_not_apply("The engine has no air-mass sensor.")
    demands: dict[str, Callable[[], Verdict]] = {
        "bore": lambda: _sensor_bore(build),
        "straight-up": lambda: _straight(build, "straight_up", "ahead of", STRAIGHT_UP),
        "straight-down": lambda: _straight(build, "straight_down", "behind", STRAIGHT_DOWN),
        "as-shown": lambda: _flag(
            build.plumbing.intake.flow_sensor.as_shown,
            "The sensor sits as the engine maker shows.",
            "The sensor must sit the way round and the way up that the engine maker shows: turn it.",
            f"{SENSOR}.as_shown",
        ),
        "dry-filter": lambda: _flag(
            build.plumbing.intake.filter.medium == "dry",
            "The filter ahead of the sensor is a dry one.",
            "Oil from this filter settles on the sensor and falsifies it: fit a dry element.",
            f"{FILTER}.medium",
        ),
    }
    demands["tested-box"] = lambda: _tested_box(build)
    return all_of(demands)


def _tested_box(build: Build) -> Verdict:
    box = build.plumbing.intake.filter
    if given(lambda: box.tested_box) is not True and not build.engine.air.flow_sensor.tested_box_required:
        return does_not_apply("The engine maker leaves the filter box to the builder.")
    return _flag(
        box.tested_box,
        "The filter box is the one that the engine maker tested.",
        "The engine maker asks for the filter box that was tested with the sensor: fit that one.",
        f"{FILTER}.tested_box",
    )


def _flag(good: bool, right: str, wrong: str, on: str) -> Verdict:
    return holds(good, right if good else wrong, on=on)


def _sensor_bore(build: Build) -> Verdict:
    own, fitted = build.engine.air.flow_sensor.bore, build.plumbing.intake.flow_sensor.bore
    error = q.meter_error(build)
    says = f"The sensor is calibrated for a bore of {shown(own)} and sits in one of {shown(fitted)}"
    says += f": {shown(abs(error), 'share', '%', digits=3)} of air is reported wrongly." if abs(error) > 1e-6 else "."
    if abs(fitted - own) > SAME_BORE * own:
        says += " Fit the housing that the engine came with."
    low, high, on = own * (1 - SAME_BORE), own * (1 + SAME_BORE), f"{SENSOR}.bore"
    return within(fitted, low, high, says, level="error", on=on, advice=advice(on, own))


def _straight(build: Build, name: str, where: str, fallback: Practice) -> Verdict:
    wants, bore = build.engine.air.flow_sensor, build.engine.air.flow_sensor.bore
    diameters = or_practice(lambda: getattr(wants, name), fallback)
    found = getattr(build.plumbing.intake.flow_sensor, name)
    says = (
        f"{shown(found)} of straight pipe {where} the air-mass sensor are {found / bore:.1f} diameters of "
        f"{shown(bore)}; "
        f"{diameters:g} diameters are {shown(diameters * bore, 'length', 'mm')}."
    )
    on = f"{SENSOR}.{name}"
    return at_least(found, diameters * bore, says, on=on, advice=advice(on, diameters * bore))
