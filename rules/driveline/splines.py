"""The rule about what slides onto what: hub and input shaft, transfer case and output shaft."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_most,
    does_not_apply,
    given,
    holds,
    needs_review,
    path_of,
    practice,
    rule,
    shown,
)
from swaplint.engineering import splines

from .. import sources
from ..gearing import chain
from .interfaces import AUTOMATIC, MM, name_of_pattern

SPLINES = practice("a hub fits a shaft of the same number of teeth and standard; 0.2 mm of its diameter is rounding")

SPLINE_ROUNDING = 0.0002
"""How far a hub's major diameter may be stated above what it is by design: inch sizes rounded to tenths."""
LARGEST_ROOM = 0.8
"""The most room at the major diameter that any side fit has, in modules."""
ANGLES = ("37.5", "45", "30")
"""Pressure angles of involute splines, in degrees, as a standard's name states them."""


@rule(
    "driveline.spline-match",
    level="error",
    due="quote",
    changed={"0.2.0": "Allows the room that a side fit has by design, and no hub smaller than its shaft."},
    sources=[
        SPLINES.giving("limit", "teeth and standard alike, rounding"),
        sources.INCH_SPLINES.giving("limit", "room at the major diameter of a side fit"),
        sources.METRIC_SPLINES.giving("limit", "room at the major diameter of a side fit"),
        sources.DIN_SPLINES.giving("limit", "room at the major diameter: beyond it a review"),
    ],
    about="driveline.clutch.hub_spline",
    each=chain.splines,
    bad=[
        {"driveline.clutch.hub_spline.teeth": 24},
        {"driveline.clutch.hub_spline.outer_diameter": "28.4 mm"},
        {"driveline.clutch.hub_spline.outer_diameter": "30.5 mm"},
        {"driveline.transfer.input_spline.standard": "straight"},
    ],
    good=[
        {"driveline.clutch.hub_spline.outer_diameter": "29.1 mm"},
        {"driveline.clutch.hub_spline.outer_diameter": "29.6 mm"},
        AUTOMATIC,
    ],
)
def spline_match(build: Build, joint: chain.Joint) -> Verdict:
    """Does the hub of the clutch disc fit the input shaft, and the transfer case the gearbox's output?

    Computes: equality of the number of teeth and of the standard; the room between the hub's root and the shaft's tip,
    on the diameter.
    Limit: identical teeth and standard. The hub is never smaller than its shaft. A side fit has room by design: 0.35
    of a module with a flat root by ANSI B92.1, 0.5 metric, 0.8, 0.6 or 0.4 with a fillet root at 30, 37.5 or 45
    degrees; other splines have none. 0.2 mm more is taken as rounding of inch sizes.
    Consequence: The hub does not go on, or goes on by force and strips under load.
    Remedy: a disc with the hub that fits. The same diameter with another number of teeth, or the same number in another
    module, only seems to fit: it goes on by force, and strips.
    Cannot tell: length of the hub, to which side it is offset, and wear of a used shaft.
    """
    hub, shaft = joint.side, joint.ahead()
    if shaft is None:
        return does_not_apply(f"{joint.gap[0].upper()}{joint.gap[1:]}.")
    demands: dict[str, Callable[[], Verdict]] = {
        "teeth": lambda: _teeth(hub, shaft),
        "diameter": lambda: _diameter(hub, shaft),
    }
    demands["standard"] = lambda: _same_standard(hub, shaft)
    return all_of(demands)


def _teeth(hub: Any, shaft: Any) -> Verdict:
    same, on = int(hub.teeth) == int(shaft.teeth), f"{path_of(hub)}.teeth"
    says = f"{int(hub.teeth)} teeth at {path_of(hub)} meet {int(shaft.teeth)} at {path_of(shaft)}."
    if not same and given(lambda: abs(hub.outer_diameter - shaft.outer_diameter) <= SPLINE_ROUNDING):
        says += " They are of one diameter, so that the hub seems to fit: forced on, it strips under load."
    return holds(same, says, on=on, advice=advice(on, shaft.teeth))


def _diameter(hub: Any, shaft: Any) -> Verdict:
    room, on = hub.outer_diameter - shaft.outer_diameter, f"{path_of(hub)}.outer_diameter"
    says = f"{shown(hub.outer_diameter)} at {path_of(hub)} meets {shown(shaft.outer_diameter)} at {path_of(shaft)}"
    right = advice(on, shaft.outer_diameter)
    if room < 0.0:
        return holds(False, f"{says}: the hub is smaller than its shaft and does not go on.", on=on, advice=right)
    if room <= SPLINE_ROUNDING:
        return at_most(room, SPLINE_ROUNDING, f"{says}.", on=on, unit=MM)
    by_design = _room_by_design(hub, shaft)
    says += f"; by design there are {shown(by_design, *MM)} of room." if by_design else "."
    if _family(hub.standard) == DIN and room > by_design + SPLINE_ROUNDING:
        return needs_review(f"{says} Hold both against their drawings.", on=on)
    if room > by_design + SPLINE_ROUNDING:
        says += " The hub is too large for its shaft and strips: fit a disc whose hub fits."
    return at_most(room, by_design + SPLINE_ROUNDING, says, on=on, unit=MM, advice=right)


INCH, METRIC, DIN = "B92.1", "B92.2M", "DIN 5480"


def _family(standard: str) -> str:
    """The family of standards that a spline's standard belongs to; the metric one where its name does not tell."""
    name = standard.casefold()
    if "5480" in name:
        return DIN
    return INCH if "b92.1" in name or "j498" in name or "inch" in name else METRIC


def _room_by_design(hub: Any, shaft: Any) -> float:
    """Room that the hub's root has above the shaft's tip by design, on the diameter."""
    name, teeth = hub.standard.casefold(), int(shaft.teeth)
    most = LARGEST_ROOM * splines.module_of_shaft(shaft.outer_diameter, teeth) + SPLINE_ROUNDING
    if "straight" in name or hub.outer_diameter - shaft.outer_diameter > most or hub.fit == "major-diameter":
        return 0.0
    angle = next((float(a) for a in ANGLES if a in name.replace("5480", "").replace(",", ".")), 30.0)
    # Only 30 degrees has a flat root; B92.2M has the other angles as B92.1 has them.
    root = hub.root if angle == 30.0 else "fillet"
    family = _family(hub.standard) if angle == 30.0 else INCH
    return splines.side_fit_room(shaft.outer_diameter, teeth, family, angle, root)


def _same_standard(hub: Any, shaft: Any) -> Verdict:
    alike, on = name_of_pattern(hub.standard) == name_of_pattern(shaft.standard), f"{path_of(hub)}.standard"
    says = f"'{hub.standard}' at {path_of(hub)} {'goes' if alike else 'does not go'} into '{shaft.standard}' at "
    return holds(alike, f"{says}{path_of(shaft)}.", on=on, advice=advice(on, shaft.standard))
