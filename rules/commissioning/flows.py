"""Rules of what flows at full load: fuel at the inlet, air, gas and charge."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    ImpossibleInput,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    limit_or_none,
    needs_review,
    or_practice,
    practice,
    quantity,
    rule,
    sheet,
    shown,
    use_practice,
)

from .. import sources
from ..cooling import charge_quantities as cooling
from ..exhaust.pipework import BACK_DIESEL, BACK_FILTER, BACK_PETROL, usual_limit
from ..fuel import quantities as fuel
from ..intake import quantities as intake
from ..intake.suction import CLEAN_DIESEL, CLEAN_PETROL
from ..places import hottest_air
from . import air_and_heat as reckoned
from . import compared, documents
from .starting import Level
from .trials import FUEL, LOAD, faster_than_governed

DRY = practice("no air in a clear hose of the supply line").giving("limit", "no air", demands=["no-air"])
TIGHT = practice("a tight supply line loses at most 0.34 kPa (0.1 inHg) in one minute of 50 to 70 kPa of depression")
SUCTION_LOSS = 339.0
"""In Pa: 0.1 inHg."""
CHARGE_TIGHT = practice("charge pipes and cooler lose at most 34 kPa (5 psi) in 15 s of 207 kPa (30 psi)")
CHARGE_LOSS = 34.5e3
LOADED_ENOUGH = 0.95
"""Share of full-load torque from which a trial counts as one at full load: common practice."""
LOAD_PRACTICE = practice("a full-load trial reaches 95 % of the torque near rated speed").giving(
    "limit", "95 % of the torque", demands=["load"]
)
NEAR_RATED = 0.9
KPA = ("pressure_difference", "kPa")


PRESSED: dict[str, object] = {
    "engine.fuel.feed": "pressure",
    "engine.fuel.inlet_pressure_min": "20 kPa",
    f"{FUEL}.inlet_pressure": "40 kPa",
    f"{FUEL}.inlet_depression": None,
}
"""A feed pump presses the fuel to the engine."""


# -- fuel -------------------------------------------------------------------------------------------------------------
@rule(
    "commissioning.fuel-inlet",
    level="error",
    due="commission",
    sources=[
        sheet("engine.fuel.max_inlet_restriction").giving("limit", demands=["inlet", "filters-due"]),
        sheet("engine.fuel.inlet_pressure_min").giving("limit", demands=["pressed"]),
        sheet("engine.fuel.max_return_pressure").giving("limit", demands=["return"]),
        documents.FUEL_LEAK_TEST.giving("limit", "no leak", demands=["no-leaks"]),
        DRY,
        TIGHT.giving("limit", "0.34 kPa (0.1 inHg)", demands=["tight"]),
        sources.POROUS_FLOW.giving("formula", "drop of a filter by the viscosity of the fuel"),
        *compared.sources_of("inlet-as-reckoned"),
    ],
    cautions=[cautions.FUEL_FIRE, cautions.HIGH_PRESSURE_FUEL],
    about=FUEL,
    fallbacks=[
        reckoned.NEW_FILTER,
        fuel.DIESEL_VISCOSITY,
        fuel.PETROL_VISCOSITY,
        fuel.DIESEL_DENSITY,
        fuel.PETROL_DENSITY,
        compared.READING,
        compared.THERMOMETER,
    ],
    bad=[
        {f"{FUEL}.inlet_depression": "26 kPa"},
        {f"{FUEL}.return_pressure": "30 kPa"},
        {f"{FUEL}.no_air": False},
        {f"{FUEL}.no_leaks": False},
    ],
    good=[{f"{FUEL}.inlet_depression": {"value": "4.5 kPa", "tol": "0.3 kPa"}}, PRESSED],
    without={
        "plumbing.fuel.filters.*.side_by_side": compared.UNSAID,
        f"{FUEL}.suction_loss": "Air that is drawn in shows in the clear hose, which is asked for all the same.",
    },
)
def fuel_inlet(build: Build) -> Verdict:
    """Does the engine get its fuel at full flow, and does nothing leak in or out?

    Computes: the depression at the inlet as measured, and as it will be when the filters are due: they take more then
    by what the reading holds less than their drop when due, in fuel of that temperature. The depression against what
    line, lift and new filters were reckoned to take in it.
    Limit: the engine's data sheet, for depression, feed pressure and return: errors. When the filters are due: a
    warning, for how little new ones take is common practice. No air in a clear hose: a warning. Tank, lines and joints
    dry on the outside: an error (US Army TM 5-3895-359-14&P).
    Consequence: The pump starves and wears: the engine loses power, later the pump; a leak burns the vehicle.
    Remedy: the joint or hose that lets air in first, then filters, a kink or narrow coupling, a wider line.
    Cannot tell: fuel in the cold, a filter that clogs in one bad tank.
    """
    trial, asked = build.measured.fuel, build.engine.fuel
    no_leaks = trial.no_leaks
    demands: dict[str, Callable[[], Verdict]] = {}
    if fuel.sucks(build):
        demands["inlet"] = lambda: at_most(
            trial.inlet_depression,
            asked.max_inlet_restriction,
            f"{shown(trial.inlet_depression)} of depression at full flow in fuel of {shown(trial.temperature)}.",
            on=f"{FUEL}.inlet_depression",
        )
        demands["filters-due"] = lambda: _filters_due(build)
        demands["inlet-as-reckoned"] = lambda: reckoned.fuel_inlet(build)
    else:
        demands["pressed"] = lambda: at_least(
            trial.inlet_pressure,
            asked.inlet_pressure_min,
            f"{shown(trial.inlet_pressure)} at the engine's inlet at full flow.",
            on=f"{FUEL}.inlet_pressure",
        )
    demands["return"] = lambda: at_most(
        trial.return_pressure,
        asked.max_return_pressure,
        f"{shown(trial.return_pressure)} in the return at the engine.",
        on=f"{FUEL}.return_pressure",
        unit=KPA,
    )
    if given(lambda: trial.suction_loss) is not None:
        demands["tight"] = lambda: at_most(
            trial.suction_loss,
            SUCTION_LOSS,
            f"The closed supply line lost {shown(trial.suction_loss)} of its depression in one minute.",
            level="warning",
            on=f"{FUEL}.suction_loss",
        )
    demands["no-air"] = lambda: holds(
        trial.no_air,
        "A clear hose shows no air."
        if trial.no_air
        else "Air runs along in a clear hose: find the joint that lets it in.",
        level="warning",
        on=f"{FUEL}.no_air",
    )
    demands["no-leaks"] = lambda: holds(
        no_leaks,
        "Tank, lines and joints stay dry." if no_leaks else "Fuel leaks: stop the engine, find the place, mend it.",
        on=f"{FUEL}.no_leaks",
    )
    return all_of(demands)


@quantity(
    "commissioning.fuel-inlet-due",
    "pressure_difference",
    "kPa",
    formula="reading + filters when due − filters as they were: as measured, else 30 % of that",
    sources=[
        sources.POROUS_FLOW.giving("formula", "drop of a filter over the viscosity of the fuel"),
        reckoned.NEW_FILTER.cited,
    ],
    each=lambda build: [()] if fuel.sucks(build) else [],
)
def inlet_when_due(build: Build) -> float:
    """Depression at the fuel inlet that the measured one grows to until the filters are due."""
    trial = build.measured.fuel
    due = reckoned.filters_due(build, trial.temperature)
    now = given(lambda: trial.filter_drop)
    if now is None:
        now = use_practice(build, reckoned.NEW_FILTER) * due if due else 0.0
    return trial.inlet_depression + max(0.0, due - now)


def _filters_due(build: Build) -> Verdict:
    found, trial = inlet_when_due(build), build.measured.fuel
    says = f"{shown(trial.inlet_depression)} now grow to {shown(found)} until the filters are due, in the same fuel."
    limit = build.engine.fuel.max_inlet_restriction
    return at_most(found, limit, says, level="warning", on=f"{FUEL}.inlet_depression")


# -- air and gas ------------------------------------------------------------------------------------------------------
@rule(
    "commissioning.air-gas-restriction",
    level="error",
    due="commission",
    sources=[
        sheet("engine.air.restriction_max_clean").giving("limit", demands=["intake"]),
        sheet("engine.exhaust.back_pressure_max").giving("limit", demands=["back-pressure"]),
        sheet("engine.charge_air.rise_max").giving("limit", demands=["charge-rise"]),
        sheet("engine.charge_air.manifold_temp_max").giving("limit", demands=["charge-hot"]),
        sheet("engine.charge_air.pressure_max").giving("limit", demands=["boost"]),
        CHARGE_TIGHT.giving("limit", "34 kPa (5 psi)", demands=["charge-tight"]),
        LOAD_PRACTICE,
        sources.PIPE_FLOW.giving("formula", "a drop goes with the square of the flow"),
        *compared.sources_of("intake-as-reckoned", "back-pressure-as-reckoned", "manifold-as-reckoned"),
    ],
    cautions=[cautions.HOT, cautions.EXHAUST_GAS, cautions.ROTATING],
    about=LOAD,
    fallbacks=[
        CLEAN_DIESEL,
        CLEAN_PETROL,
        BACK_DIESEL,
        BACK_FILTER,
        BACK_PETROL,
        compared.READING,
        compared.THERMOMETER,
    ],
    bad=[
        {
            f"{LOAD}.intake_restriction": "3.4 kPa",
            f"{LOAD}.back_pressure": "19.5 kPa",
            f"{LOAD}.manifold_air": "62 degC",
            f"{LOAD}.boost": "230 kPa",
        },
    ],
    good=[{f"{LOAD}.boost": "120 kPa"}],
    instead={
        "engine.charge_air.rise_max": "engine.charge_air.manifold_temp_max",
        "engine.charge_air.manifold_temp_max": "engine.charge_air.rise_max",
    },
    without={
        f"{LOAD}.charge_leak": "A leak of the charge shows in boost and restriction, which are asked for all the same.",
    }
    | dict.fromkeys(
        (
            "plumbing.intake.ducts.*.side_by_side",
            "plumbing.exhaust.devices.*.side_by_side",
            "plumbing.intake.precleaner.side_by_side",
            "plumbing.intake.filter.side_by_side",
        ),
        compared.UNSAID,
    ),
)
def air_gas_restriction(build: Build) -> Verdict:
    """Does the engine breathe, exhale and cool its charge within its limits at full load?

    Computes: each reading taken up to rated flow, Δp·(1/share)², the share of the flow being that of the power reached;
    the rise of the manifold air over the outside air, and the manifold air on the hottest day, rise and day's heat in
    proportion to absolute temperature. Each against what was reckoned for the flow, the air and the height of the
    trial.
    Limit: the engine's data sheet: errors; boost above it: a warning. Without a sheet what is common for intake and
    back pressure: a warning. The trial reaches 95 % of the torque at 90 % of rated speed or more, else a person
    decides.
    Consequence: The engine loses power and runs hot inside, and its maker's warranty may end.
    Remedy: the element whose own drop is furthest above what was reckoned, which the sentences name.
    Cannot tell: thin air, a filter later in its life, soot in a particulate filter.
    """
    trial = build.measured.full_load
    share = reckoned.flow_share(build)
    demands: dict[str, Callable[[], Verdict]] = {
        "load": lambda: _load(build),
        "intake": lambda: _intake(build, share),
        "back-pressure": lambda: _back_pressure(build, share),
        "intake-as-reckoned": lambda: reckoned.intake_restriction(build),
        "back-pressure-as-reckoned": lambda: reckoned.back_pressure(build),
    }
    charge = build.engine.charge_air
    if intake.boosted(build):
        demands["boost"] = lambda: at_most(
            trial.boost,
            charge.pressure_max,
            f"{shown(trial.boost)} of boost at {shown(trial.speed)}.",
            level="warning",
            on=f"{LOAD}.boost",
        )
        if given(lambda: trial.charge_leak) is not None:
            demands["charge-tight"] = lambda: at_most(
                trial.charge_leak,
                CHARGE_LOSS,
                f"Charge pipes and cooler lost {shown(trial.charge_leak)} in 15 s.",
                level="warning",
                on=f"{LOAD}.charge_leak",
            )
        demands["manifold-as-reckoned"] = lambda: reckoned.manifold_air(build)
        if given(lambda: charge.rise_max) is not None or given(lambda: charge.manifold_temp_max) is None:
            demands["charge-rise"] = lambda: _charge_rise(build)
        if given(lambda: charge.manifold_temp_max) is not None:
            demands["charge-hot"] = lambda: _charge_hot(build)
    return all_of(demands)


def _load(build: Build) -> Verdict:
    trial, rated = build.measured.full_load, build.engine.speed.rated
    says = (
        f"The trial reached {shown(trial.torque_share)} of the torque at {shown(trial.speed)}; rated speed is "
        f"{shown(rated)}."
    )
    if trial.torque_share < LOADED_ENOUGH or trial.speed < NEAR_RATED * rated:
        says += " That is too little to judge by: the readings are taken up to rated flow by reckoning only."
        return needs_review(says, on=f"{LOAD}.torque_share", found=trial.torque_share)
    if faster_than_governed(build, trial.speed):
        says += f" The governor holds it at {shown(build.engine.speed.governed_max)}: no engine pulls beyond. Look up "
        return needs_review(f"{says}at which speed it was read.", on=f"{LOAD}.speed", found=trial.speed)
    return at_least(trial.torque_share, LOADED_ENOUGH, says, level="warning", on=f"{LOAD}.torque_share")


def _at_rated(reading: float, share: float) -> float:
    """A drop taken up to rated flow, Pa."""
    if share <= 0.0:
        raise ImpossibleInput("a trial without load tells nothing of full load")
    return reading / share**2


def _intake(build: Build, share: float) -> Verdict:
    trial = build.measured.full_load
    found = _at_rated(trial.intake_restriction, share)
    fallback = CLEAN_DIESEL if build.engine.fuel_type == "diesel" else CLEAN_PETROL
    stated = given(lambda: build.engine.air.restriction_max_clean)
    limit = or_practice(lambda: build.engine.air.restriction_max_clean, fallback)
    level: Level = "error" if stated is not None else "warning"
    says = f"{shown(trial.intake_restriction)} read, {shown(found, *KPA, digits=3)} at rated flow."
    return at_most(found, limit, says, level=level, on=f"{LOAD}.intake_restriction", unit=KPA)


def _back_pressure(build: Build, share: float) -> Verdict:
    trial = build.measured.full_load
    found = _at_rated(trial.back_pressure, share)
    stated = given(lambda: build.engine.exhaust.back_pressure_max)
    limit = or_practice(lambda: build.engine.exhaust.back_pressure_max, usual_limit(build))
    level: Level = "error" if stated is not None else "warning"
    says = f"{shown(trial.back_pressure)} read, {shown(found, *KPA, digits=3)} at rated flow."
    return at_most(found, limit, says, level=level, on=f"{LOAD}.back_pressure", unit=KPA)


def _charge_rise(build: Build) -> Verdict:
    trial = build.measured.full_load
    limit = limit_or_none(lambda: build.engine.charge_air.rise_max)
    if limit is None:
        limit_or_none(lambda: build.engine.charge_air.manifold_temp_max)  # else that one is asked for
        return does_not_apply("The engine's maker states no limit of the manifold air.")
    rise = trial.manifold_air - trial.air
    if rise < 0.0 and not cooling.water_cooled(build):
        raise ImpossibleInput("the manifold air is stated as colder than the outside air that cools it")
    says = f"Manifold air of {shown(trial.manifold_air)} in outside air of {shown(trial.air)}."
    return at_most(rise, limit, says, on=f"{LOAD}.manifold_air", unit=reckoned.KELVIN)


def _charge_hot(build: Build) -> Verdict:
    trial = build.measured.full_load
    limit, hottest = build.engine.charge_air.manifold_temp_max, hottest_air(build)
    found = trial.manifold_air * hottest / trial.air
    says = (
        f"Manifold air of {shown(trial.manifold_air)} in outside air of {shown(trial.air)} comes to "
        f"{shown(found, 'temperature', 'degC', digits=3)} on a day of {shown(hottest)}."
    )
    return at_most(found, limit, says, on=f"{LOAD}.manifold_air", unit=("temperature", "degC"), scale=10.0)
