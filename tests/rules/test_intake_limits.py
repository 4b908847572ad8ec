"""Limits of the intake pack at their edges; the numbers as their sources state them."""

from __future__ import annotations

import pytest
from pinned import limit_of

from swaplint.kit.trial import one, trial, value

PIPE = "plumbing.intake.ducts.filter_to_turbo"


def test_an_air_mass_sensor_sits_in_a_housing_of_its_own_bore_within_half_a_per_cent() -> None:
    found = one("intake.flow-sensor-run", demand="bore")
    assert found.limit is not None
    # 70 mm
    assert (found.limit.relation, found.limit.value) == ("within", pytest.approx((0.070 * 0.995, 0.070 * 1.005)))


@pytest.mark.parametrize("faster", [1.27, 1.29, 1.31, 1.33])
def test_a_duct_a_third_too_fast_is_a_warning(faster: float) -> None:
    # 25 m/s are usual in the suction ducts of a diesel, 30 m/s of a petrol engine; from 1.3 times that on a warning
    now = value("intake.duct-velocity", part="filter_to_turbo")
    bore = 89.0 * (now / (25.0 * faster)) ** 0.5
    (found,) = [
        f
        for f in trial("intake.duct-velocity", {f"{PIPE}.bore": f"{bore:.4f} mm"})
        if f.part.endswith("filter_to_turbo")
    ]
    assert found.limit is not None
    assert found.limit.value == pytest.approx(25.0)
    assert found.found == pytest.approx(25.0 * faster, rel=1e-4)
    assert (found.kind, found.level) == ("fail", "warning" if faster > 1.3 else "note")


@pytest.mark.parametrize(("fuel", "speed"), [("diesel", 25.0), ("petrol", 30.0)])
def test_a_suction_duct_of_a_petrol_engine_may_be_faster(fuel: str, speed: float) -> None:
    edits = {"engine.fuel_type": fuel}
    assert limit_of("intake.duct-velocity", part="filter_to_turbo", edits=edits) == ("at most", pytest.approx(speed))
