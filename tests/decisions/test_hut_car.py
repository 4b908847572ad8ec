"""The hut car: each planted mistake is reported once, on the field it was made in; put right, nothing false is left.

Eight mistakes that builders make are planted. They are put right one after the other, as the remedy is printed where
there is one, else as the sentence says.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from .support import SPECS, ask, edited

HUT_CAR = str(SPECS / "ormsgill-hut-car.toml")


class Planted(NamedTuple):
    """A mistake, the result that tells of it, and what the spec says before and after it is put right."""

    rule: str
    part: str | None
    demand: str | None
    level: str
    field: str
    sentence: str
    """What the message must say, so that a builder knows what to do."""
    wrong: str
    right: str
    """With {} for the value of a printed remedy."""


PLANTED = [
    Planted(  # a plate of the stock thickness next to the one that was drawn
        "driveline.depth-stack",
        None,
        "converter-gap",
        "error",
        "driveline.adapter.thickness",
        "pulled forward by 7.5 mm",
        'thickness = "24 mm"',
        'thickness = "{}"',
    ),
    Planted(  # the catalyst where there was room for it, below the seats
        "exhaust.device-position",
        "plumbing.exhaust.devices.catalyst",
        "distance-max",
        "error",
        "plumbing.exhaust.devices.catalyst.distance_from_turbo",
        "200 mm to 900 mm",
        'distance_from_turbo = "1250 mm"',
        'distance_from_turbo = "{}"',
    ),
    Planted(  # one line saved on the way to the rear
        "fuel.return-pressure",
        None,
        "end",
        "error",
        "plumbing.fuel.return_line.ends_in",
        "Run it back to the tank.",
        'ends_in = "supply-tee"',
        'ends_in = "tank"',
    ),
    Planted(  # a lamp relay for the intake heater
        "power.intake-heater",
        "electrics.cables.heater",
        "relay",
        "error",
        "electrics.cables.heater.relay_rating",
        "rated 70 A; the heater takes 90 A",
        'relay_rating = "70 A"\nsize = "25 mm2"',
        'relay_rating = "{}"\nsize = "25 mm2"',
    ),
    Planted(  # the display as it came out of its box
        "network.bit-rate",
        "electrics.network.wires.front",
        "rate.display",
        "error",
        "electrics.network.nodes.display.bit_rate",
        "the others run at 250 kbit/s",
        'bit_rate = "500 kbit/s"',
        'bit_rate = "{}"',
    ),
    Planted(  # twice the power, and the brakes of 1975
        "chassis.brake-duty",
        None,
        "energy",
        "error",
        "driveline.speed_limiter.speed",
        "A limiter at 110 km/h or less would do.",
        "[driveline.speed_limiter]\nfitted = false",
        '[driveline.speed_limiter]\nspeed = "110 km/h"',
    ),
    Planted(  # the terminal that was free on the old switch
        "controls.controller-live",
        "driveline.gearbox.controller.feeds.key",
        "live",
        "error",
        "electrics.cables.gearbox_key.start",
        "Live in both: terminal run.",
        'start = "key-accessory"',
        'start = "key-run"',
    ),
    Planted(  # a racing tank in the open load space
        "fuel.tank-place",
        "plumbing.fuel.tank",
        "parted",
        "error",
        "plumbing.fuel.tank.parted",
        "fit a closed metal wall",
        'parted = "nothing"',
        'parted = "closed-wall"',
    ),
]

REVIEWS = {
    ("mass.as-it-was", None, "front-axle"): "the new engine and gearbox are heavier",
    ("mass.as-it-was", None, "rear-axle"): "the tank is now in the rear",
    ("mass.as-it-was", None, "power-to-mass"): "81 kW where there were 46 kW",
    ("mass.as-it-was", None, "top-speed"): "as long as no limiter is fitted",
}
"""What a person is asked to look at, and why."""


def key(result: dict[str, Any]) -> tuple[str, str | None, str | None]:
    return result["rule"], result["part"], result["demand"]


def of_kind(spec: str, kind: str) -> list[dict[str, Any]]:
    return [result for result in ask("inspect", spec)["specs"][0]["results"] if result["kind"] == kind]


@pytest.mark.parametrize("planted", PLANTED, ids=[planted.rule for planted in PLANTED])
def test_a_planted_mistake_is_reported_on_its_field(planted: Planted) -> None:
    (found,) = [r for r in of_kind(HUT_CAR, "fail") if key(r) == (planted.rule, planted.part, planted.demand)]
    assert found["level"] == planted.level
    assert found["subject"] == planted.field
    assert planted.sentence in found["message"]


def test_nothing_else_fails_and_little_is_open() -> None:
    fails = [key(result) for result in of_kind(HUT_CAR, "fail")]
    assert sorted(fails, key=str) == sorted(((p.rule, p.part, p.demand) for p in PLANTED), key=str)
    # what only the finished vehicle can show is not due yet
    at_commissioning = {f"compliance.{name}" for name in ("diagnosis-ready", "noise-emc", "inspection-plan", "told")}
    still_open = of_kind(HUT_CAR, "open")
    law = {result["rule"] for result in still_open if not result["rule"].startswith("commissioning.")}
    assert law == at_commissioning
    assert not any(result["due"] for result in still_open)
    assert {key(result) for result in of_kind(HUT_CAR, "review")} == set(REVIEWS)


def put_right(folder: Path) -> Iterator[tuple[Planted, str]]:
    """The spec after each mistake is put right, the earlier ones too."""
    spec, edits = HUT_CAR, {}
    for number, planted in enumerate(PLANTED):
        right = planted.right
        if "{}" in right:
            (found,) = [r for r in of_kind(spec, "fail") if key(r) == (planted.rule, planted.part, planted.demand)]
            (remedy,) = [remedy for remedy in found["remedies"] if remedy["field"] == planted.field]
            right = right.format(remedy["written"])
        edits[planted.wrong] = right
        spec = edited(folder / str(number), HUT_CAR, edits)
        yield planted, spec


@pytest.mark.thorough
def test_put_right_one_after_the_other_nothing_false_is_left(tmp_path: Path) -> None:
    left = {(planted.rule, planted.part, planted.demand) for planted in PLANTED}
    for planted, spec in put_right(tmp_path):
        left.remove((planted.rule, planted.part, planted.demand))
        assert {key(result) for result in of_kind(spec, "fail")} == left, planted
    assert left == set()
