"""Rules about parts: those that are needed, those of the package that stay unused, sizes that its maker asks for."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
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
    limit_or_none,
    name_of,
    needs_review,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    value_at,
)
from swaplint.spec.systems.supply import OptionalPart

from .. import sources

CHARGED = practice("what takes current from the battery while driving needs an alternator")
DRIVEN = practice("an engine is turned by a starter, and drives the tyres through a clutch or converter and a gearbox")


RUNS = practice("an engine is started from a battery, switched by a key, cooled by a radiator and given clean air")
NEVER_WITHOUT = {
    "electrics.key_switch": "There is no key switch: state what switches the engine on and off in its place, with its "
    "terminals.",
    "plumbing.cooling.radiator": "There is no radiator, and nothing takes the engine's heat: state what cools the "
    "coolant.",
    "plumbing.intake.filter": "There is no air cleaner, and dust ruins the engine within hours: fit one.",
}
"""What else no such vehicle runs without, and what is wrong where the spec says that there is none."""

BATTERIES = ["electrics.batteries", "electrics.batteries.*.use"]
NO_BATTERY = "No battery is fitted that starts the engine and feeds its control unit: state the one that does."


# -- needed and not fitted --------------------------------------------------------------------------------------------
@rule(
    "supply.needed-parts",
    level="error",
    due="quote",
    sources=[
        CHARGED.giving("limit", "an alternator", demands=["alternator"]),
        DRIVEN.giving("limit", "what drives it", demands=["starter", "clutch", "gearbox", "tyres"]),
        RUNS.giving("limit", "there is one"),
        sources.US_SPEEDOMETER.giving("limit", "a speedometer", demands=["speedometer"]),
        sources.SPEEDOMETER_RULE.giving("limit", "a speedometer", demands=["speedometer"]),
    ],
    cautions=[cautions.LAW],
    about="engine.alternator",
    bad=[
        {"driveline.speedometer": {"fitted": False}},
        {"engine.starter": {"fitted": False}},
        {"driveline.clutch": {"fitted": False}},
        {"plumbing.intake.filter": {"fitted": False}},
    ],
    good=[{"electrics.loads.radio": None}],
    without=dict.fromkeys(
        [f"{path}.fitted" for path in (*NEVER_WITHOUT, "engine.coolant")] + BATTERIES,
        "A part that nobody speaks of is there: supply.function-coverage asks who supplies it.",
    ),
)
def needed_parts(build: Build) -> Verdict:
    """Is a part stated as not fitted that something in the build needs?

    Computes: nothing; looks for consumers or a control unit without an alternator, for a road vehicle without a
    speedometer, and for an engine without starter, clutch or converter, gearbox or tyres, key switch, radiator or air
    cleaner, or a starting battery.
    Limit: common practice; the rules of the road for the speedometer (US 49 CFR 393.82 for buses and trucks, UN
    Regulation No. 39).
    Consequence: The battery runs down under way, the vehicle does not start or drive, or the papers are refused.
    Remedy: fit the part, or take away what needs it.
    Cannot tell: parts that the spec does not mention at all; supply.function-coverage asks for those. A fan: see
    cooling.fan-flow; a towbar: mass.load-cases.
    """
    demands: dict[str, Callable[[], Verdict]] = {}
    for path, says in NEVER_WITHOUT.items():
        if given(lambda path=path: is_fitted(value_at(build, path))) is False:  # type: ignore[misc]
            name = path.rpartition(".")[2].replace("_", "-")
            demands[name] = lambda path=path, says=says: holds(False, says, on=path)  # type: ignore[misc]
    if given(lambda: is_fitted(build.engine.coolant)) is False:
        demands["radiator"] = lambda: _cooled_by_air(build)
    if given(lambda: _no_battery(build)):
        demands["battery"] = lambda: holds(False, NO_BATTERY, on="electrics.batteries")
    return all_of(
        demands,
        alternator=lambda: _alternator(build),
        speedometer=lambda: _speedometer(build),
        starter=lambda: _needed(build.engine.starter, "a starter", "nothing turns the engine"),
        clutch=lambda: _clutch(build),
        gearbox=lambda: _needed(build.driveline.gearbox, "a gearbox", "nothing drives the axles"),
        tyres=lambda: _needed(build.driveline.tyres, "a set of tyres", "no load, speed or gear can be judged"),
    )


def _cooled_by_air(build: Build) -> Verdict:
    """What is said of an engine that has no coolant."""
    heat, on = given(lambda: build.engine.heat.rated.coolant), "engine.coolant"
    if heat:
        says = f"The engine is stated without coolant, and its sheet has {shown(heat)} of heat for it: one is wrong."
        return holds(False, says, on=on)
    says = (
        "The engine is cooled by air, which no rule here judges: build its fan, ducts, baffles and oil cooler as its "
    )
    return needs_review(f"{says}maker shows, and measure its oil and cylinder heads on a hot day.", on=on)


def _no_battery(build: Build) -> bool:
    """Whether batteries are spoken of and none of them starts the engine; an empty list is asked about by others."""
    every = list(build.electrics.batteries.values())
    return bool(every) and not any(
        is_fitted(battery) and given(lambda battery=battery: battery.use) != "auxiliary"  # type: ignore[misc]
        for battery in every
    )


def _needed(part: Any, what: str, without: str) -> Verdict:
    """Whether a part that every such vehicle has is there."""
    there = is_fitted(part)
    says = (
        f"There is {what}."
        if there
        else f"The build is stated without {what}: {without}. Fit it, or state what there is."
    )
    return holds(there, says, on=path_of(part))


def _clutch(build: Build) -> Verdict:
    driveline = build.driveline
    if driveline.gearbox.kind == "automatic" and is_fitted(driveline.converter):
        return holds(True, "A converter takes the place of the clutch.", on="driveline.converter")
    return _needed(driveline.clutch, "a clutch", "the engine cannot be parted from the gearbox, to start or to shift")


def _alternator(build: Build) -> Verdict:
    on = "engine.alternator"
    if is_fitted(build.engine.alternator):
        return holds(True, "The engine has an alternator.", on=on)
    own = given(lambda: [one for one in build.electrics.alternators.values() if is_fitted(one)]) or []
    if any(one.charges == "starting" for one in own):
        return holds(True, "An alternator besides the engine package's charges the battery.", on=on)
    if given(lambda: is_fitted(build.engine.ecm)):
        says = "There is no alternator, and the engine's control unit runs from the battery until it is flat: fit one."
        return holds(False, says, on=on)
    consumers = [name_of(load) for load in build.electrics.loads.values() if is_fitted(load)]
    if not consumers:
        return holds(True, "Nothing takes current while driving, and so there is no alternator.", on=on)
    says = f"There is no alternator, and {len(consumers)} consumers run from the battery ({consumers[0]}): fit one."
    return holds(False, says, on=on)


def _speedometer(build: Build) -> Verdict:
    there = is_fitted(build.driveline.speedometer)
    says = (
        "The vehicle has a speedometer."
        if there
        else "A road vehicle needs a speedometer, and there is none: fit one that suits the new driveline."
    )
    return holds(there, says, on="driveline.speedometer")


# -- not used ---------------------------------------------------------------------------------------------------------
@rule(
    "supply.unused-parts",
    level="error",
    due="build",
    sources=[sheet("engine.optional_parts.*.if_unused")],
    cautions=[cautions.EXHAUST_GAS],
    about="engine.optional_parts",
    each=lambda build: list(build.engine.optional_parts.values()),
    bad=[
        {"vehicle.optional_parts.pump_drive.done": ["closed"]},
        {"vehicle.optional_parts.heater_port.used": False, "vehicle.optional_parts.heater_port.done": []},
    ],
    good=[{"vehicle.optional_parts.heater_port.used": False, "vehicle.optional_parts.heater_port.done": ["plugged"]}],
)
def unused_parts(build: Build, piece: OptionalPart) -> Verdict:
    """Is every part of the package that this build does not use closed, oiled or connected as its maker asks?

    Computes: nothing; compares what is done with each part with what the engine's sheet asks for.
    Limit: the engine's data sheet.
    Consequence: An open port leaks, a dry drive seizes, or a missing signal keeps the engine from running.
    Remedy: do what the sheet asks: a cover with its gasket, a plug, the oil feed left on, the connector plugged in.
    Cannot tell: a part that the sheet forgets: look round the engine for open ports, idle drives and loose plugs.
    Emission controls are not optional; to take one off is mostly unlawful.
    """
    name = name_of(piece)
    use = build.vehicle.optional_parts.get(name)
    if use is None:
        return needs_review(f"Nobody says whether this build uses {name}, or what is done with it.", on=path_of(piece))
    if use.used:
        return does_not_apply(f"The build uses {name}.")
    wanted = [str(word) for word in piece.if_unused]
    done = [str(word) for word in use.done]
    missing = [word for word in wanted if word not in done]
    says = f"{name} is not used; its maker wants it {' and '.join(wanted) or 'left as it is'}"
    says += f", and it is not {' and not '.join(missing)}." if missing else ", and so it is."
    return holds(not missing, says, on=f"{path_of(use)}.done")


# -- what the maker asks for ------------------------------------------------------------------------------------------
PRESCRIBED = "engine.prescribed"
SUPPLY, RETURN = "plumbing.fuel.supply.bore", "plumbing.fuel.return_line.bore"
CAP = "plumbing.cooling.cap_pressure"


@rule(
    "supply.prescribed-sizes",
    level="error",
    due="quote",
    sources=[
        sheet(f"{PRESCRIBED}.fuel_supply_bore_min"),
        sheet(f"{PRESCRIBED}.fuel_return_bore_min"),
        sheet(f"{PRESCRIBED}.primary_filter_fineness_max"),
        sheet(f"{PRESCRIBED}.starter_cable_min"),
        sheet(f"{PRESCRIBED}.harness_hole_min"),
        sheet(f"{PRESCRIBED}.cap_pressure_max"),
    ],
    cautions=[cautions.FUEL_FIRE, cautions.BATTERY_ARC, cautions.HOT],
    about=PRESCRIBED,
    adjust=[SUPPLY, RETURN],
    bad=[
        {f"{PRESCRIBED}.fuel_supply_bore_min": "20 mm"},
        {f"{PRESCRIBED}.starter_cable_min": "120 mm2"},
        {f"{PRESCRIBED}.harness_hole_min": "80 mm"},
        {f"{PRESCRIBED}.primary_filter_fineness_max": "10 µm"},
        {f"{PRESCRIBED}.cap_pressure_max": "90 kPa"},
    ],
    good=[{f"{PRESCRIBED}.fuel_supply_bore_min": "6 mm"}],
)
def prescribed_sizes(build: Build) -> Verdict:
    """Is everything built at least as the engine's maker prescribes, whatever the computation would allow?

    Computes: nothing; compares bores, filter, starter cable, hole for the harness and cap with the engine's sheet.
    Limit: the engine's data sheet, which says "none" of what it does not prescribe.
    Consequence: The maker refuses the warranty and the approval, although everything else adds up.
    Remedy: what the maker prescribes, or his written consent to something else.
    Cannot tell: whether what he prescribes is enough on this vehicle: the rules of each system compute that.
    """
    return all_of(
        {
            "fuel-supply": lambda: _supply_bore(build),
            "fuel-return": lambda: _return_bore(build),
            "primary-filter": lambda: _primary_filter(build),
            "starter-cable": lambda: _starter_cable(build),
            "harness-hole": lambda: _harness_hole(build),
            "cap": lambda: _cap(build),
        }
    )


NOT_PRESCRIBED = "The engine's maker prescribes no size here: what it takes is computed."


def _supply_bore(build: Build) -> Verdict:
    least = limit_or_none(lambda: build.engine.prescribed.fuel_supply_bore_min)
    if least is None:
        return does_not_apply(NOT_PRESCRIBED)
    found = build.plumbing.fuel.supply.bore
    says = f"The fuel supply line has a bore of {shown(found)}; the maker asks for {shown(least)} or more."
    return at_least(found, least, says, on=SUPPLY, advice=advice(SUPPLY, least))


def _return_bore(build: Build) -> Verdict:
    least = limit_or_none(lambda: build.engine.prescribed.fuel_return_bore_min)
    if least is None:
        return does_not_apply(NOT_PRESCRIBED)
    found = build.plumbing.fuel.return_line.bore
    says = f"The fuel return line has a bore of {shown(found)}; the maker asks for {shown(least)} or more."
    return at_least(found, least, says, on=RETURN, advice=advice(RETURN, least))


def _primary_filter(build: Build) -> Verdict:
    most = limit_or_none(lambda: build.engine.prescribed.primary_filter_fineness_max)
    if most is None:
        return does_not_apply(NOT_PRESCRIBED)
    filters = [each for each in build.plumbing.fuel.filters.values() if is_fitted(each) and each.stage == "primary"]
    if not filters:
        says = f"The maker asks for a primary fuel filter of {shown(most)} or finer, and there is none: fit one."
        return holds(False, says, on="plumbing.fuel.filters")
    finest = min(filters, key=lambda each: float(each.fineness))
    says = f"The primary fuel filter lets through {shown(finest.fineness)}; the maker asks for {shown(most)} or finer."
    return at_most(finest.fineness, most, says, on=f"{path_of(finest)}.fineness")


def _starter_cable(build: Build) -> Verdict:
    least = limit_or_none(lambda: build.engine.prescribed.starter_cable_min)
    if least is None:
        return does_not_apply(NOT_PRESCRIBED)
    cables = [cable for cable in build.electrics.cables.values() if is_fitted(cable) and cable.role == "starter"]
    if not cables:
        says = f"The maker asks for a starter cable of {shown(least)} or more, and none is stated."
        return holds(False, says, on="electrics.cables")
    thinnest = min(cables, key=lambda cable: float(cable.size))
    says = f"Cable {name_of(thinnest)} has {shown(thinnest.size)}; the maker asks for {shown(least)} of copper or more."
    on = f"{path_of(thinnest)}.size"
    return at_least(thinnest.size, least, says, on=on, advice=advice(on, least))


def _harness_hole(build: Build) -> Verdict:
    least = limit_or_none(lambda: build.engine.prescribed.harness_hole_min)
    if least is None:
        return does_not_apply(NOT_PRESCRIBED)
    holes = [each for each in build.electrics.openings.values() if is_fitted(each)]
    if not holes:
        return does_not_apply("The harness passes through no opening.")
    smallest = min(holes, key=lambda each: float(each.hole))
    says = f"The hole {name_of(smallest)} has {shown(smallest.hole)}; the maker asks for {shown(least)} or more."
    on = f"{path_of(smallest)}.hole"
    return at_least(smallest.hole, least, says, on=on, advice=advice(on, least))


def _cap(build: Build) -> Verdict:
    most = limit_or_none(lambda: build.engine.prescribed.cap_pressure_max)
    if most is None:
        return does_not_apply(NOT_PRESCRIBED)
    found = build.plumbing.cooling.cap_pressure
    says = f"The cap opens at {shown(found)}; the maker allows {shown(most)} at most."
    return at_most(found, most, says, on=CAP, advice=advice(CAP, most))
