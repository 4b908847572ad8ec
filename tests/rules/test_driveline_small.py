"""What the driveline's rules do in the corners of their branches, worked out beside each test."""

from __future__ import annotations

import math
from typing import Any

import pytest
from advising import advised
from swaplint_rules.driveline import figures, loads  # type: ignore[import-not-found]

from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import of_part, one, rule_base, step_of, trial, value

REAR = "driveline.shafts.rear"
FACE = "driveline.gearbox.front_face"
AUTOMATIC = next(rule.good[0] for _, rule in rule_base().rules if rule.id == "driveline.converter-match")


# -- pilot and housing -------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("field", "wrong", "demand"), [("outer", "28.10 mm", "press"), ("inner", "15.3 mm", "running")]
)
def test_a_bearing_is_not_turned_to_size(field: str, wrong: str, demand: str) -> None:
    for kind, turned in (("needle", False), ("bush", True)):
        found = one(
            "driveline.pilot-fit", {"driveline.pilot.kind": kind, f"driveline.pilot.{field}": wrong}, demand=demand
        )
        assert (found.kind, bool(found.advice)) == ("fail", turned)


@pytest.mark.parametrize("side", [FACE, "driveline.adapter.gearbox_side"])
@pytest.mark.parametrize(
    ("missing", "kind"), [(None, "review"), ("pilot", "fail"), ("bolt_circle", "fail"), ("holes", "fail"),
                          ("centred_by", "fail")]
)  # fmt: skip
def test_other_names_are_for_a_person_where_both_sides_state_every_dimension(
    side: str, missing: str | None, kind: str
) -> None:
    edits: dict[str, Any] = {f"{FACE}.pattern": "Bell B"}
    edits |= {} if missing is None else {f"{side}.{missing}": None}
    assert of_part("driveline.housing-match", "gearbox.front_face", edits, demand="pattern").kind == kind
    # dowels in the place of a spigot need none
    dowels = {f"{side}.centred_by": "dowels"} if missing != "centred_by" else {}
    found = of_part("driveline.housing-match", "gearbox.front_face", {**edits, **dowels}, demand="pattern")
    assert found.kind == ("review" if missing in (None, "pilot") else "fail")


def test_bolt_circles_may_differ_by_three_tenths() -> None:
    for circle, kind in (("330.3 mm", "pass"), ("330.31 mm", "fail"), ("329.7 mm", "pass"), ("329.69 mm", "fail")):
        edits = {f"{FACE}.bolt_circle": circle}
        assert of_part("driveline.housing-match", "gearbox.front_face", edits, demand="bolt-circle").kind == kind
    # sizes of which the difference is not kept to the last digit
    for ours, other, kind in ((285.75, 286.05, "pass"), (381.0, 381.3, "pass"), (381.0, 381.31, "fail")):
        edits = {f"{FACE}.bolt_circle": f"{ours} mm", "driveline.adapter.gearbox_side.bolt_circle": f"{other} mm"}
        assert of_part("driveline.housing-match", "gearbox.front_face", edits, demand="bolt-circle").kind == kind


def test_a_spigot_may_have_two_hundredths_to_fifteen_hundredths_of_play() -> None:
    for bore in (310.0, 409.58, 266.7):
        for play, kind in ((0.01, "fail"), (0.02, "pass"), (0.15, "pass"), (0.16, "fail")):
            edits = {
                "driveline.adapter.gearbox_side": {"pattern": "Bell", "centred_by": "bore", "pilot": f"{bore} mm"},
                FACE: {"pattern": "Bell", "centred_by": "spigot", "pilot": f"{bore - play:.2f} mm"},
            }
            found = of_part("driveline.housing-match", "gearbox.front_face", edits, demand="centring")
            assert (bore, play, found.kind) == (bore, play, kind)


# -- angles of the joints ----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "judged"),
    [
        ({}, True),
        # a joint that is straight has no plane, nor has one that turns evenly; beyond 20° nothing is said of planes
        ({f"{REAR}.input_joint.ride": "0 deg"}, False),
        ({f"{REAR}.output_joint.ride": "0 deg"}, False),
        ({f"{REAR}.input_joint.kind": "constant-velocity"}, False),
        ({f"{REAR}.input_joint.ride": "-20.1 deg"}, False),
        # a line of two shafts has three joints
        ({f"{REAR}.driven_by": "front", "driveline.shafts.front.drives": "rear"}, False),
    ],
)
def test_the_yokes_of_two_bent_joints_are_compared(edits: dict[str, Any], judged: bool) -> None:
    demands = {f.demand for f in trial("driveline.joint-angles", edits) if f.part.endswith("rear")}
    assert ("phase" in demands) is judged
    assert "cancelling" in demands


@pytest.mark.parametrize(
    ("ahead", "plan", "ride", "shim"),
    [
        # cos 5° = cos ride · cos 2°: 4.5851°
        ("-5 deg", "2 deg", "1 deg", math.degrees(math.acos(math.cos(math.radians(5)) / math.cos(math.radians(2))))),
        # bent as much as the first in plan view alone, or more: nothing is left for the side view
        ("-2 deg", "2 deg", "6 deg", 1.0),
        ("-2 deg", "3 deg", "6 deg", None),
        # a first joint that is straight, or nearly: the last runs nearly straight, so that its needles roll
        ("0 deg", "0 deg", "4 deg", 1.0),
        ("-0.5 deg", "0 deg", "-4 deg", -1.0),
        ("-1.5 deg", "0 deg", "-4 deg", -1.5),
    ],
)
def test_the_last_joint_is_turned_to_the_angle_of_the_first(
    ahead: str, plan: str, ride: str, shim: float | None
) -> None:
    bent, turn = f"{REAR}.output_joint", math.degrees(math.atan2(float(plan[:-4]), float(ride[:-4])))
    # the yokes are turned with the plane of the last joint; the first joint is bent in side view alone
    edits = {f"{REAR}.input_joint.ride": ahead, f"{bent}.plan": plan, f"{bent}.ride": ride}
    edits[f"{REAR}.yoke_offset"] = f"{-turn} deg"
    found = of_part("driveline.joint-angles", "shafts.rear", edits, demand="cancelling")
    assert found.kind == "fail", found.message
    wanted = {} if shim is None else {f"{bent}.ride": pytest.approx(math.radians(shim), rel=1e-6)}
    assert advised(found) == wanted


@pytest.mark.parametrize(
    ("edits", "says"),
    [
        # 4111 r/min are 430.5 rad/s: √1000/430.5 = 0.07346 rad, 4.2°
        ({}, "At 4111 r/min the input joint runs at 3.0°; beyond 4.2° the shaft shakes."),
        # ahead of 0.091 rad/s, at a ratio that lets it stand nearly still, the limit lies beyond 20°
        ({"driveline.axles.*.ratio": 0.5}, "the input joint runs at 3.0°."),
    ],
)
def test_how_far_a_joint_may_bend_at_its_speed(edits: dict[str, Any], says: str) -> None:
    found = of_part("driveline.joint-angles", "shafts.rear", edits, demand="inertia.input_joint")
    assert found.message.endswith(says)


def test_joints_in_plan_view_alone_cancel() -> None:
    # the shaft runs 3° to one side, and what it drives straight on again: bent by 3° each, in one plane
    plan = {f"{REAR}.input_joint": "3 deg", f"{REAR}.output_joint": "-3 deg"}
    level = {f"{joint}.ride": "0 deg" for joint in plan} | {f"{joint}.plan": bent for joint, bent in plan.items()}
    assert value("driveline.equivalent-angle", level, part="rear") == pytest.approx(0.0, abs=1e-6)


def test_three_joints_are_not_mended_by_one_shim() -> None:
    edits: dict[str, Any] = {f"{REAR}.driven_by": "front", "driveline.shafts.front.drives": "rear"}
    edits |= {f"{REAR}.output_joint.ride": "6.9 deg"}
    found = of_part("driveline.joint-angles", "shafts.rear", edits, demand="cancelling")
    assert (found.kind, advised(found)) == ("fail", {})


# -- ratios ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("low", "ratio", "kind", "twice"),
    [
        # 43:10 teeth make 4.3; 10.75 = 4.3 · 2.5, 1.72 = 4.3/2.5
        ("2.5", 4.3, "pass", False),
        ("2.5", 10.75, "fail", True),
        ("2.5", 1.72, "fail", True),
        ("2.5", 5.0, "fail", False),
        ("1.0", 5.0, "fail", False),
        ("1.0", 4.3, "pass", False),
        ("", 10.75, "fail", False),
    ],
)
def test_only_the_low_range_itself_is_counted_twice(low: str, ratio: float, kind: str, twice: bool) -> None:
    edits = {"driveline.transfer.low": float(low) if low else None, "driveline.axles.front.ratio": ratio}
    found = of_part("driveline.axle-torque", "axles.front", edits, demand="teeth")
    assert (found.kind, "which one side counts twice" in found.message) == (kind, twice), found.message


# -- the converter -----------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("low", "high", "rated", "speed"),
    [
        # the engine gives 340 N·m at 1550 r/min and 250 at 1000; n/√M is the same: 1550·√(300/340), 1000·√(340/250)
        (1400, 1700, 300, 1455.96),
        (900, 1100, 340, 1166.19),
        (900, 1100, 300, 1095.45),
    ],
)
def test_the_converter_to_ask_for_is_named_by_what_it_is_rated_with(
    low: int, high: int, rated: int, speed: float
) -> None:
    edits = {
        **AUTOMATIC,
        "engine.speed.stall_low": f"{low} r/min",
        "engine.speed.stall_high": f"{high} r/min",
        "driveline.converter.rated_stall_torque": f"{rated} Nm",
        "driveline.converter.rated_stall_speed": "2400 r/min",
    }
    found = one("driveline.converter-match", edits, demand="stall-speed")
    assert advised(found) == {"driveline.converter.rated_stall_speed": pytest.approx(speed * math.tau / 60, rel=1e-5)}


# -- pieces and their bolts --------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("reading", "dowels"),
    # half of what is above 0.20 mm, rounded up to hundredths
    [
        ("0.201 mm", "0.01 mm"),
        ("0.26 mm", "0.03 mm"),
        ("0.28 mm", "0.04 mm"),
        ("0.30 mm", "0.05 mm"),
        ("0.31 mm", "0.06 mm"),
    ],
)
def test_offset_dowels_take_up_half_of_the_excess(reading: str, dowels: str) -> None:
    found = one("driveline.runout", {"driveline.alignment.bore_runout": reading}, demand="bore")
    assert found.message.endswith(f" Dowels offset by {dowels} would bring it within its limit.")


@pytest.mark.parametrize(
    ("least", "room", "stock"),
    # the nose reaches 34 mm less the adapter, of 20 mm it leaves the rest: one thickness alone fits, 20 mm or 22, and
    # both are in stock; 20.5 mm is not
    [("14 mm", "6 mm", True), ("12 mm", "8 mm", True), ("13.5 mm", "6.5 mm", False)],
)
def test_the_one_adapter_that_fits(least: str, room: str, stock: bool) -> None:
    edits = {"nose_engagement_min": least, "nose_room_min": room}
    stated = {f"driveline.gearbox.{field}": value for field, value in edits.items()}
    found = one("driveline.depth-stack", {**stated, "driveline.adapter.thickness": "30 mm"}, demand="nose-in-pilot")
    assert (found.kind, "No stock thickness does" in found.message) == ("fail", not stock)
    assert advised(found) == {"driveline.adapter.thickness": pytest.approx(0.034 - float(least[:-3]) / 1000)}


def test_a_hub_that_just_stays_on_the_spline() -> None:
    # 8 mm are left of a spline that ends at 240 mm
    found = one("driveline.depth-stack", {"driveline.gearbox.spline_end": "232 mm"}, demand="hub-on-spline")
    assert found.kind == "pass"
    assert found.message.startswith("0 mm of full spline are left beyond the disc's hub at the tighter end")
    assert "Fit a disc" not in found.message


def test_a_nose_that_just_strikes() -> None:
    # 6 mm are left to its shoulder behind an adapter of 20 mm
    found = one("driveline.depth-stack", {"driveline.adapter.thickness": "14 mm"}, demand="nose-room")
    assert found.message.startswith("0 mm are left before the input shaft's tip or shoulder strikes.")


def test_a_spigot_of_the_size_of_its_bore() -> None:
    found = of_part("driveline.housing-match", "gearbox.front_face", {f"{FACE}.pilot": "310.08 mm"}, demand="centring")
    assert found.message.endswith("the spigot has 0 mm of play in its bore.")


def test_a_nose_that_just_comes_to_the_bush() -> None:
    # it reaches 14 mm into it behind an adapter of 20 mm; sums of lengths leave no crumbs
    found = one("driveline.depth-stack", {"driveline.adapter.thickness": "34 mm"}, demand="nose-in-pilot")
    assert found.message.startswith("0 mm of the input shaft's nose stands in the pilot bush.")


@pytest.mark.parametrize(
    ("edits", "judged"),
    [
        ({}, {"nose-in-pilot", "nose-room", "hub-on-spline"}),
        ({"driveline.gearbox.pilot_required": False}, {"hub-on-spline"}),
        ({"driveline.pilot": {"fitted": False}}, {"hub-on-spline"}),
    ],
)
def test_the_nose_is_judged_where_a_pilot_is_to_carry_it(edits: dict[str, Any], judged: set[str]) -> None:
    assert {found.demand for found in trial("driveline.depth-stack", edits)} == judged


def test_a_stock_adapter_two_tenths_off_is_no_remedy_where_one_tenth_is_left_either_way() -> None:
    # nose from 13.7 to 13.9 mm: an adapter of 20.1 to 20.3 mm, and 20 is in stock
    edits = {"nose_engagement_min": "13.7 mm", "nose_room_min": "6.1 mm"}
    stated = {f"driveline.gearbox.{field}": value for field, value in edits.items()}
    found = one("driveline.depth-stack", {**stated, "driveline.adapter.thickness": "30 mm"}, demand="nose-in-pilot")
    assert "No stock thickness does: an adapter made to 20.2 mm would." in found.message


def test_a_bearing_of_the_size_of_the_nose_is_told_so() -> None:
    edits = {"driveline.pilot.kind": "needle", "driveline.pilot.inner": "15.00 mm"}
    found = one("driveline.pilot-fit", edits, demand="running")
    assert (found.kind, found.message) == ("fail", "The pilot's clearance on the shaft is 0 mm.")


def test_a_pilot_of_the_size_of_its_bore_is_told_so() -> None:
    found = one("driveline.pilot-fit", {"driveline.pilot.outer": "28.00 mm"}, demand="press")
    assert (found.kind, found.level) == ("fail", "warning")
    assert found.message == "The pilot is 0 mm larger than its bore."


# -- torque of the axles -----------------------------------------------------------------------------------------------
def test_who_decides_an_axles_torque() -> None:
    # the rear axle: 340·4.3·2.5·4.3·0.9·0.6 = 8487 N·m from the engine; 0.9·1750·g·0.39125 = 6043 N·m from the tyres
    for grip, says in (
        (0.9, "The tyres slip at 6043 N m; the engine could bring 8487 N m: the tyres decide."),
        (1.3, "The engine brings at most 8487 N m, less than the tyres take: the engine decides."),
    ):
        edits = {"driveline.drivetrain.highest_grip": grip}
        assert of_part("driveline.axle-torque", "axles.rear", edits, demand="torque").message.startswith(says)


def test_how_much_drivetrain_and_gearbox_pass_is_told() -> None:
    edits = {"driveline.gearbox.efficiency": "85.26 %", "driveline.drivetrain.efficiency": "90.44 %"}
    found = of_part("driveline.axle-torque", "axles.rear", edits, demand="torque")
    assert "the whole drivetrain passes 90.4 % of the power, its gearbox alone 85.3 %" in found.message


def test_an_axle_that_the_load_lifts_takes_no_torque() -> None:
    # 560 kg at 9 m take 560·(9000/2900 - 1) = 1178 kg from the 1086 on the front axle
    cargo = {"mass": "560 kg", "x": "9000 mm", "y": "0 mm"}
    cases = {"odd": {"items": {"cargo": cargo}, "nose_load": "0 kg", "trailer_mass": "0 kg"}}
    view = View(sound_spec(rule_base(), {"vehicle.load_cases": cases}).build)
    front = view.build.driveline.axles["front"]
    assert loads.axle_torque_under(view.build, front, laden=True) == 0.0
    assert loads.axle_torque_under(view.build, front, laden=False) > 0.0


# -- the drawing from the side, and the list of steps ------------------------------------------------------------------
@pytest.mark.parametrize(
    ("drop", "down"),
    [
        # the shaft of 1100 mm drops by what is stated, no more than its length; else it follows a level drive by 3°
        ("115 mm", math.asin(115 / 1100)),
        ("1099 mm", math.asin(1099 / 1100)),
        ("1200 mm", math.pi / 2),
        ("-1200 mm", -math.pi / 2),
        (None, math.radians(3)),
    ],
)
def test_a_shaft_is_drawn_as_steep_as_it_stands(drop: str | None, down: float) -> None:
    view = View(sound_spec(rule_base(), {f"{REAR}.drop": drop}).build)
    (rear,) = [s for s in figures.side_view.function(view.build).sketches if s.name.startswith("to the rear axle")]
    driving, shaft, driven = rear.shapes
    assert rear.points[0][1:] == (0.0, 0.0) == shaft.points[0]
    end = (1.1 * math.cos(down), -1.1 * math.sin(down))
    assert shaft.points[1] == pytest.approx(end, abs=1e-9) == rear.points[1][1:]
    # 200 mm of what drives it, bent by 3° down into the shaft, and of what it drives, bent up again by as much
    up = -down + math.radians(3)
    assert driving.points[0] == pytest.approx((-0.2 * math.cos(up), -0.2 * math.sin(up)), abs=1e-9)
    assert driven.points[1] == pytest.approx((end[0] + 0.2 * math.cos(up), end[1] + 0.2 * math.sin(up)), abs=1e-9)


def test_how_unevenly_a_line_turns_stands_in_its_name_where_it_is_known() -> None:
    for edits, name in (
        ({f"{REAR}.output_joint.ride": "5 deg"}, "to the rear axle, turned as unevenly as by one joint of 4°"),
        ({f"{REAR}.yoke_offset": None}, "to the rear axle"),
    ):
        view = View(sound_spec(rule_base(), edits).build)
        assert name in [sketch.name for sketch in figures.side_view.function(view.build).sketches]


def test_a_gearbox_of_two_gears_is_shifted_once() -> None:
    # 3400·1.5/3.0 r/min, less the 150 r/min that a shift takes
    entry = step_of("driveline.shift-landing", {"driveline.gearbox.ratios": [3.0, 1.5]})
    assert entry.expected is not None
    assert entry.expected.value == pytest.approx(1550 * math.tau / 60)


@pytest.mark.parametrize(("most", "kind"), [("4 kJ", "fail"), ("40 kJ", "pass")])
def test_what_mends_a_clutch_that_gets_too_hot(most: str, kind: str) -> None:
    found = one("driveline.clutch-capacity", {"driveline.clutch.launch_energy_max": most}, demand="launch-heat")
    mended = found.message.endswith(" Fit lower gearing for the start, tow less, or fit a clutch with more facing.")
    assert (found.kind, mended) == (kind, kind == "fail")


# -- where two stated numbers are equal --------------------------------------------------------------------------------
HALF, BOLTS = "driveline.axles.front.half_shafts", "driveline.adapter"


@pytest.mark.parametrize(
    ("rule", "part", "edits", "demand", "kind", "ends"),
    [
        # bolts of 10 mm screwed in to the bottom of a hole of 25 mm
        ("adapter-pieces", "adapter", {f"{BOLTS}.bolt_engagement": "25 mm"}, "bottoming", "pass", "they bottom."),
        ("adapter-pieces", "adapter", {f"{BOLTS}.bolt_engagement": "26 mm"}, "bottoming", "fail", "Fit shorter bolts."),
        # 340 N·m of the engine: a gearbox for no less than that is short of what should be in hand, and no error
        ("gearbox-torque", "", {"driveline.gearbox.input_torque_rating": "340 Nm"}, "input-torque", "fail warning",
         "1.1 times that is wanted."),
        # 1.1 · 320 are 352 N·m
        ("gearbox-torque", "",
         {"driveline.gearbox.input_torque_rating": "352 Nm",
          "engine.torque_options": [{"name": "mild", "torque": "320 Nm"}]},
         "input-torque", "fail warning", "Its calibration 'mild' gives less."),
        ("gearbox-torque", "",
         {"driveline.gearbox.input_torque_rating": "351 Nm",
          "engine.torque_options": [{"name": "mild", "torque": "320 Nm"}]},
         "input-torque", "fail warning", "1.1 times that is wanted."),
        # as heavy with a trailer as without one: nothing is towed, and 1.3 times the torque will do on the road
        ("clutch-capacity", "",
         {"driveline.clutch.safety_factor_min": None, "build.duty.terrain": "road", "vehicle.mass.gcwr": "2800 kg",
          "driveline.clutch.torque_capacity": "450 Nm"}, "capacity", "review", "accept this fallback."),
        ("clutch-capacity", "",
         {"driveline.clutch.safety_factor_min": None, "build.duty.terrain": "road", "vehicle.mass.gcwr": "2801 kg",
          "driveline.clutch.torque_capacity": "450 Nm"}, "capacity", "fail", ""),
    ],
)  # fmt: skip
def test_at_the_limit_itself(rule: str, part: str, edits: dict[str, Any], demand: str, kind: str, ends: str) -> None:
    found = of_part(f"driveline.{rule}", part, edits, demand=demand) if part else one(
        f"driveline.{rule}", edits, demand=demand
    )  # fmt: skip
    assert f"{found.kind} {found.level or ''}".startswith(kind), (found.kind, found.level)
    assert found.message.endswith(ends), found.message


def test_a_diesel_of_five_cylinders_may_have_a_disc_that_was_tuned_for_petrol() -> None:
    for cylinders, judged in ((4, True), (5, False)):
        edits = {"engine.cylinders": cylinders}
        demands = {found.demand for found in trial("driveline.damper-range", edits)}
        assert ("tuned-for-diesel" in demands) is judged


def test_reverse_is_named_where_it_is_lower_than_first_gear() -> None:
    # first gear has 4.3
    for reverse, gear in ((4.3, "In first gear "), (4.31, "In reverse ")):
        edits = {"driveline.gearbox.reverse_ratio": reverse}
        found = one("driveline.gearbox-torque", edits, demand="output-torque")
        assert found.message.startswith(gear)


def test_a_hub_that_ends_where_it_begins_is_no_hub() -> None:
    for front, rear, kind in (("44 mm", "45 mm", "pass"), ("45 mm", "45 mm", "review"), ("46 mm", "45 mm", "review")):
        edits = {"driveline.clutch.hub_front": front, "driveline.clutch.hub_rear": rear}
        assert one("driveline.depth-stack", edits, demand="hub-on-spline").kind == kind


def test_a_joint_at_twenty_degrees_is_not_too_steep_to_be_judged() -> None:
    for ride, judged in (("-20 deg", True), ("-20.1 deg", False)):
        found = of_part(
            "driveline.joint-angles", "shafts.rear", {f"{REAR}.input_joint.ride": ride}, demand="cancelling"
        )
        assert (found.kind == "review") is not judged


@pytest.mark.parametrize(("high", "mends"), [(1.0, True), (1.05, True), (1.07, False), (1.25, False)])
def test_a_limit_in_low_range_mends_nothing_that_high_range_brings_as_well(high: float, mends: bool) -> None:
    # 340·4.3·2.5·4.3·0.9·0.6 = 8487 N·m reach the rear axle; rated for 3600 N·m it takes a limit of 144.2 N·m, 360.6
    # behind 2.5, which high range brings by itself from 360.6/340 = 1.0605 on
    edits = {
        "driveline.axles.rear.output_torque_rating": "3600 Nm",
        "driveline.drivetrain.highest_grip": 1.3,
        "driveline.transfer.high": high,
    }
    found = of_part("driveline.axle-torque", "axles.rear", edits, demand="torque")
    assert (found.kind, "driveline.transfer.low_torque_limit" in advised(found)) == ("fail", mends)


def test_a_thick_wall_leaves_the_small_tubes_out() -> None:
    # 1499 N·m at half of 20 MPa: with walls of 30 mm 88.9 mm bear 1364 N·m, π/16·(88.9⁴ - 28.9⁴)/88.9 · 10 MPa, and
    # 101.6 mm 2001; a tube of less than 60 mm there is not
    edits = {f"{REAR}.tube_wall": "30 mm", f"{REAR}.tube_outer": "63.5 mm", f"{REAR}.shear_yield": "20 MPa"}
    found = of_part("driveline.shaft-strength", "shafts.rear", edits, demand="tube")
    assert advised(found) == {f"{REAR}.tube_outer": pytest.approx(0.1016)}


def test_an_axle_of_a_group_carries_its_share() -> None:
    group = {
        "driveline.axles.rear.x": "2500 mm",
        "driveline.axles.rear.group_share": "60 %",
        "driveline.axles.rear.rating": "900 kg",
        "driveline.axles.tag": {"driven": False, "x": "3300 mm", "group_share": "40 %", "rating": "850 kg"},
    }
    build = View(sound_spec(rule_base(), group).build).build
    whole = value("mass.axle-load", group, part="laden rear")
    assert loads.carried(build, build.driveline.axles["rear"]) == pytest.approx(0.6 * whole)
