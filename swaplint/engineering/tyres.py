"""Tyres: what the sidewall says, what it carries, how fast it may run and how far it rolls.

Sources: size designations and their marks as in ISO 4000-1, UN Regulations 30 and 54 and the common inch
systems; load index and speed symbol lists as in the annexes of those regulations (list read in public
copies, not in the documents). Sizes on a sidewall are nominal: worn, wide-rim and off-road tyres differ by
1 to 3 %, and a measured rolling circumference beats every formula here. Rim, load and speed ratings beyond
the tyre itself are not covered. An overloaded or overrun tyre fails at speed: the marking on the tyre and
its maker's data come first.
"""

from __future__ import annotations

import math
import re
from typing import Final, Literal, NamedTuple

from swaplint.engineering.guards import ImpossibleInput, OutsideRange, not_negative, positive

Construction = Literal["radial", "diagonal", "bias-belted"]

INCH: Final = 0.0254

RADIAL_CIRCUMFERENCE_FACTOR: Final = 3.05
"""Rolling circumference at 60 km/h over overall diameter for radial tyres (ETRTO, from memory)."""

PRESSURE_EXPONENT: Final = 0.8
"""Load capacity over inflation pressure (ETRTO, from memory)."""

# kg, load index 60 first.
_LOAD_CAPACITY: Final = (
    *(250, 257, 265, 272, 280, 290, 300, 307, 315, 325),  # 60
    *(335, 345, 355, 365, 375, 387, 400, 412, 425, 437),  # 70
    *(450, 462, 475, 487, 500, 515, 530, 545, 560, 580),  # 80
    *(600, 615, 630, 650, 670, 690, 710, 730, 750, 775),  # 90
    *(800, 825, 850, 875, 900, 925, 950, 975, 1000, 1030),  # 100
    *(1060, 1090, 1120, 1150, 1180, 1215, 1250, 1285, 1320, 1360),  # 110
    *(1400, 1450, 1500, 1550, 1600, 1650, 1700, 1750, 1800, 1850),  # 120
    *(1900, 1950, 2000, 2060, 2120, 2180, 2240, 2300, 2360, 2430),  # 130
    *(2500, 2575, 2650, 2725, 2800, 2900, 3000, 3075, 3150, 3250),  # 140
    *(3350, 3450, 3550, 3650, 3750, 3875, 4000, 4125, 4250, 4375),  # 150
    *(4500, 4625, 4750, 4875, 5000, 5150, 5300, 5450, 5600, 5800),  # 160
    *(6000, 6150, 6300, 6500, 6700, 6900, 7100, 7300, 7500, 7750),  # 170
    8000,  # 180
)
_FIRST_INDEX: Final = 60
_LAST_INDEX: Final = _FIRST_INDEX + len(_LOAD_CAPACITY) - 1

# km/h, slowest first; H stands between U and V.
_SPEED_SYMBOLS: Final = {
    **{"A1": 5, "A2": 10, "A3": 15, "A4": 20, "A5": 25, "A6": 30, "A7": 35, "A8": 40, "B": 50, "C": 60},
    **{"D": 65, "E": 70, "F": 80, "G": 90, "J": 100, "K": 110, "L": 120, "M": 130, "N": 140, "P": 150},
    **{"Q": 160, "R": 170, "S": 180, "T": 190, "U": 200, "H": 210, "V": 240, "W": 270, "Y": 300},
}

_BUILD: Final[dict[str, Construction]] = {
    "R": "radial",
    "ZR": "radial",
    "D": "diagonal",
    "-": "diagonal",
    "B": "bias-belted",
}

_TAIL = r"\s*(?P<build>ZR|R|D|B|-)\s*(?P<rim>\d{1,2}(?:\.5)?)(?![\d.])(?P<rest>.*)"
_METRIC = re.compile(r"(?P<class>P|LT|ST|T)?\s*(?P<section>\d{3})\s*/\s*(?P<aspect>\d{2,3})" + _TAIL)
_FLOTATION = re.compile(r"(?P<overall>\d{2}(?:\.\d+)?)\s*[X×]\s*(?P<section>\d{1,2}(?:\.\d+)?)" + _TAIL)
_NO_ASPECT = re.compile(r"(?P<section>\d{1,2}(?:\.\d+)?|\d{3})" + _TAIL)
_SERVICE = re.compile(r"(?P<single>\d{2,3})(?:/(?P<dual>\d{2,3}))?(?P<speed>A[1-8]|[B-HJ-NP-WY])?")
_SPLIT_SERVICE = re.compile(r"(?<![\d/])(\d{2,3}(?:/\d{2,3})?)\s+(A[1-8]|[B-HJ-NP-WY])$")
_LOAD_RANGE = re.compile(r"/?([A-HJ-N])|(\d{1,2}PR)")
_WITHOUT_SIZE: Final = {"XL", "TL", "TT", "M+S", "LT", "C"}


class Designation(NamedTuple):
    """What a sidewall designation states, in SI units; None where it does not state it.

    `overall_diameter`, `section_width` and `rim_diameter` are nominal, in m. `aspect` is section height
    over section width. `load_index_dual` applies to twin tyres. `load_range` is the letter or ply rating as
    marked.
    """

    text: str
    construction: Construction
    section_width: float
    aspect: float | None
    rim_diameter: float
    overall_diameter: float | None
    load_index_single: int | None = None
    load_index_dual: int | None = None
    speed_symbol: str | None = None
    load_range: str | None = None

    @property
    def in_inches(self) -> bool:
        """Whether the width of the section is given in inches, as in 7.50R16."""
        return re.match(r"[A-Z]*\d{3}(?![.\d])", self.text.strip().upper()) is None


def read_designation(text: str) -> Designation:
    """Read a sidewall designation; spaces and small letters do not matter.

    Understood are ISO metric (`265/75R16`, `LT265/75R16 123/120R`, `235/75 R15 105S`, `225/70R19.5`), inch
    flotation (`31x10.50R15`, `37x12.5R16.5LT`) and the older sizes without an aspect ratio (`7.50R16`,
    `195R14C`, `11R22.5`), whose overall diameter is None because the designation does not state it. R and ZR
    mean radial, D or a dash diagonal, B bias-belted.

    Overall diameter is rim + 2·width·aspect with the rim at 25.4 mm an inch; UN Regulations 30 and 54 round
    the rim and the section height to whole millimetres first, which differs by up to 1 mm.

    `ImpossibleInput` for anything that cannot be read or that contradicts itself.

    >>> tyre = read_designation("LT265/75R16 123/120R")
    >>> round(tyre.overall_diameter, 4), tyre.load_index_dual, tyre.speed_symbol
    (0.8039, 120, 'R')
    """
    plain = text.strip().upper()
    if size := _METRIC.fullmatch(plain):
        section = float(size["section"]) / 1000.0
        aspect = float(size["aspect"]) / 100.0
        rim = float(size["rim"]) * INCH
        if not 0.2 <= aspect <= 1.2:
            raise ImpossibleInput(f"{text!r} states an aspect ratio of {100.0 * aspect:.0f} %: is it mistyped?")
        return _with_service(text, size, section, aspect, rim, rim + 2.0 * section * aspect)
    if size := _FLOTATION.fullmatch(plain):
        section, rim = float(size["section"]) * INCH, float(size["rim"]) * INCH
        overall = float(size["overall"]) * INCH
        if not overall > rim:
            raise ImpossibleInput(f"{text!r} states a tyre that is not larger than its rim")
        return _with_service(text, size, section, None, rim, overall)
    if size := _NO_ASPECT.fullmatch(plain):
        unit = 0.001 if len(size["section"]) == 3 and "." not in size["section"] else INCH
        return _with_service(text, size, float(size["section"]) * unit, None, float(size["rim"]) * INCH, None)
    raise ImpossibleInput(
        f"{text!r} is not a tyre designation known here; write it as on the sidewall, "
        "for example 265/75R16, 31x10.50R15 or 7.50R16"
    )


def _with_service(
    text: str,
    size: re.Match[str],
    section: float,
    aspect: float | None,
    rim: float,
    overall: float | None,
) -> Designation:
    """Read the marks behind the size: load range, load indices, speed symbol."""
    if not (section > 0.0 and rim > 0.0):
        raise ImpossibleInput(f"{text!r} states a width or a rim of zero")
    single = dual = speed = load_range = None
    for mark in _SPLIT_SERVICE.sub(r"\1\2", size["rest"].strip()).split():
        if mark in _WITHOUT_SIZE:
            continue
        if single is None and (service := _SERVICE.fullmatch(mark)):
            single = int(service["single"])
            dual = int(service["dual"]) if service["dual"] else None
            speed = service["speed"]
        elif load_range is None and _LOAD_RANGE.fullmatch(mark):
            load_range = mark.lstrip("/")
        else:
            raise ImpossibleInput(f"{mark!r} in the tyre designation {text!r} is not a mark known here")
    if single is not None and dual is not None and dual > single:
        raise ImpossibleInput(f"{text!r} states more load on twin tyres ({dual}) than on single ones ({single})")
    return Designation(
        text=text,
        construction=_BUILD[size["build"]],
        section_width=section,
        aspect=aspect,
        rim_diameter=rim,
        overall_diameter=overall,
        load_index_single=single,
        load_index_dual=dual,
        speed_symbol=speed,
        load_range=load_range,
    )


def overall_diameter(designation: str) -> float:
    """Return the nominal overall diameter, m, that a sidewall designation states.

    `OutsideRange` if the designation does not state it, `ImpossibleInput` if it cannot be read.

    >>> round(overall_diameter("31x10.50R15"), 4)
    0.7874
    """
    diameter = read_designation(designation).overall_diameter
    if diameter is None:
        raise OutsideRange(
            f"the designation {designation!r} has no aspect ratio, so it does not state an overall diameter: "
            "take it from the tyre's data sheet or measure it"
        )
    return diameter


def rolling_radius(overall_diameter: float, construction: Construction = "radial") -> float:
    """Return the rolling radius, m, of a radial tyre from its overall diameter in m.

    r = 3.05·D/(2·π) = 0.4854·D, the ETRTO rolling circumference at 60 km/h (factor from memory). It is
    neither half the diameter nor the static loaded radius. Expect ±1.5 %; low pressure and heavy load
    shorten it. Diameter above zero, else `ImpossibleInput`. `OutsideRange` for other constructions, which
    deflect differently: measure their rolling circumference.

    >>> round(rolling_radius(0.8039), 4)
    0.3902
    """
    positive("overall diameter", overall_diameter)
    if construction != "radial":
        raise OutsideRange(
            f"no rolling circumference factor is known here for a {construction} tyre: "
            "measure the rolling circumference"
        )
    return rolling_radius_from_circumference(RADIAL_CIRCUMFERENCE_FACTOR * overall_diameter)


def rolling_radius_from_circumference(rolling_circumference: float) -> float:
    """Return the rolling radius, m, from the distance, m, rolled in one turn of the loaded wheel: C/(2·π).

    Roll the laden vehicle, at its working pressure, over several turns and divide. Above zero, else
    `ImpossibleInput`.

    >>> round(rolling_radius_from_circumference(2.45), 4)
    0.3899
    """
    return positive("rolling circumference", rolling_circumference) / math.tau


def load_capacity(load_index: int) -> float:
    """Return the load, kg, that one tyre with a load index from 60 to 180 carries; `OutsideRange` beyond.

    Table value of ISO 4000-1 and the annexes of UN Regulations 30 and 54, at the reference pressure and up
    to the speed of the speed symbol (for V, W and Y tyres the load falls above 210 km/h and more).

    >>> load_capacity(121)
    1450.0
    """
    if not _FIRST_INDEX <= load_index <= _LAST_INDEX:
        raise OutsideRange(
            f"load index {load_index} is outside the table, which runs from {_FIRST_INDEX} to {_LAST_INDEX}"
        )
    return float(_LOAD_CAPACITY[load_index - _FIRST_INDEX])


def share_at_pressure(pressure: float, reference_pressure: float) -> float:
    """Return the share of its load capacity that a tyre keeps at a lower gauge pressure, 1: (p/p_ref)^0.8, at most 1.

    Both in Pa above the atmosphere; `reference_pressure` is that at which the tyre carries its load index. The
    exponent is that of the ETRTO manual (from memory); others in use run from 0.5 for car tyres to 1, and the
    tyre maker's own table comes first. `OutsideRange` below half the reference pressure, where tables end.

    >>> round(share_at_pressure(400e3, 550e3), 4)
    0.7751
    """
    ratio = not_negative("pressure", pressure) / positive("reference pressure", reference_pressure)
    if ratio < 0.5:
        raise OutsideRange(
            f"a pressure of {100.0 * ratio:.0f} % of the reference pressure is below what load tables cover: ask "
            "the tyre maker"
        )
    return float(min(1.0, ratio**PRESSURE_EXPONENT))


def smallest_load_index(load: float) -> int:
    """Return the lowest load index from 60 to 180 whose tyre carries `load`, kg (0 or more).

    `OutsideRange` above the 8000 kg of index 180. The table is used and not its approximation
    45 kg·10^(LI/80), which near some entries gives an index too low.

    >>> smallest_load_index(1460.0)
    122
    """
    not_negative("load", load)
    for index, capacity in enumerate(_LOAD_CAPACITY, start=_FIRST_INDEX):
        if capacity >= load:
            return index
    raise OutsideRange(f"{load:g} kg is more than load index {_LAST_INDEX} carries, where the table ends")


def speed_of_symbol(symbol: str) -> float:
    """Return the highest speed, m/s, for a speed symbol A1 to A8, B to Y; `ImpossibleInput` for any other.

    List of ISO 4000-1 and UN Regulations 30 and 54; H (210 km/h) stands between U and V.

    >>> round(speed_of_symbol("K") * 3.6)
    110
    """
    try:
        return _SPEED_SYMBOLS[symbol.strip().upper()] / 3.6
    except KeyError:
        raise ImpossibleInput(f"{symbol!r} is not a speed symbol; they are A1 to A8 and B to Y") from None


def slowest_speed_symbol(speed: float) -> str:
    """Return the symbol of the slowest class that still allows `speed`, m/s (0 or more).

    `OutsideRange` above the 300 km/h of Y.

    >>> slowest_speed_symbol(100 / 3.6)
    'J'
    """
    not_negative("speed", speed)
    for symbol in _SPEED_SYMBOLS:
        if speed_of_symbol(symbol) >= speed:
            return symbol
    raise OutsideRange(f"{speed * 3.6:g} km/h is more than any speed symbol allows")
