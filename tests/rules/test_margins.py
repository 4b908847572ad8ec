"""What a margin is counted in where it is not the limit: temperatures, days and gaps have no size of their own."""

from __future__ import annotations

import math

import pytest
from told import told

DAY = 86400.0
PLACES = "build.design.points = {'pass': {'altitude': '1600 m', 'ambient': '25 degC'}, 'plain': {'altitude': '200 m'," \
    " 'ambient': '41 degC'}}"  # fmt: skip

COUNTED_IN = [
    # the hub of the clutch disc is 45 - 5 mm long
    ("driveline.depth-stack hub-on-spline", "", 0.040),
    # 75 °C in the manifold, 40 °C outside; cooled by water of 74.5 °C half a degree is left, and a whole one counts
    ("cooling.charge-air temperature", "", 35.0),
    ("cooling.charge-air temperature",
     "plumbing.cooling.charge_cooler.place = own-water; plumbing.cooling.charge_cooler.water_temp = 74.5 degC", 1.0),
    # coolant of 105 °C
    ("cooling.ambient-capability sea-level @rated", "", 65.0),
    ("cooling.fan-flow idle", "", 65.0),
    # the freezing point is to lie 5 K below the coldest air
    ("cooling.freeze-protection protection", "", 5.0),
    ("cooling.design-places hottest", PLACES, 10.0),
    ("cooling.design-places highest", PLACES, 1000.0),
    # 3 + 4 + 10 + 10 + 2 + 3 + 2 days of work
    ("supply.end-date", "", 34 * DAY),
    # 6 weeks; what is there at once counts as one day
    ("supply.lead-time @supply[1]", "", 42 * DAY),
    ("supply.lead-time @supply[3]", "", DAY),
    ("intake.boost-joints hose-temperature @hot", "", 100.0),
    ("exhaust.device-position inlet-temperature @catalyst", "", 100.0),
    ("exhaust.sensor-lines angle @inlet_temperature", "", math.radians(10)),
    ("exhaust.reductant tank-temperature", "", 20.0),
    # the line weighs more than its item, or less than the 210 kg that another item takes out
    ("mass.ledger-sense lines-agree", "supply[1].mass = 300 kg", 300.0),
    ("mass.ledger-sense lines-agree", "supply[1].ledger = old_engine; supply[1].mass = 100 kg", 210.0),
    # on its stops before the swap, and after it
    ("mass.ride-height travel.laden @front", "vehicle.suspension.front.bump_clearance = 1 mm", 0.001),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "edits", "size"), COUNTED_IN, ids=lambda value: str(value)[:60])
def test_what_a_margin_is_counted_in(rule: str, edits: str, size: float) -> None:
    found = told(rule, edits)
    assert found.limit is not None
    assert isinstance(found.limit.value, float)
    assert isinstance(found.found, float)
    inside = found.found - found.limit.value
    assert inside != 0.0
    assert found.margin == pytest.approx((inside if found.limit.relation == "at least" else -inside) / size)
