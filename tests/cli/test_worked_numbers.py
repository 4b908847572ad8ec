"""A line of numbers in a calculation gives what the calculation says it gives: it is worked here by another hand."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from pathlib import Path

import pint
import pytest

from swaplint.inspecting.worksheet import worksheet
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base
from swaplint.reports.layout import Sheet
from swaplint.reports.worksheet_calculation import calculation_sheet
from swaplint.spec.loading import load_spec

SPECS = sorted((Path(__file__).parents[2] / "specs").glob("*.toml"))
REGISTRY = pint.UnitRegistry()
BY_HAND = {
    "r/min": "1/min",
    "°C": "K",
    "°": "degree",
    "%": "percent",
    "degC": "K",
    "mohm": "milliohm",
}
"""Units as a person works with them: turns are counted, and °C and K are steps of one size."""
NUMBER = r"[-−]?\d+(?:[   ]\d{3})*(?:\.\d+)?(?:e[-+]?\d+)?"
SMALL = {"⁰": "0", "¹": "1", "²": "2", "³": "3", "⁴": "4", "⁵": "5", "⁶": "6", "⁷": "7", "⁸": "8", "⁹": "9"}
KNOWN = {
    "sqrt": math.sqrt,
    "cos": math.cos,
    "sin": math.sin,
    "pi": math.pi,
    "tan": math.tan,
    "ln": math.log,
    "asin": math.asin,
    "min": min,
    "max": max,
    "abs": abs,
    "g": 9.80665,
    "c_p": 2000.0,
    "ρ": 1.225,
    "__builtins__": {},
}
"""What formulas say without a symbol of their own: c_p is that of fuel, and ρ that of air at sea level."""

NOT_WORKED: Mapping[str, str] = {
    "commissioning.crank-cold": "a battery in the cold",
    "commissioning.crank-loop": "the temperature of the copper",
    "commissioning.limiting-ambient": "what height does to the rise",
    "controls.extension-to-cut": "no example has an extension",
    "controls.lead-slack": "no example has an extension",
    "cooling.external-restriction": "the sum of the hoses",
    "driveline.axle-grip-torque": "the rating of this axle",
    "driveline.gearbox-output-torque": "the first gear, and the stall ratio of a converter",
    "driveline.half-shaft-torque": "the share of one side",
    "driveline.nose-reach": "the sum of the adapters",
    "driveline.shaft-stress": "the inside of the tube",
    "exhaust.growth": "the expansion of the material",
    "exhaust.inlet-temperature": "the loss of a bare or an insulated pipe",
    "exhaust.pipe-to-cut": "how many lie side by side",
    "exhaust.reductant-needed": "what a second tank gives",
    "fuel.supply-fittings": "a velocity without a symbol",
    "fuel.supply-friction": "the friction factor",
    "gearing.grip": "the mass on the driven wheels",
    "gearing.lowest-ratio": "the first gear",
    "gearing.start-grade": "an equation",
    "intake.charge-pipe-to-cut": "how many lie side by side",
    "intake.duct-to-cut": "how many lie side by side",
    "intake.filter-load": "the number of filters",
    "mass.power-to-mass": "the highest point of a curve",
    "mass.power-to-mass-before": "the sum of both axles",
    "mounts.bounce-travel": "the stops of several mounts",
    "mounts.surge-travel": "the sum of the mounts",
    "power.cable-resistance": "a table of cable sizes",
    "power.crank-voltage": "what the batteries give",
    "power.ground-resistance": "a table of cable sizes",
    "power.output-cruise": "a curve",
    "power.output-idle": "a curve",
    "power.output-stationary": "a curve",
}
"""Quantities with symbols whose line of numbers is not plain arithmetic, and what stands in it."""


def factor(unit: str) -> float:
    """How much of the base units one of a unit is."""
    if found := re.search(r"(?<=/)100 ?(?=[a-z])", unit):
        return factor(unit.replace(found.group(), "")) / 100.0
    unit = BY_HAND.get(unit, unit).removesuffix("/rev")
    for small, digit in SMALL.items():
        unit = unit.replace(small, f"**{digit}")
    unit = re.sub(r"(?<=[A-Za-z])(?=\d)", "**", unit).replace("·", "*")
    return float(REGISTRY.Quantity(1, unit.replace(" ", "*")).to_base_units().magnitude)


def half_a_digit(number: str) -> float:
    """What a number of five digits may be off."""
    value = abs(float(number))
    return 0.0 if value == 0.0 else 0.5 * 10.0 ** (math.floor(math.log10(value)) - 4)


def read(number: str) -> str:
    return re.sub(r"\s", "", number.replace("−", "-"))


def worked(line: str) -> tuple[float, float] | None:
    """What plain arithmetic gives, and how far the digits shown let it be off; nothing where it is more than that."""
    body = re.split(r"[;:] |, (?!at (?:most|least) )", line)[0]
    if " = " in body:
        head, body = body.split(" = ", 1)
        if " " in head:
            return None  # an equation, that is to be solved
    values: list[tuple[float, float]] = []

    def taken(found: re.Match[str]) -> str:
        number, unit = read(found["number"]), found["unit"]
        scale = factor(unit) if unit else 1.0
        values.append((float(number) * scale, half_a_digit(read(number)) * scale))
        return f"V[{len(values) - 1}]"

    units = r"[A-Za-zµ°%Ω][A-Za-z°%µΩ0-9²³/· ]*"
    body = re.sub(rf"\((?P<number>{NUMBER}) ?(?P<unit>{units})\)", taken, body)
    body = re.sub(r"(?<![\w.\[])(?P<number>\d+\.\d+)(?P<unit>)", taken, body)
    least = re.fullmatch("the (?:lesser|least) of (.+)", body)
    body = f"min({least[1].replace(' and ', ', ')})" if least else body
    body = re.sub("^(.+), at most (.+)$", r"min(\1, \2)", body)
    body = re.sub("^(.+), at least (.+)$", r"max(\1, \2)", body)
    body = re.sub(r"\|(.+?)\|", r"abs(\1)", body)
    for sign, python in {"^": "**", "·": "*", "−": "-", "π": "*pi", "½": "0.5", "√": "sqrt"}.items():
        body = body.replace(sign, python)
    body = re.sub(r"(^|[(/*+-]\s*)\*pi", r"\1pi", body)
    body = re.sub("[²³⁴]", lambda found: f"**{SMALL[found.group()]}", body)
    body = body.replace("[", "{").replace("]", "}").replace("V{", "V[")
    body = re.sub(r"(V\[\d+)\}", r"\1]", body).replace("{", "(").replace("}", ")")
    if set(re.findall(r"[^\W\d]\w*", body)) - {"V", "e"} - set(KNOWN):
        return None
    try:
        code = compile(body.strip(), line, "eval")
    except SyntaxError:
        return None
    result = float(eval(code, dict(KNOWN), {"V": [value for value, _ in values]}))
    off = 0.0
    for number, (value, half) in enumerate(values):
        moved = [other for other, _ in values]
        moved[number] = value + half
        off += abs(float(eval(code, dict(KNOWN), {"V": moved})) - result)
    return result, off


def calculations(monkeypatch: pytest.MonkeyPatch) -> Iterator[tuple[str, str, str, str]]:
    """Every number of every example that has a line of numbers: where, id, that line, and what it gives."""
    told: list[tuple[str, str]] = []
    wrapped = Sheet.wrapped

    def listening(self: Sheet, text: str, **how: object) -> None:
        told.append((str(how.get("label", "")), text))
        wrapped(self, text, **how)

    monkeypatch.setattr(Sheet, "wrapped", listening)
    base = rule_base()
    ids = [quantity.id for _, quantity in base.quantities]
    for path in [*SPECS, None]:
        spec = load_spec(path, model=base.model) if path else sound_spec(base)
        told.clear()
        calculation_sheet(worksheet(base, spec, ids=ids), ids, 100)
        line = ""
        for label, text in told:
            if label == "formula":
                line = ""
            elif label == "numbers":
                line = text
            elif label == "gives" and line:
                id, _, value = text.partition(" = ")
                yield path.name if path else "sound", id, line, value


def test_each_line_of_numbers_gives_what_the_calculation_gives(monkeypatch: pytest.MonkeyPatch) -> None:
    wrong, seen = [], set()
    for where, id, line, value in calculations(monkeypatch):
        found = worked(line)
        if found is None:
            continue
        seen.add(id)
        number, unit = re.fullmatch(rf"({NUMBER}) ?(.*)", value).groups()
        scale = factor(unit) if unit else 1.0
        stated, half = float(read(number)) * scale, half_a_digit(read(number)) * scale
        if abs(found[0] - stated) > 1.01 * (found[1] + half) + 1e-9 * scale:
            wrong.append(f"{where}: {id}: {line} is {found[0] / scale:.6g} {unit}, and not {value}")
    assert not wrong, "\n".join(wrong)
    tied = {quantity.id for _, quantity in rule_base().quantities if quantity.symbols and not quantity.stands_in_for}
    assert tied - seen == set(NOT_WORKED)
    assert len(seen) > 30
