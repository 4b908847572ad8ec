"""Room at the major diameter of involute splines against the basic dimensions of the standards."""

import pytest

from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.engineering.splines import module_of_shaft, side_fit_room

INCH = 0.0254


@pytest.mark.parametrize(
    ("pitch", "teeth", "angle", "root", "hub", "shaft"),
    # ANSI B92.1 basic dimensions, in inches (tables that quote it): shaft (N + 1)/P, hub (N + 1.35)/P flat root, side
    # fit; (N + 1.8)/P fillet root, 30 degrees; 37.5 degrees (N + 1.6)/P, 45 degrees (N + 1.4)/P.
    [
        (16, 21, 30.0, "flat", 22.35 / 16, 22 / 16),
        (8, 6, 30.0, "fillet", 7.8 / 8, 7 / 8),
        (24, 33, 37.5, "fillet", 34.6 / 24, 34 / 24),
        (32, 40, 45.0, "fillet", 41.4 / 32, 41 / 32),
    ],
)
def test_inch_splines(pitch: int, teeth: int, angle: float, root: str, hub: float, shaft: float) -> None:
    assert module_of_shaft(shaft * INCH, teeth) == pytest.approx(INCH / pitch)
    assert side_fit_room(shaft * INCH, teeth, "B92.1", angle, root) == pytest.approx((hub - shaft) * INCH)


def test_metric_splines() -> None:
    # B92.2M and ISO 4156, 30 degrees, module 2, 20 teeth: shaft 42 mm, hub 43 mm flat and 43.6 mm fillet.
    assert side_fit_room(0.042, 20, "B92.2M", 30.0, "flat") == pytest.approx(0.001)
    assert side_fit_room(0.042, 20, "B92.2M", 30.0, "fillet") == pytest.approx(0.0016)


def test_refuses() -> None:
    with pytest.raises(OutsideRange):
        side_fit_room(0.042, 20, "B92.1", 45.0, "flat")
    assert module_of_shaft(0.042, 1) == pytest.approx(0.021)  # D/(N + 1)
    with pytest.raises(ImpossibleInput):
        module_of_shaft(0.042, 0)
