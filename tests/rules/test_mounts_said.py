"""What the mounts rules say in each case, and where they turn: at, below and above each edge. Numbers by hand."""

import math
import re

import pytest
from swaplint_rules.mounts import brackets, carrying, figures, movement, moving, quantities  # type: ignore[import-not-found]
from told import Row, by_trial, edited, says, told

from swaplint.api import Build
from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base, step_of, trial, value

V = "vehicle"
M = "mounts.front_left"

SAID = [
    # 368 kg, of which 1250.9 N hang on each front mount and 553.6 N on each rear one
    ("static-share @front_left", "", "pass", "The unit weighs 368 kg, of which it carries 1251 N."),
    ("static-share @front_left", f"{M}.load_max = 1250 N", "fail error",
     "carries 1251 N: it sags and tears under so much."),
    ("static-share @front_left", f"{M}.load_max = 1251 N", "pass", "carries 1251 N."),
    ("static-share @front_left", f"{M}.load_min = 1251 N", "fail warning",
     "1251 N: it is too hard for so little, and passes on every"),
    ("static-share @front_left", f"{M}.load_min = 1250 N", "pass", "carries 1251 N."),
    # without a lower end 60 % of the rating: 2084 N of 0.6 · 2084 = 1250.4
    ("static-share @front_left", f"{M}.load_min = None; {M}.load_max = 2084 N", "pass", ""),
    ("static-share @front_left", f"{M}.load_min = None; {M}.load_max = 2086 N", "fail warning",
     "too hard for so little"),
    ("static-share @rear_left", "engine.centre_of_gravity.x = -900 mm", "fail error",
     "The unit weighs 368 kg. 222.7 N pull it apart: the weight lies outside the mounts."),
    # torque
    ("torque-reaction peak-load @front_left", "", "pass",
     "2613 N m turns the unit: it presses this mount with up to 5413 N and pulls it apart with up to 2911 N, weight"),
    ("torque-reaction peak-load @front_left", "", "pass", "!Set the mounts"),
    ("torque-reaction peak-load @front_left", f"{M}.peak_load_max = 5412 N", "fail",
     "weight included. Set the mounts further apart"),
    ("torque-reaction peak-load @front_left", "driveline.drivetrain.highest_grip = 0.2", "pass",
     "N at least, weight included."),
    ("torque-reaction captive @front_left", "", "pass", "weight included. It is captive."),
    ("torque-reaction captive @front_left", f"{M}.captive = False", "fail",
     "Use a captive mount, or one with a rebound stop."),
    # bending behind the engine: 151.3 N m at rest, five times that with shocks
    ("rear-face-moment", "", "pass",
     "bends its joint with the gearbox, at the rear face of the block, by 151.3 N m at rest."),
    ("rear-face-moment", "engine.rear_face.moment_is = with-shocks", "pass",
     "by 151.3 N m at rest, 756.7 N m with shocks."),
    ("rear-face-moment",
     "engine.rear_face.moment_is = with-shocks; engine.rear_face.bending_moment_max = 750 N m", "fail error",
     "behind that face would leave no bending at rest."),
    ("rear-face-moment", "", "pass", "!would leave no bending"),
    # brackets
    ("bracket-shock two-bolts @front_left", f"{M}.bolts.pieces = 1", "fail",
     "A single bolt holds this bracket: use two or more."),
    ("bracket-shock two-bolts @front_left", f"{M}.bolts.pieces = 2", "pass", "2 bolts hold this bracket."),
    ("bracket-shock bolt-strength @front_left", "", "pass", "4 M10 of class 8.8 bear 10 416 N with a safety of 6.22."),
    ("bracket-shock frame-joint @front_left", "", "pass", "Its joint with the frame is of the usual kind."),
    ("bracket-shock frame-joint @front_left", f"{M}.frame_joint = drilled-flange", "pass",
     "A hole in a frame flange is allowed here."),
    ("bracket-shock frame-joint @front_left", f"{M}.frame_joint = welded; {M}.frame_maker_allows = False", "fail",
     "A weld on the frame needs the frame maker's or a licensed engineer's word."),
    ("bracket-strength bending @front_left", "", "pass",
     "10 416 N bring 97.65 MPa to its root; its steel yields at 235 MPa: a safety of 2.41."),
    # a plate 5 mm thick yields at 2.4065·5/6 = 2.0054, one of 2.4 mm at 0.963
    ("bracket-strength bending @front_left", f"{M}.bracket.wall = 5 mm", "pass", "a safety of 2.01."),
    ("bracket-strength bending @front_left", f"{M}.bracket.wall = 4.9 mm", "fail warning", "a safety of 1.97."),
    ("bracket-strength bending @front_left", f"{M}.bracket.wall = 2.4 mm", "fail error", "a safety of 0.96."),
    ("bracket-strength weld @front_left", "", "pass",
     "The welds at its root bear 92.21 MPa; their strength is 207.8 MPa: a safety of"),
    ("bracket-strength weld @front_left", f"{M}.bracket.steel = other; {M}.bracket.yield_strength = 500 MPa", "review",
     "The weld of a steel outside EN 10025-2 is not judged here."),
    ("bracket-strength bending @front_left", f"{M}.bracket.steel = other; {M}.bracket.yield_strength = 500 MPa",
     "pass", "500 MPa"),
    ("cross-member bending @cross_members.rear", "", "pass",
     "69.29 MPa where it is bent most; its steel yields at 235 MPa: a safety of 3.39."),
    # nothing behind, and next to nothing
    ("rear-face-moment",
     "engine.rear_face.bending_moment_max = None; engine_unit.attached = "
     "{'tag': {'mass': '5 kg', 'x': '-10 mm', 'y': '0 mm', 'z': '0 mm'}}",
     "review", "Nothing hangs behind the rear face."),
    ("rear-face-moment",
     "engine.rear_face.bending_moment_max = None; engine_unit.attached = "
     "{'tag': {'mass': '0.05 kg', 'x': '500 mm', 'y': '0 mm', 'z': '0 mm'}}", "pass",
     "its centre of gravity 500 mm behind the rear face of the block; the nearest mount is 150 mm from there."),
    ("isolation idle-firing", "engine.strokes = 2", "pass", "Idle firing at 53.33 Hz"),
    # gaps
    ("movement-envelope @alternator", "", "pass",
     "alternator: 40 mm, less 16.2 mm of engine movement and 5 mm for tolerance."),
    # 16.19 + 5 + 10 mm: 31.19
    ("movement-envelope @alternator", "clearances.alternator.gap = 31.2 mm", "pass", ""),
    ("movement-envelope @alternator", "clearances.alternator.gap = 31.1 mm", "fail warning", ""),
    ("movement-envelope @fuel_line", "clearances.fuel_line.gap = 30 mm", "fail error", ""),
    ("movement-envelope @engine_unit", "", "pass", "At full torque in first gear the unit rolls by 3.022°."),
    ("movement-envelope @engine_unit", "engine.mounting.roll_max = 3.03 deg", "pass", "!times as stiff"),
    # 3.0216/2 = 1.5108
    ("movement-envelope @engine_unit", "engine.mounting.roll_max = 2 deg", "fail",
     "Mounts 1.52 times as stiff against roll would hold it"),
    ("movement-envelope @engine_unit", "engine.mounting.roll_max = none", "informational", "the unit rolls by 3.022°."),
    # lines: four times 29.04 mm are 116.15
    ("flexible-bridges @fuel_feed", "", "pass", "moves by 29.04 mm; free over four times that it takes the movement."),
    ("flexible-bridges @fuel_feed", "bridges.fuel_feed.free_length = 116.2 mm", "pass", ""),
    ("flexible-bridges @fuel_feed", "bridges.fuel_feed.free_length = 116.1 mm", "fail error",
     "moves by 29.04 mm: so short a piece tears off."),
    ("flexible-bridges @fuel_feed", "bridges.fuel_feed.free_length = 0 mm", "fail error",
     "by 29.04 mm and it is rigid: give it a hose."),
    ("flexible-bridges @upper_hose", "bridges.upper_hose.free_length = 0 mm", "fail warning", "and it is rigid"),
    ("flexible-bridges @clutch_line", "bridges.clutch_line.free_length = 10 mm", "fail error", "tears off"),
    ("flexible-bridges @upper_hose",
     "bridges.upper_hose = {'carries': 'coolant', 'none_because': 'it is air-cooled'}", "notApplicable",
     "There is no line that carries coolant: it is air-cooled."),
    # shaking
    ("isolation bounce", "", "pass", "Bounce at 8.936 Hz. Together the mounts have 1160 N/mm."),
    # 400 N/mm under 368 kg: 5.247 Hz; 6 Hz take 368·(2π·6)² = 523.02 N/mm, in whole ones 524
    ("isolation bounce", "mounts.*.axial_stiffness = 100 N/mm", "fail note",
     "Below 6 Hz bounce comes near the natural frequencies of axles and body; 524 N/mm in all would lift it there."),
    ("isolation idle-firing", "", "pass", "ratio 2.98. Together the mounts have 1160 N/mm."),
    ("roll-mode idle-firing", "", "pass", "idle firing at 26.67 Hz, 2.56 times the roll."),
    ("roll-mode half-turn", "", "pass", "the engine shakes it at 6.667 Hz, half as fast as the crank turns at idle."),
    ("roll-mode whole-turn", "", "pass", "the engine shakes it at 13.33 Hz, as fast as the crank turns at idle."),
    ("roll-mode whole-turn", "", "pass", "!So near together"),
    # 10.43 Hz are within 15 % of 11.67 Hz, a turn at 700 r/min: 9.92 to 13.42
    ("roll-mode whole-turn", "engine.speed.idle = 700 r/min", "fail",
     "So near together it rocks. Mounts 0.90 or 1.66 times as stiff clear it;"),
    ("roll-mode whole-turn", "engine.speed.idle = 700 r/min", "fail",
     "harder ones pass on more of its shaking: look again at every gap"),
    ("roll-mode idle-firing", "engine.speed.idle = 600 r/min", "fail",
     "times as stiff would make it 2; softer ones let the unit move"),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial(SAID))
def test_what_is_said(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    says("mounts", edits, rows, V)


@pytest.mark.parametrize(
    ("rule", "edits", "advice"),
    [
        # in the middle of its band a mount for 1250.9 N is rated for 1250.9/0.75 N, its lower end 0.6 of that
        ("static-share @front_left", f"{M}.load_max = 1250 N", {f"{M}.load_max": 1667.8}),
        ("static-share @front_left", f"{M}.load_min = 1300 N", {f"{M}.load_min": 1000.7}),
        ("static-share @front_left", f"{M}.load_min = None; {M}.load_max = 3000 N", {f"{M}.load_max": 1667.8}),
        ("torque-reaction captive @front_left", f"{M}.captive = False", {f"{M}.captive": 1.0}),
        ("bracket-shock two-bolts @front_left", f"{M}.bolts.pieces = 1", {f"{M}.bolts.pieces": 2.0}),
        # 80 mm·√(2/1.0027) with half of the wall
        ("bracket-strength bending @front_left", f"{M}.bracket.wall = 2.5 mm", {f"{M}.bracket.depth": 0.1130}),
        ("bracket-strength bending @front_left", "", {}),
        # a box is no plate: its depth is not reckoned
        ("cross-member bending @cross_members.rear", "cross_members.rear.depth = 30 mm", {}),
        # 16.19 + 5 + 10 mm, and four times 29.04: in whole millimetres
        ("movement-envelope @alternator", "clearances.alternator.gap = 20 mm", {"clearances.alternator.gap": 0.032}),
        (
            "flexible-bridges @fuel_feed",
            "bridges.fuel_feed.free_length = 0 mm",
            {"bridges.fuel_feed.free_length": 0.117},
        ),
    ],
)
def test_what_is_advised(rule: str, edits: str, advice: dict[str, float]) -> None:
    given = {one.field.removeprefix(f"{V}."): float(one.value) for one in told(f"mounts.{rule}", edits, V).advice}
    assert given == pytest.approx(advice, rel=1e-3)


@pytest.mark.parametrize(("size", "factor", "larger"), [("M8", 1.0, "M8"), ("M8", 1.5, "M10"), ("M10", 1.6, "M14")])
def test_the_smallest_bolt_that_is_large_enough(size: str, factor: float, larger: str) -> None:
    # ISO 898-1: M8 has 36.6, M10 58.0, M12 84.3, M14 115 mm²
    assert carrying._larger(size, factor) == larger
    assert carrying._larger("M8", 100.0) is None


# -- asked directly ----------------------------------------------------------------------------------------------------
def built(edits: str = "") -> Build:
    return View(sound_spec(rule_base(), edited(edits, V)).build).build


def test_where_rear_mounts_leave_no_bending() -> None:
    # The unit's 3608.8 N hang 8.56 mm ahead of the face, -30.89 Nm; the engine's 2304.6 N 260 mm ahead of it, -599.2:
    # what hangs behind has 568.3 Nm. Held without bending the front mounts, 300 mm ahead, carry
    # (568.3 + 30.9)/0.3 = 1997.3 N and the rear ones 1611.5: 568.3/1611.5 = 0.3527 m
    edits = "engine.rear_face.bending_moment_max = 150 N m"
    said = re.search(r"Rear mounts ([\d ]+) mm behind", told("mounts.rear-face-moment", edits, V).message)
    assert said is not None
    assert float(said[1].replace(" ", "")) == pytest.approx(352.7, abs=0.6)
    assert carrying._better_place(built()) == pytest.approx(0.3527, rel=1e-3)
    assert carrying._better_place(built("mounts.rear_left.fitted = False; mounts.rear_right.fitted = False")) is None
    assert carrying._better_place(built("mounts.front_left.fitted = False; mounts.front_right.fitted = False")) is None
    # 235 kg 600 mm ahead of the front mounts outweigh 133 kg 300 mm behind them and more: it tips forward
    assert carrying._better_place(built("engine.centre_of_gravity.x = -900 mm")) is None
    # mounts at the face itself are neither ahead of it nor behind
    assert carrying._better_place(built("mounts.front_left.x = 0 mm; mounts.front_right.x = 0 mm")) is None
    assert carrying._better_place(built("mounts.rear_left.x = 0 mm; mounts.rear_right.x = 0 mm")) is None


@pytest.mark.parametrize(
    ("y", "lean", "left"),
    [
        ("270 mm", "10 deg", -10.0), ("-270 mm", "10 deg", 10.0), ("0 mm", "10 deg", 0.0), ("270 mm", "0 deg", 0.0),
        ("2 mm", "10 deg", -10.0),
    ],
)  # fmt: skip
def test_a_mount_leans_to_the_middle(y: str, lean: str, left: float) -> None:
    mount = built(f"{M}.y = {y}; {M}.lean = {lean}").vehicle.mounts["front_left"]
    assert math.degrees(quantities.lean_left(mount)) == pytest.approx(left)


def test_stiffness_of_a_leaning_mount_up_and_down() -> None:
    # 380·cos² 30° + 120·sin² 30° = 315 N/mm; upright 380; under a lasting load 1.3 times less
    build = built(f"{M}.lean = 30 deg")
    leaning, upright = build.vehicle.mounts["front_left"], build.vehicle.mounts["front_right"]
    assert quantities.vertical(build, leaning) == pytest.approx(315e3)
    assert quantities.vertical(build, upright) == pytest.approx(380e3)
    assert quantities.vertical(build, leaning, lasting=True) == pytest.approx(315e3 / 1.3)
    assert quantities.shear(build, upright, lasting=True) == pytest.approx(120e3 / 1.3)


def test_a_rigid_mount_counts_as_the_softest_other_both_ways() -> None:
    build = built(f"{M}.kind = rigid")
    rigid = build.vehicle.mounts["front_left"]
    assert quantities.axial(build, rigid) == pytest.approx(200e3)
    assert quantities.shear(build, rigid) == pytest.approx(70e3)
    assert [mount.kind for mount in quantities.rigid_mounts(build)] == ["rigid"]
    every = built(
        "; ".join(f"mounts.{place}.kind = rigid" for place in ("front_left", "front_right", "rear_left", "rear_right"))
    )
    with pytest.raises(ValueError, match="every mount is rigid"):
        quantities.axial(every, every.vehicle.mounts["front_left"])


@pytest.mark.parametrize(("faces", "across"), [("front", False), ("rear", False), ("left", True), ("right", True)])
def test_which_way_the_crank_lies(faces: str, across: bool) -> None:
    assert quantities.stands_across(built(f"engine_place.front_faces = {faces}")) is across


def test_a_bracket_bears_the_greater_of_two_shocks() -> None:
    # 5·1250.9 + 4162.1 = 10416 N; with 9 times along 11 258; the rear one 5·553.6 + 1217 = 3985
    assert value("mounts.bracket-force", part="front_left") == pytest.approx(10416, abs=2)
    assert value("mounts.bracket-force", edited("engine.mounting.shock_along = 9"), part="front_left") == pytest.approx(
        9 * 1250.86, abs=1
    )
    # off the road 5 times, on it 3, where the engine maker says nothing
    for terrain, times in (("off-road", 5), ("road", 3)):
        edits = edited(f"engine.mounting.shock_vertical = None; build.duty.terrain = {terrain}")
        force = value("mounts.bracket-force", edits, part="rear_left")
        turned = value("mounts.peak-load", edits, part="rear_left") - 553.56
        assert force == pytest.approx(max(times * 553.56 + turned, 3 * 553.56), abs=1)


def test_a_box_and_plates_of_a_bracket() -> None:
    # plates on edge: n·t·h²/6 = 6·80²/6 = 6400 mm³, two of them 12 800; a box 60 by 40 with walls of 4 mm:
    # (40·60³ - 32·52³)/(6·60) = 11 502 mm³
    build = built()
    assert brackets.modulus(build.vehicle.mounts["front_left"].bracket) == pytest.approx(6400e-9)
    two = built(f"{M}.bracket.plates = 2").vehicle.mounts["front_left"].bracket
    assert brackets.modulus(two) == pytest.approx(12800e-9)
    assert brackets.modulus(build.vehicle.cross_members["rear"]) == pytest.approx(11502e-9, rel=1e-4)


def test_welds_of_a_box_have_flanges_and_two_runs() -> None:
    # a box bears more than a plate of its depth: two runs and two flanges instead of two runs alone
    plate = value("mounts.bracket-weld-stress", part="front_left")
    box = value(
        "mounts.bracket-weld-stress",
        edited(f"{M}.bracket.shape = box; {M}.bracket.width = 60 mm", V),
        part="front_left",
    )
    assert box < 0.6 * plate
    # runs of 80 - 2·4 = 72 mm: W = 2·4·72²/6 + 4·60·80 = 26 112 mm³, A = 2·4·72 = 576 mm²; 10 416 N at 60 mm bring
    # √(23.93² + 18.08²) = 30.0 MPa
    assert box == pytest.approx(30.0, abs=0.02)


def test_where_a_mount_sits_on_its_cross_member() -> None:
    # two forces of 3985 N at 150 mm to either side of the middle of 700 mm: 200 mm from each rail, 3985·0.2 = 797 Nm,
    # over 11 502 mm³ 69.3 MPa. Moved by 50 mm: at 150 and 450 mm, greatest under the second:
    # R = 3985·(150 + 450)/700 = 3415.7 N at the right rail, ·0.25 = 853.9 Nm
    assert value("mounts.cross-member-stress", part="rear") == pytest.approx(69.29, abs=0.02)
    moved = value("mounts.cross-member-stress", edited("cross_members.rear.middle = 50 mm", V), part="rear")
    assert moved == pytest.approx(69.29 * 853.9 / 797.0, rel=1e-3)
    # the left one alone, 350 + 150 - 50 = 450 mm from one rail and 250 from the other: 3985·0.45·0.25/0.7 = 640.4 Nm
    alone = edited("cross_members.rear.middle = 50 mm; mounts.rear_right.sits_on = frame", V)
    assert value("mounts.cross-member-stress", alone, part="rear") == pytest.approx(640.4 / 11.502, rel=1e-3)


def test_a_cross_member_that_nobody_described_and_one_that_carries_nothing() -> None:
    odd = trial("mounts.cross-member", edited(f"{M}.sits_on = tunnel", V))
    assert ["A mount sits on 'tunnel', which is not described" in f.message for f in odd if f.kind == "review"] == [
        True
    ]
    bare = edited("mounts.rear_left.sits_on = frame; mounts.rear_right.sits_on = frame", V)
    assert [(f.kind, f.message) for f in trial("mounts.cross-member", bare)] == [
        ("notApplicable", "No mount sits on it.")
    ]


@pytest.mark.parametrize(
    ("drive", "shroud_on", "kind", "still"),
    [
        ("electric", "frame", "fan-core", True), ("electric", "frame", "fan-shroud", True),
        ("engine", "engine", "fan-shroud", True), ("engine", "engine", "fan-core", False),
        ("engine", "frame", "fan-shroud", False),
    ],
)  # fmt: skip
def test_whether_both_sides_of_a_fans_gap_move_together(drive: str, shroud_on: str, kind: str, still: bool) -> None:
    build = built(f"plumbing.cooling.fan.drive = {drive}; plumbing.cooling.fan.shroud_on = {shroud_on}")
    gap = build.vehicle.clearances[kind.replace("-", "_")]
    assert movement.on_the_frame(build, gap) is still


def test_how_a_gap_closes_by_its_direction() -> None:
    # up or down φ·|y - y_axis| + bounce; φ = 0.052736 rad, bounce 3·368·g/1160 = 9.333 mm, below the 12 mm to the stop
    build = built()
    assert movement.bounce_travel(build) == pytest.approx(9.333e-3, rel=1e-3)
    assert movement.moved_up(build, 0.150) == pytest.approx(0.052736 * 0.150 + 9.333e-3, rel=1e-2)
    assert movement.moved_up(build, -0.150) == pytest.approx(movement.moved_up(build, 0.150), rel=1e-6)
    # to the side about the axis 40 mm below the crank, with half of the weight: 1804 N over 292.3 N/mm = 6.17 mm
    assert movement.sway_travel(build) == pytest.approx(0.5 * 3608.8 / (380e3 / 1.3), rel=1e-3)
    assert movement.surge_travel(build) == pytest.approx(3608.8 / (380e3 / 1.3), rel=1e-3)
    assert movement.moved_across(build, 0.150) == pytest.approx(0.052736 * 0.190 + 6.173e-3, rel=1e-2)
    assert movement.moved_along(build) == movement.surge_travel(build)


def test_a_length_in_whole_millimetres_is_rounded_up() -> None:
    for length, whole in ((0.0311, 0.032), (0.032, 0.032), (0.0320001, 0.033), (0.0, 0.0)):
        assert moving.whole_mm(length) == pytest.approx(whole, abs=1e-9)


def test_gaps_and_lines_that_nobody_stated_are_named() -> None:
    none = [f.message for f in trial("mounts.movement-envelope", edited("clearances.alternator = None", V))]
    assert any("No gap of the kind fixed is stated: measure it" in message for message in none)
    without = edited("clearances.alternator = {'kind': 'fixed', 'none_because': 'it stands free'}", V)
    assert any(
        "There is no gap of the kind fixed: it stands free." in f.message
        for f in trial("mounts.movement-envelope", without)
    )
    lost = [f for f in trial("mounts.flexible-bridges", edited("bridges.loom = None", V)) if f.kind == "review"]
    assert ["No line is listed that carries wiring between engine and frame" in f.message for f in lost] == [True]


# -- what is drawn and listed ------------------------------------------------------------------------------------------
def test_where_the_unit_must_not_roll_is_drawn() -> None:
    # half a turn at 800 r/min is 6.667 Hz and a turn 13.333; within 15 %
    drawn = figures.frequencies(built())
    bands = [(band.low, band.high) for band in drawn.bands]
    assert bands == [pytest.approx((5.667, 7.667), abs=1e-3), pytest.approx((11.333, 15.333), abs=1e-3)]
    assert [limit.at for limit in drawn.limits] == pytest.approx([6.0, 13.333], abs=1e-3)


def test_what_is_to_be_left_of_a_gap() -> None:
    # 40 mm at rest must be more than the 16.19 that the engine moves; 23.81 are to be left, and 10 mm asked for
    rest, mark = step_of("mounts.gap", part="alternator"), step_of("mounts.witness", part="alternator")
    assert rest.least is not None
    assert rest.least.value == pytest.approx(16.19e-3, abs=1e-5)
    assert mark.expected is not None
    assert mark.least is not None
    assert (mark.expected.value, mark.least.value) == pytest.approx((23.81e-3, 10e-3), abs=1e-5)
    unasked = step_of("mounts.witness", edited("clearances.alternator.gap_min = None", V), part="alternator")
    assert unasked.least is None


def test_a_gap_that_hot_parts_or_fuel_lines_name_is_judged_there() -> None:
    for named in (
        "plumbing.exhaust.heat_gaps.loom.clearance = alternator",
        "plumbing.fuel.routes.frame.clearance = alternator",
    ):
        parts = {f.part for f in trial("mounts.movement-envelope", edited(named))}
        assert "vehicle.clearances.alternator" not in parts
        assert "vehicle.clearances.fuel_line" in parts


def test_half_a_newton_holds_a_mount_together() -> None:
    # the tyres let 0.2704/0.9 of 4162.1 N turn it: 1250.5 of the 1250.9 N that hang on it
    edits = {"driveline.drivetrain.highest_grip": 0.2704}
    assert 0.0 < value("mounts.least-load", edits, part="front_left") < 1.0
    found = [f for f in trial("mounts.torque-reaction", edits) if f.part.endswith("front_left")]
    assert [f.demand for f in found] == ["peak-load"]
    assert "N at least, weight included." in found[0].message
