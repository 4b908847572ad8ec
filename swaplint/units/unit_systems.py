"""Inch-pound units: for each kind of value and metric unit that a number is shown in, what a workshop shows instead.

A pair stands in exactly one of two places: in `SAME` if both systems show it alike (volts, seconds, r/min), else in
`INCH_POUND`. Where the trade uses several units for one kind (a restriction of the intake is read off a water gauge, a
vacuum off a mercury gauge, a coolant pressure in psi), the path of the field or quantity decides, or the rule.

The factors are those of `table.py`. Which unit the trade uses for what, and the inch names of hoses and tubes that are
made in millimetres, are common practice of North American workshops, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

from swaplint.units import awg
from swaplint.units.kinds import KINDS
from swaplint.units.reading import from_unit, label_of, number_figures, read, show, to_unit, unit_factor


class Instead(NamedTuple):
    """The unit that is shown instead of a metric one."""

    unit: str
    decimals: int = 9
    """The most decimals that are worth showing; below zero, the tens or hundreds that are."""
    label: str = ""
    """What stands behind the number, where that is not the unit as it is read."""
    fractions: bool = False
    """Whether a value that is a usual fraction of an inch is shown as one."""
    readable: bool = True
    """Whether a field of the kind takes a value in this unit, as it is shown."""


Pair = tuple[str, str]

_PSI, _PSIA = Instead("psi"), Instead("psia")
_WATER, _MERCURY = Instead("inH2O"), Instead("inHg")
_HEAT, _HP = Instead("Btu/h", -1), Instead("hp")
_IN, _FT, _MI = Instead("in", 4, fractions=True), Instead("ft"), Instead("mi")
_GPM, _GPH, _CFM = Instead("US gpm"), Instead("US gph"), Instead("cfm")
_GAL, _QT, _CUIN = Instead("US gal"), Instead("US qt"), Instead("in3")
_LB, _LBF, _LB_FT = Instead("lb"), Instead("lbf"), Instead("lb-ft")
_IN2, _FT2 = Instead("in2"), Instead("ft2")
_DENSITY, _PER_LB = Instead("lb/ft3"), Instead("Btu/(lb degF)")
_STIFF, _TURN = Instead("lb/in"), Instead("lb-ft/deg")
_MASS_FLOW, _FT_S = Instead("lb/min"), Instead("ft/s")
_KSI = Instead("ksi")
_FILM = Instead("Btu/(h ft2 degF)")
_PER_DEGREE = Instead("Btu/(h degF)")

INCH_POUND: Mapping[Pair, Instead] = MappingProxyType({
    # mechanics
    ("mass", "kg"): _LB, ("mass", "t"): _LB, ("mass", "g"): Instead("oz"),
    ("length", "mm"): _IN, ("length", "cm"): _IN, ("length", "m"): _FT, ("length", "km"): _MI,
    ("area", "mm2"): _IN2, ("area", "cm2"): _IN2, ("area", "m2"): _FT2,
    ("volume", "L"): _QT, ("volume", "mL"): Instead("US fl oz"), ("volume", "cc"): _CUIN, ("volume", "m3"): _GAL,
    ("second_moment_of_area", "mm4"): Instead("in4"), ("second_moment_of_area", "cm4"): Instead("in4"),
    ("speed", "km/h"): Instead("mph"), ("speed", "m/s"): _FT_S,
    ("acceleration", "m/s2"): Instead("ft/s2"),
    ("force", "N"): _LBF, ("force", "kN"): _LBF, ("force", "kgf"): _LBF,
    ("torque", "N m"): _LB_FT, ("torque", "kN m"): _LB_FT, ("torque", "kgf m"): _LB_FT,
    ("energy", "J"): Instead("ft lb", label="ft-lb"), ("energy", "kJ"): Instead("Btu"),
    ("energy", "kcal"): Instead("Btu"),
    ("power", "kW"): _HP, ("power", "PS"): _HP,
    ("specific_power", "kW/t"): Instead("hp/short ton"), ("specific_power", "W/kg"): Instead("hp/short ton"),
    ("specific_power", "PS/t"): Instead("hp/short ton"),
    ("stiffness", "N/mm"): _STIFF, ("stiffness", "kN/m"): _STIFF, ("stiffness", "kgf/mm"): _STIFF,
    ("rotational_stiffness", "N m/deg"): _TURN, ("rotational_stiffness", "N m/rad"): Instead("lb-ft/rad"),
    ("rotational_stiffness", "kN m/rad"): Instead("lb-ft/rad"),
    ("damping", "N s/m"): Instead("lb s/ft"), ("damping", "N s/mm"): Instead("lb s/in"),
    ("inertia", "kg m2"): Instead("lb ft2"), ("inertia", "kg cm2"): Instead("lb in2"),
    ("mass_per_length", "kg/m"): Instead("lb/ft"), ("mass_per_length", "g/m"): Instead("lb/ft"),
    ("distance_consumption", "L/100 km"): Instead("US gal/100 mi"),
    ("distance_consumption", "L/km"): Instead("US gal/mi"),
    ("displacement_per_turn", "cm3/rev"): Instead("in3/rev"),
    ("displacement_per_turn", "cc/rev"): Instead("in3/rev"),
    ("displacement_per_turn", "L/rev"): Instead("in3/rev"),
    # pressure
    ("pressure", "kPa"): _PSIA, ("pressure", "bar"): _PSIA, ("pressure", "mbar"): _PSIA,
    ("gauge_pressure", "kPa"): _PSI, ("gauge_pressure", "MPa"): _PSI, ("gauge_pressure", "bar"): _PSI,
    ("gauge_pressure", "mbar"): _WATER,
    ("pressure_difference", "kPa"): _PSI, ("pressure_difference", "Pa"): _WATER,
    ("pressure_difference", "mbar"): _WATER,
    ("pressure_gradient", "kPa/m"): Instead("psi/ft"), ("pressure_gradient", "Pa/m"): Instead("psi/ft"),
    ("stress", "MPa"): _KSI, ("stress", "N/mm2"): _KSI, ("stress", "GPa"): _KSI,
    # heat
    ("temperature", "degC"): Instead("degF", 1), ("temperature", "K"): Instead("degF", 1),
    # a step between two temperatures: one degree Fahrenheit is one degree Rankine
    ("temperature_difference", "K"): Instead("degR", label="°F", readable=False),
    ("power_per_temperature", "kW/K"): _PER_DEGREE, ("power_per_temperature", "W/K"): _PER_DEGREE,
    ("heat_transfer_coefficient", "W/(m2 K)"): _FILM, ("heat_transfer_coefficient", "kW/(m2 K)"): _FILM,
    ("thermal_conductivity", "W/(m K)"): Instead("Btu/(h ft degF)"),
    ("specific_heat", "kJ/(kg K)"): _PER_LB, ("specific_heat", "J/(kg K)"): _PER_LB,
    ("specific_energy", "MJ/kg"): Instead("Btu/lb"), ("specific_energy", "kJ/kg"): Instead("Btu/lb"),
    ("thermal_expansion", "1/K"): Instead("1/degF"), ("thermal_expansion", "%/K"): Instead("%/degF"),
    # flow
    ("mass_flow", "kg/s"): _MASS_FLOW, ("mass_flow", "g/s"): _MASS_FLOW, ("mass_flow", "kg/h"): Instead("lb/h"),
    ("volume_flow", "L/min"): _GPM, ("volume_flow", "L/h"): _GPH, ("volume_flow", "m3/h"): _CFM,
    ("volume_flow", "m3/s"): _CFM,
    ("density", "kg/m3"): _DENSITY, ("density", "kg/L"): _DENSITY, ("density", "g/cm3"): _DENSITY,
    ("density", "g/m3"): Instead("g/ft3"),
    ("specific_fuel_consumption", "g/kWh"): Instead("lb/hp h"),
    ("specific_fuel_consumption", "kg/kWh"): Instead("lb/hp h"),
    # electrics
    ("resistance_per_length", "mohm/m"): Instead("ohm/1000 ft"),
    ("resistance_per_length", "ohm/km"): Instead("ohm/1000 ft"),
    ("capacitance_per_length", "pF/m"): Instead("pF/ft"),
})  # fmt: skip
"""The inch-pound unit of each pair that has one."""

_SAME_KINDS = {
    "time", "duration", "rotation", "angular_acceleration", "angle", "share", "grade", "kinematic_viscosity",
    "dynamic_viscosity", "current", "current_density", "voltage", "resistance", "charge", "capacitance", "inductance",
    "bit_rate", "frequency", "sound_level", "sound_difference",
    "conductor",  # in mm², with the wire gauge beside it
}  # fmt: skip

_MICRONS = ("length", "µm")  # the fineness of a filter
_WATTS = ("power", "W")  # electrical heaters and converters
_KWH = {("energy", "kWh"), ("specific_energy", "kWh/kg")}
SAME: frozenset[Pair] = frozenset({_MICRONS, _WATTS, *_KWH})
"""Pairs that a workshop of either kind shows alike, besides all those of the kinds that have no inch-pound unit."""


def is_same(kind: str, unit: str) -> bool:
    """Whether both systems show a pair alike: it has no inch-pound unit, or is in one already."""
    return kind in _SAME_KINDS or (kind, unit) in SAME or unit in _OWN.get(kind, ())


_OWN: Mapping[str, frozenset[str]] = MappingProxyType({
    "mass": frozenset(["lb", "oz"]), "length": frozenset(["in", "ft"]), "area": frozenset(["in2", "ft2"]),
    "volume": frozenset(["US gal", "imp gal", "cu in"]), "second_moment_of_area": frozenset(["in4"]),
    "speed": frozenset(["mph"]), "acceleration": frozenset(["g", "ft/s2"]), "force": frozenset(["lbf", "lb"]),
    "torque": frozenset(["lb ft", "lb in"]), "energy": frozenset(["ft lb", "Btu"]),
    "power": frozenset(["hp", "Btu/h"]), "specific_power": frozenset(["hp/lb"]), "stiffness": frozenset(["lb/in"]),
    "rotational_stiffness": frozenset(["lb ft/deg"]), "inertia": frozenset(["lb in2", "lb ft2"]),
    "mass_per_length": frozenset(["lb/ft"]), "displacement_per_turn": frozenset(["in3/rev"]),
    "pressure": frozenset(["psia", "inHg"]), "gauge_pressure": frozenset(["psi", "inHg"]),
    "pressure_difference": frozenset(["psi", "inHg", "inH2O"]), "pressure_gradient": frozenset(["psi/ft"]),
    "stress": frozenset(["psi", "ksi"]), "temperature": frozenset(["degF"]),
    "power_per_temperature": frozenset(["Btu/(h degF)"]),
    "heat_transfer_coefficient": frozenset(["Btu/(h ft2 degF)"]),
    "thermal_conductivity": frozenset(["Btu/(h ft degF)"]), "specific_heat": frozenset(["Btu/(lb degF)"]),
    "specific_energy": frozenset(["Btu/lb"]), "mass_flow": frozenset(["lb/min", "lb/h"]),
    "volume_flow": frozenset(["cfm", "US gpm", "US gph"]), "density": frozenset(["lb/ft3"]),
    "specific_fuel_consumption": frozenset(["lb/hp h"]), "resistance_per_length": frozenset(["ohm/1000 ft"]),
})  # fmt: skip
"""The inch-pound units among those that a kind lists; a pack may show its numbers in one."""

_BY_PATH: Mapping[Pair, tuple[tuple[Instead, tuple[str, ...]], ...]] = MappingProxyType({
    ("pressure_difference", "kPa"): (
        (_WATER, (
            "intake.", "engine.air.", "engine.breather.", "plumbing.intake.",
            "measured.full_load.intake_restriction", "measured.full_load.filter_drop",
        )),
        (_MERCURY, (
            "chassis.", "vehicle.brakes.", "engine.vacuum.", "plumbing.vacuum.",
            "fuel.", "engine.fuel.", "plumbing.fuel.", "measured.fuel.", "measured.vacuum.",
            "exhaust.", "engine.exhaust.", "engine.aftertreatment.", "plumbing.exhaust.",
        )),
    ),
    ("power", "kW"): (
        (_HP, ("engine.heat.standing.power",)),
        (_HEAT, (
            "cooling.", "engine.heat.", "plumbing.cooling.", "plumbing.fuel.cooler.", "fuel.return-",
            "driveline.gearbox.oil_heat", "plumbing.air_conditioning.cooling_power",
            "plumbing.air_conditioning.condenser_heat", "chassis.cab-heat", "chassis.condenser-heat",
            "chassis.heater-", "chassis.idle-heat", "chassis.air-conditioning", "chassis.condenser",
        )),
    ),
    ("volume_flow", "L/min"): (
        (_CFM, (
            "intake.", "engine.breather.", "engine.vacuum.", "plumbing.vacuum.", "plumbing.intake.",
            "vehicle.brakes.booster.",
        )),
    ),
    ("volume", "L"): (
        (_CUIN, ("engine.displacement", "vehicle.brakes.booster.", "vehicle.steering.")),
        (_GAL, ("fuel.", "plumbing.fuel.", "exhaust.reductant", "plumbing.reductant.", "plumbing.vacuum.")),
    ),
})  # fmt: skip
"""Where the trade uses another unit than the usual one: for paths that begin so, the first that fits."""


def instead_of(kind: str, unit: str, about: str = "") -> Instead | None:
    """What is shown instead of a metric unit; None where the unit stays.

    >>> instead_of("pressure_difference", "kPa", "intake.restriction-clean").unit
    'inH2O'
    >>> instead_of("pressure_difference", "kPa", "cooling.radiator-drop").unit
    'psi'
    """
    for instead, starts in _BY_PATH.get((kind, unit), ()):
        if about.startswith(starts):
            return instead
    return INCH_POUND.get((kind, unit))


# -- sizes as they are sold --------------------------------------------------------------------------------------
_NAMES: Mapping[float, str] = MappingProxyType({
    8: "5/16", 13: "1/2", 16: "5/8", 19: "3/4", 22: "7/8", 25: "1", 28: "1 1/8",
    32: "1 1/4", 35: "1 3/8", 38: "1 1/2", 42: "1 5/8", 45: "1 3/4", 50: "2", 51: "2", 54: "2 1/8", 57: "2 1/4",
    60.3: "2 3/8", 63: "2 1/2", 70: "2 3/4", 76: "3", 76.1: "3", 89: "3 1/2", 102: "4", 114: "4 1/2", 127: "5",
    152: "6", 15.87: "5/8", 17.46: "11/16", 20.64: "13/16", 22.2: "7/8", 23.81: "15/16", 26.99: "1 1/16",
    28.57: "1 1/8", 34.93: "1 3/8",
})  # fmt: skip
"""The inch name of hose bores, tubes and master cylinders that are catalogued in millimetres, where the two sizes are
one for the trade: within 2.5 %. A hose of 10 mm goes by 3/8 in, but one of 3/8 in
has a bore a twentieth smaller and takes a fifth more pressure to draw through: such sizes have no name here."""

_SOLD_BY_SIZE = ("bore", "fill_line_bore", "fill_line_bore_min", "outlet_bore", "master_bore", "tube_outer")
"""The last word of the path of a field that hose, tube or a cylinder is bought by."""
_GAUGES = ("22", "20", "18", "16", "14", "12", "10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0")
"""The wire gauges that cable is sold in, small to large."""


def sold_as(si: float, kind: str, unit: str) -> str:
    """A size of a series as it is sold, with its inch name or wire gauge beside it.

    >>> sold_as(0.008, "length", "mm"), sold_as(0.012, "length", "mm"), sold_as(35e-6, "conductor", "mm2")
    ('8 mm (5/16 in)', '12 mm (0.4724 in)', '35 mm² (2 to 1 AWG)')
    """
    if kind == "conductor":
        return _conductor(si, unit, 4)
    if (kind, unit) != ("length", "mm"):
        return in_inch_pound(si, kind, unit, 4)
    inches = fraction_of(si) or _NAMES.get(float(f"{si * 1e3:.6g}"))
    return f"{show(si, unit, KINDS[kind])} ({f'{inches} in' if inches else in_inch_pound(si, kind, unit, 4)})"


def fraction_of(si: float) -> str:
    """A length as a usual fraction of an inch: of up to an inch in 64ths, of up to a foot in 16ths; else empty.

    >>> fraction_of(0.0079375), fraction_of(0.0381), fraction_of(0.008)
    ('5/16', '1 1/2', '')
    """
    inches = si / 0.0254
    parts = 64 if inches <= 1.0 else 16
    number = round(inches * parts)
    if not 1 <= number <= 12 * parts or abs(inches * parts - number) > 1e-7 * number:
        return ""
    whole, rest = divmod(Fraction(number, parts), 1)
    return f"{whole} {rest}" if whole and rest else str(rest or whole)


def _conductor(si: float, unit: str, digits: int) -> str:
    """A conductor size with the wire gauge that it is, or those that it lies between."""
    words = show(si, unit, KINDS["conductor"], digits=digits)
    if words.endswith(")"):
        return words
    areas = [awg.area_of(name) or 0.0 for name in _GAUGES]
    for name, area in zip(_GAUGES, areas, strict=True):
        if abs(si - area) <= 0.005 * area:
            return f"{words} ({name} AWG)"
    smaller = [name for name, area in zip(_GAUGES, areas, strict=True) if area < si]
    larger = [name for name, area in zip(_GAUGES, areas, strict=True) if area > si]
    if smaller and larger:
        return f"{words} ({smaller[-1]} to {larger[0]} AWG)"
    return f"{words} (over {smaller[-1]} AWG)" if smaller else f"{words} (under {larger[0]} AWG)"


INDICATED = 3
"""How many digits a typical value has, or the end of a range in which real vehicles lie."""


# -- numbers -----------------------------------------------------------------------------------------------------
def in_inch_pound(si: float, kind: str, unit: str, digits: int, about: str = "") -> str:
    """An SI value as an inch-pound workshop reads it; `unit` is the metric unit that it would be shown in.

    >>> in_inch_pound(0.000127, "length", "mm", 4), in_inch_pound(120e3, "gauge_pressure", "kPa", 4)
    ('0.005 in', '17.4 psi')
    """
    if kind == "conductor":
        return _conductor(si, unit, digits)
    instead = instead_of(kind, unit, about)
    if instead is None:
        return show(si, unit, KINDS[kind], digits=digits)
    if instead.fractions and digits <= 4:
        words = fraction_of(si)
        if words:
            return f"{words} in"
        if about.rsplit(".", 1)[-1] in _SOLD_BY_SIZE and float(f"{si * 1e3:.6g}") in _NAMES:
            return sold_as(si, kind, unit)
    return f"{_number(si, kind, instead, digits)} {instead.label or label_of(instead.unit)}"


def _number(si: float, kind: str, instead: Instead, digits: int) -> str:
    """The number, of as many significant digits as a metric one has, so that two of them never change places."""
    value = to_unit(si, instead.unit, KINDS[kind])
    if value == 0.0 or not 1e-9 <= abs(value) < 1e15:
        return "0" if value == 0.0 else f"{value:.{digits - 1}e}"
    if instead.fractions and abs(value * 1e3 - round(value * 1e3)) < 1e-6:
        return number_figures(round(value, 3), 3)  # a size that was given in thousandths of an inch
    size = math.floor(math.log10(abs(float(f"{value:.{digits - 1}e}"))))
    decimals = min(digits - 1 - size, instead.decimals)
    if instead.decimals >= 0:
        decimals = max(decimals, 0)
    while round(value, decimals) == 0.0:
        decimals += 1
    return number_figures(round(value, decimals), max(0, decimals))


def number_in_inch_pound(si: float, kind: str, unit: str, about: str = "") -> float:
    """An SI value as a number in the inch-pound unit, for tables and for choosing values: six digits, if worth showing.

    >>> number_in_inch_pound(0.0254, "length", "mm")
    1.0
    """
    instead = instead_of(kind, unit, about)
    value = to_unit(si, unit, KINDS[kind]) if instead is None else to_unit(si, instead.unit, KINDS[kind])
    number = float(f"{value:.6g}")
    return number if instead is None else round(number, instead.decimals) or number


def si_of(value: float, kind: str, unit: str, about: str = "") -> float:
    """The SI value of a number in the inch-pound unit that is shown instead of a metric one."""
    instead = instead_of(kind, unit, about)
    return from_unit(value, unit if instead is None else instead.unit, KINDS[kind])


def written_in_inch_pound(si: float, kind: str, unit: str, about: str = "", digits: int = INDICATED) -> str:
    """A value as a spec states it in inch-pound units; in its metric unit where the field takes no other.

    >>> written_in_inch_pound(0.013, "length", "mm", "plumbing.fuel.supply.bore")
    '1/2 in'
    >>> written_in_inch_pound(313.15, "temperature", "degC")
    '104 degF'
    """
    instead = instead_of(kind, unit, about)
    metric = f"{to_unit(si, unit, KINDS[kind]):.12g} {unit}"
    if instead is None or not instead.readable:
        return metric
    if instead.fractions:
        sold = about.rsplit(".", 1)[-1] in _SOLD_BY_SIZE
        words = fraction_of(si) or (_NAMES.get(float(f"{si * 1e3:.6g}"), "") if sold else "")
        if words or sold:
            return f"{words} in" if words else metric
    return f"{_number(si, kind, instead, digits).replace(' ', '')} {instead.unit}"


def unit_label(kind: str, unit: str, about: str = "") -> str:
    """What the unit that is shown instead of a metric one is called.

    >>> unit_label("temperature_difference", "K"), unit_label("voltage", "V")
    ('°F', 'V')
    """
    instead = instead_of(kind, unit, about)
    return unit if instead is None else instead.label or label_of(instead.unit)


def in_unit_written(width: float, written: str, kind: str) -> str:
    """The half width of a tolerance in the unit that its value is written in; empty where that cannot be told.

    >>> in_unit_written(0.0005, "5/16 in", "length")
    '0.0197 in'
    """
    unit = written.lstrip("+-0123456789.,/ ")
    try:
        read(written, KINDS[kind], signed=True)
        factor = unit_factor(unit, KINDS[kind])
    except ValueError:
        return ""
    return f"{width / factor:.3g} {unit}"
