"""Limits of the mounts pack, each as the rule reports it: the numbers as its source states them."""

from __future__ import annotations

import pytest
from pinned import limit_of

LIMITS = [
    # common practice: twice the stress and two bolts in a bracket
    ("mounts.bracket-shock", "two-bolts", "front_left", "at least", 2.0),
    ("mounts.bracket-shock", "bolt-strength", "front_left", "at least", 2.0),
    ("mounts.bracket-strength", "bending", "front_left", "at least", 2.0),
    ("mounts.bracket-strength", "weld", "front_left", "at least", 2.0),
    ("mounts.cross-member", "bending", "rear", "at least", 2.0),
    # the ratio of the exciting to the natural frequency from which mounts isolate well, and the lowest bounce
    ("mounts.isolation", "idle-firing", "", "at least", 2.0),
    ("mounts.isolation", "bounce", "", "at least", 6.0),
    ("mounts.roll-mode", "idle-firing", "", "at least", 2.0),
]
"""Rule, demand, part, relation, limit in SI."""


@pytest.mark.parametrize(("rule", "demand", "part", "relation", "limit"), LIMITS)
def test_a_limit_is_what_its_source_says(
    rule: str, demand: str, part: str, relation: str, limit: float | tuple[float, float]
) -> None:
    assert limit_of(rule, demand, part) == (relation, pytest.approx(limit, rel=1e-6))
