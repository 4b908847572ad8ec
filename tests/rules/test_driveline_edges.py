"""What the driveline's rules say inside, at and beyond their limits, on the sound spec, worked out beside each test."""

from __future__ import annotations

import math
from typing import Any

import pytest
from advising import advised

from swaplint.inspecting.results import Finding
from swaplint.kit.trial import of_part, one, rule_base, step_of, trial, value
from swaplint.making.steps import Entry
from swaplint.units.output import in_unit

# The edits that make the sound spec an automatic: the good example of the rule that judges its converter.
AUTOMATIC = next(rule.good[0] for _, rule in rule_base().rules if rule.id == "driveline.converter-match")
G = 9.80665
RADIUS = 3.05 * 0.806 / (2 * math.pi)
HALF = "driveline.axles.front.half_shafts"
FRONT = "driveline.shafts.front"
REAR = "driveline.shafts.rear"


def found_in(rule: str, part: str, demand: str, edits: dict[str, Any]) -> Finding:
    """A rule's finding in one demand, about one part where it judges several."""
    return of_part(rule, part, edits, demand=demand) if part else one(rule, edits, demand=demand)


# -- what is said on either side of a limit that is stated -------------------------------------------------------------
@pytest.mark.parametrize(
    ("rule", "part", "demand", "field", "at", "beyond", "words"),
    [
        # governed at 3700 r/min; 3600 kg with its trailer; the engine gives 340 N m
        ("gearbox-torque", "", "input-speed", "driveline.gearbox.input_speed_max", "3700 r/min", "3699 r/min",
         "Have the engine governed lower, or fit another gearbox."),
        ("gearbox-torque", "", "combination-mass", "driveline.gearbox.gcw_rating", "3600 kg", "3599 kg",
         "Plate it for a lighter trailer, or fit another gearbox."),
        # the shaft changes its length by 12 mm
        ("half-shafts", "axles.front", "plunge", f"{HALF}.plunge", "12 mm", "11 mm",
         "Fit joints with more, or strap the travel."),
        # full lock of 32° on a level shaft
        ("half-shafts", "axles.front", "angle.outer", f"{HALF}.outer_joint.angle_max", "32.01 deg", "31.99 deg",
         "Stop the lock sooner, or strap the droop."),
        # bump of 1° and droop of 10° at the front shaft's joints
        ("joint-angles", "shafts.front", "droop.input_joint", f"{FRONT}.input_joint.angle_max", "10.01 deg", "9.99 deg",
         "Fit a joint that bends further, or strap the travel."),
    ],
)  # fmt: skip
def test_what_mends_it_is_said_beyond_the_limit_alone(
    rule: str, part: str, demand: str, field: str, at: str, beyond: str, words: str
) -> None:
    also = {f"{HALF}.joints": "both"} if rule == "half-shafts" else {}
    for stated, kind in ((at, "pass"), (beyond, "fail")):
        found = found_in(f"driveline.{rule}", part, demand, {**also, field: stated})
        assert found.kind == kind
        assert found.message.endswith(words) is (kind == "fail"), found.message


def test_a_converter_is_rated_for_what_the_engine_gives() -> None:
    for rating, kind in (("340 Nm", "pass"), ("339 Nm", "fail")):
        found = one("driveline.converter-match", {**AUTOMATIC, "driveline.converter.torque_rating": rating},
                    demand="torque-rating")  # fmt: skip
        assert (found.kind, found.level) == (kind, "warning" if kind == "fail" else None)
        assert found.message == f"The converter is rated for {rating[:3]} N m; the engine gives 340 N m." + (
            " Fit one that is rated for it." if kind == "fail" else ""
        )


@pytest.mark.parametrize(
    ("rated", "words"),
    # it stalls where it is rated to, for the engine gives 340 N m from 1400 to 2200 r/min; 1400 to 1700 r/min are right
    [("1399 r/min", ": a looser one is needed."), ("1550 r/min", "behind this engine."),
     ("1701 r/min", ": a tighter one is needed.")],
)  # fmt: skip
def test_which_converter_is_needed(rated: str, words: str) -> None:
    edits = {**AUTOMATIC, "driveline.converter.rated_stall_speed": rated}
    assert one("driveline.converter-match", edits, demand="stall-speed").message.endswith(words)


@pytest.mark.parametrize(
    ("spigot", "says"),
    # the crank's bore is 28.00 mm
    [("28.01 mm", "is 0.01 mm too large for the crank and does not go in."),
     ("28 mm", "has 0 mm of play in the crank."), ("27.9 mm", "has 0.1 mm of play in the crank.")],
)  # fmt: skip
def test_the_play_of_a_converters_spigot_is_said(spigot: str, says: str) -> None:
    edits = {**AUTOMATIC, "driveline.converter.spigot_diameter": spigot}
    assert one("driveline.pilot-fit", edits).message == f"The converter's spigot {says}"


@pytest.mark.parametrize(
    ("field", "diameter", "says"),
    # bore 28.00 mm, nose 15.00 mm; as worked in the tests of the pilot, pressing in closes a bush of 15.00 mm inside by
    # 1.4988·0.04/80/(1.55/206 + 1.5018/80) = 0.0285 mm, one of 15.10 by 1.5170·0.04/80/(1.55/206 + 1.5169/80) = 0.0286
    [
        ("outer", "27.99 mm", "The pilot is 0.01 mm smaller than its bore and falls out of it."),
        ("outer", "28 mm", "The pilot is 0 mm larger than its bore."),
        ("outer", "28.05 mm", "The pilot is 0.05 mm larger than its bore."),
        ("inner", "15.00 mm", "The pilot is 0.0285 mm too narrow for the shaft's nose; pressing it in takes 0.028 mm."),
        ("inner", "15.10 mm", "The pilot's clearance on the shaft is 0.0714 mm; pressing it in takes 0.029 mm."),
    ],
)
def test_how_a_pilot_sits_is_said(field: str, diameter: str, says: str) -> None:
    demand = "press" if field == "outer" else "running"
    assert one("driveline.pilot-fit", {f"driveline.pilot.{field}": diameter}, demand=demand).message == says


# -- depths ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("low", "high", "stock"),
    # gap = t - 17 mm: with a gap of 2.0 to 2.4 mm an adapter of 19.0 to 19.4, middle 19.2; up to 4 mm of 19 to 21 mm,
    # where 20 mm is in stock
    [("2 mm", "2.4 mm", False), ("2 mm", "4 mm", True)],
)
def test_a_converters_gap_names_an_adapter_that_is_not_in_stock(low: str, high: str, stock: bool) -> None:
    gap = {"driveline.converter.gap_min": low, "driveline.converter.gap_max": high}
    found = one("driveline.depth-stack", {**AUTOMATIC, **gap, "driveline.adapter.thickness": "30 mm"})
    assert (found.kind, found.demand) == ("fail", "converter-gap")
    assert found.message == "The seated converter is pulled forward by 13 mm." + (
        "" if stock else " No stock thickness does: an adapter made to 19.2 mm would."
    )
    assert advised(found) == {"driveline.adapter.thickness": pytest.approx(0.020 if stock else 0.0192)}


def test_a_nose_that_no_adapter_makes_fit() -> None:
    # 11 mm before it strikes leave 20 - 11 = 9 mm of nose at most, where 10 are wanted
    no = " No adapter makes this nose fit: another bush, pilot bore or input shaft is needed."
    strikes = {"driveline.gearbox.nose_room_min": "11 mm"}
    room = one("driveline.depth-stack", strikes, demand="nose-room")
    assert (room.kind, advised(room), room.message.endswith(no)) == ("fail", {}, True)
    # a bush of 10 mm holds 10 mm, no more and no less than is wanted: nothing is said of it
    level = one("driveline.depth-stack", {**strikes, "driveline.pilot.length": "10 mm"}, demand="nose-in-pilot")
    assert (level.kind, level.message) == ("pass", "10 mm of the input shaft's nose stands in the pilot bush.")
    # a shaft 24 mm shorter ends 10 mm short of the pilot; it takes an adapter of 20 - 24 mm, which nobody makes
    short = one("driveline.depth-stack", {"driveline.gearbox.input_shaft_length": "240 mm"}, demand="nose-in-pilot")
    assert (short.kind, advised(short)) == ("fail", {})
    assert short.message == f"The input shaft's nose ends 10 mm short of the pilot bush.{no}"


# -- torque and shafts -------------------------------------------------------------------------------------------------
def test_an_axle_laden_above_its_rating_brings_no_more_than_the_rating_says() -> None:
    # 1000 kg more behind the rear axle: it carries more than the 1750 kg of its rating, which decides all the same
    edits = {
        "vehicle.load_cases.laden.items.cargo.mass": "1560 kg",
        "driveline.axles.rear.output_torque_rating": "6042 Nm",
    }
    found = of_part("driveline.axle-torque", "axles.rear", edits, demand="torque")
    assert (found.kind, found.level) == ("fail", "error")
    assert "load case" not in found.message
    assert found.found == pytest.approx(0.9 * 1750 * G * RADIUS)


def test_a_half_shaft_whose_hub_nobody_states_turns_with_its_axle() -> None:
    # 0.9 · 1300 kg · g · r slip at the front wheels; an open differential gives each half of it
    edits = {"driveline.axles.front.hub_reduction": None}
    assert value("driveline.half-shaft-torque", edits, part="front") == pytest.approx(0.9 * 1300 * G * RADIUS / 2)


@pytest.mark.parametrize(
    ("differential", "words"), [("open", "open"), ("limited-slip", "of limited slip"), ("locking", "lockable")]
)
def test_the_differential_is_named_as_people_call_it(differential: str, words: str) -> None:
    edits = {f"{HALF}.differential": differential, f"{HALF}.torque_rating": "2000 Nm"}
    found = of_part("driveline.half-shafts", "axles.front", edits, demand="torque")
    assert found.message.endswith(
        f"can reach one half-shaft, with a differential that is {words}. Fit stronger ones, or limit the torque in low "
        "range."
    )


def test_a_joint_between_two_places_on_the_frame_has_its_stop_at_ride_height() -> None:
    on_frame = {"driveline.axles.rear.final_drive_on": "frame"}
    for angle, kind in (("-19.9 deg", "pass"), ("-20.1 deg", "fail")):
        edits = {**on_frame, f"{REAR}.input_joint.ride": angle}
        found = of_part("driveline.joint-angles", "shafts.rear", edits, demand="stop.input_joint")
        assert found.kind == kind
        assert found.message == f"At ride height the input joint stands at {angle[1:5]}°; its stop is at 20.0°." + (
            " Fit a joint that bends further." if kind == "fail" else ""
        )
    bump = of_part("driveline.joint-angles", "shafts.rear", demand="bump.input_joint").message
    assert bump == "At bump the input joint stands at 1.0°; its stop is at 20.0°."


@pytest.mark.parametrize(
    ("face", "limit"),
    # 0.15 mm on 300 mm: on the circle that is stated, 330 mm; on that of SAE J617, no. 4, 381 mm, where none is
    [
        ({"pattern": "SAE 4"}, 0.15e-3 * 381 / 300),
        ({"pattern": "SAE 4", "bolt_circle": "330 mm"}, 0.15e-3 * 330 / 300),
        ({"pattern": "Sound bell (invented)", "bolt_circle": "330 mm"}, 0.15e-3 * 330 / 300),
    ],
)
def test_a_face_runs_out_by_its_own_circle_or_that_of_its_name(face: dict[str, str], limit: float) -> None:
    edits = {"driveline.gearbox.runout_face_max": None, "driveline.gearbox.front_face": face}
    found = one("driveline.runout", edits, demand="face")
    assert found.limit is not None
    assert found.limit.value == pytest.approx(limit, rel=1e-6)
    silent = one("driveline.runout", {**edits, "driveline.gearbox.front_face": {"pattern": "Bell"}}, demand="face")
    assert (silent.kind, silent.unknown) == ("open", ("driveline.gearbox.front_face.bolt_circle",))


# -- splines -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("hub", "says"),
    # 21 teeth of 29 mm: module 29/22 = 1.318 mm, a flat root has half of it for room, 0.6591 mm
    [
        ("29.1 mm", "."),
        ("29.5 mm", "; by design there are 0.6591 mm of room."),
        ("29.9 mm", "; by design there are 0.6591 mm of room. The hub is too large for its shaft and strips: fit a "
         "disc whose hub fits."),
        ("28.9 mm", ": the hub is smaller than its shaft and does not go on."),
    ],
)  # fmt: skip
def test_the_room_on_a_spline_is_said(hub: str, says: str) -> None:
    on = "driveline.clutch.hub_spline.outer_diameter"
    found = of_part("driveline.spline-match", "clutch.hub_spline", {on: hub}, demand="diameter")
    meets = f"{hub} at driveline.clutch.hub_spline meets 29 mm at driveline.gearbox.input_spline"
    assert found.message == meets + says
    assert found.advice == () or advised(found) == {on: pytest.approx(0.029)}


@pytest.mark.parametrize(
    ("teeth", "diameter", "seems"),
    [(21, "29 mm", False), (22, "29 mm", True), (22, "29.1 mm", True), (22, "29.3 mm", False), (22, None, False)],
)
def test_only_a_hub_of_one_diameter_and_other_teeth_seems_to_fit(teeth: int, diameter: str | None, seems: bool) -> None:
    edits = {"driveline.clutch.hub_spline.teeth": teeth, "driveline.clutch.hub_spline.outer_diameter": diameter}
    found = of_part("driveline.spline-match", "clutch.hub_spline", edits, demand="teeth")
    assert ("so that the hub seems to fit" in found.message) is seems
    assert found.kind == ("pass" if teeth == 21 else "fail")


def test_what_says_nothing_inside_its_limits_says_nothing_of_mending() -> None:
    said = {finding.demand: finding.message for finding in trial("driveline.half-shafts") if "front" in finding.part}
    assert said["torque"].endswith("with a differential that is open.")
    assert said["angle.outer"].endswith("stands at 32.0°.")


def test_yokes_are_turned_towards_the_plane_of_the_last_joint() -> None:
    # The first joint bends down by 3°; the last bends up and to the left by 2.12° each, 3° in a plane that stands 45°
    # from upright. Seen along the drive the sense of rotation leads from up to the right: up and left is 45° back.
    bent = {f"{REAR}.output_joint.ride": "2.1213 deg", f"{REAR}.output_joint.plan": "2.1213 deg"}
    level = of_part("driveline.joint-angles", "shafts.rear", bent, demand="phase")
    assert (level.kind, advised(level)) == ("fail", {f"{REAR}.yoke_offset": pytest.approx(-math.pi / 4, abs=0.005)})
    assert level.message.startswith("The yokes are out of phase by 45.")
    assert level.message.endswith("°: the joints add up instead of cancelling.")
    for offset, kind in (("-45 deg", "pass"), ("45 deg", "fail")):
        edits = {**bent, f"{REAR}.yoke_offset": offset}
        found = of_part("driveline.joint-angles", "shafts.rear", edits, demand="phase")
        assert found.kind == kind
    # to the right it is 45° on
    bent[f"{REAR}.output_joint.plan"] = "-2.1213 deg"
    right = of_part("driveline.joint-angles", "shafts.rear", bent, demand="phase")
    assert advised(right) == {f"{REAR}.yoke_offset": pytest.approx(math.pi / 4, abs=0.005)}


# -- the clutch and its damper -----------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "demand", "says"),
    [
        ({}, "dual-mass-flywheel", "The engine maker does not ask for a dual-mass flywheel; this one is solid."),
        ({"engine.torsional.dual_mass_required": True}, "dual-mass-flywheel",
         "The engine maker asks for a dual-mass flywheel; this one is solid."),
        ({}, "damped-hub", "The disc's hub is damped: behind a diesel it must be damped, or the flywheel dual-mass."),
        ({}, "tuned-for-diesel", "The damper was tuned for a diesel engine; this is a diesel of 4 cylinders."),
        # 430 N m over 340 N m
        ({}, "stop-torque", "The damper strikes its stops at 1.26 times the engine's torque of 340 N m."),
    ],
)  # fmt: skip
def test_what_is_said_of_the_damper(edits: dict[str, Any], demand: str, says: str) -> None:
    assert one("driveline.damper-range", edits, demand=demand).message == says


@pytest.mark.parametrize(
    ("edits", "demands"),
    [
        ({}, {"dual-mass-flywheel", "damped-hub", "tuned-for-diesel", "stop-torque"}),
        ({"engine.fuel_type": "petrol"}, {"dual-mass-flywheel", "stop-torque"}),
        ({"engine.cylinders": 5}, {"dual-mass-flywheel", "damped-hub", "stop-torque"}),
        ({"driveline.clutch.hub": "rigid"}, {"dual-mass-flywheel", "damped-hub"}),
        ({"engine.flywheel.kind": "dual-mass", "engine.flywheel.damper_stop_torque": "480 Nm"}, {"stop-torque"}),
        ({"engine.flywheel.kind": "dual-mass", "engine.flywheel.damper_stop_torque": "480 Nm",
          "engine.torsional.dual_mass_required": True}, {"dual-mass-flywheel", "stop-torque"}),
    ],
)  # fmt: skip
def test_what_is_asked_of_the_damper_hangs_on_engine_and_flywheel(edits: dict[str, Any], demands: set[str]) -> None:
    assert {finding.demand for finding in trial("driveline.damper-range", edits)} == demands


def test_a_damper_is_advised_that_also_serves_the_sheet() -> None:
    # 1.25 · 340 = 425 N m, but the sheet asks for 450 N m
    edits = {"engine.torsional.damper_stop_torque_min": "450 Nm"}
    found = one("driveline.damper-range", edits, demand="stop-torque")
    assert advised(found) == {"driveline.clutch.damper_stop_torque": pytest.approx(450)}


# -- ratios that are stated twice --------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "demand", "says"),
    [
        ({}, "teeth", "Stated 4.30; the teeth 43:10 and a hub reduction of 1.00 make 4.30."),
        ({"driveline.axles.rear.hub_reduction": None}, "teeth", "Stated 4.30; the teeth 43:10 make 4.30."),
        # 4.3 · 2.5 = 10.75, and 4.3 / 10.75 is one over the low range
        ({"driveline.axles.rear.hub_reduction": 2.5}, "teeth",
         "Stated 4.30; the teeth 43:10 and a hub reduction of 2.50 make 10.75. They differ by the low range, 2.50, "
         "which one side counts twice: it belongs in the transfer case only."),
        ({}, "same-ratio", "Stated 4.30; the axle front has 4.30."),
        ({"driveline.axles.rear.ratio": 4.4}, "same-ratio",
         "Stated 4.40; the axle front has 4.30. With both driven, on tyres all alike, the driveline winds up: give "
         "both one ratio."),
        ({"driveline.axles.rear.engaged": "always", "driveline.axles.rear.driven": False}, "driven",
         "Stated as not driven in road use, and as engaged always: every rule here takes it as engaged always. If that "
         "is right, write driven = true; if not, say in engaged when it is."),
        ({"driveline.axles.rear.engaged": "low-range"}, "driven",
         "Stated as driven in road use, and as engaged in low range only: every rule here takes it as engaged in low "
         "range only. If that is right, write driven = false; if it is always driven, engaged = always."),
    ],
)  # fmt: skip
def test_what_is_said_of_an_axles_ratio(edits: dict[str, Any], demand: str, says: str) -> None:
    assert of_part("driveline.axle-torque", "axles.rear", edits, demand=demand).message == says


def test_a_crawl_ratio_beside_what_its_parts_make() -> None:
    # 4.3 · 2.5 · 4.3 = 46.225
    found = of_part("driveline.axle-torque", "drivetrain", {"driveline.drivetrain.crawl_ratio": 50.0})
    assert found.message == "Stated 50.0; first gear, lowest range and final drive make 46.2."
    assert advised(found) == {"driveline.drivetrain.crawl_ratio": pytest.approx(46.225)}
    # a transfer case without a low range has none that could be counted twice
    plain = {"driveline.drivetrain.crawl_ratio": 115.6, "driveline.transfer.low": 1.0}
    assert "low range, 1" not in of_part("driveline.axle-torque", "drivetrain", plain).message


@pytest.mark.parametrize(
    ("limit", "advises"),
    # the rear axle, at a grip of 1.3, is brought 340·4.3·2.5·4.3·0.9·0.6 = 8487 N m. Rated for 3600 N m it takes a
    # limit of 340·3600/8487 = 144.2 N m, 360.6 behind 2.5, more than the 340 of high range; for 3300 132.2 N m, 330.5,
    # less than high range brings, so that no limit in low range mends it
    [("3600 Nm", 144.2), ("3300 Nm", None)],
)
def test_a_limit_of_low_range_is_advised_where_low_range_decides(limit: str, advises: float | None) -> None:
    edits = {"driveline.axles.rear.output_torque_rating": limit, "driveline.drivetrain.highest_grip": 1.3}
    found = of_part("driveline.axle-torque", "axles.rear", edits, demand="torque")
    low = "driveline.transfer.low_torque_limit"
    assert advised(found) == ({} if advises is None else {low: pytest.approx(advises, abs=0.1)})
    # and where a limit is set already it comes down from that
    if advises is not None:
        found = of_part("driveline.axle-torque", "axles.rear", {**edits, low: "300 Nm"}, demand="torque")
        assert advised(found) == {low: pytest.approx(advises, abs=0.1)}


# -- pieces of the stack -----------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "demand", "kind", "says"),
    [
        ({}, "located", "pass", "2 dowels locate it."),
        ({"dowels": 1}, "located", "pass", "A bore or spigot on each side locates it."),
        ({"dowels": 1, "engine_side.centred_by": "dowels"}, "located", "fail",
         "1 dowel and no bore or spigot on one side: nothing keeps it in line. Fit two dowels."),
        ({"dowels": 0, "gearbox_side.centred_by": "dowels"}, "located", "fail",
         "0 dowels and no bore or spigot on one side: nothing keeps it in line. Fit two dowels."),
        # half of 12 mm
        ({"dowel_engagement": "6 mm"}, "dowel-engagement", "pass",
         "Its dowels of 12 mm stand in by 6 mm where they stand in least."),
        ({"dowel_engagement": "5.9 mm"}, "dowel-engagement", "fail",
         "Its dowels of 12 mm stand in by 5.9 mm where they stand in least."),
        ({"thread_depth": "18 mm"}, "bottoming", "pass",
         "Its bolts are screwed in by 18 mm; the holes take 18 mm before they bottom."),
        ({"thread_depth": "17 mm"}, "bottoming", "fail",
         "Its bolts are screwed in by 18 mm; the holes take 17 mm before they bottom. Fit shorter bolts."),
    ],
)  # fmt: skip
def test_how_a_piece_is_located_and_held(edits: dict[str, Any], demand: str, kind: str, says: str) -> None:
    stated = {f"driveline.adapter.{field}": to for field, to in edits.items()}
    found = of_part("driveline.adapter-pieces", "driveline.adapter", stated, demand=demand)
    assert (found.kind, found.message) == (kind, says)


def test_what_turns_with_the_crank_is_rated_for_its_highest_speed() -> None:
    for speed, words in (("4400 r/min", "."), ("4399 r/min", ". Fit one that is rated for it.")):
        found = of_part("driveline.burst-speed", "clutch", {"driveline.clutch.speed_max": speed})
        assert found.message == f"The engine may be driven to 4400 r/min; this part is rated for {speed}{words}"


def test_a_shaft_at_the_speed_of_its_maker() -> None:
    # 160 km/h: 44.444·4.3/0.391251 = 488.46 rad/s = 4664.4 r/min, more than the governor's 4111
    fast = {"build.design.road_speed_max": "160 km/h"}
    for most, kind in (("4665 r/min", "pass"), ("4664 r/min", "fail")):
        edits = {**fast, f"{REAR}.speed_max": most}
        found = of_part("driveline.critical-speed", "shafts.rear", edits, demand="maker-speed")
        assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)
        assert found.message.endswith("Fit one that is made for it, or two shorter pieces.") is (kind == "fail")


# -- the list of steps -------------------------------------------------------------------------------------------------
def numbers(entry: Entry) -> tuple[float | None, float | None, float | None]:
    """Least, expected and most of a step, in the unit that it is shown in."""
    figures = (entry.least, entry.expected, entry.most)
    return tuple(  # type: ignore[return-value]
        None if f is None or f.value is None else round(in_unit(f.value, entry.kind, entry.unit), 3) for f in figures
    )


@pytest.mark.parametrize(
    ("step", "part", "edits", "wanted"),
    [
        # before it is measured 0.08 + 0.05 and 0.06 + 0.04 mm; the gearbox allows 0.20 and 0.15
        ("bore-runout", "", {"driveline.alignment": None}, (None, 0.13, 0.20)),
        ("face-runout", "", {"driveline.alignment": None}, (None, 0.10, 0.15)),
        # -42 + 20 + 25 mm
        ("converter-gap", "", AUTOMATIC, (2.0, 3.0, 5.0)),
        ("angle-in", "rear", {}, (-7.0, -3.0, 7.0)),
        ("angle-out", "rear", {}, (-7.0, 3.0, 7.0)),
        ("laden-in", "rear", {}, (-7.0, -3.0, 7.0)),
        ("laden-out", "rear", {f"{REAR}.output_joint.running_angle_max": "5 deg"}, (-5.0, 3.0, 5.0)),
        ("tighten", "driveline.adapter", {}, (None, 45.0, None)),
        ("gearbox-oil", "", {}, (None, 2.5, None)),
        ("transfer-oil", "", {}, (None, 1.8, None)),
        ("axle-oil", "front", {}, (None, 1.6, None)),
        # by hand it is shifted at the rated speed; an automatic where its controller shifts, by then at the latest
        ("shift-points", "", {"driveline.gearbox.controller.shift_speed_max": "3200 r/min"}, (None, 3400.0, None)),
        ("shift-points", "", AUTOMATIC, (None, None, 3400.0)),
        ("shift-points", "",
         {**AUTOMATIC, "driveline.gearbox.controller": {"fitted": True, "shift_speed_max": "3200 r/min"}},
         (None, 3200.0, 3400.0)),
        # 3400 · 0.9/1.15 = 2660.9 r/min, less the 150 r/min that a shift takes
        ("shift-landing", "", {}, (1400.0, 2510.87, None)),
    ],
)  # fmt: skip
def test_the_numbers_of_a_step(
    step: str, part: str, edits: dict[str, Any], wanted: tuple[float | None, float | None, float | None]
) -> None:
    assert numbers(step_of(f"driveline.{step}", edits, part=part)) == pytest.approx(wanted, abs=2e-3)


@pytest.mark.parametrize(
    ("edits", "room"),
    [
        # 14 mm of the nose stand in the crank: 20 mm of nose leave 6 to its shoulder, 25 mm of hole 11 to the bottom
        ({}, 6.0),
        ({"engine.crank.pilot_hole_depth": "20 mm"}, 6.0),
        ({"engine.crank.pilot_hole_depth": "18 mm"}, 4.0),
        ({"engine.crank.pilot_hole_depth": "13 mm"}, -1.0),
    ],
)
def test_room_ahead_of_the_nose_and_behind_its_shoulder(edits: dict[str, Any], room: float) -> None:
    assert value("driveline.nose-reach", edits) == pytest.approx(14.0)
    assert value("driveline.nose-room", edits) == pytest.approx(room)


@pytest.mark.parametrize(
    ("end", "kind", "says"),
    [
        # 8 mm of full spline are left where it ends at 240 mm
        ("240 mm", "pass", "8 mm of full spline are left beyond the disc's hub at the tighter end, over its wear "
         "travel."),
        ("230 mm", "fail", "The disc's hub leaves the full spline by 2 mm, over its wear travel. Fit a disc with "
         "another "
         "offset, or another adapter."),
    ],
)  # fmt: skip
def test_how_the_hub_stands_on_its_spline(end: str, kind: str, says: str) -> None:
    found = one("driveline.depth-stack", {"driveline.gearbox.spline_end": end}, demand="hub-on-spline")
    assert (found.kind, found.message) == (kind, says)


@pytest.mark.parametrize(
    ("edits", "kind", "says"),
    [
        # the gearbox has 10 holes on 330 mm
        ({}, "pass", "10 and 10 holes, bolt circles that differ by 0 mm."),
        ({"holes": 9}, "fail", "9 and 10 holes, bolt circles that differ by 0 mm, so that they do not bolt together."),
        ({"bolt_circle": "331 mm"}, "fail", "10 and 10 holes, bolt circles that differ by 1 mm, so that they do not "
         "bolt "
         "together."),
        ({"bolt_circle": None}, "pass", "10 and 10 holes."),
        ({"holes": None}, "pass", "bolt circles that differ by 0 mm."),
    ],
)  # fmt: skip
def test_what_of_a_bolt_circle_is_said(edits: dict[str, Any], kind: str, says: str) -> None:
    stated = {f"driveline.adapter.gearbox_side.{field}": new for field, new in edits.items()}
    found = of_part("driveline.housing-match", "gearbox.front_face", stated, demand="bolt-circle")
    assert (found.kind, found.message.rpartition("front_face: ")[2]) == (kind, says)
