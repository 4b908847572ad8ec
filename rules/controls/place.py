"""Where the control unit is mounted."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_most,
    does_not_apply,
    given,
    holds,
    is_fitted,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import ip_codes

from .. import sources

BAY_CODE = practice("IP67 in an engine space, dust protection in a cab")

WATER = {
    "none": (5, (0,), "dust protection, IP5X"),
    "spray": (6, (6, 7), "IP67, or IP66 and better against jets"),
    "pressure-wash": (6, (9,), "IP6K9K"),
    "immersion": (6, (7,), "IP67"),
}
"""The protection that a place asks for: numeral for dust, numerals for water that do, and the code as people say it."""


@rule(
    "controls.ecm-environment",
    level="error",
    due="build",
    sources=[
        sheet("engine.ecm.temperature_max"),
        sheet("engine.ecm.tilt_max"),
        sheet("engine.ecm.ip_codes"),
        sources.PROTECTION_CODES.giving("formula", "what each code keeps out"),
        BAY_CODE.giving("limit", "code that a place asks for"),
    ],
    about="electrics.ecm",
    bad=[
        {"electrics.ecm.temperature": "115 degC"},
        {"electrics.ecm.wetting": "pressure-wash"},
        {"electrics.ecm.tilt": "90 deg"},
        {"engine.ecm.ip_codes": ["IP54"]},
    ],
    good=[{"engine.ecm.ip_codes": ["IP6K7", "IP6K9K"], "electrics.ecm.wetting": "pressure-wash"}],
)
def ecm_environment(build: Build) -> Verdict:
    """Does the place of the control unit stay inside its limits of heat, water and the way up?

    Computes: nothing; where the place lies no higher than the wading depth, it counts as immersed.
    Limit: the data sheet's temperature (an error) and angle; protection to ISO 20653: IP5X in a dry cab, IP67 or
    jet-proof in an engine space, IP6K9K where a pressure washer reaches it, IP67 where it is immersed; common
    practice, and warnings. Jets and immersion are different tests: one code does not cover the other.
    Consequence: Heat or water gets into the control unit: the engine cuts out and does not start again.
    Remedy: another place: the cab side of the bulkhead, away from exhaust and splash, connectors facing down.
    Cannot tell: how hot the place gets after the engine has been stopped; shaking.
    """
    place, unit = build.electrics.ecm, build.engine.ecm
    if not is_fitted(unit):
        return does_not_apply("The engine has no control unit.")
    demands: dict[str, Callable[[], Verdict]] = {
        "temperature": lambda: at_most(
            place.temperature,
            unit.temperature_max,
            f"{shown(place.temperature)} where it is mounted; it bears {shown(unit.temperature_max)}."
            + (_COOLER if place.temperature > unit.temperature_max else ""),
            on="electrics.ecm.temperature",
            scale=100.0,
        ),
        "protection": lambda: _dry_enough(build),
    }
    demands["tilt"] = lambda: at_most(
        place.tilt,
        unit.tilt_max,
        f"It is turned {shown(place.tilt)} away from the way up that its maker shows, {shown(unit.tilt_max)} are "
        "allowed: water must run off its connectors and vent.",
        level="warning",
        on="electrics.ecm.tilt",
        scale=1.5708,
    )
    return all_of(demands)


_COOLER = " More distance to the exhaust, a shield or a place in the cab cools it."
WETTINGS = {
    "none": "no water",
    "spray": "spray",
    "pressure-wash": "a pressure washer",
    "immersion": "immersion",
}
"""How much water a place sees, in words."""


def _dry_enough(build: Build) -> Verdict:
    place = build.electrics.ecm
    wetting, on, why = str(place.wetting), "electrics.ecm.wetting", f"its place sees {WETTINGS[str(place.wetting)]}"
    depth = given(lambda: build.build.design.wade_depth)
    codes = [str(code) for code in build.engine.ecm.ip_codes]
    # how high it stands matters to no unit that bears to stand in water
    if depth is not None and depth > 0.0 and not _bears(codes, "immersion") and place.height <= depth:
        wetting, on = "immersion", "electrics.ecm.height"
        why = f"{shown(place.height)} above ground it stands in water when wading {shown(depth)}"
    enough, needed = _bears(codes, wetting), WATER[wetting][2]
    says = f"Protected to {', '.join(codes) or 'nothing'}; {why}, which takes {needed}."
    if not enough:
        says += " Give it a drier place."
    return holds(enough, says, level="warning", on=on)


def _bears(codes: list[str], wetting: str) -> bool:
    dust, water, _ = WATER[wetting]
    return any(ip_codes.keeps_out(codes, dust=dust, water=numeral) for numeral in water)
