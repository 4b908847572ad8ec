"""What the fit rules say in each case, and where they turn: at, below and above each edge. Numbers by hand."""

import math

import pytest
from swaplint_rules.fit import bay, behind, takeoff  # type: ignore[import-not-found]
from told import Row, by_trial, edited, says, told

from swaplint.api import Build
from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base, trial, value

V = "vehicle"
FAN = "plumbing.cooling.fan"
SHAFT = "driveline.shafts.rear"
SUNK = "the water of 300 mm"

SAID = [
    # fan: 60 mm less 12.35 from the core, 25 mm less 13.56 at the tips
    ("fan-gap core-gap @fan_core", "", "pass", "fan_core: 60 mm, less 12.3 mm of engine movement."),
    ("fan-gap core-gap @fan_core", "clearances.fan_core.gap = 37.4 mm", "pass", ""),
    ("fan-gap core-gap @fan_core", "clearances.fan_core.gap = 37.3 mm", "fail warning", ""),
    ("fan-gap core-gap @fan_core", "clearances.fan_core.gap = 12.3 mm", "fail error", ""),
    ("fan-gap core-gap @fan_core", f"{FAN}.drive = electric", "pass",
     "The fan hangs on the radiator and keeps its gap."),
    ("fan-gap core-gap-as-drawn @fan_core", "clearances.fan_core.gap_min = None; clearances.fan_core.gap = 50 mm",
     "pass", "50 mm as drawn."),
    ("fan-gap core-gap-as-drawn @fan_core", "clearances.fan_core.gap_min = None; clearances.fan_core.gap = 49 mm",
     "fail warning", ""),
    ("fan-gap tips-moving @fan_shroud", "", "pass", "fan_shroud: 25 mm, the engine moves by 13.6 mm there."),
    ("fan-gap tips-moving @fan_shroud", "clearances.fan_shroud.gap = 13.6 mm", "pass", "!strikes"),
    ("fan-gap tips-moving @fan_shroud", "clearances.fan_shroud.gap = 13.5 mm", "fail error",
     "The fan strikes the shroud."),
    ("fan-gap tips-apart @fan_shroud", "clearances.fan_shroud.gap = 20 mm", "pass",
     "fan_shroud: fan and shroud move apart."),
    ("fan-gap tips-apart @fan_shroud", "clearances.fan_shroud.gap = 20 mm", "pass", "!A fan of"),
    ("fan-gap tips-together @fan_shroud", f"{FAN}.shroud_on = engine; clearances.fan_shroud.gap = 6 mm", "pass",
     "move together, so that a"),
    ("fan-gap tips-together @fan_shroud", f"{FAN}.shroud_on = engine; clearances.fan_shroud.gap = 7 mm", "fail", ""),
    ("fan-gap projection @fan_shroud", f"{FAN}.projection = 50 %", "pass",
     "50 % of the blades' depth stands in the shroud."),
    ("fan-gap projection @fan_shroud", f"{FAN}.projection = 66 %", "pass", ""),
    ("fan-gap projection @fan_shroud", f"{FAN}.projection = 49 %", "fail", ""),
    ("fan-gap projection @fan_shroud", f"{FAN}.projection = 67 %", "fail", ""),
    # hood: 17.24 and 5 and 20 mm; axle 11.97 and 25; shaft 13.56 and 15; steering 13.56 and 20
    ("hood-clearance @hood", "", "pass",
     "hood: 60 mm, less 17.2 mm of engine movement and 5 mm for the flexing of the hood."),
    ("hood-clearance @hood", "clearances.hood.gap = 42.3 mm", "pass", ""),
    ("hood-clearance @hood", "clearances.hood.gap = 42.2 mm", "fail warning", ""),
    ("sump-axle @sump_axle", "", "pass",
     "sump_axle: 60 mm with the suspension on its stop, less 12 mm of engine movement."),
    ("sump-axle @sump_axle", "clearances.sump_axle.gap_at_bump = 37 mm", "pass", ""),
    ("sump-axle @sump_axle", "clearances.sump_axle.gap_at_bump = 36.9 mm", "fail error", ""),
    ("sump-axle @front_shaft", "clearances.front_shaft.gap_at_bump = 28.5 mm", "fail error", ""),
    ("sump-axle @front_shaft", "clearances.front_shaft.gap_at_bump = 28.6 mm", "pass", ""),
    ("steering-shaft-clearance @steering_shaft", "clearances.steering_shaft.gap = 33.6 mm", "pass",
     "33.6 mm, less 13.6 mm of engine"),
    ("steering-shaft-clearance @steering_shaft", "clearances.steering_shaft.gap = 33.5 mm", "fail error", ""),
    # the bay
    ("bay-box room.front", "", "pass", "85.6 mm is left ahead of it when it moves; 40 mm is wanted."),
    ("bay-box room.front", "bay.front = -434 mm", "fail warning", "is left ahead of it when it moves"),
    ("bay-box room.front", "bay.front = -435 mm", "pass", ""),
    ("bay-box room.front", "bay.front = -390 mm", "fail error",
     "What is ahead of it is in its way by 4.44 mm when it moves; 40 mm of room"),
    ("bay-box room.front", "bay.front = -434 mm", "fail warning", "!no room to give"),
    ("bay-box room.front", "bay.front = -390 mm; bay.rear = 522 mm", "fail error",
     "The other side has no room to give: the bay is 44 mm too small."),
    ("bay-box room.right", "", "pass", "67.5 mm is left on its right when it moves; 50 mm is wanted."),
    ("bay-box room.left", "", "pass", "25 mm is wanted."),
    ("bay-box room.below", "", "pass", "35.7 mm is left below it when it moves; 15 mm is wanted."),
    ("bay-box room.above", "", "pass", "above it when it moves; 15 mm is wanted."),
    ("bay-box room.rear", "", "pass", "behind it when it moves; 15 mm is wanted."),
    # 23° front up, 17° down, 12° to the side
    ("installed-angle front-up", "engine.tilt.front_up_max = 23 deg", "pass", "Installed at 3.0°, on slopes of 20.0°."),
    ("installed-angle front-up", "engine.tilt.front_up_max = 22.9 deg", "fail error", "!no installed angle"),
    ("installed-angle front-up", "engine.tilt.front_up_max = 15 deg; engine.tilt.front_down_max = 20 deg", "fail error",
     "on slopes of 20.0°: no installed angle does with this sump."),
    ("installed-angle front-down", "engine.tilt.front_down_max = 17 deg", "pass", ""),
    ("installed-angle front-down", "engine.tilt.front_down_max = 16.9 deg", "fail error", ""),
    ("installed-angle side", "engine_place.roll = -5 deg", "pass",
     "Leaning 5.0° as installed, on slopes of 12.0° across the crank."),
    ("installed-angle side", "engine.tilt.side_max = 11 deg", "fail error",
     "across the crank: no lean does with this sump."),
    ("installed-angle side", "engine.tilt.side_max = 12 deg", "pass", "!no lean"),
    ("installed-angle standing", "engine.tilt.standing_max = 3 deg", "pass", "Installed at 3.0°, before any slope."),
    ("installed-angle standing", "engine.tilt.standing_max = 2.9 deg", "fail error", ""),
    ("installed-angle standing", "engine.tilt.standing_max = none", "notApplicable",
     "one limit for any time, which holds with the slope"),
    ("installed-angle standing-side", "engine_place.roll = -8 deg", "pass",
     "Leaning 8.0° as installed, before any slope."),
    ("installed-angle standing-side", "engine_place.roll = -8.1 deg", "fail error", ""),
    ("installed-angle standing-side", "engine.tilt.standing_side_max = none", "notApplicable",
     "one limit for any time"),
    # tan² 23° + tan² 12° = tan² 25.39°
    ("installed-angle any-way", "engine.tilt.any_way_max = 25.4 deg", "pass", "both slopes at once tilt it by 25.4°."),
    ("installed-angle any-way", "engine.tilt.any_way_max = 25.4 deg", "pass", "!Mount the engine"),
    ("installed-angle any-way", "engine.tilt.any_way_max = 25.3 deg", "fail error",
     "tilt it by 25.4°. Mount the engine with less tilt"),
    ("installed-angle any-way", "engine.tilt.any_way_max = none", "notApplicable", "limits each direction by itself."),
    # service
    ("service-access room @oil_filter", "bay.reach.oil_filter.room = 170 mm", "pass",
     "takes 110 mm to be drawn out, and a hand 60 mm."),
    ("service-access room @oil_filter", "bay.reach.oil_filter.room = 169 mm", "fail warning", ""),
    ("service-access room @oil_filter",
     "bay.reach.oil_filter.room = 169 mm; engine.service.oil_filter.interval = yearly", "fail note", ""),
    ("service-access mounts-stay @belt", "", "pass", "The belt comes out with the mounts in place."),
    ("service-access mounts-stay @belt", "bay.reach.belt.mounts_stay = False", "fail",
     "The belt comes out only with the mounts off."),
    ("service-access from-above @dipstick", "bay.reach.dipstick.reached = side", "fail warning",
     "is a daily check and is reached from the side."),
    ("service-access from-above @dipstick", "bay.reach.dipstick.reached = below", "fail", "reached from below."),
    ("service-access @oil_filter", "bay.reach.oil_filter = None", "review",
     "Nobody says how oil_filter is reached in this bay"),
    # behind the engine: 350 + (130 + 480)·cos 3° = 959.2 mm
    ("gearbox-place lever", "", "pass",
     "The gear lever stands 959.2 mm behind the front axle; from 900 mm to 1050 mm there is a place for it."),
    ("gearbox-place lever", "driveline_place.lever_opening_front = 960 mm", "fail", "It is 0.836 mm too far forward."),
    ("gearbox-place lever", "driveline_place.lever_opening_rear = 950 mm", "fail", "It is 9.16 mm too far back."),
    ("gearbox-place mount", "", "pass", "The gearbox's mount stands 1019 mm behind the front axle"),
    ("gearbox-place transfer-lever", "", "pass", "The lever of the transfer case stands 1099 mm behind the front axle"),
    # 950 - (720 - 130·sin 3° + 190) = 46.8 mm
    ("gearbox-place tunnel-roof", "", "pass", "46.8 mm are left over bell housing and gearbox; 25 mm are wanted."),
    ("gearbox-place tunnel-roof", "driveline_place.tunnel_roof = 928.2 mm", "pass", "!Move the engine"),
    ("gearbox-place tunnel-roof", "driveline_place.tunnel_roof = 928.1 mm", "fail warning",
     "Move the engine, or have the floor altered."),
    ("gearbox-place tunnel-roof", "driveline_place.tunnel_roof = 903 mm", "fail error",
     "The tunnel lacks 0.196 mm over bell housing and gearbox"),
    ("gearbox-place tunnel-side", "driveline_place.tunnel_half_width = 215 mm", "pass",
     "25 mm are left beside the gearbox"),
    ("gearbox-place tunnel-side", "driveline_place.tunnel_half_width = 190 mm", "fail warning",
     "0 mm are left beside the gearbox"),
    # 290 - 100 - 190, of which floating point leaves a little less than nothing
    ("gearbox-place tunnel-side", "engine_place.y = 100 mm", "fail warning", "0 mm are left beside the gearbox"),
    ("gearbox-place tunnel-side", "engine_place.y = -20 mm", "pass", "80 mm are left beside the gearbox"),
    ("gearbox-place transfer-left", "engine_place.y = 20 mm", "pass",
     "90 mm are left to the left of the transfer case"),
    ("gearbox-place transfer-right", "engine_place.y = 20 mm", "pass",
     "80 mm are left to the right of the transfer case"),
    # 900 - (720 - 690·sin 3° + 140) = 76.1 mm
    ("gearbox-place transfer-floor", "", "pass", "76.1 mm are left over the transfer case"),
    # shafts
    ("shaft-length length @rear", "", "pass",
     "1100 mm from joint to joint is the length to order; it was 1130 mm, 30 mm shorter now."),
    ("shaft-length length @rear", f"{SHAFT}.length_before = 1080 mm", "pass", "it was 1080 mm, 20 mm longer now."),
    ("shaft-length length @rear", f"{SHAFT}.length_before = 1100 mm", "pass", "it was 1100 mm."),
    ("shaft-length length @rear", f"{SHAFT}.length_before = None", "pass", "is the length to order."),
    ("shaft-length length @rear", f"{SHAFT}.length = 1106 mm", "fail", "; 1106 mm is stated."),
    ("shaft-length length @rear", f"{SHAFT}.length = 1105 mm", "pass", "!is stated"),
    ("shaft-length length @rear", f"{SHAFT}.length = 1095 mm", "fail", "; 1095 mm is stated."),
    ("shaft-length length @rear", f"{SHAFT}.driving_x = 1350 mm; {SHAFT}.driving_flange_x = 1340 mm", "review",
     "to its joint's centre and to its flange: leave out one"),
    # slip joints: 37.8 mm to the bottom, 74.8 mm engaged
    ("shaft-plunge-ground slip-in @rear", "", "pass", "rear: 37.81 mm to the bottom where it is shortest."),
    ("shaft-plunge-ground slip-in @rear", f"{SHAFT}.slip_in = 12.2 mm", "pass", "!shaft"),
    # 12.1 - 2.19 = 9.91 to the bottom, 74.78 - 70 to spare the other way: (−0.09 + 4.78)/2 = 2.35 mm longer or shorter
    ("shaft-plunge-ground slip-in @rear", f"{SHAFT}.slip_in = 12.1 mm", "fail error",
     "; a shaft 2 mm shorter would have 2.3 mm more than it needs at either end."),
    ("shaft-plunge-ground slip-in @rear", f"{SHAFT}.slip_in = 2.2 mm", "fail error",
     "; no other length does, it takes a longer slip joint."),
    ("shaft-plunge-ground slip-out @rear", f"{SHAFT}.slip_out = 85.3 mm", "pass",
     "70.08 mm engaged where it is longest."),
    ("shaft-plunge-ground slip-out @rear", f"{SHAFT}.slip_out = 85.2 mm", "fail error",
     "; a shaft 14 mm longer would have 14 mm more"),
    # drawn out to just 15 mm it still lacks the two thirds of 105 mm of spline
    ("shaft-plunge-ground slip-out @rear",
     f"driveline.axles.rear.final_drive_on = frame; {SHAFT}.slip_in = 200 mm; {SHAFT}.slip_out = 15 mm", "fail error",
     "15 mm engaged where it is longest; a shaft"),
    ("shaft-plunge-ground slip-out @rear", f"{SHAFT}.slip_out = 30 mm; {SHAFT}.spline_length = None", "fail error",
     "14.78 mm engaged"),
    ("shaft-plunge-ground ground-clearance @vehicle.ground_clearance", "ground_clearance.after = 198 mm", "pass",
     "220 mm before, 198 mm after."),
    ("shaft-plunge-ground ground-clearance @vehicle.ground_clearance", "ground_clearance.after = 197 mm", "fail note",
     "220 mm before, 197 mm after."),
    ("shaft-plunge-ground ground-clearance @vehicle.ground_clearance",
     "ground_clearance.after = 150 mm; ground_clearance.guarded = True", "pass", "a plate guards the"),
    # wading: 300 mm, and 100 for the wave
    ("wading", "build.design.wade_depth = 0 mm", "notApplicable", "The vehicle is not meant to wade."),
    ("wading gearbox", "wading.gearbox_breather.height = 400 mm", "pass",
     f"400 mm above the ground, 100 mm above {SUNK}."),
    ("wading gearbox", "wading.gearbox_breather.height = 400 mm", "pass", "!Lead it up"),
    ("wading gearbox", "wading.gearbox_breather.height = 399 mm", "fail warning",
     "Lead it up to 400 mm or more by a hose."),
    ("wading gearbox", "wading.gearbox_breather.height = 300 mm", "fail warning", f"0 mm above {SUNK}."),
    ("wading gearbox", "wading.gearbox_breather.height = 299 mm", "fail error", f"1 mm below {SUNK}."),
    ("wading gearbox", "wading.gearbox_breather = {'fitted': False}", "notApplicable",
     "no breather that opens to the air."),
    ("wading axle.rear", "wading.axle_breathers.rear = None", "review", "Nobody says where the axle rear breathes"),
    ("wading electrical.starter", "", "pass",
     f"starter hangs 280 mm above the ground, 20 mm below {SUNK}, protected to IP67."),
    ("wading electrical.starter", "wading.electrical.starter.ip_codes = ['IP54']", "fail warning",
     "protected to IP54: under water it takes IPX7"),
    ("wading electrical.starter", "wading.electrical.starter.ip_codes = []", "fail warning",
     "protected to nothing: under water"),
    ("wading electrical.starter", "wading.electrical.starter.height = 300 mm", "pass", f"0 mm above {SUNK}."),
    ("wading electrical.starter", "wading.electrical.starter.fitted = False", "notApplicable", "It is not fitted."),
    ("wading electrical", "wading.electrical = {}", "pass", "Nothing electrical is listed that hangs low."),
    ("wading fan", "", "pass", f"The fan's blades reach down to 480 mm above the ground, 180 mm above {SUNK}."),
    ("wading fan", f"{FAN}.lowest_tip = 299 mm; {FAN}.stopped_in_water = True", "pass", ", and it stands still there."),
    ("wading fan", f"{FAN}.lowest_tip = 299 mm; {FAN}.stopped_in_water = False", "fail warning",
     ": give it a switch, or take its belt off."),
    ("wading fan", f"{FAN}.lowest_tip = 300 mm", "pass", ""),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial(SAID))
def test_what_is_said(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    says("fit", edits, rows, V)


@pytest.mark.parametrize(
    ("rule", "edits", "demands", "made"),
    [
        ("wading", "driveline.transfer = {'fitted': False}", "transfer", False),
        ("wading", "driveline.axles.front.fitted = False", "axle.front", False),
        ("wading", "wading.crankcase_breather = {'height': '700 mm'}", "crankcase", True),
        ("wading", "", "crankcase electrical", False),
        ("wading", "wading.electrical = None", "electrical", True),
        ("wading", f"{FAN} = {{'fitted': False}}", "fan", False),
        (
            "gearbox-place",
            "driveline.transfer = {'fitted': False}",
            "transfer-floor transfer-left transfer-lever",
            False,
        ),
        ("gearbox-place", "driveline.transfer.mounting = remote", "transfer-floor transfer-right", False),
        ("gearbox-place", "", "transfer-floor transfer-left transfer-right transfer-lever", True),
    ],
)
def test_which_demands_are_made(rule: str, edits: str, demands: str, made: bool) -> None:
    there = {finding.demand for finding in trial(f"fit.{rule}", edited(edits, V))}
    assert {demand in there for demand in demands.split()} == {made}, there


@pytest.mark.parametrize(
    ("rule", "edits", "advice"),
    [
        # 85.56 - 46 = 39.56 of 40 mm: 1 mm to the rear, which is positive; 44.44 mm there make 45
        ("bay-box room.front", "bay.front = -434 mm", {"engine_place.x": 0.351}),
        ("bay-box room.front", "bay.front = -390 mm; bay.rear = 700 mm", {"engine_place.x": 0.395}),
        ("bay-box room.rear", "bay.rear = 520 mm", {"engine_place.x": 0.348}),
        ("bay-box room.left", "bay.left = 395 mm; bay.right = 500 mm", {"engine_place.y": -0.003}),
        ("bay-box room.right", "bay.right = 440 mm", {"engine_place.y": 0.003}),
        ("bay-box room.below", "bay.bottom = 422 mm", {"engine_place.z": 0.722}),
        ("bay-box room.above", "bay.top = 1260 mm", {"engine_place.z": 0.719}),
        ("bay-box room.front", "bay.front = -390 mm; bay.rear = 522 mm", {}),
        ("bay-box room.front", "", {}),
        # front up 22: the angles from -10 to 2 do, and 2 is nearest; front down 16: from 4 on
        ("installed-angle front-up", "engine.tilt.front_up_max = 22 deg", {"engine_place.pitch": math.radians(2.0)}),
        (
            "installed-angle front-down",
            "engine.tilt.front_down_max = 16 deg",
            {"engine_place.pitch": math.radians(4.0)},
        ),
        # 20 degrees of slope and of limit both ways: upright alone does
        (
            "installed-angle front-up",
            "engine.tilt.front_up_max = 20 deg; engine.tilt.front_down_max = 20 deg",
            {"engine_place.pitch": 0.0},
        ),
        ("installed-angle standing", "engine.tilt.standing_max = 2 deg", {"engine_place.pitch": math.radians(2.0)}),
        (
            "installed-angle standing",
            "engine.tilt.standing_max = 2 deg; engine_place.pitch = -3 deg",
            {"engine_place.pitch": math.radians(-2.0)},
        ),
        (
            "installed-angle side",
            "engine.tilt.side_max = 16 deg; engine_place.roll = -5 deg",
            {"engine_place.roll": math.radians(-4.0)},
        ),
        ("installed-angle standing-side", "engine_place.roll = -9 deg", {"engine_place.roll": math.radians(-8.0)}),
        ("service-access room @oil_filter", "bay.reach.oil_filter.room = 100 mm", {"bay.reach.oil_filter.room": 0.170}),
        ("shaft-length length @rear", f"{SHAFT}.length = 1120 mm", {f"{SHAFT}.length": 1.100}),
        ("wading gearbox", "wading.gearbox_breather.height = 250 mm", {"wading.gearbox_breather.height": 0.400}),
        ("fan-gap projection @fan_shroud", f"{FAN}.projection = 40 %", {f"{FAN}.projection": 0.5}),
        ("fan-gap projection @fan_shroud", f"{FAN}.projection = 80 %", {f"{FAN}.projection": 2.0 / 3.0}),
        ("fan-gap tips-moving @fan_shroud", "clearances.fan_shroud.gap = 5 mm", {"clearances.fan_shroud.gap": 0.014}),
        ("fan-gap tips-apart @fan_shroud", "clearances.fan_shroud.gap = 5 mm", {"clearances.fan_shroud.gap": 0.020}),
        ("hood-clearance @hood", "clearances.hood.gap = 20 mm", {"clearances.hood.gap": 0.043}),
    ],
)
def test_what_is_advised(rule: str, edits: str, advice: dict[str, float]) -> None:
    given = {one.field.removeprefix(f"{V}."): float(one.value) for one in told(f"fit.{rule}", edits, V).advice}
    assert given == pytest.approx(advice, rel=1e-4)


# -- asked directly ----------------------------------------------------------------------------------------------------
def built(edits: str = "") -> Build:
    return View(sound_spec(rule_base(), edited(edits, V)).build).build


@pytest.mark.parametrize(
    ("faces", "wanted"),
    [
        # ahead of the engine's own front 40 mm, on its exhaust's side, the right, 50, rails 25, elsewhere 15. Turned to
        # the left the front looks left, the right ahead; to the right the right looks to the rear
        ("front", {"front": 40, "rear": 15, "left": 25, "right": 50, "below": 15, "above": 15}),
        ("left", {"front": 50, "rear": 15, "left": 40, "right": 25, "below": 15, "above": 15}),
        ("right", {"front": 15, "rear": 50, "left": 25, "right": 40, "below": 15, "above": 15}),
        ("rear", {"front": 15, "rear": 40, "left": 50, "right": 25, "below": 15, "above": 15}),
    ],
)
def test_room_is_wanted_by_the_engines_own_sides(faces: str, wanted: dict[str, int]) -> None:
    build = built(f"engine_place.front_faces = {faces}")
    assert {side: round(1000 * bay._needed(build, side)) for side in wanted} == wanted


@pytest.mark.parametrize(
    ("low", "now", "high", "nearest"),
    [
        # in tenths of a degree inside the window; where none is in it, its middle
        (1.0, 3.0, 5.0, 3.0), (1.0, 0.0, 5.0, 1.0), (1.0, 6.0, 5.0, 5.0),
        (1.04, 0.0, 5.0, 1.1), (1.0, 6.0, 4.96, 4.9), (1.01, 0.0, 1.05, 1.03),
    ],
)  # fmt: skip
def test_the_nearest_angle_of_a_window(low: float, now: float, high: float, nearest: float) -> None:
    low, now, high = (math.radians(angle) for angle in (low, now, high))
    assert math.degrees(bay._inside(low, now, high)) == pytest.approx(nearest, abs=1e-6)


@pytest.mark.parametrize(
    ("edits", "part", "x", "yoke"),
    [
        # behind the transfer case: 350 + (130 + 560 + 320)·cos 3° = 1358.6; its front output 350 + (690 - 80)·cos 3°
        ("", "rear", 1358.62, 0.0),
        ("", "front", 959.16, 0.0),
        # straight behind the gearbox: 350 + 690·cos 3°
        ("driveline.shafts.rear.driven_by = gearbox", "rear", 1039.05, 0.0),
        # measured itself, to the joint or to the flange with its yoke
        ("driveline.shafts.rear.driving_x = 1350 mm", "rear", 1350.0, 0.0),
        ("driveline.shafts.rear.driving_flange_x = 1310 mm; driveline.shafts.rear.driving_yoke_depth = 40 mm", "rear",
         1310.0, 40.0),
        # behind another shaft: where that one ends
        ("driveline.shafts.front.driven_by = rear", "front", 2453.0, 0.0),
        ("driveline.transfer.mounting = remote; driveline.shafts.rear.driving_x = 1400 mm", "rear", 1400.0, 0.0),
    ],
)  # fmt: skip
def test_where_a_shaft_begins(edits: str, part: str, x: float, yoke: float) -> None:
    build = built(edits)
    end = behind.driving_end(build, build.driveline.shafts[part])
    assert (1000 * end.x, 1000 * end.yoke) == pytest.approx((x, yoke), abs=0.01)


def test_yokes_are_taken_off_the_distance() -> None:
    # 2500 - 1358.62 - 47 mm of yoke, 115 mm down: √(1094.38² + 115²) = 1100.4
    flange = f"{SHAFT}.driven_x = None; {SHAFT}.driven_flange_x = 2500 mm; {SHAFT}.driven_yoke_depth = 47 mm"
    assert value("fit.shaft-distance", edited(flange), part="rear") == pytest.approx(1100.41, abs=0.02)
    # yokes of 250 mm that meet: nothing is left but the 115 mm down
    meet = f"{SHAFT}.driving_flange_x = 1500 mm; {SHAFT}.driving_yoke_depth = 250 mm; {SHAFT}.driven_x = None; "
    meet += f"{SHAFT}.driven_flange_x = 2000 mm; {SHAFT}.driven_yoke_depth = 250 mm"
    assert value("fit.shaft-distance", edited(meet), part="rear") == pytest.approx(115.0)
    # a front axle lies ahead of what drives it: 959.16 - 308 mm, 60 down and 250 to the side: 700.08
    assert value("fit.shaft-distance", part="front") == pytest.approx(700.08, abs=0.01)


@pytest.mark.parametrize(("y", "place"), [("engine_place.front_faces = left", None), ("", 350.0)])
def test_nothing_stands_behind_an_engine_that_looks_sideways(y: str, place: float | None) -> None:
    build = built(y)
    if place is None:
        with pytest.raises(ValueError, match="stands across the vehicle"):
            behind.behind(build, 0.1)
    else:
        assert 1000 * behind.behind(build, -0.130) == pytest.approx(place)


def test_where_things_are_reached_from() -> None:
    build = built()
    assert takeoff._reached(build, "dipstick") == "reached from above"
    assert takeoff._reached(build, "oil_filter") == "reached from the side"
    assert takeoff._reached(build, "nothing") is None
    assert takeoff._reached(built("bay.reach = None"), "dipstick") is None
    assert takeoff._reached(built("bay.reach.dipstick.reached = None"), "dipstick") is None


def test_a_shaft_that_follows_no_wheel_keeps_its_length() -> None:
    fixed = edited("driveline.axles.rear.final_drive_on = frame")
    assert value("fit.slip-in-left", fixed, part="rear") == pytest.approx(40.0)
    assert value("fit.slip-out-left", fixed, part="rear") == pytest.approx(90.0)


def test_a_smaller_fan_leaves_enough_at_its_tips() -> None:
    # 12 mm of 20: twice 8 mm off the diameter of the fan
    fan = built().plumbing.cooling.fan.diameter
    wanted = round(1000 * fan) - 16
    found = told("fit.fan-gap tips-apart @fan_shroud", "clearances.fan_shroud.gap = 12 mm", V)
    assert f"A fan of {wanted} mm would leave enough." in found.message
    # a fortieth of a fan of a metre is 25 mm
    large = told("fit.fan-gap tips-apart @fan_shroud", f"{FAN}.diameter = 1000 mm", V)
    assert large.limit is not None
    assert large.limit.value == pytest.approx(0.025)


def test_the_margin_at_the_tips_is_a_share_of_their_gap() -> None:
    # of 25 mm the engine's movement leaves 11.44
    assert told("fit.fan-gap tips-moving @fan_shroud", "", V).margin == pytest.approx(11.44 / 25, abs=5e-4)
    # of no gap at all there is no share
    assert told("fit.fan-gap tips-moving @fan_shroud", "clearances.fan_shroud.gap = 0 mm", V).margin is None


@pytest.mark.parametrize(("room", "moves"), [(0.0249, True), (0.025, False), (0.0251, False)])
def test_the_room_that_is_wanted_moves_no_engine(room: float, moves: bool) -> None:
    assert ("Move the engine" in behind._room(room, "beside it", "place").says) is moves
