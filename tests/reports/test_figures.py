"""What is drawn is what the worksheet says, and a drawing holds for any name and any build."""

from __future__ import annotations

import dataclasses
import functools
import math
import re
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from swaplint.api import Axis, Band, Bar, Bars, Budgets, Chart, Curve, Point, ScaleDrawing, figure
from swaplint.host.problems import Problem
from swaplint.inspecting.drawn import Drawn, drawn
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Inspection
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base, value
from swaplint.reports.drawing import canvas
from swaplint.reports.drawing.forms import svg_of_form, too_many
from swaplint.reports.drawing.margins import look_of, margins_svg, with_margins
from swaplint.reports.drawing.words import form_words
from swaplint.reports.html.figures import figures, not_drawn
from tests.reports.reading_back import Drawing


@functools.cache
def _drawn() -> dict[str, Drawn]:
    found, broken = drawn(rule_base().packs, sound_spec(rule_base()))
    assert broken == []
    return {one.figure.id: one for one in found}


def with_edits(id: str, edits: Mapping[str, Any]) -> Drawn | None:
    """What one figure has to draw of the edited sound spec."""
    base = rule_base()
    pack = next(pack for pack in base.packs if any(figure.id == id for figure in pack.figures))
    found, broken = drawn([pack], sound_spec(base, edits))
    assert broken == []
    return next((one for one in found if one.figure.id == id), None)


def svg(one: Drawn) -> Drawing:
    """It drawn, to be read back."""
    assert one.form is not None, one.lacks
    return Drawing(svg_of_form(one.form, one.figure.id, one.figure.title, form_words(one.form)))


@functools.cache
def of_sound(id: str) -> Drawing:
    return svg(_drawn()[id])


def test_every_figure_of_the_sound_spec_can_be_drawn() -> None:
    missing = {id: one.lacks or one.why for id, one in _drawn().items() if one.form is None}
    assert missing == {}
    assert len(_drawn()) == sum(len(pack.figures) for pack in rule_base().packs)


# -- gearing ----------------------------------------------------------------------------------------------------------
def test_engine_speed_is_read_back_at_both_ends_of_every_gear() -> None:
    spec = sound_spec(rule_base())
    speeds = spec.build.engine.speed  # type: ignore[attr-defined]
    drawing = of_sound("gearing.engine-speed")
    lines = drawing.named("curve-gear-")
    assert len(lines) == len(spec.build.driveline.gearbox.ratios)  # type: ignore[attr-defined]
    for line in lines:
        (_, low), (_, high) = drawing.points(line)
        assert low == pytest.approx(float(speeds.idle.value) * 60 / 6.283185, rel=0.01)
        assert high == pytest.approx(float(speeds.governed_max.value) * 60 / 6.283185, rel=0.01)
    ((_, turns),) = drawing.points("point-cruise-top-gear")
    assert turns == pytest.approx(value("gearing.cruise-rpm"), rel=0.01)
    assert any(f"{value('gearing.cruise-rpm'):.4g} r/min" in text for text in drawing.texts)


def test_the_road_load_and_the_pull_are_read_back_where_they_are_on_the_worksheet() -> None:
    drawing = of_sound("gearing.pull")
    ((speed, needed),) = drawing.points("point-cruise-needed")
    assert needed * speed / 3.6 == pytest.approx(value("gearing.cruise-road-power"), rel=0.02)
    ((speed, there),) = drawing.points("point-cruise-top-gear")
    assert there * speed / 3.6 == pytest.approx(value("gearing.cruise-available-power"), rel=0.02)


def test_the_slopes_that_are_drawn_are_those_of_roads_and_of_tracks() -> None:
    on_the_road = ["curve-slope-of-5-", "curve-slope-of-10-", "curve-slope-of-20-"]
    assert of_sound("gearing.pull").named("curve-slope") == on_the_road
    on_tracks = ["curve-slope-of-15-", "curve-slope-of-30-", "curve-slope-of-60-"]
    assert of_sound("gearing.pull-at-height").named("curve-slope") == on_tracks


def test_pull_at_the_highest_place_is_read_back_with_what_the_steepest_slope_takes() -> None:
    # 2800 kg on ground of 0.05; at walking pace the air takes next to nothing: m·g·(sin θ + 0.05·cos θ).
    slope = math.atan(value("gearing.steepest-climb") / 100)
    weight = 2800 * 9.80665 / 1000
    drawing = of_sound("gearing.pull-at-height")
    (name,) = drawing.named("point-")
    ((speed, force),) = drawing.points(name)
    assert force == pytest.approx(weight * (math.sin(slope) + 0.05 * math.cos(slope)), rel=0.01)
    assert 1 < speed < 15
    # All wheels driven on ground of 0.7: 2800 kg · 0.7 · 9.80665 m/s² = 19.22 kN.
    assert [y for _, y in drawing.points("limit-grip-of-the-driven-tyres")] == pytest.approx([19.22] * 2, rel=0.002)


def test_pull_at_the_highest_place_is_that_of_the_lowest_range_and_of_thin_air() -> None:
    # Low range 2.5 to 1; 1500 m is 500 m above what the engine stands without loss: 3 % each 300 m are 5 %.
    on_the_road = max(force for _, force in of_sound("gearing.pull").points("curve-gear-2"))
    up_there = max(force for _, force in of_sound("gearing.pull-at-height").points("curve-gear-2"))
    assert up_there == pytest.approx(2.5 * 0.95 * on_the_road, rel=0.01)


def test_without_a_transfer_case_the_pull_at_height_is_that_of_the_only_range() -> None:
    one = with_edits("gearing.pull-at-height", {"driveline.transfer": {"fitted": False}})
    assert one is not None
    on_the_road = max(force for _, force in of_sound("gearing.pull").points("curve-gear-2"))
    assert max(force for _, force in svg(one).points("curve-gear-2")) == pytest.approx(0.95 * on_the_road, rel=0.01)


def test_a_gearbox_with_fewer_gears_has_fewer_lines() -> None:
    one = with_edits("gearing.pull", {"driveline.gearbox.ratios": [4.0, 1.0]})
    assert one is not None
    assert svg(one).named("curve-gear-") == ["curve-gear-1", "curve-gear-2"]


def test_without_gears_the_figure_says_what_is_missing() -> None:
    one = with_edits("gearing.pull", {"driveline.gearbox.ratios": None})
    assert one is not None
    assert one.form is None
    assert "driveline.gearbox.ratios" in one.lacks


# -- bars and budgets -------------------------------------------------------------------------------------------------
def test_axle_loads_and_ratings_are_read_back() -> None:
    drawing = of_sound("mass.axle-loads")
    for axle in ("front", "rear"):
        bar = f"laden-{axle}-axle"
        assert drawing.width(f"bar-{bar}") == pytest.approx(
            value("mass.axle-load", part=f"vehicle.load_cases.laden {axle}"), rel=0.002
        )
        rating = value("mass.end-rating", part=axle)
        assert drawing.along_x(f"limit-{bar}") == pytest.approx([rating, rating], rel=0.002)
    assert drawing.width("bar-laden-vehicle") == pytest.approx(value("mass.laden", part="load_cases.laden"), rel=0.002)


def test_a_load_beyond_its_rating_says_so() -> None:
    one = with_edits("mass.axle-loads", {"vehicle.mass.gawr_front": "1000 kg", "vehicle.load_cases.driver_only": None})
    assert one is not None
    assert one.form is not None
    assert "(rating 1000 kg, beyond it)" in form_words(one.form)
    drawing = svg(one)
    assert "beyond its rating" in drawing.texts
    assert drawing.named("bar-driver") == []


@pytest.mark.parametrize(("case", "name"), [("warm", "warm-fuel-40-C"), ("cold", "cold-fuel-15-C")])
def test_the_pressure_budget_is_read_back_step_by_step(case: str, name: str) -> None:
    drawing = of_sound("fuel.pressure-budget")
    for step, id in (("friction", "supply-friction"), ("lift", "supply-lift"), ("filters", "filter-drop")):
        assert drawing.width(f"step-{name}-{step}") == pytest.approx(value(f"fuel.{id}", part=case), abs=0.03)
    total = drawing.width(f"total-{name}-depression-at-the-engine")
    assert total == pytest.approx(value("fuel.supply-loss", part=case), abs=0.03)


def test_with_a_pump_the_budget_begins_at_its_pressure_and_ends_at_what_reaches_the_engine() -> None:
    pump = {
        "plumbing.fuel.pump.fitted": True,
        "plumbing.fuel.pump.kind": "in-line-electric",
        "plumbing.fuel.pump.pressure": "45 kPa",
        "engine.fuel.feed": "pressure",
        "engine.fuel.inlet_pressure_min": "20 kPa",
    }
    one = with_edits("fuel.pressure-budget", pump)
    assert one is not None
    drawing = svg(one)
    ends = max(drawing.along_x("total-cold-fuel-15-C-left-at-the-engine"))
    assert ends == pytest.approx(45 - value("fuel.supply-loss", part="cold"), abs=0.05)
    assert drawing.along_x("limit-cold-fuel-15-C") == pytest.approx([20, 20], abs=0.05)


@pytest.mark.parametrize(
    ("id", "edits", "says"),
    [
        ("fuel.pressure-budget", {"engine.fuel.max_inlet_restriction": "1 kPa"}, "inlet 1 kPa, beyond it)"),
        ("fuel.pressure-budget", {}, "within it)"),
        ("power.starting-circuit", {"engine.ecm.min_voltage_crank": "11.9 V"}, "needed 11.9 V, beyond it)"),
        ("cooling.heat", {"build.design.ambient_max": "80 degC"}, "beyond it)"),
    ],
)
def test_what_ends_beyond_its_limit_is_hatched_and_said(id: str, edits: Mapping[str, Any], says: str) -> None:
    one = with_edits(id, edits)
    assert one is not None
    assert one.form is not None
    assert says in form_words(one.form)
    assert ("<pattern" in svg(one).svg) == ("beyond" in says)


def test_the_heat_and_what_the_radiator_gives_off_are_read_back() -> None:
    drawing = of_sound("cooling.heat")
    for point, path in (("rated-speed", "rated"), ("peak-torque", "peak_torque")):
        name = f"air-of-40-C-coolant-at-105-C-at-{point}"
        subject = f"engine.heat.{path}"
        assert drawing.width(f"bar-{name}") == pytest.approx(value("cooling.coolant-heat", part=subject), rel=0.003)
        gives = value("cooling.radiator-heat", part=subject)
        assert drawing.along_x(f"limit-{name}") == pytest.approx([gives, gives], rel=0.003)


def test_without_a_fan_the_heat_is_still_that_of_the_worksheet_and_without_a_radiator_there_is_no_figure() -> None:
    edits = {"plumbing.cooling.fan": {"fitted": False}}
    one = with_edits("cooling.heat", edits)
    assert one is not None
    bar = "bar-air-of-40-C-coolant-at-105-C-at-rated-speed"
    wanted = value("cooling.coolant-heat", edits, part="engine.heat.rated")
    assert svg(one).width(bar) == pytest.approx(wanted, rel=0.003)
    assert with_edits("cooling.heat", {"plumbing.cooling.radiator": {"fitted": False}}) is None


def test_the_starting_circuit_ends_at_the_voltage_of_the_worksheet() -> None:
    drawing = of_sound("power.starting-circuit")
    name = "cranking-with-350-A-at-15-C"
    left = max(drawing.along_x(f"total-{name}-left-at-the-starter"))
    assert left == pytest.approx(value("power.crank-voltage"), abs=0.02)
    rest = max(drawing.along_x(f"total-{name}-battery-at-rest"))
    assert rest == pytest.approx(value("power.open-circuit-voltage"), abs=0.02)
    # 350 A through the resistance of the battery, in mΩ
    inside = drawing.width(f"step-{name}-in-the-battery")
    assert inside == pytest.approx(0.350 * value("power.battery-resistance"), abs=0.02)


def test_the_starting_circuit_loses_what_each_part_of_it_takes() -> None:
    # by hand in the tests of power: 6.9784 mΩ in the battery, 0.9148 mΩ there, 0.4074 mΩ back, 350 A; the heater's 80 A
    # come out of the battery alone
    one = with_edits("power.starting-circuit", {"engine.intake_heater.on_while_cranking": True})
    assert one is not None
    assert isinstance(one.form, Budgets)
    (budget,) = one.form.budgets
    assert budget.start == pytest.approx(12.4)
    assert dict(budget.steps) == {
        "in the battery": pytest.approx(-0.350 * 6.9784, rel=1e-4),
        "in the battery, by the intake heater": pytest.approx(-0.080 * 6.9784, rel=1e-4),
        "on the way to the starter": pytest.approx(-0.350 * 0.9148),
        "on the way back": pytest.approx(-0.350 * 0.4074),
    }
    # of 7.5 V for the starter and 8 V for the control unit the higher one; without the unit the starter's
    assert budget.limit == pytest.approx(8.0)
    alone = with_edits("power.starting-circuit", {"engine.ecm": {"fitted": False}})
    assert alone is not None
    assert isinstance(alone.form, Budgets)
    assert alone.form.budgets[0].limit == pytest.approx(7.5)
    assert "in the battery, by the intake heater" not in dict(alone.form.budgets[0].steps)


def test_a_shaft_is_drawn_as_long_as_it_is_wherever_it_points() -> None:
    one = with_edits("driveline.side-view", {"driveline.shafts.rear.output_joint.ride": "20 deg"})
    assert one is not None
    assert isinstance(one.form, ScaleDrawing)
    sketch = next(sketch for sketch in one.form.sketches if "rear" in sketch.name)
    drawn_long = {shape.name: math.dist(*shape.points) for shape in sketch.shapes}
    assert drawn_long == {
        "driving": pytest.approx(0.2, rel=1e-9),
        "rear": pytest.approx(1.1, rel=1e-9),
        "driven": pytest.approx(0.2, rel=1e-9),
    }


@pytest.mark.parametrize(("battery", "lacks"), [(None, "electrics.batteries"), ({}, "electrics.batteries")])
def test_without_a_battery_the_starting_circuit_says_so(battery: Any, lacks: str) -> None:
    one = with_edits("power.starting-circuit", {"electrics.batteries": battery})
    assert one is not None
    assert one.form is None
    assert one.why or any(field.startswith(lacks) for field in one.lacks)


# -- lines and marks --------------------------------------------------------------------------------------------------
def test_the_charge_balance_is_read_back_at_idle_and_cruise() -> None:
    drawing = of_sound("power.charge-balance")
    curve = drawing.points("curve-hot-alternators-give")
    assert curve[0][1] == pytest.approx(value("power.output-idle"), abs=0.5)
    cruise = value("gearing.cruise-rpm")
    given = next(y for x, y in curve if abs(x - cruise) < 3)
    assert given == pytest.approx(value("power.output-cruise"), abs=0.5)
    for name, id in (("idle", "demand-idle"), ("cruise", "demand-cruise")):
        (point,) = (drawing.points(part) for part in drawing.named(f"point-wanted-{name}"))
        assert point[0][1] == pytest.approx(value(f"power.{id}"), abs=0.5)


def test_with_an_electric_fan_more_is_wanted() -> None:
    edits = {"plumbing.cooling.fan.drive": "electric"}
    one = with_edits("power.charge-balance", edits)
    assert one is not None
    drawing = svg(one)
    (name,) = drawing.named("point-wanted-idle")
    assert drawing.points(name)[0][1] == pytest.approx(value("power.demand-idle", edits), abs=0.5)


def test_the_frequencies_are_read_back() -> None:
    one = _drawn()["mounts.frequencies"]
    assert one.form is not None
    drawing = Drawing(svg_of_form(one.form, one.figure.id, "t", "w"), log=True)
    for mark, id in (("unit-on-its-mounts-roll", "roll-mode"), ("unit-on-its-mounts-bounce", "bounce-mode")):
        assert drawing.along_x(f"mark-{mark}") == pytest.approx([value(f"mounts.{id}")], rel=0.005)
    (firing,) = drawing.along_x("mark-engine-at-idle-firing")
    assert firing == pytest.approx(value("mounts.firing-frequency"), rel=0.005)
    assert drawing.along_x("limit-half-of-idle-firing") == pytest.approx([firing / 2] * 2, rel=0.01)


# -- to scale ---------------------------------------------------------------------------------------------------------
def test_the_fuel_on_the_slope_is_what_the_worksheet_asks_for() -> None:
    drawing = of_sound("fuel.tank-on-slopes")
    spec = sound_spec(rule_base())
    tank = spec.build.plumbing.fuel.tank  # type: ignore[attr-defined]
    for start, across in (("shape-along", tank.width), ("shape-across", tank.length)):
        (name,) = (name for name in drawing.named(start) if name.endswith("-fuel"))
        area = _area(drawing.points(name))  # mm²
        assert area * float(across.value) * 1e3 / 1e6 == pytest.approx(value("fuel.covering-volume"), rel=0.01)
        (surface,) = (drawing.points(name) for name in drawing.named(start) if name.endswith("-surface"))
        (mouth,) = (drawing.points(name)[0] for name in drawing.named(start.replace("shape", "point")))
        assert surface[0][1] == pytest.approx(surface[1][1], abs=0.5)  # level
        assert mouth[1] < surface[0][1]  # the pick-up is covered


@pytest.mark.parametrize(("mouth", "way"), [("20 mm", -1), ("-20 mm", 1)])
def test_the_tank_is_drawn_tilted_so_that_its_fuel_runs_from_the_pick_up(mouth: str, way: int) -> None:
    # what lies ahead of the middle is at the right, and there the fuel runs to where the pick-up lies behind it
    for along, side in (("along", "pickup_x"), ("across", "pickup_y")):
        one = with_edits("fuel.tank-on-slopes", {f"plumbing.fuel.tank.{side}": mouth})
        assert one is not None
        drawing = svg(one)
        (name,) = (name for name in drawing.named(f"shape-{along}") if name.endswith("-fuel"))
        lowest = min(drawing.points(name), key=lambda place: place[1])
        assert math.copysign(1, lowest[0]) == way


def _area(places: list[tuple[float, float]]) -> float:
    """Area of a closed line, by the shoelace formula."""
    pairs = zip(places, [*places[1:], places[0]], strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2


def test_the_joints_turn_the_line_by_their_angles() -> None:
    one = with_edits("driveline.side-view", {"driveline.shafts.rear.input_joint.ride": "-6 deg"})
    assert one is not None
    drawing = svg(one)
    lines = {
        part: next(drawing.points(name) for name in drawing.named("shape-to-the-rear") if name.endswith(f"-{part}"))
        for part in ("driving", "rear", "driven")
    }
    slopes = {part: math.degrees(math.atan2(b[1] - a[1], b[0] - a[0])) for part, (a, b) in lines.items()}
    # 200 mm of what stands at either end, as long on paper for each millimetre as the shaft between
    shaft = 1000 * float(sound_spec(rule_base()).build.driveline.shafts["rear"].length.value)  # type: ignore[attr-defined]
    drawn_long = {part: math.dist(*ends) for part, ends in lines.items()}
    for end in ("driving", "driven"):
        assert drawn_long[end] / drawn_long["rear"] == pytest.approx(200 / shaft, rel=0.01)
    assert slopes["rear"] - slopes["driving"] == pytest.approx(-6, abs=0.1)
    # it drops by 115 mm over its 1100 mm
    assert slopes["rear"] == pytest.approx(-math.degrees(math.asin(115 / 1100)), abs=0.1)
    spec = sound_spec(rule_base())
    behind = spec.build.driveline.shafts["rear"].output_joint.ride  # type: ignore[attr-defined]
    assert slopes["driven"] - slopes["rear"] == pytest.approx(math.degrees(behind.value), abs=0.1)
    assert any(text.startswith("6° (stop") for text in drawing.texts)


def test_the_bus_is_read_back_with_its_stubs_and_terminators() -> None:
    drawing = of_sound("network.bus")
    (trunk,) = (drawing.points(name) for name in drawing.named("shape-") if name.endswith("-trunk"))
    assert trunk[1][0] - trunk[0][0] == pytest.approx(
        value("network.trunk-length", part="electrics.network.wires.front"), abs=0.02
    )
    for device, subject in (("engine", "engine.network"), ("cluster", "electrics.network.nodes.cluster")):
        (stub,) = (drawing.points(name) for name in drawing.named("shape-") if name.endswith(f"-{device}"))
        assert abs(stub[1][1] - stub[0][1]) == pytest.approx(value("network.stub-length", part=subject), abs=0.02)
    ends = [drawing.points(name)[0][0] for name in drawing.named("point-") if "-terminator-" in name]
    assert sorted(ends) == pytest.approx([trunk[0][0], trunk[1][0]], abs=0.02)


def test_a_trunk_that_is_no_line_is_not_drawn_as_one() -> None:
    spur = {"kind": "trunk", "start": "cluster-tee", "end": "boot", "length": "2 m"}
    one = with_edits("network.bus", {"electrics.network.wires.spur": spur})
    assert one is not None
    assert one.form is None
    assert "not one line" in one.why


# -- wiring -----------------------------------------------------------------------------------------------------------
def test_every_cable_is_drawn_with_its_fuse() -> None:
    drawing = of_sound("power.wiring")
    cables = sound_spec(rule_base()).build.electrics.cables  # type: ignore[attr-defined]
    for cable in cables.values():
        ends = [str(cable.start.value), str(cable.end.value)]
        assert any(f"link-{a}-{b}" in drawing.groups for a, b in (ends, ends[::-1])), ends
        if cable.fuse is not None:
            fuse = f"fuse {float(cable.fuse.value):g} A"
            assert any(fuse in text for text in drawing.texts), ends
    assert "link-ground-battery-negative-ground-engine" in drawing.groups
    for ground in sound_spec(rule_base()).build.electrics.grounds.values():  # type: ignore[attr-defined]
        assert any(ground.size.written.removesuffix("2") in text for text in drawing.texts), ground.size.written


def test_cables_that_lead_in_a_circle_are_drawn_all_the_same() -> None:
    edits = {"electrics.cables.lamps.end": "isolator", "electrics.cables.battery": None}
    one = with_edits("power.wiring", edits)
    assert one is not None
    assert one.form is not None
    assert "link-cab-fuses-isolator" in svg(one).groups


# -- nothing is cut off, nothing covers another -----------------------------------------------------------------------
def test_no_text_is_cut_off_or_covers_another() -> None:
    for id in _drawn():
        assert of_sound(id).cut_off() == [], id
        assert of_sound(id).overlapping() == [], id


def test_the_check_for_overlaps_can_fail() -> None:
    form = Chart(Axis("x"), Axis("y"), [Curve("line", [(0, 0), (1, 1)])], points=[Point("here", 0.5, 0.5)] * 20)
    assert Drawing(svg_of_form(form, "acme.x", "t", "w")).overlapping() != []


def test_the_name_of_a_line_that_finds_no_place_is_left_to_the_words() -> None:
    form = Chart(Axis("x"), Axis("y"), [Curve("line", [(0, 0), (1, 1)])], bands=[Band("band", 0, 1)] * 40)
    drawing = Drawing(svg_of_form(form, "acme.x", "t", "w"))
    assert drawing.overlapping() == []
    assert 0 < sum("band" in text for text in drawing.texts) < 40
    assert form_words(form).count("Band: 0 to 1.") == 40


# -- margins ----------------------------------------------------------------------------------------------------------
HOSTILE = '<b>&\u202e $\\frac$ & "co"</b> ]]>'


@functools.cache
def _inspection() -> Inspection:
    base = rule_base()
    edits = {"plumbing.fuel.supply.bore": "5 mm", "build.name": HOSTILE}
    inspection, _ = inspect(base, sound_spec(base, edits))
    return inspection


def test_every_margin_is_read_back() -> None:
    held = with_margins(_inspection().findings)
    drawing = Drawing(margins_svg(held))
    ticks = [x for name in drawing.named("xtick_") for x, _ in drawing._places(name)]
    assert len(ticks) == 7
    (first, *_, last) = ticks  # -50 % and 100 %
    assert {look_of(finding).name for finding in held} >= {"inside the limit", "beyond the limit"}
    for system in {finding.rule.system for finding in held}:
        for look in {look_of(finding).name for finding in held}:
            group = f"{system}-{look.replace(' ', '-')}"
            read = (
                [-0.5 + 1.5 * (x - first) / (last - first) for x, _ in drawing._places(group)]
                if group in drawing.groups
                else []
            )
            wanted = [f.margin for f in held if f.rule.system == system and look_of(f).name == look]
            clipped = sorted(min(1.0, max(-0.5, margin)) for margin in wanted if margin is not None)
            assert sorted(read) == pytest.approx(clipped, abs=0.002), group


# -- whatever the names -----------------------------------------------------------------------------------------------
def _hostile(form: Any) -> Any:
    """A form in which every name is one that nobody should write."""
    if isinstance(form, Axis):
        return form
    if hasattr(form, "_fields"):
        kept = {"look", "along", "id", "start", "end"}
        return form._replace(**{name: _hostile(getattr(form, name)) for name in form._fields if name not in kept})
    if isinstance(form, list | tuple):
        return [_hostile(one) for one in form]
    return HOSTILE * 3 if isinstance(form, str) and form else form


@pytest.mark.parametrize("form", ["Chart", "Bars", "Budgets", "Marks", "ScaleDrawing", "Network"])
def test_hostile_names_are_escaped_and_cut(form: str) -> None:
    one = next(one.form for one in _drawn().values() if type(one.form).__name__ == form)
    made = _hostile(one)
    drawing = Drawing(svg_of_form(made, "acme.x", HOSTILE, form_words(made)))
    assert "<b>" not in drawing.svg
    assert any("<b>" in text for text in drawing.texts)
    assert all(len(text) < 200 for text in drawing.texts)
    assert not any("$" in name or " " in name for name in drawing.groups)
    assert drawing.cut_off() == []


# -- the page ---------------------------------------------------------------------------------------------------------
def test_colours_are_those_of_the_page_and_have_contrast() -> None:
    drawing = of_sound("gearing.pull")
    assert not re.search(r"#[0-9a-f]{6}", drawing.svg)
    assert set(re.findall(r"var\(--figure-([\w-]+)\)", drawing.svg)) <= set(canvas.COLOURS)
    for name, both in canvas.COLOURS.items():
        for colour, back in zip(both, canvas.COLOURS["paper"], strict=True):
            least = {"paper": 1.0, "grid": 1.0, "band": 1.0}.get(name, 4.5)
            assert contrast(colour, back) >= least, name


def contrast(one: str, other: str) -> float:
    """Contrast ratio by WCAG 2: relative luminances, each with 0.05 added, the lighter over the darker."""

    def luminance(colour: str) -> float:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_same_build_gives_the_same_bytes_and_ids_of_its_own() -> None:
    one, again = of_sound("gearing.pull"), svg(_drawn()["gearing.pull"])
    assert one.svg == again.svg
    ids = re.findall(r'\bid="([^"]+)"', one.svg)
    assert len(ids) == len(set(ids))
    assert all(id.startswith("gearing-pull--") for id in ids)
    referred = re.findall(r'(?:href="#|url\(#)([^")]+)', one.svg)
    assert referred
    assert set(referred) <= set(ids)


def test_without_the_library_there_is_a_sentence_and_no_drawing(monkeypatch: pytest.MonkeyPatch) -> None:
    canvas._matplotlib.cache_clear()
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    try:
        assert not_drawn() == (
            "The drawings are missing: they need matplotlib. Install it with: pip install 'swaplint[drawings]'"
        )
        assert figures(_inspection(), rule_base().packs) == []
    finally:
        canvas._matplotlib.cache_clear()


def test_what_is_too_much_for_a_drawing_is_not_drawn() -> None:
    bars = Bars(Axis("x"), [("", [Bar("one", 1.0)] * 61)], "value")
    assert too_many(bars) == "61 parts are more than one drawing holds, which is 60."
    assert too_many(bars._replace(groups=[("", [Bar("one", 1.0)] * 60)])) == ""


def test_numbers_that_no_axis_takes_cost_only_their_drawing() -> None:
    @figure("mass.huge")
    def huge(build: Any) -> Chart:
        """Huge."""
        return Chart(Axis("x"), Axis("y"), [Curve("line", [(-1e308, 0), (1e308, build.vehicle.wheelbase)])])

    pack = next(pack for pack in rule_base().packs if pack.name == "mass")
    inspection = Inspection(sound_spec(rule_base()), "commission")
    problems: list[Problem] = []
    made = figures(inspection, [dataclasses.replace(pack, figures=[huge, *pack.figures])], problems)
    assert [one.id for one in made] == ["mass.axle-loads"]
    assert [(one.pack, one.what[:41]) for one in problems] == [("mass", "the figure mass.huge could not be drawn: ")]


@pytest.mark.parametrize(
    ("id", "edits", "still"),
    [
        # 20° is beyond the formula of how unevenly a line turns, 200 km/h beyond the torque curve in top gear
        ("driveline.side-view", {"driveline.shafts.rear.input_joint.ride": "19 deg"}, "shape-to-the-rear"),
        ("gearing.pull", {"build.design.cruise_speed": "200 km/h"}, "curve-gear-1"),
        ("gearing.engine-speed", {"build.design.cruise_speed": None}, "curve-gear-1"),
        ("gearing.engine-speed", {"engine.speed.cruise_low": None}, "band-cruise-band"),
        ("mass.axle-loads", {"vehicle.mass.gvwr": None}, "bar-laden-vehicle"),
        ("fuel.pressure-budget", {"engine.fuel.max_inlet_restriction": None}, "total-warm"),
        ("power.starting-circuit", {"engine.starter.min_voltage": "none"}, "limit-cranking"),
        ("power.charge-balance", {"driveline.gearbox.ratios": None}, "point-wanted-idle"),
    ],
)
def test_what_a_figure_can_do_without_is_left_out(id: str, edits: Mapping[str, Any], still: str) -> None:
    one = with_edits(id, edits)
    assert one is not None
    assert svg(one).named(still)


def test_no_settings_are_read_from_the_current_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "matplotlibrc").write_bytes(b"\xff\xfe nonsense")
    monkeypatch.chdir(tmp_path)
    with canvas._elsewhere():
        assert list(Path.cwd().iterdir()) == []
    assert Path.cwd() == tmp_path
