"""Sentences that name numbers with metric units, as an inch-pound workshop reads them.

What a source gives, a fallback, a caution, the meaning of a field and a rule's page are written once, by hand, in
metric units. Where numbers are shown in inch-pound units, the numbers of such a text go through the one table too. What
a person typed, the title of a published document and a formula stay as they are written.

A number belongs to the unit behind it, and so do the others of its row: '10 to 20 mm', '300, 400 and 450 N'; a range in
brackets without a unit belongs to the last unit before it. Where the metric value has its inch-pound one in brackets
behind it, '51 mm (2 in)', that alone is shown. Where a rate counts in words, 'K for each metre', both its units turn.
The litres of an engine's size stay: that is how it is called everywhere.
"""

from __future__ import annotations

import re

from swaplint.units.kinds import KINDS
from swaplint.units.reading import from_unit, number_figures
from swaplint.units.showing import SHOWING

_UNITS: dict[str, tuple[str, str]] = {
    "mm": ("length", "mm"), "cm": ("length", "cm"), "m": ("length", "m"), "km": ("length", "km"),
    "m²": ("area", "m2"), "cm²": ("area", "cm2"),
    "kg": ("mass", "kg"), "t": ("mass", "t"),
    "L": ("volume", "L"), "mL": ("volume", "mL"), "L/min": ("volume_flow", "L/min"), "L/h": ("volume_flow", "L/h"),
    "m³/h": ("volume_flow", "m3/h"), "kg/h": ("mass_flow", "kg/h"), "kg/s": ("mass_flow", "kg/s"),
    "g/s": ("mass_flow", "g/s"),
    "km/h": ("speed", "km/h"), "m/s": ("speed", "m/s"), "m/s²": ("acceleration", "m/s2"),
    "N": ("force", "N"), "kN": ("force", "kN"), "N m": ("torque", "N m"), "Nm": ("torque", "N m"),
    "kPa": ("pressure_difference", "kPa"), "Pa": ("pressure_difference", "Pa"),
    "mbar": ("pressure_difference", "mbar"), "bar": ("gauge_pressure", "bar"), "MPa": ("gauge_pressure", "MPa"),
    "°C": ("temperature", "degC"), "K": ("temperature_difference", "K"),
    "kW": ("power", "kW"), "kW/t": ("specific_power", "kW/t"), "kJ": ("energy", "kJ"), "J": ("energy", "J"),
    "kg/m³": ("density", "kg/m3"), "kg/m3": ("density", "kg/m3"), "g/m³": ("density", "g/m3"),
    "g/m3": ("density", "g/m3"), "N/mm": ("stiffness", "N/mm"), "N/mm²": ("stress", "N/mm2"),
    "W/(m² K)": ("heat_transfer_coefficient", "W/(m2 K)"), "kJ/(kg K)": ("specific_heat", "kJ/(kg K)"),
}  # fmt: skip
"""The metric units of sentences, with the kind and unit by which the table knows them."""

_STRENGTH = re.compile(r"\b(?:stress|yield|strength|steel)\b")
_BY = {
    "metre": ("foot", 0.3048), "km": ("mile", 1.609344), "kW": ("hp", 0.745699872), "tonne": ("short ton", 0.90718474),
    "litre": ("litre", 1.0),
}  # fmt: skip
"""What a rate in words counts by: what it is called instead, and how much of it that is."""
_SIZE_OF_ENGINE = re.compile(r"\blitre of ")

_NUMBER = r"[-−]?(?:[0-9]{1,3}(?: [0-9]{3})++|[0-9]++)(?:\.[0-9]++)?"
_ROW = rf"{_NUMBER}(?:(?:, | to | and | or | by ){_NUMBER})*+"
_UNIT = "|".join(re.escape(unit) for unit in sorted(_UNITS, key=len, reverse=True))
_VALUE = re.compile(
    rf"(?<![\w.\-/,=])(?P<row>{_ROW}) (?P<unit>{_UNIT})(?![\w²³/·])"
    rf"(?:(?P<rate>(?: lost)? (?:for each|per) )(?P<by>{'|'.join(_BY)})\b)?"
    r"(?P<both> \([^()]*(?:\bin|\bft|\blb|\bpsi|\binHg|\binH2O|\bmph|°F|degF)\))?"
    r"|\((?P<bare>[0-9.]+ to [0-9.]+)\)"
)
_ONE = re.compile(_NUMBER)
_DIGITS = 3
"""Such a text names round numbers: three digits are what they are worth, or as many as it writes."""
_BEYOND_A_COLUMN = 50.0
"""kPa that no column of water or mercury shows in a workshop, but for a vacuum: psi."""
_LARGE = re.compile(r"[0-9]+(?: [0-9]{3})+(?![0-9.])")


def told(text: str, about: str = "") -> str:
    """A hand-written sentence with its numbers in the unit system in force.

    `about` is the id of the rule or quantity, or the path of the field, that it is of: some units hang on it.

    >>> from swaplint.units.showing import showing_in
    >>> with showing_in("inch-pound"):
    ...     told("10 to 20 mm between pipe ends, fuel of at most 60 °C")
    '0.394 to 0.787 in between pipe ends, fuel of at most 140 °F'
    """
    if not SHOWING.inch_pound or not any(char.isdigit() for char in text):
        return text
    return _Telling(text, about or SHOWING.about).text


class _Telling:
    """One text whose numbers are put into inch-pound units."""

    def __init__(self, text: str, about: str) -> None:
        self.about = about
        self.engine = _SIZE_OF_ENGINE.search(text) is not None
        self.strength = _STRENGTH.search(text) is not None
        self.unit, self.times = "", 1.0
        self.text = _VALUE.sub(self._in_inch_pound, text)

    def _in_inch_pound(self, found: re.Match[str]) -> str:
        if found["bare"]:
            return f"({self._row(found['bare'])})" if self.unit else found.group()
        if found["unit"] == "L" and self.engine:
            return found.group()
        self.unit, self.times = found["unit"], 1.0
        if found["both"]:
            return found["both"][2:-1]
        if found["by"]:
            by, self.times = _BY[found["by"]]
            return f"{self._row(found['row'])}{found['rate']}{by}"
        return self._row(found["row"])

    def _row(self, row: str) -> str:
        kind, unit = ("stress", "MPa") if self.unit == "MPa" and self.strength else _UNITS[self.unit]
        words = [self._one(number, kind, unit) for number in _ONE.findall(row)]
        between = _ONE.split(row)[1:-1]
        label = words[-1].partition(" ")[2]
        numbers = [word.removesuffix(f" {label}") for word in words[:-1]]
        return "".join(f"{number}{joint}" for number, joint in zip(numbers, between, strict=True)) + words[-1]

    def _one(self, number: str, kind: str, unit: str) -> str:
        # Imported only for who wants it: a metric workshop does without the table.
        from swaplint.units.unit_systems import in_inch_pound

        digits = max(_DIGITS, len(number.strip("-−0. ").replace(".", "").replace(" ", "")))
        value = float(number.replace("−", "-").replace(" ", ""))
        about = (
            "" if unit == "kPa" and value >= _BEYOND_A_COLUMN and not self.about.startswith("chassis.") else self.about
        )
        words = in_inch_pound(from_unit(value * self.times, unit, KINDS[kind]), kind, unit, digits, about)
        return _LARGE.sub(_rounded, words)


def _rounded(large: re.Match[str]) -> str:
    """Four digits of a large number, 14 500 of 14 504: it stands for a round one."""
    number = float(large.group().replace(" ", ""))
    return number_figures(float(f"{number:.4g}"), 0)
