"""Rules of the air: what the fan moves, and the charge air."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
)
from swaplint.engineering import OutsideRange, cooling_system, fans

from .. import sources
from . import air_quantities as q
from .points import air_at, fan_points, words

COVERAGE = 0.85
"""Least share of the core under the shroud: common practice."""
COVERAGE_PRACTICE = practice("a shroud covers at least 85 % of the core")

CHARGE = practice("manifold air at most 30 K above the outside air, cooler and pipes together at most 12 kPa")
CHARGE_RISE = Practice("manifold air at most 30 K above the outside air", 30.0, CHARGE)
CHARGE_DROP = Practice("charge-air cooler and pipes together at most 12 kPa", 12e3, CHARGE)


@rule(
    "cooling.fan-flow",
    level="warning",
    due="build",
    sources=[sheet("plumbing.cooling.fan.curve"), sources.FAN_LAWS, COVERAGE_PRACTICE],
    cautions=[cautions.ROTATING],
    about="plumbing.cooling.fan",
    adjust=["plumbing.cooling.fan.ratio", "plumbing.cooling.fan.shroud_coverage"],
    bad=[
        {"plumbing.cooling.fan.ratio": 0.7},
        {"plumbing.cooling.fan.shroud_coverage": "60 %"},
        {"plumbing.cooling.air_path.core.drop": "1500 Pa"},
    ],
    good=[{"plumbing.cooling.fan.ratio": 1.35}],
)
def fan_flow(build: Build) -> Verdict:
    """Does the fan with its shroud really move the air that the radiator is counted on?

    Computes: where the fan has to do without the wind of driving, the meeting of its curve, carried to its speed there,
    with the resistance of core, grille and condenser, Δp = Σk·V̇²; times the density of the air on the hottest day.
    Limit: the air flow that the radiator rules count on at that operating point. A shroud over at least 85 % of the
    core (common practice), the fan maker's highest speed, and an electric fan only where the engine maker allows it.
    Consequence: Too little air passes the radiator and the engine overheats, or the fan turns too fast and bursts.
    Remedy: a faster or larger fan: flow goes with its speed, pressure with the square and power with the cube of it.
    Cannot tell: a blocked grille, blades too near to an edge, air that flows back round the core. The current of an
    electric fan is judged with its cable and fuse.
    """
    fan = build.plumbing.cooling.fan
    alone = fan_points(build)
    if not is_fitted(fan):
        return holds(
            not alone, "Without a fan only the wind of driving moves the air: nothing may rest on the fan alone."
        )
    demands: list[Verdict] = []
    told: list[str] = []
    for point in alone:
        moved, wanted = q.fan_air(build, point), air_at(build, point).flow
        says = f"{words(point)} the fan moves {shown(moved)}; the radiator is counted on {shown(wanted)}."
        if moved < wanted:
            faster = fans.speed_ratio_for_flow(moved, wanted)
            says += f" It would have to turn {faster:.2f} times as fast, or be a larger one."
        demands.append(at_least(moved, wanted, says))
        told.append(says)
    coverage = fan.shroud_coverage
    demands.append(
        at_least(
            coverage,
            COVERAGE,
            " ".join([*told, f"The shroud covers {shown(coverage)} of the core."]),
            on="plumbing.cooling.fan.shroud_coverage",
        )
    )
    if fan.drive == "electric":
        allowed = build.engine.fan.electric_allowed
        says = f"The fan is electric, which the engine maker {'allows' if allowed else 'does not allow'}."
        demands.append(holds(allowed, says, on="plumbing.cooling.fan.drive"))
    elif (fastest := given(lambda: fan.speed_max)) is not None:
        slip = fan.slip if fan.drive == "viscous" else 0.0
        speed = build.engine.speed.governed_max * fan.ratio * (1.0 - slip)
        demands.append(
            at_most(
                speed,
                fastest,
                f"At the engine's highest speed the fan turns {shown(speed, 'rotation', 'r/min')}; beyond its limit of "
                f"{shown(fastest)} a fan can burst.",
                level="error",
                on="plumbing.cooling.fan.ratio",
            )
        )
    return all_of(*demands, default="warning")


@rule(
    "cooling.charge-air",
    level="error",
    due="quote",
    sources=[
        sheet("engine.charge_air.rise_max"),
        sheet("engine.charge_air.drop_max"),
        sources.COMPACT_HEAT_EXCHANGERS,
        sources.COOLING_TRIALS,
    ],
    cautions=[cautions.HOT],
    about="plumbing.cooling.charge_cooler",
    adjust=["plumbing.cooling.charge_cooler.effectiveness"],
    fallbacks=[CHARGE_RISE, CHARGE_DROP],
    bad=[
        {"plumbing.cooling.charge_cooler.effectiveness": "70 %"},
        {"plumbing.cooling.charge_cooler.drop": "12 kPa"},
        {"plumbing.cooling.charge_cooler.pipes_drop": "9 kPa"},
    ],
    good=[{"plumbing.cooling.charge_cooler.effectiveness": "90 %"}],
)
def charge_air(build: Build) -> Verdict:
    """Does the charge-air cooler meet the engine's limits on manifold temperature and pressure drop?

    Computes: T_out = T_in − ε·(T_in − T_ambient) at rated speed on the hottest day, the compressor's outlet carried
    from the sheet's outside air to that day; its rise over the outside air; the pressure that cooler and pipes take.
    The formula holds while the charge air has the smaller capacity rate of the two.
    Limit: the engine's data sheet: greatest rise, hottest manifold air, greatest drop. Where it states neither rise nor
    temperature 30 K, where it states no drop 12 kPa (common practice): then a warning.
    Consequence: The engine loses power and runs too hot inside: pistons, valves and turbocharger die early.
    Remedy: a cooler of greater effectiveness, or wider pipes; the sentence says which effectiveness would do. Heat
    costs power and life, and may break the conditions of the engine's emission certificate.
    Cannot tell: leaks at joints, hot air at the face of the cooler, thin air that makes the compressor work harder.
    """
    cooler, limits, ambient = (
        build.plumbing.cooling.charge_cooler,
        build.engine.charge_air,
        build.build.design.ambient_max,
    )
    fitted = is_fitted(cooler)
    rise_max = given(lambda: limits.rise_max)
    hottest = given(lambda: limits.manifold_temp_max)
    if not fitted and rise_max is None and hottest is None:
        return does_not_apply("There is no charge-air cooler, and the engine asks for no limit on its manifold air.")
    on = "plumbing.cooling.charge_cooler.effectiveness" if fitted else "plumbing.cooling.charge_cooler"
    outlet, rise = q.charge_outlet(build), q.charge_rise(build)
    reached = f"{shown(outlet)}, {shown(rise)} above the outside air."
    if fitted:
        says = (
            f"On the hottest day the charge reaches the cooler at {shown(q.charge_inlet(build))} and the manifold at "
        )
    else:
        says = "There is no charge-air cooler; on the hottest day the charge reaches the manifold at "
    says += reached

    def with_remedy(most: float) -> str:
        """The sentence, and the effectiveness that keeps the manifold at `most`."""
        if outlet <= most:
            return says
        try:
            needed = cooling_system.charge_air_effectiveness(q.charge_inlet(build), ambient, most)
        except OutsideRange:
            return f"{says} No air-cooled cooler reaches that."
        return f"{says} A cooler with an effectiveness of {shown(needed, 'share', '%', digits=3)} would do."

    demands: list[Verdict] = []
    stated = [most for most in (hottest, None if rise_max is None else ambient + rise_max) if most is not None]
    if stated:
        says = with_remedy(min(stated))
    if rise_max is not None:
        demands.append(at_most(rise, rise_max, says, on=on))
    if hottest is not None:
        demands.append(at_most(outlet, hottest, says, on=on, scale=hottest - ambient))
    if not demands:
        most = use_practice(build, CHARGE_RISE)
        demands.append(at_most(rise, most, with_remedy(ambient + most), on=on, level="warning"))

    def drop() -> Verdict:
        found, most = q.charge_drop(build), given(lambda: limits.drop_max)
        sentence = f"Cooler and pipes take {shown(found)} at rated air flow."
        field = "plumbing.cooling.charge_cooler.drop"
        if most is None:
            return at_most(found, use_practice(build, CHARGE_DROP), sentence, on=field, level="warning")
        return at_most(found, most, sentence, on=field)

    return all_of(*demands, drop) if fitted else all_of(*demands)
