"""The rule about front and rear axles that roll unlike while both are driven."""

from __future__ import annotations

from typing import Any, Literal

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    does_not_apply,
    given,
    limit_or_none,
    practice,
    quantity,
    rule,
    sheet,
    shown,
    use_practice,
    within,
)

from .. import sources
from . import chain, places
from . import quantities as q
from .fitted_tyres import unlike

Level = Literal["error", "warning"]

FRONT_TYRES, REAR_TYRES = "driveline.front_tyres", "driveline.tyres"

ALIKE = practice(
    "front and rear roll within 0.5 to 2 % of each other where both are always driven, within 1 to 5 % where one is "
    "engaged on loose ground only"
)
ALWAYS_ALIKE = Practice(
    "both ends, always driven, roll alike within 1 % (0.5 to 2 %)", 0.01, ALIKE, between=(0.005, 0.02)
)
LOOSE_ALIKE = Practice(
    "both ends, one engaged on loose ground, roll alike within 3 % (1 to 5 %)", 0.03, ALIKE, between=(0.01, 0.05)
)
TALLER = {
    "designation": "255/85R16",
    "overall_diameter": "830 mm",
    "construction": "radial",
    "speed_symbol": "Q",
    "load_index_single": 114,
    "reference_pressure": "550 kPa",
    "pressure_max": "550 kPa",
}
"""Front tyres of an example that roll 3 % farther than those behind."""


def _first_at(build: Build, end: places.End) -> Any | None:
    """The foremost axle of an end that the engine can drive at a fixed ratio, or None."""
    powered = [axle for axle in chain.powered_axles(build) if places.end_of(build, axle) == end]
    return powered[0] if powered else None


def _with_unlike_tyres(build: Build) -> list[tuple[()]]:
    both = given(lambda: unlike(build) and None not in (_first_at(build, "front"), _first_at(build, "rear")))
    return [()] if both else []


@quantity(
    "gearing.front-lead",
    "share",
    "%",
    formula="(r_front/i_front)/(r_rear/i_rear) − 1, r the rolling radius and i the ratio of the axle",
    sources=[sources.KINEMATICS.giving("formula")],
    each=_with_unlike_tyres,
)
def front_lead(build: Build) -> float:
    """How much farther the front axle rolls than the rear one for one turn of their shafts; negative where less far."""
    front, rear = (q.radius_at(build, end) / chain.fixed_ratio(_first_at(build, end)) for end in ("front", "rear"))
    return front / rear - 1.0


@rule(
    "gearing.axles-alike",
    level="error",
    due="quote",
    sources=[
        sheet("driveline.transfer.axle_difference_max"),
        sources.KINEMATICS.giving("formula", "what an axle rolls for one turn of its shaft"),
        sources.TYRE_ROLLING.giving("formula", "3.05 diameters to a turn"),
    ],
    about=FRONT_TYRES,
    fallbacks=[ALWAYS_ALIKE, LOOSE_ALIKE],
    without={f"{FRONT_TYRES}.fitted": "Where no front tyres are stated by themselves, all are of one size."},
    instead={
        f"{FRONT_TYRES}.rolling_circumference": (f"{FRONT_TYRES}.overall_diameter", f"{FRONT_TYRES}.designation"),
        f"{REAR_TYRES}.rolling_circumference": (f"{REAR_TYRES}.overall_diameter", f"{REAR_TYRES}.designation"),
        f"{REAR_TYRES}.overall_diameter": (f"{REAR_TYRES}.rolling_circumference", f"{REAR_TYRES}.designation"),
        f"{REAR_TYRES}.construction": f"{REAR_TYRES}.designation",
    },
    bad=[{FRONT_TYRES: TALLER}],
    good=[{FRONT_TYRES: {**TALLER, "overall_diameter": "808 mm"}}],
)
def axles_alike(build: Build) -> Verdict:
    """Do front and rear wheels roll alike where the engine can drive both, though their tyres are unlike?

    Computes: for one turn of their shafts what the front rolls over what the rear rolls, from rolling circumference,
    else size, and ratio of each axle. Both shafts are taken to turn alike.
    Limit: the sheet of transfer case, centre differential or coupling: an error where both circumferences were
    measured. Without a sheet common practice, a warning: 1 % where both axles are always driven (0.5 to 2 %), 3 % where
    one is engaged on loose ground only (1 to 5 %).
    Consequence: On hard ground the driveline winds up: it steers badly, overheats, and a shaft or gear breaks.
    Remedy: tyres that roll alike, or final drives in the ratio of the tyres; an axle that is engaged on loose ground.
    Cannot tell: wear and pressure, which make 1 to 2 % by themselves; bends, in which the front rolls farther anyway.
    """
    if not unlike(build):
        return does_not_apply("All tyres are of one size: see driveline.axle-torque for the ratios of the axles.")
    axles = [_first_at(build, end) for end in ("front", "rear")]
    if None in axles:
        return does_not_apply("The engine drives one end only, and the other rolls along.")
    lead = front_lead(build)
    always = all(chain.engaged(build, axle) == chain.ALWAYS for axle in axles)
    stated = given(lambda: limit_or_none(lambda: build.driveline.transfer.axle_difference_max))
    most = stated if stated is not None else use_practice(build, ALWAYS_ALIKE if always else LOOSE_ALIKE)
    way = "farther" if lead >= 0.0 else "less far"
    says = (
        f"For one turn of their shafts the front rolls {shown(abs(lead), 'share', '%', digits=2)} {way} than the rear"
    )
    says += "." if always else ", with both driven."
    if abs(lead) > most:
        says += " On hard ground the driveline winds up: fit tyres or final drives that roll alike"
        says += "." if always else ", and engage it on loose ground only."
    level: Level = "error" if stated is not None and _measured(build) else "warning"
    on = f"{FRONT_TYRES}.rolling_circumference"
    return within(lead, -most, most, says, level=level, on=on, unit=("share", "%"))


def _measured(build: Build) -> bool:
    tyres = build.driveline.front_tyres, build.driveline.tyres
    return all(given(lambda one=one: one.rolling_circumference) is not None for one in tyres)  # type: ignore[misc]
