"""Limits of the network pack, each as its source states it and as the rule reports or applies it."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import of_part, one

N = "electrics.network"
CLUSTER = f"{N}.nodes.cluster"


def test_the_bus_may_be_loaded_to_forty_per_cent_on_average() -> None:
    # common practice: 40 % without stuff bits
    found = one("network.bus-load")
    assert found.limit is not None
    assert (found.limit.relation, found.limit.value) == ("at most", pytest.approx(0.40))


@pytest.mark.parametrize(
    ("sent_by", "left", "parameter", "level"),
    [
        # SPN 110 coolant temperature and SPN 100 oil pressure hide a failing engine, SPN 168 battery voltage does not
        (3, [], 110, "error"),
        (4, [94], 100, "error"),
        (5, [], 168, "warning"),
    ],
)
def test_a_dead_gauge_that_hides_a_failing_engine_is_an_error(
    sent_by: int, left: list[int], parameter: int, level: str
) -> None:
    found = of_part(
        "network.signal-availability",
        "cluster",
        {f"engine.network.sends[{sent_by}].parameters": left, f"{CLUSTER}.needs": [parameter]},
    )
    assert (found.kind, found.level, found.demand) == ("fail", level, f"gets.{parameter}")
