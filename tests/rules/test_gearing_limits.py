"""Limits of the gearing pack, each as the rule reports it: the numbers as its source states them."""

from __future__ import annotations

import re

import pytest
from pinned import limit_of

from swaplint.kit.trial import one, value

LIMITS = [
    # common practice: half of the power in hand and 2 % of grade held at cruise (light vehicle)
    ("gearing.cruise-reserve", "power", "", "at least", 0.50),
    ("gearing.cruise-reserve", "grade", "", "at least", 0.02),
    # the stated needs of the sound spec, and 12 % with a trailer
    ("gearing.startability", "with-trailer", "", "at least", 0.12),
    ("gearing.startability", "solo", "", "at least", 0.25),
]
"""Rule, demand, part, relation, limit in SI."""


@pytest.mark.parametrize(("rule", "demand", "part", "relation", "limit"), LIMITS)
def test_a_limit_is_what_its_source_says(
    rule: str, demand: str, part: str, relation: str, limit: float | tuple[float, float]
) -> None:
    assert limit_of(rule, demand, part) == (relation, pytest.approx(limit, rel=1e-6))


@pytest.mark.parametrize(
    ("fastest", "ratio"),
    # UN Regulation No. 39: V1 - V2 at most V2/10 + 4 km/h, tested up to 120 km/h
    # and judged at the highest speed that it can be driven at: 134 km/h without a limiter
    [("100 km/h", 1.1 + 4 / 100), ("119 km/h", 1.1 + 4 / 119), ("130 km/h", 1.1 + 4 / 120)],
)
def test_a_speedometer_is_judged_at_the_highest_speed_up_to_120(fastest: str, ratio: float) -> None:
    edits = {"driveline.speed_limiter": {"speed": fastest}}
    assert limit_of("gearing.speedometer", "not-too-high", edits=edits) == ("at most", pytest.approx(ratio))


def test_no_lower_gear_is_spoken_of_where_the_slope_is_climbed() -> None:
    # 30 % are asked for, which the lowest gear climbs with ease: nothing stands behind what each of five gears climbs
    met = one("gearing.gradeability")
    assert met.kind == "pass"
    assert re.fullmatch(r"Lowest gear of all: [\d.]+ %; by gear in high range: ([\d.]+ %, ){4}[\d.]+ %\.", met.message)


def test_a_strong_engine_pulls_on_beyond_its_rated_speed_up_to_the_governor() -> None:
    # more newton metres at rated speed than the governor allows radians a second: 420 against 387
    curve = [(1000, 400), (2200, 450), (3400, 420)]
    edits = {"engine.torque_curve": [{"speed": f"{n} r/min", "torque": f"{t} N m"} for n, t in curve]}
    governed = value("gearing.governed-road-speed", edits)
    assert 1.02 * governed * 3400 / 3700 < value("gearing.top-speed", edits) < governed
