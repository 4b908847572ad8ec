"""The force balance against road tests of 400 cars: an open data set, as a plausibility check.

Source: the data set `cars.json` of the package vega-datasets (from the StatLib library, American Statistical
Association exposition of 1983): weight, power and the time from rest to 60 mph of cars of 1970 to 1982. The data know
neither gears nor tyres nor drag, so each car is taken with typical values and shifts without a pause. Power before
1972 is gross, without accessories, so the predicted times are too short for many. Nothing is tuned to the data. The
scatter when this was written: predicted over measured time 0.75 in the middle, 0.51 to 1.18 at the ends; rank
correlation 0.79.
"""

import json
import statistics
from pathlib import Path

import pytest

from swaplint.engineering.constants import G
from swaplint.engineering.road_load import Resistance

vega_datasets = pytest.importorskip("vega_datasets")

POUND, HORSEPOWER, MILE_PER_HOUR = 0.45359237, 745.69987, 0.44704  # NIST SP 811
DRIVER = 80.0  # kg
EFFICIENCY = 0.85
GRIP, DRIVEN_SHARE = 0.8, 0.55
ROTATING = 1.08  # rotating parts count as so much more mass: Gillespie, from memory


def seconds_to_sixty(mass: float, power: float) -> float:
    """Time to 60 mph at full power, limited by grip, against the road load; Euler steps of 0.01 m/s."""
    car = Resistance(mass, 0.014, 0.45 * 2.1, 1.2)
    speed, time, step = 0.05, 0.0, 0.05
    while speed < 60 * MILE_PER_HOUR:
        force = min(power * EFFICIENCY / speed, GRIP * DRIVEN_SHARE * mass * G) - car.force(speed)
        time += step * mass * ROTATING / force
        speed += step
    return time


def ratios() -> list[tuple[float, float]]:
    folder = Path(next(iter(vega_datasets.__path__)))
    cars = json.loads((folder / "_data" / "cars.json").read_text(encoding="utf-8"))
    return [
        (seconds_to_sixty(c["Weight_in_lbs"] * POUND + DRIVER, c["Horsepower"] * HORSEPOWER), c["Acceleration"])
        for c in cars
        if c["Horsepower"]
    ]


def test_predicted_times_follow_the_road_tests() -> None:
    pairs = ratios()
    assert len(pairs) == 400  # 406 cars, six without a power
    shares = sorted(predicted / measured for predicted, measured in pairs)
    middle = statistics.median(shares)
    # Full power all the time and no pause for shifting: quicker than any driver, but of the right size.
    assert 0.5 < middle < 1.0
    # Nine cars in ten lie within a third of the middle.
    inside = sum(1 for share in shares if abs(share / middle - 1.0) < 1 / 3)
    assert inside / len(shares) > 0.9
    # The order of the cars comes out: rank correlation after Spearman.
    stats = pytest.importorskip("scipy.stats")
    assert stats.spearmanr(*zip(*pairs, strict=True)).statistic > 0.7
