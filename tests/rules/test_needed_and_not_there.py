"""Parts that are stated as not fitted while the build cannot do without them."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import one

GONE: dict[str, Any] = {"fitted": False}


@pytest.mark.parametrize(
    ("part", "rule", "demand"),
    [
        ("plumbing.vacuum", "chassis.vacuum-source", "source"),
        ("vehicle.steering.pump", "chassis.steering-flow", "there"),
        ("vehicle.steering.gear", "chassis.steering-flow", "there"),
        ("plumbing.fuel.tank", "fuel.needed-parts", "tank"),
        ("plumbing.fuel.supply", "fuel.needed-parts", "supply"),
    ],
)
def test_an_error_on_the_part(part: str, rule: str, demand: str) -> None:
    found = one(rule, {part: GONE}, demand=demand)
    assert (found.kind, found.level, found.subject) == ("fail", "error", part)


def test_air_conditioning_without_a_compressor() -> None:
    found = one("chassis.air-conditioning", {"plumbing.air_conditioning.compressor": GONE}, demand="compressor")
    assert (found.kind, found.level) == ("fail", "warning")


def test_none_of_them_is_missed_where_nothing_needs_it() -> None:
    electric = {"vehicle.steering.assist": "electric", "vehicle.steering.pump": GONE}
    assert one("chassis.steering-flow", electric | {"vehicle.steering.load": "lamps"}).kind == "pass"  # essential
    hydraulic = {"vehicle.brakes.assist": "hydraulic", "plumbing.vacuum": GONE}
    assert one("chassis.vacuum-source", hydraulic).kind == "notApplicable"


def test_wheel_brakes_written_empty_are_asked_for() -> None:
    assert one("chassis.unassisted-stop", {"vehicle.brakes.wheels": {}}).unknown == ("vehicle.brakes.wheels",)
