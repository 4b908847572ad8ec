"""What an engineering function refuses, it refuses in words and units of a workshop."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.engineering.curves import checked_curve, interpolate
from swaplint.engineering.guards import positive, reaches, said, within_range

ENGINEERING = Path(__file__).parents[2] / "swaplint" / "engineering"


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (273.15, "°C", "0 °C"),
        (math.pi / 6, "°", "30°"),
        (2 * math.pi, "r/min", "60 r/min"),  # one turn in a second
        (101325.0, "kPa", "101.3 kPa"),
        (0.0125, "mm", "12.5 mm"),
        (0.001, "L/min", "60 L/min"),  # a litre in a second
        (0.25, "%", "25 %"),
        (10.0, "km/h", "36 km/h"),
    ],
)
def test_a_number_is_told_in_a_unit_of_the_workshop(value: float, unit: str, words: str) -> None:
    assert said(value, unit) == words


def test_a_range_is_told_with_its_unit_once() -> None:
    with pytest.raises(
        OutsideRange, match=r"^coolant temperature 150 °C is outside 0 to 120 °C: the table ends there$"
    ):
        within_range("coolant_temperature", 423.15, 273.15, 393.15, "the table ends there", "°C")


@pytest.mark.parametrize(
    ("value", "limit", "at_it"),
    [
        (2.0, 1.0, True),
        (1.0, 1.0, True),
        (0.3, 0.1 + 0.2, True),
        (1e6 - 1e-4, 1e6, True),  # a tenth of a billionth
        (1e6 - 1e-2, 1e6, False),  # ten billionths
        (-1.0, 1.0, False),
    ],
)
def test_a_limit_is_reached_but_for_rounding(value: float, limit: float, at_it: bool) -> None:
    assert reaches(value, limit) is at_it


def test_names_of_the_code_are_told_as_words() -> None:
    with pytest.raises(ImpossibleInput, match=r"^outer radius must be greater than zero, not negative$"):
        positive("outer_radius", -0.1)


def test_a_curve_tells_engine_speeds_in_turns() -> None:
    with pytest.raises(ImpossibleInput, match="1000 r/min follows 1050 r/min"):
        checked_curve([(1050 * math.pi / 30, 200.0), (1000 * math.pi / 30, 210.0)], "r/min")
    with pytest.raises(OutsideRange, match="700 r/min is outside the curve, which runs from 1000 r/min to 3000 r/min"):
        interpolate([(1000 * math.pi / 30, 200.0), (3000 * math.pi / 30, 210.0)], 700 * math.pi / 30, "r/min")


def test_no_refusal_tells_a_number_in_a_unit_of_the_code() -> None:
    """No sentence holds a number in radians, kelvin or metres where a workshop has degrees, Celsius or millimetres."""
    told = re.compile(r"\}\s(?:rad|rad/s|K|Pa|m|m³/s)\b(?![²³/])")
    for path in sorted(ENGINEERING.glob("*.py")):
        for number, line in enumerate(path.read_text(encoding="utf-8").split("\n"), 1):
            assert not told.search(line), f"{path.name}, line {number}: {line.strip()}"


def test_large_numbers_are_written_out() -> None:
    # four figures below ten thousand, whole numbers from there on
    assert [said(value, "Pa") for value in (9999.4, 10000.0, 123456.0, -10000.0)] == [
        "9999 Pa",
        "10000 Pa",
        "123456 Pa",
        "-10000 Pa",
    ]
