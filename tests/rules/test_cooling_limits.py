"""Limits of the cooling pack, each as the rule reports it: the numbers as its source states them."""

from __future__ import annotations

import pytest
from pinned import limit_of

from swaplint.kit.trial import value

LIMITS = [
    # common practice: boils 8 K above the highest coolant temperature; cap of 90 kPa
    ("cooling.boil-margin", "boiling", "", "at least", 8.0),
    ("cooling.boil-margin", "least-cap", "", "at least", 90e3),
    # common practice: 40 to 60 % of glycol, freezing 5 K below the coldest air of -15 °C
    ("cooling.freeze-protection", "share", "", "within", (0.40, 0.60)),
    ("cooling.freeze-protection", "protection", "", "at most", 273.15 - 20.0),
    # common practice: a shroud covers 85 % of the core
    ("cooling.fan-flow", "shroud", "", "at least", 0.85),
    # common practice: fill line of 19 mm, vent orifices of 2 to 4 mm, 3 m/s of delivery and 2.5 m/s of suction
    ("cooling.fill-deaeration", "fill-line", "", "at least", 0.019),
    ("cooling.fill-deaeration", "orifice.radiator", "", "within", (0.002, 0.004)),
    ("cooling.external-circuit", "speed.upper", "", "at most", 3.0),
    ("cooling.external-circuit", "speed.lower", "", "at most", 2.5),
    ("cooling.external-circuit", "restriction", "", "at most", 35e3),
]
"""Rule, demand, part, relation, limit in SI."""


@pytest.mark.parametrize(("rule", "demand", "part", "relation", "limit"), LIMITS)
def test_a_limit_is_what_its_source_says(
    rule: str, demand: str, part: str, relation: str, limit: float | tuple[float, float]
) -> None:
    assert limit_of(rule, demand, part) == (relation, pytest.approx(limit, rel=1e-6))


def test_a_radiator_takes_by_the_square_of_the_flow() -> None:
    # 10 kPa at 80 L/min are 40 kPa at the engine's 160 L/min
    assert value("cooling.radiator-drop", {"plumbing.cooling.radiator.coolant_drop_flow": "80 L/min"}) == pytest.approx(
        40.0
    )
