"""Conductors: area, resistance, voltage drop, current rating.

No general current-rating table for road vehicles is published; the small-craft tables are used by analogy,
which is common practice. They hold for stranded copper. A cable sold by an automotive gauge number has up to 11 %
less copper than that AWG size: that is the SAE size of the same number.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from enum import Enum
from typing import Final, NamedTuple

from .conductor_tables import (
    AWG_AMPACITY,
    AWG_ENGINE_SPACE_FACTOR,
    AWG_GAUGES,
    BUNDLE_FACTORS,
    CLASS_5_OHM_PER_KM,
    METRIC_AMPACITY,
    METRIC_ENGINE_SPACE_FACTOR,
    SAE_CIRCULAR_MILS,
)
from .guards import ROUNDING, ImpossibleInput, OutsideRange, not_negative, positive, reaches, within_range

MM2: Final = 1e-6
ZERO_CELSIUS: Final = 273.15
TWENTY_CELSIUS: Final = 293.15

COPPER_RESISTIVITY: Final = 1.0 / 58.0e6
"""Resistivity of annealed copper at 20 °C, Ω·m: 58 MS/m, 100 % IACS (IEC 60028)."""

COPPER_TEMPERATURE_COEFFICIENT: Final = 0.00393
"""Temperature coefficient of resistance of annealed copper, 1/K, referred to 20 °C (IEC 60028, IACS).

IEC 60228 rounds it to 0.004 in its table for referring a measured resistance back to 20 °C. The unrounded
value is used here because the table's purpose is another; at 75 °C the two differ by 0.3 %.
"""

ALUMINIUM_TEMPERATURE_COEFFICIENT: Final = 0.00403
"""Temperature coefficient of electrical aluminium, 1/K, referred to 20 °C (handbook value for 61 % IACS)."""

CLAD_ALUMINIUM_RESISTANCE_RATIO: Final = 1.6
"""Resistance of copper-clad aluminium to that of copper of the same area. Common practice.

ASTM B566 asks for at least 62.9 % IACS at 10 % and 64.4 % IACS at 15 % copper by volume, ratios of 1.59 and
1.55.
"""

STRANDING_RATIO: Final = 1.02
"""Resistance of a stranded AWG conductor to that of a solid one of the same area.

Allowance of 2 % for the lay of the strands (ASTM B8, from memory; the stranded sizes from 6 AWG in NEC
chapter 9 table 8 lie 2 % above the solid value).
"""

JOINT_RESISTANCE: Final = 0.03e-3
"""Resistance of one good crimped, bolted joint, Ω. Common practice; a bad one has many times as much."""

SHORT_TIME_FACTOR: Final = 1.3
SHORT_TIME: Final = 60.0
"""A cable may carry 1.3 times its continuous rating for less than 60 s. Common practice, no source known."""

_SAME_AREA = 0.005
"""Areas within 0.5 % are the same size; the nearest pair of an AWG and a metric size is 3.4 % apart."""


class Material(Enum):
    """What the conductor is made of."""

    COPPER = "copper"
    COPPER_CLAD_ALUMINIUM = "copper-clad aluminium"


class ConductorSize(NamedTuple):
    """One size of a series: its trade name and its area, m² (AWG: of the solid wire)."""

    label: str
    area: float


class Segment(NamedTuple):
    """One length of conductor: area m², length m, temperature K, material."""

    area: float
    length: float
    temperature: float = TWENTY_CELSIUS
    material: Material = Material.COPPER


class Installation(NamedTuple):
    """How a cable lies: insulation rating K, in an engine space or not, loaded conductors in its bundle.

    `bundled` counts the current-carrying conductors that lie together, this one included. `air` is the temperature, K,
    of the air around it, where it is known: without it 30 °C, and 50 °C in an engine space, as the tables have it.
    """

    insulation_temperature: float
    engine_space: bool = False
    bundled: int = 1
    air: float | None = None


def awg_diameter(gauge: int) -> float:
    """Diameter, m, of the solid wire of an AWG number; 1/0 is 0, 2/0 is −1, 4/0 is −3.

    d = 0.127 mm · 92^((36 − n)/39), from 4/0 to 36. Source: ASTM B258.

    >>> round(awg_diameter(10) * 1000, 4)
    2.5882
    """
    within_range("AWG number", gauge, -3, 36, "the gauge is defined from 4/0 to 36")
    return 0.127e-3 * math.pow(92.0, (36 - gauge) / 39)


def awg_area(gauge: int) -> float:
    """Area, m², of the solid wire of an AWG number. Source: ASTM B258.

    2/0 AWG is not 70 mm²:

    >>> round(awg_area(-1) / 1e-6, 2)
    67.43
    """
    return math.pi / 4.0 * awg_diameter(gauge) ** 2


CIRCULAR_MIL: Final = math.pi / 4.0 * (0.001 * 0.0254) ** 2
"""Area, m², of a circle of one thousandth of an inch across."""


def sae_area(gauge: int) -> float:
    """Least copper area, m², of US vehicle cable sold by a gauge number; 1/0 is 0, 2/0 is -1, 4/0 is -3.

    A table: there is no formula. Source: cable sellers' tables of the sizes of SAE J1127 and J1128.

    A number 4 has a tenth less copper than 4 AWG:

    >>> round(sae_area(4) / 1e-6, 2), round(awg_area(4) / 1e-6, 2)
    (18.93, 21.15)
    """
    if gauge not in SAE_CIRCULAR_MILS:
        raise OutsideRange(f"the table of SAE sizes has no {gauge}")
    return SAE_CIRCULAR_MILS[gauge] * CIRCULAR_MIL


def sae_of(area: float) -> int | None:
    """SAE gauge number that has exactly this area, m², or None.

    >>> sae_of(sae_area(4)), sae_of(50e-6)
    (4, None)
    """
    positive("conductor area", area)
    return next((gauge for gauge in SAE_CIRCULAR_MILS if math.isclose(area, sae_area(gauge), rel_tol=ROUNDING)), None)


METRIC_SERIES: Final[tuple[ConductorSize, ...]] = tuple(
    ConductorSize(f"{mm2:g} mm²", mm2 * MM2) for mm2 in CLASS_5_OHM_PER_KM if mm2 <= 150.0
)
"""Metric sizes from 0.5 to 150 mm², smallest first (IEC 60228)."""

AWG_SERIES: Final[tuple[ConductorSize, ...]] = tuple(
    ConductorSize(label, awg_area(gauge)) for label, gauge in AWG_GAUGES.items()
)
"""AWG sizes from 20 to 4/0, smallest first (ASTM B258)."""


def awg_of(area: float) -> int | None:
    """AWG number whose solid area is `area`, m², within 0.5 %, or None; even and odd numbers from 4/0 to 24.

    >>> awg_of(67.4e-6), awg_of(70e-6)
    (-1, None)
    """
    positive("conductor area", area)
    gauge = round(36 - 39 * math.log(math.sqrt(4.0 * area / math.pi) / 0.127e-3, 92.0))
    if -3 <= gauge <= 24 and abs(area / awg_area(gauge) - 1.0) <= _SAME_AREA:
        return gauge
    return None


def solid_resistance_per_metre(area: float) -> float:
    """Resistance, Ω/m, of solid annealed copper of an area, m², at 20 °C: ρ/A. Source: IEC 60028.

    >>> round(solid_resistance_per_metre(awg_area(10)) * 1000, 3)
    3.277
    """
    return COPPER_RESISTIVITY / positive("conductor area", area)


def temperature_factor(temperature: float, material: Material = Material.COPPER) -> float:
    """Resistance at a temperature, K, over resistance at 20 °C: 1 + α(T − 20 °C).

    Holds from −60 to 200 °C. Source: IEC 60028 for copper.

    >>> round(temperature_factor(348.15), 4)
    1.2162
    """
    within_range("conductor temperature", temperature, 213.15, 473.15, "the linear law holds in that range", "°C")
    copper = material is Material.COPPER
    alpha = COPPER_TEMPERATURE_COEFFICIENT if copper else ALUMINIUM_TEMPERATURE_COEFFICIENT
    return 1.0 + alpha * (temperature - TWENTY_CELSIUS)


def resistance_per_metre(
    area: float, temperature: float = TWENTY_CELSIUS, material: Material = Material.COPPER
) -> float:
    """Resistance, Ω/m, of one metre of flexible cable, area m², temperature K.

    A metric size has the class 5 limit of IEC 60228. An area that is an AWG or SAE size has ρ/A with 2 % for
    stranding. Any other area from 0.5 to 240 mm² lies on the straight line, in logarithms, between its
    neighbours in the class 5 table; outside that table `OutsideRange`. Copper-clad aluminium has 1.6 times as much.

    >>> round(resistance_per_metre(70e-6) * 1000, 3)
    0.272
    >>> round(resistance_per_metre(awg_area(-1)) * 1000, 4)
    0.2608
    """
    at_20 = _copper_resistance_per_metre(positive("conductor area", area))
    ratio = 1.0 if material is Material.COPPER else CLAD_ALUMINIUM_RESISTANCE_RATIO
    return at_20 * ratio * temperature_factor(temperature, material)


def _copper_resistance_per_metre(area: float) -> float:
    if sae_of(area) is not None or awg_of(area) is not None:
        return STRANDING_RATIO * solid_resistance_per_metre(area)
    mm2 = area / MM2
    sizes = list(CLASS_5_OHM_PER_KM)
    low, high = sizes[0] * (1.0 - _SAME_AREA), sizes[-1] * (1.0 + _SAME_AREA)
    within_range("conductor area", area, low * MM2, high * MM2, "the table of flexible conductors ends there", "mm²")
    mm2 = min(max(mm2, sizes[0]), sizes[-1])
    thicker = next(size for size in sizes[1:] if mm2 <= size)
    thinner = max(size for size in sizes if size < thicker)
    more, less = CLASS_5_OHM_PER_KM[thinner], CLASS_5_OHM_PER_KM[thicker]
    slope = math.log(less / more) / math.log(thicker / thinner)
    return more * math.pow(mm2 / thinner, slope) / 1000.0


def segment_resistance(segment: Segment) -> float:
    """Resistance, Ω, of one length of conductor.

    >>> round(segment_resistance(Segment(35e-6, 3.4)) * 1000, 3)
    1.884
    """
    per_metre = resistance_per_metre(segment.area, segment.temperature, segment.material)
    return per_metre * not_negative("conductor length", segment.length)


def loop_resistance(
    segments: Sequence[Segment],
    joints: int = 0,
    joint_resistance: float = JOINT_RESISTANCE,
    other: float = 0.0,
) -> float:
    """Resistance, Ω, of conductors in series there and back, their joints, and `other` (switch, frame, fuse).

    Name both ways: a length that returns through a cable is two segments. Range and errors as
    `resistance_per_metre`.

    >>> there_and_back = [Segment(70e-6, 2.4), Segment(70e-6, 0.3), Segment(70e-6, 2.0)]
    >>> round(loop_resistance(there_and_back, joints=8) * 1000, 3)
    1.518
    """
    if joints < 0:
        raise ImpossibleInput(f"number of joints must not be negative, not {joints}")
    in_joints = joints * not_negative("joint resistance", joint_resistance)
    return sum(map(segment_resistance, segments)) + in_joints + not_negative("other resistance", other)


def side_by_side(resistances: Sequence[float]) -> float:
    """Resistance, Ω, of conductors that join the same two points: 1/Σ(1/R). Source: resistances in parallel.

    >>> side_by_side([3.0e-3, 1.5e-3])
    0.001
    """
    return 1.0 / sum(1.0 / positive("resistance", resistance) for resistance in resistances)


def voltage_drop(current: float, resistance: float) -> float:
    """Voltage, V, that a current, A, loses over a loop resistance, Ω: Ohm's law.

    >>> round(voltage_drop(520.0, 1.5e-3), 2)
    0.78
    """
    return not_negative("current", current) * not_negative("resistance", resistance)


def longest_conductor(
    resistance_limit: float,
    area: float,
    other: float = 0.0,
    temperature: float = TWENTY_CELSIUS,
    material: Material = Material.COPPER,
) -> float:
    """Longest total length, m, of a size that keeps a loop within a limit, Ω; 0 if `other` alone exceeds it.

    >>> round(longest_conductor(2.0e-3, 35e-6, other=0.18e-3), 2)
    3.29
    """
    spare = positive("resistance limit", resistance_limit) - not_negative("other resistance", other)
    return max(spare, 0.0) / resistance_per_metre(area, temperature, material)


def ampacity(area: float, installation: Installation, material: Material = Material.COPPER) -> float:
    """Continuous current, A, that a cable of an area, m², may carry where it lies.

    Table value × engine-space factor × bundle factor, not rounded. An area that is an AWG size is read from
    the AWG table (33 CFR 183.425 table 5, 18 AWG to 4/0), any other from the metric one (ISO 10133, from
    memory; 1 to 120 mm², at 70 °C to 70 mm²). An area between entries takes the next smaller entry, and so
    does an insulation rating. Below the first entry: `OutsideRange`; 0.5 % or more above the last too.
    An SAE size has the rating of the AWG size of its number times the areas' ratio: the same current for each mm².
    Neither table holds for copper-clad aluminium: `OutsideRange`.

    >>> ampacity(awg_area(-1), Installation(378.15))
    330.0
    >>> round(ampacity(25e-6, Installation(378.15, engine_space=True, bundled=3)), 2)
    101.15
    >>> round(ampacity(sae_area(4), Installation(378.15)))
    143
    """
    if material is not Material.COPPER:
        raise OutsideRange("the current-rating tables hold for copper, not for copper-clad aluminium")
    vehicle_gauge = sae_of(area)
    if vehicle_gauge is not None:
        solid = awg_area(vehicle_gauge)
        return ampacity(solid, installation, material) * area / solid
    gauge = awg_of(area)
    if gauge is not None:
        awg_class = _insulation_class(installation, AWG_AMPACITY)
        sizes = {awg_area(g): amps for g, amps in AWG_AMPACITY[awg_class].items()}
        hot, insulation = AWG_ENGINE_SPACE_FACTOR[awg_class], float(awg_class)
    else:
        metric_class = _insulation_class(installation, METRIC_AMPACITY)
        sizes = {mm2 * MM2: amps for mm2, amps in METRIC_AMPACITY[metric_class].items()}
        hot, insulation = METRIC_ENGINE_SPACE_FACTOR[metric_class], float(metric_class)
    smallest, largest = min(sizes), max(sizes)
    if not smallest * (1.0 - _SAME_AREA) <= area <= largest * (1.0 + _SAME_AREA):
        raise OutsideRange(
            f"conductor area {area / MM2:g} mm² is outside the current-rating table, "
            f"{smallest / MM2:g} to {largest / MM2:g} mm²"
        )
    entry = max(a for a in sizes if a <= area * (1.0 + _SAME_AREA))
    return sizes[entry] * air_factor(installation, insulation, hot) * bundle_factor(installation.bundled)


TABLE_AIR: Final = 30.0
ENGINE_SPACE_AIR: Final = 50.0
"""Air, °C, that the tables hold for, and that their factors for an engine space hold for."""


def air_factor(installation: Installation, insulation: float, engine_space: float) -> float:
    """Factor on a rating of the tables for the air around a cable; 0 where it is as hot as the insulation may be.

    `insulation` is the class of the table, °C, and `engine_space` its factor at 50 °C. What a conductor may heat up by
    goes with the square of the current: √((T − air)/(T − 50 °C)) times that factor in an engine space, else
    √((T − air)/(T − 30 °C)), never more than 1. Source: heat balance of a conductor.

    >>> round(air_factor(Installation(378.15, engine_space=True, air=353.15), 105.0, 0.85), 3)
    0.573
    >>> air_factor(Installation(378.15, engine_space=True), 105.0, 0.85), air_factor(Installation(378.15), 105.0, 0.85)
    (0.85, 1.0)
    """
    if installation.air is None:
        return engine_space if installation.engine_space else 1.0
    air = positive("air temperature", installation.air) - ZERO_CELSIUS
    base, at = (engine_space, ENGINE_SPACE_AIR) if installation.engine_space else (1.0, TABLE_AIR)
    return min(1.0, base * math.sqrt(max(0.0, insulation - air) / (insulation - at)))


def ampacity_at_most(area: float, installation: Installation) -> float:
    """What no cable of an area, m², carries more than, A, whatever it is made of and however thin.

    The rating of the next copper gauge that is no thinner, where it lies: 33 CFR 183.425 table 5. Above 4/0
    `OutsideRange`. For cables that the tables do not know.

    >>> ampacity_at_most(0.5e-6, Installation(378.15))
    20.0
    """
    thicker = [awg_area(gauge) for gauge in AWG_AMPACITY[60] if awg_area(gauge) >= area * (1.0 - _SAME_AREA)]
    if not thicker:
        raise OutsideRange(f"conductor area {area / MM2:g} mm² is above the largest of the table of gauges")
    return ampacity(min(thicker), installation)


def ampacity_between_gauges(area: float, installation: Installation, material: Material = Material.COPPER) -> float:
    """Continuous current, A, by the published table of gauges for a cable of any area, m², where it lies.

    Between two gauges the current goes with a power of the area, so that both are met; the column is that of the
    insulation rating or the next above. Times the same factors as in `ampacity`. 33 CFR 183.425 table 5, 18 AWG to 4/0;
    outside: `OutsideRange`. It is up to an eighth more than the metric table has for the size: that one is on the
    safe side.

    >>> round(ampacity_between_gauges(4e-6, Installation(378.15)), 1)
    50.6
    >>> ampacity_between_gauges(awg_area(-1), Installation(378.15))
    330.0
    """
    if material is not Material.COPPER:
        raise OutsideRange("the current-rating tables hold for copper, not for copper-clad aluminium")
    celsius = positive("insulation temperature", installation.insulation_temperature) - ZERO_CELSIUS
    insulation = min((rating for rating in AWG_AMPACITY if reaches(rating, celsius)), default=max(AWG_AMPACITY))
    column = AWG_AMPACITY[insulation]
    factor = air_factor(installation, float(insulation), AWG_ENGINE_SPACE_FACTOR[insulation])
    factor *= bundle_factor(installation.bundled)
    gauge = awg_of(area)
    if gauge in column:
        return column[gauge] * factor
    sizes = sorted((awg_area(gauge), amps) for gauge, amps in column.items())
    for (thinner, less), (thicker, more) in itertools.pairwise(sizes):
        if thinner < area < thicker:
            power = math.log(more / less) / math.log(thicker / thinner)
            return less * math.exp(power * math.log(area / thinner)) * factor
    smallest, largest = sizes[0][0], sizes[-1][0]
    raise OutsideRange(
        f"conductor area {area / MM2:g} mm² is outside the table of gauges, {smallest / MM2:.3g} to "
        f"{largest / MM2:.4g} mm²"
    )


def _insulation_class(installation: Installation, table: Mapping[int, object]) -> int:
    celsius = positive("insulation temperature", installation.insulation_temperature) - ZERO_CELSIUS
    classes = [rating for rating in table if reaches(celsius, rating)]
    if not classes:
        raise OutsideRange(f"insulation rated {celsius:.0f} °C is below the lowest class of the table, {min(table)} °C")
    return max(classes)


def bundle_factor(conductors: int) -> float:
    """Factor on the current rating when loaded conductors lie together, this one included.

    1 or 2: 1.0, 3: 0.7, 4 to 6: 0.6, 7 to 24: 0.5, from 25: 0.4. Source: boat-cable tables to ABYC E-11.

    >>> bundle_factor(2), bundle_factor(6)
    (1.0, 0.6)
    """
    if conductors < 1:
        raise ImpossibleInput(f"a bundle has at least one conductor, not {conductors}")
    return next(factor for fewest, factor in reversed(BUNDLE_FACTORS) if conductors >= fewest)


def short_time_ampacity(continuous: float, duration: float) -> float:
    """Short-time current rating, A: 1.3 × the continuous rating, A, for a time under 60 s, else that rating.

    Common practice for intake-heater cables; the cable must have cooled before it is loaded again.

    >>> short_time_ampacity(100.0, 30.0), short_time_ampacity(100.0, 60.0)
    (130.0, 100.0)
    """
    positive("duration", duration)
    return positive("current rating", continuous) * (SHORT_TIME_FACTOR if duration < SHORT_TIME else 1.0)


def smallest_size(
    series: Sequence[ConductorSize],
    *,
    length: float,
    resistance_limit: float = math.inf,
    other: float = 0.0,
    temperature: float = TWENTY_CELSIUS,
    material: Material = Material.COPPER,
    current: float = 0.0,
    installation: Installation | None = None,
) -> ConductorSize | None:
    """First size of a series, smallest first, that passes what is asked of it, or None.

    Resistance: a total conductor length, m, plus `other`, Ω, stays within `resistance_limit`, Ω (a
    voltage-drop limit is that limit divided by the current). Current rating: carries `current`, A, as
    `installation` says; without an installation it is not asked. A size outside the current-rating table does
    not pass.

    >>> size = smallest_size(METRIC_SERIES, length=4.25, resistance_limit=2.0e-3, other=0.18e-3)
    >>> size.label if size else None
    '50 mm²'
    """
    positive("length", length)
    not_negative("other resistance", other)
    not_negative("current", current)

    def passes(size: ConductorSize) -> bool:
        loop = resistance_per_metre(size.area, temperature, material) * length + other
        if loop > resistance_limit:
            return False
        if installation is None:
            return True
        try:
            return ampacity(size.area, installation, material) >= current
        except OutsideRange:
            return False

    return next((size for size in series if passes(size)), None)
