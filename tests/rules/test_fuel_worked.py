"""Advice and numbers of the fuel rules, and what their drawings show: each worked out by hand."""

import math

import pytest
from fuel_numbers import FED, FEED_PUMP, PUMP
from swaplint_rules.fuel import figures  # type: ignore[import-not-found]
from told import edited, told

from swaplint.kit.trial import one, value

F = "plumbing.fuel"


# -- what is advised ---------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("rule", "edits", "advice"),
    [
        ("pickup-position height", "tank.pickup_height = 10 mm", {"tank.pickup_height": 0.020}),
        # the nearest place on the same side: 15 % of 800 mm, and of 450 mm
        ("pickup-position offset-along", "tank.pickup_x = -200 mm", {"tank.pickup_x": -0.120}),
        ("pickup-position offset-across", "tank.pickup_y = 100 mm", {"tank.pickup_y": 0.0675}),
        ("tilt-uncovering covering-share", "", {}),
        ("tilt-uncovering covering-share", "build.duty.terrain = road", {"tank.swirl_pot.volume": 1e-3}),
        # 600 km at 12 L/100 km are 72 L: with the 19.358 L that cover the pick-up 91.358 L
        ("range-reserve range", "build.design.range_target = 600 km", {"tank.capacity": 0.091358}),
        # 14 h of 5 L/h are 70 L
        ("range-reserve standing-work", "build.duty.stationary_hours = 14 h", {"tank.capacity": 0.089358}),
        ("filtration water-separator", "filters.primary.water_separator = False",
         {"filters.primary.water_separator": 1.0}),
        ("filtration water-separator", "", {}),
        ("filtration water-separator", "filters.primary = {'fitted': False}", {}),
        ("return-heating", "", {}),
        ("venting vent", "", {}),
        ("venting vent", "vent = {'fitted': False}", {"vent.bore": 0.008}),
        ("venting rollover-valve", "", {}),
        ("venting rollover-valve", "vent.rollover_valve = False", {"vent.rollover_valve": 1.0}),
        ("supply-pump feed-pump", "", {}),
    ],
)  # fmt: skip
def test_what_is_advised(rule: str, edits: str, advice: dict[str, float]) -> None:
    given = {one.field.removeprefix(f"{F}."): float(one.value) for one in told(f"fuel.{rule}", edits, F).advice}
    assert given == pytest.approx(advice, rel=1e-4)


# -- numbers -----------------------------------------------------------------------------------------------------------
def test_a_warm_tank_has_its_margin_by_how_far_the_limit_is_from_the_air() -> None:
    # 75 °C allowed in 40 °C: (75 - 56.35)/35
    found = one("fuel.return-heating")
    assert found.found is not None
    assert found.margin == pytest.approx((348.15 - found.found) / 35.0, rel=1e-6)


def test_a_cooler_is_taken_off_the_heat_of_the_return() -> None:
    # 60 L/h of 817.2 kg/m³, warm, times 2000 J/(kg K) times 20 K: 545 W
    heat = value("fuel.return-heat")
    assert heat == pytest.approx(60 / 3.6e6 * 817.2 * 2000 * 20 / 1000, rel=1e-3)
    plain, cooled, cold = (
        value("fuel.tank-temperature", edited(edits, F)) - 40.0
        for edits in (
            "",
            "cooler = {'duty': '0.2 kW', 'drop': '0.5 kPa'}",
            "cooler = {'duty': '2 kW', 'drop': '0.5 kPa'}",
        )
    )
    assert cooled / plain == pytest.approx((heat - 0.2) / heat, rel=1e-3)
    assert cold == pytest.approx(0.0, abs=1e-6)


def test_fuel_that_comes_back_and_is_burnt_came_through_the_line() -> None:
    # 90 L/h are drawn: as much may come back or be burnt, and no more
    assert one("fuel.suction-loss", {"engine.fuel.return_flow": "90 L/h"}).kind == "pass"
    for field, what in (("return_flow", "send back"), ("burn", "burn")):
        found = one("fuel.suction-loss", {f"engine.fuel.{field}": "91 L/h"})
        assert (found.kind, f"to draw 90 L/h of fuel and to {what} 91 L/h" in found.message) == ("review", True)


@pytest.mark.parametrize(
    ("tank", "kind"),
    [
        # 800 · 450 · 245 mm hold 88.2 L; with a fiftieth for the tape measure 89.96 L
        ("89.9 L", "pass"),
        ("90 L", "review"),
    ],
)
def test_a_tank_holds_no_more_than_its_box(tank: str, kind: str) -> None:
    found = told("fuel.pickup-position height", f"tank.capacity = {tank}", F)
    assert found.kind == kind
    if kind == "review":
        assert "the tank of 800 mm x 450 mm x 245 mm is stated to hold 90 L; a box holds 88.2 L" in found.message


def test_feed_pumps_are_reckoned_where_one_is_fitted_or_asked_for() -> None:
    # 1.2 times the 90 L/h that the engine draws
    for edits in (FED, {"engine.fuel.feed_pump": "required"}, {"engine.fuel.feed": "pressure"}):
        assert value("fuel.feed-flow-needed", edits) == pytest.approx(108.0)
    with pytest.raises(LookupError):
        value("fuel.feed-flow-needed")
    with pytest.raises(LookupError):
        value("fuel.pump-flow")


@pytest.mark.parametrize(
    ("pump", "flow"),
    [
        # needed 16.02 kPa: 220 - 60·16.02/40 = 195.97 L/h at 13.5 V; at 11.5 V 0.85185 of that, mechanical all of it
        ({}, 195.97 * 11.5 / 13.5),
        ({"kind": "mechanical"}, 195.97),
        # measured at 11 V: no more than at the voltage of the curve
        ({"curve_voltage": "11 V"}, 195.97),
        # the curve begins at 30 kPa: as there
        ({"curve": [{"pressure": "30 kPa", "flow": "150 L/h"}, {"pressure": "40 kPa", "flow": "100 L/h"}]},
         150 * 11.5 / 13.5),
        # shut off below what is needed, or just there
        ({"curve": [{"pressure": "0 kPa", "flow": "150 L/h"}, {"pressure": "15 kPa", "flow": "0 L/h"}]}, 0.0),
    ],
)  # fmt: skip
def test_flow_of_a_pump(pump: dict[str, object], flow: float) -> None:
    assert value("fuel.pump-flow", {**FED, PUMP: {**FEED_PUMP, **pump}}) == pytest.approx(flow, rel=1e-3)


def test_a_filter_side_by_side_takes_half_warm_and_cold() -> None:
    both = edited("filters.primary.side_by_side = 2", F)
    assert value("fuel.filter-drop", both, part="warm") == pytest.approx(1.0)
    assert value("fuel.filter-drop", both, part="cold") == pytest.approx(2.0)
    # a filter behind the inlet takes nothing ahead of it
    assert value("fuel.filter-drop", edited("filters.primary.place = engine", F), part="warm") == 0.0


def test_the_vent_lets_in_what_is_burnt_or_filled() -> None:
    # 24 L/h are 0.4 L/min; without a breather the 40 L/min of the nozzle, or the burn where that is more
    assert value("fuel.vent-flow") == pytest.approx(0.4)
    assert value("fuel.vent-flow", edited("tank.filler_breather = False", F)) == pytest.approx(40.0)
    slow = edited("tank.filler_breather = False; tank.filling_rate = 0.1 L/min", F)
    assert value("fuel.vent-flow", slow) == pytest.approx(0.4)


# -- what is drawn -----------------------------------------------------------------------------------------------------
BOX = [(-1.0, 0.0), (1.0, 0.0), (1.0, 1.0), (-1.0, 1.0)]


@pytest.mark.parametrize(
    ("middle", "slope", "wet"),
    [
        # a box 2 wide and 1 high, half full on the level; a surface through two corners, which belong to it; one that
        # leaves it through floor and side, at -1 + 0.5/0.5 = 0 and at 0.5; full; empty
        (0.5, 0.0, [(-1.0, 0.0), (1.0, 0.0), (1.0, 0.5), (-1.0, 0.5)]),
        (0.5, 0.5, [(-1.0, 0.0), (1.0, 0.0), (1.0, 1.0)]),
        (0.0, 0.5, [(0.0, 0.0), (1.0, 0.0), (1.0, 0.5)]),
        (2.0, 0.0, BOX),
        (-1.0, 0.0, []),
    ],
)
def test_what_of_a_tank_is_wet(middle: float, slope: float, wet: list[tuple[float, float]]) -> None:
    assert figures._below(BOX, middle, slope) == [pytest.approx(place) for place in wet]


def test_a_tank_is_turned_as_it_stands() -> None:
    # by 30°, its right end down: (1, 0) comes to (cos 30°, -sin 30°), (0, 1) to (sin 30°, cos 30°)
    turned = figures._turned([(1.0, 0.0), (0.0, 1.0)], math.radians(30.0))
    assert turned == [pytest.approx((0.8660, -0.5), abs=1e-4), pytest.approx((0.5, 0.8660), abs=1e-4)]


@pytest.mark.parametrize(
    ("middle", "shapes"),
    [(0.5, ["fuel", "tank", "surface"]), (2.0, ["fuel", "tank"]), (-0.5, ["tank"]), (0.0, ["tank", "surface"])],
)
def test_a_section_has_fuel_and_a_surface_where_there_are_any(middle: float, shapes: list[str]) -> None:
    sketch = figures._sketch(2.0, 1.0, (0.2, 0.1), 0.0, middle, "level")
    assert [shape.name for shape in sketch.shapes] == shapes
    assert (sketch.points[0].x, sketch.points[0].y) == pytest.approx((0.2, 0.1))


def test_the_surface_is_level_on_a_slope() -> None:
    # 2 m wide, tilted by 20°: the surface goes through (0, 0.5) and stands level, 2/cos 20° = 2.128 m long
    surface = figures._sketch(2.0, 1.0, (0.0, 0.1), math.radians(20.0), 0.5, "tilted").shapes[-1]
    (x0, z0), (x1, z1) = surface.points
    assert (z0, x1 - x0) == pytest.approx((z1, 2.1284), abs=1e-4)
