"""A named practice says with number and unit what it takes: the text that a person sees and the value agree.

The factors of the units are typed here and not taken from the tool's own table.
"""

from __future__ import annotations

import math
import re

import pytest

from swaplint.declare.practices import Practice
from swaplint.host.packs import load_rule_base

PRACTICES: dict[str, Practice] = {f.name: f for _, rule in load_rule_base().rules for f in rule.fallbacks}

FACTORS = {
    "": 1.0, "%": 0.01, "times": 1.0, "diameters": 1.0,
    "m": 1.0, "mm": 1e-3, "µm": 1e-6, "degrees": math.pi / 180, "°": math.pi / 180,
    "r/min": math.pi / 30, "m/s": 1.0, "km/h": 1 / 3.6, "s": 1.0, "min": 60.0, "h": 3600.0,
    "V": 1.0, "A": 1.0, "mΩ": 1e-3, "Ω": 1.0, "kPa": 1e3, "MPa": 1e6, "K": 1.0, "L/min": 1e-3 / 60,
    "J on each mm²": 1e6, "kW per litre": 1e6, "A of EN rating for each litre": 1e3, "kg/h for each kW": 1 / 3.6e6,
    "W/(m² K)": 1.0, "mm²/s": 1e-6, "kg/m³": 1.0, "g/m³": 1e-3,
}  # fmt: skip
WORDS = {
    "two thirds": 2 / 3, "half": 0.5, "a quarter": 0.25, "a fifth": 0.2, "a tenth": 0.1,
    "one outlet": 1.0, "three times": 3.0, "four times": 4.0,
}  # fmt: skip
AS_THEY_ARE = {
    # A range of which the text does not say which end is meant.
    "stall at 0.35 to 0.5 of rated speed (petrol)": 0.5,
    "cruise band of 55 to 80 % of rated speed, not below the torque plateau (diesel)": 0.80,
    # 0.15 mm across 300 mm is a slope.
    "runout of the gearbox's face of at most 0.15 mm on 300 mm": 0.15 / 300,
    # 300 psi is 2.068 MPa, rounded to two digits in the one and to three in the other.
    "up to 2.1 MPa (300 psi) in the cooler lines of an electronically controlled gearbox": 2.07e6,
    # No number in the text: the load index as it is, and the modulus of elasticity of the bronze.
    "tyres kept at the pressure that their load index is stated for": 1.0,
    "pilot bush of sintered bronze": 80e9,
}
"""Texts that name another number than they take, or none; with what they take."""

NUMBER = r"\d+(?: \d{3})*(?:\.\d+)?"
UNITS = "|".join(re.escape(unit) for unit in sorted(FACTORS, key=len, reverse=True) if unit)
VALUE = re.compile(rf"(?<![\w.])({NUMBER})(?: ?({UNITS})(?![\w²³/·]))?")
RANGE = re.compile(rf"\(({NUMBER}) to ({NUMBER})")


def taken_by(text: str) -> float | None:
    """The first number that a text names, in SI; None where it names none."""
    for words, number in WORDS.items():
        if re.search(rf"\b{words}\b", text):
            return number
    found = VALUE.search(text)
    if found is None:
        return None
    number = float(found[1].replace(" ", ""))
    return number + 273.15 if text[found.end(1) :].startswith(" °C") else number * FACTORS[found[2] or ""]


def test_what_is_read_from_a_text() -> None:
    assert taken_by("150 r/min of engine speed lost in a manual shift") == pytest.approx(15.70796, rel=1e-6)
    assert taken_by("fuel of at most 60 °C at the engine's inlet") == pytest.approx(333.15)
    assert taken_by("alternator up to 15 000 r/min (15 000 to 18 000)") == pytest.approx(1570.796, rel=1e-6)
    assert taken_by("at least two thirds of the bump travel kept") == pytest.approx(0.666667, rel=1e-5)
    assert taken_by("as good as new") is None


@pytest.mark.parametrize("text", sorted(PRACTICES))
def test_the_text_of_a_practice_says_what_it_takes(text: str) -> None:
    practice = PRACTICES[text]
    said = AS_THEY_ARE.get(text, taken_by(text))
    assert said is not None, "name the number and its unit in the text"
    assert practice.value == pytest.approx(said, rel=1e-9)


@pytest.mark.parametrize("text", sorted(text for text, practice in PRACTICES.items() if practice.between))
def test_the_text_of_a_practice_says_from_where_to_where_it_is_found(text: str) -> None:
    practice = PRACTICES[text]
    assert practice.between is not None
    found = RANGE.search(text)
    assert found is not None, "name the range in brackets"
    first = VALUE.search(text)
    assert first is not None
    celsius = text[first.end(1) :].startswith(" °C")
    words = any(re.search(rf"\b{word}\b", text) for word in WORDS)
    per = 1.0 if celsius or words else FACTORS[first[2] or ""]
    low, high = (float(end.replace(" ", "")) * per + (273.15 if celsius else 0.0) for end in found.groups())
    assert practice.between == pytest.approx((low, high), rel=1e-9)


def test_texts_that_name_another_number_are_still_there() -> None:
    assert set(AS_THEY_ARE) <= set(PRACTICES)
