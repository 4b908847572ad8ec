"""Limits of the driveline pack, each as the rule reports it: the numbers as its source states them."""

from __future__ import annotations

import pytest
from pinned import limit_of

LIMITS = [
    # common practice: angles of a joint pair within 3°, 400 rad/s² of torsional and 1000 rad/s² of inertial excitation
    ("driveline.joint-angles", "torsional-acceleration", "shafts.front", "at most", 400.0),
    ("driveline.joint-angles", "inertia.input_joint", "shafts.front", "at most", 1000.0),
    ("driveline.joint-angles", "inertia.output_joint", "shafts.front", "at most", 1000.0),
    ("driveline.joint-angles", "phase", "shafts.front", "at most", 0.05235988),
    ("driveline.joint-angles", "cancelling", "shafts.front", "at most", 0.05235988),
    ("driveline.joint-angles", "running-angle.input_joint", "shafts.front", "at most", 0.1221730),
    # common practice: at most 70 % of the critical speed
    ("driveline.critical-speed", "whirl", "shafts.front", "at most", 0.70),
    # common practice: the bore runs true to 0.20 mm, the face to 0.15 mm on 300 mm
    ("driveline.runout", "bore", "", "at most", 0.20e-3),
    ("driveline.depth-stack", "nose-in-pilot", "", "at least", 0.010),
]
"""Rule, demand, part, relation, limit in SI."""


@pytest.mark.parametrize(("rule", "demand", "part", "relation", "limit"), LIMITS)
def test_a_limit_is_what_its_source_says(
    rule: str, demand: str, part: str, relation: str, limit: float | tuple[float, float]
) -> None:
    assert limit_of(rule, demand, part) == (relation, pytest.approx(limit, rel=1e-6))
