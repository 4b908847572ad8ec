"""Limits of the fuel pack, each as the rule reports it: the numbers as its source states them."""

from __future__ import annotations

import pytest
from advising import advised
from pinned import limit_of

from swaplint.kit.trial import one, value

LIMITS = [
    # common practice: 100 mm to a turbocharger, 50 mm to the exhaust, 25 mm behind a shield; a clip each 450 mm
    ("fuel.line-routing", "exhaust-gap", "engine-bay", "at least", 0.100),
    ("fuel.line-routing", "exhaust-gap", "routes.frame", "at least", 0.050),
    ("fuel.line-routing", "exhaust-gap", "routes.tank", "at least", 0.025),
    ("fuel.line-routing", "clip-spacing", "engine-bay", "at most", 0.450),
    # no more than 2 inches below the tank, in the rule on fuel systems that the pack cites
    ("fuel.line-routing", "below-tank", "routes.frame", "at most", 2 * 0.0254),
    # common practice: mouth 15 to 30 mm above the floor, within 15 % of the middle; vent of 6 mm that takes 0.5 kPa
    ("fuel.pickup-position", "height", "", "within", (0.015, 0.030)),
    ("fuel.pickup-position", "offset-along", "", "at most", 0.15),
    ("fuel.pickup-position", "offset-across", "", "at most", 0.15),
    # common practice: a common rail's primary filter keeps back 10 to 30 µm
    ("fuel.filtration", "primary-fineness.primary", "", "within", (10e-6, 30e-6)),
    ("fuel.venting", "bore", "", "at least", 0.006),
    ("fuel.venting", "pressure", "", "at most", 500.0),
]
"""Rule, demand, part, relation, limit in SI."""


@pytest.mark.parametrize(("rule", "demand", "part", "relation", "limit"), LIMITS)
def test_a_limit_is_what_its_source_says(
    rule: str, demand: str, part: str, relation: str, limit: float | tuple[float, float]
) -> None:
    assert limit_of(rule, demand, part) == (relation, pytest.approx(limit, rel=1e-6))


def test_a_vent_that_is_not_there_is_advised_with_8_mm() -> None:
    found = one("fuel.venting", {"plumbing.fuel.vent": {"fitted": False}}, demand="vent")
    assert advised(found) == {"plumbing.fuel.vent.bore": pytest.approx(0.008)}


@pytest.mark.parametrize(("limit", "kelvin"), [(40.5, 1.0), (39.5, 1.0), (75.0, 35.0)])
def test_a_tank_is_too_hot_by_its_share_of_the_room_above_the_hottest_air(limit: float, kelvin: float) -> None:
    # the hottest air has 40 °C; room of less than a kelvin counts as one
    found = one("fuel.return-heating", {"engine.fuel.inlet_temp_max": f"{limit} degC"})
    assert found.margin == pytest.approx((limit - value("fuel.tank-temperature")) / kelvin, rel=1e-6)
