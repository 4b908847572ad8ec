"""What the exhaust rules do in the corners of their branches."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import one, value

PIPES = "plumbing.exhaust.pipes"


@pytest.mark.parametrize(("share", "some"), [(1.001, True), (0.999, False)])
def test_the_widest_tube_of_the_series_decides_whether_wider_pipes_help(share: float, some: bool) -> None:
    # tubes end at 127 mm; pipes of 50.8 mm pass the limit, which is set just above or below what 127 mm would take
    widest = value("exhaust.back-pressure", {f"{PIPES}.*.tube_outer": "127 mm"}, part="highest-place")
    edits = {f"{PIPES}.*.tube_outer": "50.8 mm", "engine.exhaust.back_pressure_max": f"{share * widest:.6f} kPa"}
    found = one("exhaust.back-pressure", edits, demand="pressure")
    assert found.kind == "fail"
    assert ("It takes wider pipes, or devices of lower loss." in found.message) is some, found.message
    assert ("No tube of the series would do: the devices alone take" in found.message) is not some
