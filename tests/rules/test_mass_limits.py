"""Limits of the mass pack, each as the rule reports it: the numbers as its source states them."""

from __future__ import annotations

import pytest
from pinned import limit_of

LIMITS = [
    # a fifth of the mass on the steered axle by law, a quarter as is usual
    ("mass.steering-axle-share", "lawful-share", "driver_only", "at least", 0.20),
    ("mass.steering-axle-share", "usual-share", "driver_only", "at least", 0.25),
]
"""Rule, demand, part, relation, limit in SI."""


@pytest.mark.parametrize(("rule", "demand", "part", "relation", "limit"), LIMITS)
def test_a_limit_is_what_its_source_says(
    rule: str, demand: str, part: str, relation: str, limit: float | tuple[float, float]
) -> None:
    assert limit_of(rule, demand, part) == (relation, pytest.approx(limit, rel=1e-6))
