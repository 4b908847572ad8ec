"""The trade's units in terms of pint's, and the script that writes `table.py` from them.

Reading a value must not pay for importing pint, so pint is asked once, here, and the answers are kept as a
plain table. Run `python -m swaplint.units.registry` after changing anything in this module; a test compares
every entry with pint. At run time this module is imported only for a unit name in full that the table does
not hold.

The factors are pint's, which follow the SI brochure and NIST SP 811, appendix B. Where several units share
a name, the trade's is taken: horsepower is 550 ft·lbf/s, `PS` the metric horsepower (75 kgf·m/s), the
gallon is the US liquid gallon unless `imp` stands before it, inches of mercury and of water are the
conventional ones (13 595.1 and 1000 kg/m³ at standard gravity), and the kilocalorie is the International
Table one.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any

import pint

Entry = tuple[float, float, tuple[int, ...]]

BASE_UNITS = ("kilogram", "meter", "second", "ampere", "kelvin", "radian", "bit")
"""The order of the exponents in a dimension. Angle and information count as dimensions of their own, so that
a speed of rotation is no frequency and a stiffness in N m/rad is no torque."""

_PREFIXES = {"p": "1e-12", "n": "1e-9", "µ": "1e-6", "u": "1e-6", "m": "0.001", "c": "0.01", "d": "0.1",
             "da": "10", "h": "100", "k": "1000", "M": "1000000", "G": "1e9"}  # fmt: skip

_PREFIXED = {
    # symbol: (pint's name, prefixes that the trade puts before it)
    "m": ("meter", "n µ u m c d k M"),
    "g": ("gram", "µ u m k M"),
    "s": ("second", "n µ u m M"),
    "L": ("liter", "µ m c d M"),
    "l": ("liter", "m c d M"),
    "N": ("newton", "m da k M"),
    "Nm": ("newton * meter", "m da k M"),
    "Pa": ("pascal", "m h k M G"),
    "bar": ("bar", "m M"),
    "J": ("joule", "m k M G"),
    "W": ("watt", "m k M G"),
    "Wh": ("watt_hour", "m k M"),
    "A": ("ampere", "µ u m k M"),
    "Ah": ("ampere_hour", "m k"),
    "V": ("volt", "µ u m k M"),
    "ohm": ("ohm", "µ u m k M"),
    "Ω": ("ohm", "µ u m k M"),
    "F": ("farad", "p n µ u m"),
    "H": ("henry", "n µ u m"),
    "C": ("coulomb", "m k"),
    "Hz": ("hertz", "m k M G"),
    "K": ("kelvin", "m"),
    "rad": ("radian", "m"),
    "bit": ("bit", "k M"),
    "bps": ("bit / second", "k M"),
    "Bd": ("bit / second", "k M"),
    "B": ("byte", "k M"),
    "Bps": ("byte / second", "k M"),
}

_PLAIN = {
    # length
    'in inch inches "': "inch",
    "ft foot feet '": "foot",
    "yd yard yards": "yard",
    "mi mile miles": "mile",
    "thou mil mils": "thou",
    "micron microns": "micrometer",
    "nmi NM": "nautical_mile",
    # mass
    "t tonne tonnes": "tonne",
    "lb lbs lbm pound pounds": "pound",
    "oz ounce ounces": "ounce",
    "slug slugs": "slug",
    "kilo kilos": "kilogram",
    # force
    "lbf": "force_pound",
    "klbf": "1000 * force_pound",
    "ozf": "force_ounce",
    "kgf kp": "force_kilogram",
    "tf": "1000 * force_kilogram",
    # torque written as one word; with a sign or space between the parts it is read as a product
    "lbft ftlb lbfft ftlbf lbsft ftlbs": "force_pound * foot",
    "lbin inlb lbfin inlbf lbsin inlbs": "force_pound * inch",
    "ozin inoz ozfin inozf": "force_ounce * inch",
    "kgfm kpm": "force_kilogram * meter",
    "Ncm": "newton * centimeter",
    # volume
    "cc ccm": "centimeter ** 3",
    "ci cid cui": "inch ** 3",
    # time
    "min mins minute minutes": "minute",
    "h hr hrs hour hours": "hour",
    "sec secs": "second",
    "d day days": "day",
    "week weeks": "week",
    # speed, flow, rotation
    "mph": "mile / hour",
    "kph kmh": "kilometer / hour",
    "kn knot knots": "knot",
    "fpm": "foot / minute",
    "cfm": "foot ** 3 / minute",
    "lpm": "liter / minute",
    "lph": "liter / hour",
    "rpm": "revolution / minute",
    "rps": "revolution / second",
    "r rev revs turn turns revolution revolutions": "revolution",
    "deg ° degree degrees": "degree",
    "arcmin": "arcminute",
    # pressure; the letter at the end says what it is measured from
    "psi psig psia psid": "pound_force_per_square_inch",
    "ksi": "kip_per_square_inch",
    "barg bara": "bar",
    "mbarg mbara": "millibar",
    "atm": "atmosphere",
    "torr Torr": "torr",
    "inHg": "inch_Hg",
    "mmHg": "millimeter_Hg",
    "cmHg": "centimeter_Hg",
    "inH2O inWC inwc": "inch_H2O",
    "ftH2O": "12 * inch_H2O",
    "mmH2O": "millimeter * conventional_water_density * standard_gravity",
    "cmH2O": "centimeter * conventional_water_density * standard_gravity",
    "mH2O": "meter * conventional_water_density * standard_gravity",
    # power, energy, viscosity
    "hp bhp shp horsepower": "horsepower",
    "PS": "metric_horsepower",
    "Btu": "british_thermal_unit",
    "kcal": "1000 * international_calorie",
    "cSt": "centistokes",
    "St": "stokes",
    "cP": "centipoise",
    "P": "poise",
    "Pas": "pascal * second",
    "mPas": "millipascal * second",
    # temperature
    "degC °C celsius Celsius": "degree_Celsius",
    "degF °F fahrenheit Fahrenheit": "degree_Fahrenheit",
    "degR °R": "degree_Rankine",
    # conductors
    "cmil": "circular_mil",
    "kcmil MCM": "1000 * circular_mil",
    "sqmm": "millimeter ** 2",
    # shares
    "% percent": "0.01",
    "‰": "0.001",
    "ppm": "0.000001",
    "pp": "0.01",
    # acceleration; `g` stands for it where the field is an acceleration
    "g_n": "standard_gravity",
    "kft": "1000 * foot",
}

_PHRASES = {
    # units of several words, or with a digit inside
    "in Hg": "inHg", "mm Hg": "mmHg", "cm Hg": "cmHg", "in H2O": "inH2O", "in WC": "inH2O", "ft H2O": "ftH2O",
    "mm H2O": "mmH2O", "cm H2O": "cmH2O", "m H2O": "mH2O",
    "deg C": "degC", "deg F": "degF", "° C": "degC", "° F": "degF",
    "degree C": "degC", "degrees C": "degC", "degree F": "degF", "degrees F": "degF",
    "degrees Celsius": "degC", "degrees Fahrenheit": "degF", "per cent": "%",
    "percentage points": "pp", "percentage point": "pp",
    "metric hp": "PS", "metric ton": "t", "metric tons": "t",
}  # fmt: skip

_MORE_PHRASES = {
    "US gal": "gallon",
    "US gallon": "gallon",
    "US gallons": "gallon",
    "US gpm": "gallon / minute",
    "US gph": "gallon / hour",
    "imp gal": "imperial_gallon",
    "imp gallon": "imperial_gallon",
    "imp gallons": "imperial_gallon",
    "imperial gallon": "imperial_gallon",
    "imperial gallons": "imperial_gallon",
    "imp qt": "imperial_quart",
    "imp pt": "imperial_pint",
    "US qt": "quart",
    "US pt": "pint",
    "US fl oz": "fluid_ounce",
    "imp fl oz": "imperial_fluid_ounce",
    "imp gpm": "imperial_gallon / minute",
    "imp gph": "imperial_gallon / hour",
    "short ton": "short_ton",
    "short tons": "short_ton",
    "long ton": "long_ton",
    "long tons": "long_ton",
    "nautical mile": "nautical_mile",
    "nautical miles": "nautical_mile",
    "cu in": "inch ** 3",
    "cu ft": "foot ** 3",
    "cu cm": "centimeter ** 3",
    "cu m": "meter ** 3",
    "sq in": "inch ** 2",
    "sq ft": "foot ** 2",
    "sq mm": "millimeter ** 2",
    "sq cm": "centimeter ** 2",
    "sq m": "meter ** 2",
    "kgm2": "kilogram * meter ** 2",
    "100 km": "100 * kilometer",
    "100km": "100 * kilometer",
    "100 mi": "100 * mile",
    "1000 ft": "1000 * foot",
    "1000ft": "1000 * foot",
    "1000 m": "1000 * meter",
}

_NAMES_IN_FULL = {
    # words: (pint's name, prefixes as words)
    "metre meter": ("meter", "milli centi kilo micro"),
    "litre liter": ("liter", "milli centi"),
    "gram gramme": ("gram", "milli kilo"),
    "second": ("second", "milli micro"),
    "newton": ("newton", "kilo"),
    "pascal": ("pascal", "hecto kilo mega"),
    "joule": ("joule", "kilo mega"),
    "watt": ("watt", "kilo mega milli"),
    "amp ampere": ("ampere", "milli"),
    "volt": ("volt", "milli kilo"),
    "ohm": ("ohm", "milli kilo mega"),
    "kelvin": ("kelvin", ""),
    "radian": ("radian", "milli"),
    "bit": ("bit", "kilo mega"),
}


def trade_units() -> dict[str, str]:
    """Return each unit as the trade writes it, with what it is in pint's words."""
    units: dict[str, str] = {}
    for symbol, (name, prefixes) in _PREFIXED.items():
        units[symbol] = name
        for prefix in prefixes.split():
            units[prefix + symbol] = f"{_PREFIXES[prefix]} * {name}"
    for tokens, name in _PLAIN.items():
        units |= dict.fromkeys(tokens.split(), name)
    for words, (name, prefixes) in _NAMES_IN_FULL.items():
        for word in words.split():
            for prefix in ["", *prefixes.split()]:
                units |= dict.fromkeys([prefix + word, prefix + word + "s"], prefix + name)
    units |= {phrase: units[token] for phrase, token in _PHRASES.items()}
    return units | _MORE_PHRASES


# fmt: off
AMBIGUOUS = frozenset([
    "ton", "tons", "pint", "pints", "gallon", "gallons", "quart", "quarts", "stone", "stones", "cup", "cups", "gill",
    "gills", "barrel", "barrels", "bushel", "bushels", "hundredweight", "hundredweights", "fluid_ounce", "calorie",
    "calories", "month", "months", "year", "years", "point", "points", "line", "lines", "count", "counts",
])
# fmt: on
"""Names that pint knows but that differ between countries or trades, or are everyday words."""


@lru_cache(maxsize=1)
def exact_registry() -> Any:
    """Return pint's registry working in fractions, so that each factor is rounded only once."""
    return pint.UnitRegistry(non_int_type=Fraction)


def _base_form(quantity: Any) -> tuple[float, tuple[int, ...]]:
    base = quantity.to_root_units()
    exponents = dict(base.unit_items())
    mass = exponents.pop("gram", 0)
    magnitude = base.magnitude / 1000**mass if mass else base.magnitude
    exponents["kilogram"] = exponents.get("kilogram", 0) + mass
    exponents.pop("count", None)
    unknown = set(exponents) - set(BASE_UNITS)
    if unknown:
        raise ValueError(f"no dimension for {sorted(unknown)}")
    return float(magnitude), tuple(int(exponents.get(name, 0)) for name in BASE_UNITS)


def entry(expression: str) -> Entry:
    """Return (factor, offset, dimension) of a unit in pint's words: SI value = value x factor + offset.

    >>> entry("inch")
    (0.0254, 0.0, (0, 1, 0, 0, 0, 0, 0))
    """
    registry = exact_registry()
    one, dimension = _base_form(_quantity(registry, 1, expression))
    zero, _ = _base_form(_quantity(registry, 0, expression))
    if zero == 0.0:
        return one, 0.0, dimension
    degree, _ = _base_form(_quantity(registry, 1, "delta_" + expression))
    return degree, zero, dimension


def _quantity(registry: Any, number: int, expression: str) -> Any:
    if expression.isidentifier():
        return registry.Quantity(Fraction(number), expression)
    return Fraction(number) * registry.parse_expression(expression) * registry.Quantity(Fraction(1))


def unit_in_full(name: str) -> Entry | None:
    """Return the entry of a unit that pint knows under exactly this name (or its plural), else None.

    Symbols, aliases and prefixes are not considered: they are where guesses go wrong.

    >>> unit_in_full("furlong")
    (201.16840233680466, 0.0, (0, 1, 0, 0, 0, 0, 0))
    >>> unit_in_full("petasiemens") is None
    True
    """
    if name in AMBIGUOUS:
        return None
    try:
        readings = exact_registry().parse_unit_name(name)
        if not any(prefix == "" and name in (unit, unit + "s") for prefix, unit, _suffix in readings):
            return None
        found = entry(name)
        twice, _ = _base_form(exact_registry().Quantity(Fraction(2), name))
    except Exception:  # pint and its parser raise many kinds for words that are no unit: none of them is ours
        return None
    factor, offset, _ = found
    plain = offset == 0.0 and factor > 0.0 and abs(twice - 2.0 * factor) <= 1e-9 * factor
    return found if plain else None


def table_text() -> str:
    """Return the text of `table.py`."""
    lines = [
        '"""Units of the trade: token -> (factor to SI, offset, dimension). SI = value x factor + offset.',
        "",
        "Written by `python -m swaplint.units.registry` from pint: change `registry.py`, not this file. A",
        "dimension holds the exponents of kg, m, s, A, K, rad and bit.",
        '"""',
        "",
        "Dimension = tuple[int, int, int, int, int, int, int]",
        "",
        "# fmt: off",
        "TABLE: dict[str, tuple[float, float, Dimension]] = {",
    ]
    units = trade_units()
    lines += [f"    {_quoted(token)}: {entry(units[token])!r}," for token in sorted(units)]
    return "\n".join([*lines, "}", "# fmt: on", ""])


def _quoted(token: str) -> str:
    return f"'{token}'" if '"' in token else f'"{token}"'


if __name__ == "__main__":
    Path(__file__).with_name("table.py").write_text(table_text(), encoding="utf-8")
