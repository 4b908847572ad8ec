"""SAE flywheel housings (J617) and flywheels (J620): sizes by number, and whether two flanges mate.

Lengths in m. The tables hold what public extracts of the standards show; read the standard itself before
metal is cut. An "M" after a housing number (2M) means metric threads in the same bolt pattern. Matching
dimensions say nothing about dowels, starter pocket, depth or strength.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, NamedTuple

from swaplint.engineering.guards import ImpossibleInput, OutsideRange, finite, positive

_J617_PAGE: Final = "SAE J617-2020 by way of a secondary page, and an inch table that agrees; looked up"
_J617_INCH: Final = "SAE J617 by way of a public inch table; looked up, second source for the bore only"
_J617_ONE: Final = "SAE J617 by way of one public inch table; looked up"
_J620: Final = "SAE J620d by way of a public extract with unlabelled columns; looked up, columns by recognition"

INCH: Final = 0.0254
"""One inch in m, exact (ISO 80000-3)."""


@dataclass(frozen=True, slots=True)
class Flange:
    """A bolted, piloted joint face: pilot diameter and bolt circle in m, number of holes."""

    pilot: float
    bolt_circle: float
    holes: int

    def __post_init__(self) -> None:
        positive("pilot", self.pilot)
        positive("bolt_circle", self.bolt_circle)
        if self.holes < 1:
            raise ImpossibleInput(f"a flange has at least one hole, not {self.holes}")


class HousingSize(NamedTuple):
    """One size of flywheel housing: flange, largest runout of bore and face in m if known, source."""

    number: str
    flange: Flange
    runout: float | None
    source: str


class FlywheelSize(NamedTuple):
    """One size of flywheel.

    `flange.pilot` is the recess that centres the clutch or drive plate; `face_depth` is the distance from
    housing face to the flywheel's mounting face, m (the meaning of that column is from memory).
    """

    size: str
    flange: Flange
    face_depth: float
    source: str


def _housing(number: str, pilot: float, circle: float, holes: int, runout: float | None, source: str) -> HousingSize:
    return HousingSize(number, Flange(pilot * INCH, circle * INCH, holes), runout, source)


# Inches, as the standard prints them. Runout is known for the two ends of the range only.
HOUSINGS: Final[Mapping[str, HousingSize]] = {
    size.number: size
    for size in (
        _housing("6", 10.500, 11.250, 8, 0.00018, _J617_PAGE),
        _housing("5", 12.375, 13.125, 8, None, _J617_ONE),
        _housing("4", 14.250, 15.000, 12, None, _J617_PAGE),
        _housing("3", 16.125, 16.875, 12, None, _J617_INCH),
        _housing("2", 17.625, 18.375, 12, None, _J617_PAGE),
        _housing("1", 20.125, 20.875, 12, None, _J617_PAGE),
        _housing("1/2", 23.000, 24.375, 12, None, _J617_INCH),
        _housing("0", 25.500, 26.750, 16, None, _J617_PAGE),
        _housing("00", 31.000, 33.500, 16, 0.00048, _J617_PAGE),
    )
}

FLYWHEELS: Final[Mapping[str, FlywheelSize]] = {
    size: FlywheelSize(size, Flange(pilot * INCH, circle * INCH, holes), depth / 1000.0, _J620)
    for size, pilot, circle, holes, depth in (
        ("6.5", 8.500, 7.875, 6, 30.2),
        ("7.5", 9.500, 8.750, 8, 30.2),
        ("8", 10.375, 9.625, 6, 62.0),
        ("10", 12.375, 11.625, 8, 53.8),
        ("11.5", 13.875, 13.125, 8, 39.6),
        ("14", 18.375, 17.250, 8, 25.4),
        ("16", 20.375, 19.250, 8, 15.7),
        ("18", 22.500, 21.375, 6, 15.7),
    )
}


def housing(number: str) -> HousingSize:
    """Return the housing of a number such as "3", "SAE 3", "3M" or "1/2". Raises OutsideRange if unknown.

    >>> round(housing("SAE 3").flange.pilot * 1000, 3)
    409.575
    """
    key = number.upper().removeprefix("SAE").strip().removeprefix("NO.").strip().removesuffix("M").strip()
    if key not in HOUSINGS:
        raise OutsideRange(f"no flywheel housing size {number!r}; known are {', '.join(HOUSINGS)}")
    return HOUSINGS[key]


def flywheel(size: str) -> FlywheelSize:
    """Return the flywheel of a size such as "11.5", "SAE 11 1/2" or "11 1/2". Raises OutsideRange if unknown.

    >>> round(flywheel("SAE 11 1/2").flange.bolt_circle * 1000, 2)
    333.38
    """
    key = size.upper().removeprefix("SAE").strip().replace("-", " ").replace(" 1/2", ".5")
    if key not in FLYWHEELS:
        raise OutsideRange(f"no flywheel size {size!r}; known are {', '.join(FLYWHEELS)}")
    return FLYWHEELS[key]


def named_flange(name: str) -> tuple[str, Flange] | None:
    """Return the plain name and the flange of an SAE housing or flywheel size, or None for any other name.

    Housing sizes are tried first; no number belongs to both lists. The name comes without "No." and without the
    M of metric threads, so that two ways of writing one size compare equal.

    >>> named_flange("SAE No. 3M")[0], named_flange("sae 11-1/2")[0], named_flange("bell A")
    ('SAE 3', 'SAE 11.5', None)
    """
    if not name.strip().upper().startswith("SAE"):
        return None
    try:
        size = housing(name)
    except OutsideRange:
        try:
            plate = flywheel(name)
        except OutsideRange:
            return None
        return f"SAE {plate.size}", plate.flange
    return f"SAE {size.number}", size.flange


MIN_PILOT_CLEARANCE: Final = 0.00002
"""Least play of spigot in bore, m (common practice)."""

MAX_PILOT_CLEARANCE: Final = 0.00015
"""Greatest play at which the spigot still centres, m (common practice)."""

BOLT_CIRCLE_TOLERANCE: Final = 0.0003
"""Greatest difference of bolt circles that ordinary clearance holes take up, m (common practice)."""


class FlangeMatch(NamedTuple):
    """How two flanges differ: play of the spigot and difference of bolt circles in m, count of holes."""

    pilot_clearance: float
    bolt_circle_difference: float
    same_holes: bool

    @property
    def enters(self) -> bool:
        """Whether the spigot goes into the bore with at least MIN_PILOT_CLEARANCE."""
        return self.pilot_clearance >= MIN_PILOT_CLEARANCE

    @property
    def centres(self) -> bool:
        """Whether it goes in and its play is no more than MAX_PILOT_CLEARANCE."""
        return self.enters and self.pilot_clearance <= MAX_PILOT_CLEARANCE

    @property
    def bolts_up(self) -> bool:
        """Whether the holes meet: same count, bolt circles within BOLT_CIRCLE_TOLERANCE, even spacing."""
        return self.same_holes and abs(self.bolt_circle_difference) <= BOLT_CIRCLE_TOLERANCE

    @property
    def fits(self) -> bool:
        """Whether the joint both centres and bolts up."""
        return self.centres and self.bolts_up


def match_flanges(bore: Flange, spigot: Flange) -> FlangeMatch:
    """Compare the flange with the bore and the flange with the spigot as measured or drawn.

    Use real sizes, not two nominal ones: equal nominals leave no play and do not centre.

    >>> match_flanges(Flange(0.40958, 0.42863, 12), Flange(0.40950, 0.42863, 12)).fits
    True
    >>> match_flanges(housing("3").flange, housing("4").flange).fits
    False
    """
    return FlangeMatch(
        stack_gap(bore.pilot, -spigot.pilot),
        stack_gap(bore.bolt_circle, -spigot.bolt_circle),
        bore.holes == spigot.holes,
    )


def stack_gap(*parts: float) -> float:
    """Return the sum of signed distances along the crank axis, m: what a stack of depths leaves.

    A pilot engagement is `stack_gap(input_shaft_length, -bell_depth, -adapter, -face_to_pilot)`; a
    converter's pull-forward gap is `stack_gap(bell_depth, adapter, -flex_plate_depth,
    -seated_converter_height)`. To a millionth of a millimetre: what is less is left over from the arithmetic.

    >>> stack_gap(0.250, -0.190, -0.022, -0.020)
    0.018
    """
    return round(sum(finite("distance", part) for part in parts), 9)
