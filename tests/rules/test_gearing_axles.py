"""Which axles are driven and where they stand, which faces and splines of the chain meet: asked directly, by hand."""

import pytest
from swaplint_rules.gearing import chain, fitted_tyres, places, quantities  # type: ignore[import-not-found]
from told import edited

from swaplint.api import Build
from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base, value

D = "driveline"


# -- which axles are driven, and where they stand ----------------------------------------------------------------------
def built(edits: str = "") -> Build:
    return View(sound_spec(rule_base(), edited(edits, D)).build).build


@pytest.mark.parametrize(
    ("driven", "engaged", "when", "on_the_road", "otherwise"),
    [
        (True, None, "always", True, False),
        (True, "always", "always", True, False),
        (True, "when-selected", "when-selected", False, True),
        (True, "low-range", "low-range", False, True),
        (False, None, "when-selected", False, False),  # it has a shaft
        (False, "always", "always", True, True),
        (False, "when-selected", "when-selected", False, False),
        (False, "low-range", "low-range", False, False),
    ],
)
def test_when_an_axle_is_driven(
    driven: bool, engaged: str | None, when: str, on_the_road: bool, otherwise: bool
) -> None:
    build = built(f"axles.front.driven = {driven}; axles.front.engaged = {engaged}")
    axle = build.driveline.axles["front"]
    assert chain.engaged(build, axle) == when
    assert chain.driven_on_the_road(axle) is on_the_road
    assert chain.says_otherwise(axle) is otherwise


def test_an_axle_without_a_shaft_that_is_not_driven_never_is() -> None:
    build = built("axles.front.driven = False; shafts.front = {'fitted': False}")
    front, rear = build.driveline.axles["front"], build.driveline.axles["rear"]
    assert chain.engaged(build, front) == "never"
    assert [a["name"] if isinstance(a, dict) else str(chain.name_of(a)) for a in chain.powered_axles(build)] == ["rear"]
    assert chain.drives_of(build, front) == []
    assert [drive.low for drive in chain.drives_of(build, rear)] == [False, True]


@pytest.mark.parametrize(
    ("engaged", "states", "of_front"),
    [
        # on the road both, in low range both
        ("always", [(False, 2), (True, 2)], [False, True]),
        # the rear alone, both when selected, both in low range
        ("when-selected", [(False, 1), (False, 2), (True, 2)], [False, True]),
        ("low-range", [(False, 1), (True, 2)], [True]),
    ],
)
def test_the_states_in_which_the_engine_drives(
    engaged: str, states: list[tuple[bool, int]], of_front: list[bool]
) -> None:
    build = built(f"axles.front.engaged = {engaged}")
    assert [(drive.low, len(drive.axles)) for drive in chain.drives(build)] == states
    assert [drive.low for drive in chain.drives_of(build, build.driveline.axles["front"])] == of_front


@pytest.mark.parametrize(
    ("edits", "turns"),
    [
        ("", True),
        ("axles.front.engaged = when-selected; axles.front.freed_by = nothing", True),
        ("axles.front.engaged = when-selected; axles.front.freed_by = free-hubs", False),
    ],
)
def test_a_shaft_turns_with_the_wheels_unless_it_is_freed(edits: str, turns: bool) -> None:
    build = built(edits)
    assert chain.turns_with_the_wheels(build, build.driveline.axles["front"]) is turns


@pytest.mark.parametrize(
    ("edits", "moves"),
    [
        ("", True),
        ("axles.rear.final_drive_on = frame", False),
        ("shafts.rear.drives = transfer", False),
        ("shafts.front.driven_by = rear", False),  # another shaft follows at a centre bearing
    ],
)
def test_which_end_of_a_shaft_moves(edits: str, moves: bool) -> None:
    build = built(edits)
    assert chain.moves_with_the_wheels(build, build.driveline.shafts["rear"]) is moves


def test_a_line_of_shafts() -> None:
    build = built("shafts.front.driven_by = rear")
    front, rear = build.driveline.shafts["front"], build.driveline.shafts["rear"]
    assert [chain.name_of(shaft) for shaft in chain.line_to(build, front)] == ["rear", "front"]
    assert chain.target(build, rear) == "front"
    assert [chain.name_of(shaft) for shaft in chain.last_shafts(build)] == ["front"]
    assert chain.name_of(chain.shaft_to(build, "front")) == "front"
    assert chain.shaft_to(build, "rear") is None
    circle = built("shafts.front.driven_by = rear; shafts.rear.driven_by = front")
    with pytest.raises(ValueError, match="drive each other in a circle"):
        chain.line_to(circle, circle.driveline.shafts["front"])
    with pytest.raises(ValueError, match="drive each other in a circle"):
        chain.target(circle, circle.driveline.shafts["front"])


@pytest.mark.parametrize(
    ("edits", "part", "ahead"),
    [
        ("", "shafts.front.input_flange", "driveline.transfer.front_output"),
        ("", "shafts.rear.input_flange", "driveline.transfer.rear_output"),
        ("shafts.rear.driven_by = gearbox; gearbox.output_flange = {'pattern': 'x'}", "shafts.rear.input_flange",
         "driveline.gearbox.output_flange"),
        ("shafts.front.driven_by = rear", "shafts.front.input_flange", "driveline.shafts.rear.output_flange"),
        ("transfer = {'fitted': False}", "shafts.front.input_flange", None),
        ("", "transfer.front_face", "driveline.gearbox.rear_face"),
        ("", "axles.rear.input_flange", "driveline.shafts.rear.output_flange"),
        ("", "adapter.engine_side", "engine.flywheel_housing"),
        ("", "gearbox.front_face", "driveline.adapter.gearbox_side"),
        ("adapter = {'fitted': False}", "gearbox.front_face", "engine.flywheel_housing"),
        ("", "clutch.cover", "engine.flywheel.clutch_side"),
    ],
)  # fmt: skip
def test_which_faces_meet(edits: str, part: str, ahead: str | None) -> None:
    joints = {str(joint): joint for joint in chain.joints(built(edits))}
    met = joints[f"driveline.{part}"].ahead()
    assert (None if met is None else chain.path_of(met)) == ahead


@pytest.mark.parametrize(
    ("meets", "ahead"),
    [
        ("adapter", "driveline.adapter.gearbox_side"),
        ("housing", None),  # there the adapter stands
        ("crank", "engine.crank.flange"),
        ("flywheel", "engine.flywheel.clutch_side"),
        ("nothing", None),
    ],
)
def test_what_a_further_piece_meets(meets: str, ahead: str | None) -> None:
    build = built(f"adapter_pieces = {{'ring': {{'meets': '{meets}', 'thickness': '30 mm'}}}}")
    (piece,) = chain.pieces(build)
    met = chain._face_that_it_meets(build, piece)
    assert (None if met is None else chain.path_of(met)) == ahead
    sides = {"adapter": "housing", "housing": "housing", "crank": "crank", "flywheel": "flywheel"}
    thick = {root: chain.thickness_on(build, root) for root in ("housing", "crank", "flywheel")}
    assert thick == {root: (0.030 if sides.get(meets) == root else 0.0) for root in thick}


def test_without_an_adapter_a_piece_meets_the_housing() -> None:
    build = built("adapter = {'fitted': False}; adapter_pieces = {'ring': {'meets': 'housing', 'thickness': '30 mm'}}")
    (piece,) = chain.pieces(build)
    assert chain.path_of(chain._face_that_it_meets(build, piece)) == "engine.flywheel_housing"


def test_the_axles_that_are_driven_through_another() -> None:
    # shafts run from the rear axle to a second and from that to a third
    axle = "{'ratio': 4.3, 'driven': True, 'torque_share': '60 %', 'through_output': {'pattern': 'any'}}"
    more = f"axles.rear.through_output = {{'pattern': 'any'}}; axles.two = {axle}; axles.three = {axle}; "
    more += "shafts.b = {'driven_by': 'rear', 'drives': 'two'}; shafts.c = {'driven_by': 'b', 'drives': 'three'}"
    build = built(more)
    axles = build.driveline.axles
    for first, found in (("rear", ["rear", "two", "three"]), ("two", ["two", "three"]), ("front", ["front"])):
        assert [chain.name_of(axle) for axle in chain.axles_behind(build, axles[first])] == found
    # from one shaft to the next, without an axle between them
    plain = built(more.replace("'drives': 'two'", "'drives': 'nothing'"))
    behind = chain.axles_behind(plain, plain.driveline.axles["rear"])
    assert [chain.name_of(axle) for axle in behind] == ["rear", "three"]


def test_a_vehicle_without_a_transfer_case_has_one_range() -> None:
    for edits, high, low in (("", 1.0, 2.5), ("transfer.high = 1.2", 1.2, 2.5), ("transfer.fitted = False", 1.0, 1.0)):
        assert (quantities.high_range(built(edits)), quantities.low_range(built(edits))) == (high, low)


def test_pieces_stand_one_behind_the_other() -> None:
    row = (
        "adapter_pieces = {'b': {'meets': 'a', 'thickness': '10 mm'}, 'a': {'meets': 'adapter', 'thickness': '20 mm'}}"
    )
    build = built(row)
    assert [chain.name_of(piece) for piece in chain.pieces_on(build, "housing")] == ["a", "b"]
    assert chain.thickness_on(build, "housing") == pytest.approx(0.030)
    b = next(piece for piece in chain.pieces(build) if chain.name_of(piece) == "b")
    assert chain.path_of(chain._face_that_it_meets(build, b)) == "driveline.adapter_pieces.a.gearbox_side"
    both = built(row.replace("'meets': 'a',", "'meets': 'adapter',"))
    with pytest.raises(ValueError, match="bolt to the same face"):
        chain.pieces_on(both, "housing")


AXLES = "axles.rear.x = 2500 mm; axles.rear.rating = 900 kg; axles.rear.group_share = 60 %; axles.tag = " \
    "{'driven': False, 'x': '3300 mm', 'group_share': '40 %', 'rating': '850 kg'}"  # fmt: skip


def test_two_axles_that_say_nothing_of_themselves_need_no_place() -> None:
    # named a and b, without a place: what the plate says of front and rear is all that there is to know
    axle = "{'ratio': 4.3, 'torque_share': '60 %', 'integral': False, 'driven': True}"
    build = built(f"axles = {{'a': {axle}, 'b': {axle}}}")
    assert places.axles_at(build, "front") == () == places.axles_at(build, "rear")
    assert (places.end_rating(build, "front"), places.end_rating(build, "rear")) == (1300.0, 1750.0)
    assert (places.middle_of(build, "front"), places.middle_of(build, "rear")) == (0.0, 2.9)


@pytest.mark.parametrize(
    ("edits", "front", "rear"),
    [
        # an axle that states its rating counts where it is less than what its end may carry
        ("axles.rear.rating = 1400 kg", 1300.0, 1400.0),
        ("axles.rear.rating = 1800 kg", 1300.0, 1750.0),
        (AXLES, 1300.0, 1750.0),
        (AXLES.replace("900 kg", "800 kg"), 1300.0, 1650.0),
        # one of two says nothing: they make no sum
        (AXLES.replace(", 'rating': '850 kg'", ""), 1300.0, 1750.0),
        ("axles.rear.rating = 1400 kg; vehicle.mass.gawr_rear = None", 1300.0, 1400.0),
    ],
)
def test_what_an_end_may_carry(edits: str, front: float, rear: float) -> None:
    build = built(edits)
    assert (places.end_rating(build, "front"), places.end_rating(build, "rear")) == (front, rear)


def test_a_group_of_axles() -> None:
    build = built(AXLES)
    rear, tag = build.driveline.axles["rear"], build.driveline.axles["tag"]
    assert [chain.name_of(axle) for axle in places.axles_at(build, "rear")] == ["rear", "tag"]
    assert (places.count_at(build, "front"), places.count_at(build, "rear")) == (1, 2)
    assert (places.share_of(build, "rear", rear), places.share_of(build, "rear", tag)) == (0.6, 0.4)
    assert places.share_of(build, "front", build.driveline.axles["front"]) == 1.0
    assert places.middle_of(build, "rear") == pytest.approx(0.6 * 2.5 + 0.4 * 3.3)
    assert places.load_base(build) == pytest.approx(2.82)
    assert (places.axle_rating(build, rear), places.axle_rating(build, tag)) == (900.0, 850.0)
    assert places.axle_rating(build, build.driveline.axles["front"]) == 1300.0
    wrong = built(AXLES.replace("'40 %'", "'30 %'"))
    with pytest.raises(ValueError, match="shares of the rear axles in their load make 90 % instead of 100 %"):
        places.share_of(wrong, "rear", wrong.driveline.axles["rear"])


@pytest.mark.parametrize(("x", "fits"), [("2957 mm", True), ("2959 mm", False), ("2843 mm", True), ("2841 mm", False)])
def test_the_only_rear_axle_stands_at_the_wheelbase(x: str, fits: bool) -> None:
    # 2900 mm and 2 %: 2842 to 2958
    build = built(f"axles.rear.x = {x}")
    if fits:
        assert places.load_base(build) == pytest.approx(2.9)
    else:
        with pytest.raises(ValueError, match="behind the front one, and the wheelbase is 2900 mm"):
            places.load_base(build)


@pytest.mark.parametrize(
    ("edits", "front"),
    [
        ("axles.front.x = 1449 mm", True),
        ("axles.front.x = 1450 mm", False),
        ("axles.front.x = 0 mm; vehicle.wheelbase = None", True),
    ],
)
def test_the_front_is_ahead_of_the_middle_of_the_wheelbase(edits: str, front: bool) -> None:
    build = built(edits)
    assert (places.end_of(build, build.driveline.axles["front"]) == "front") is front


def test_two_axles_in_front_carry_at_their_middle() -> None:
    # half each at 0 and 1000 mm, and one behind at 2900: 2900 - 500 mm between the middles
    second = "axles.second = {'driven': False, 'x': '1000 mm', 'group_share': '50 %', 'rating': '650 kg'}"
    build = built(f"axles.front.x = 0 mm; axles.front.group_share = 50 %; axles.front.rating = 650 kg; {second}")
    assert places.middle_of(build, "front") == pytest.approx(0.5)
    assert places.load_base(build) == pytest.approx(2.4)


@pytest.mark.parametrize(
    ("edits", "sides"),
    [
        ("", ["clutch.hub_spline", "transfer.input_spline"]),
        ("transfer.mounting = remote", ["clutch.hub_spline"]),
        ("transfer = {'fitted': False}", ["clutch.hub_spline"]),
        ("gearbox.kind = automatic; converter = {'hub_spline': {'teeth': 21}}",
         ["converter.hub_spline", "transfer.input_spline"]),
        # an automated clutch
        ("gearbox.kind = automatic; converter = {'fitted': False}", ["clutch.hub_spline", "transfer.input_spline"]),
    ],
)  # fmt: skip
def test_which_splines_there_are(edits: str, sides: list[str]) -> None:
    joints = chain.splines(built(edits))
    assert [str(joint).removeprefix("driveline.") for joint in joints] == sides
    assert {chain.path_of(joint.ahead()) for joint in joints} <= {
        "driveline.gearbox.input_spline", "driveline.gearbox.output_spline",
    }  # fmt: skip


def test_a_transfer_case_by_itself_hangs_on_its_shaft() -> None:
    alone = {str(joint): joint for joint in chain.joints(built("transfer.mounting = remote"))}
    assert "driveline.transfer.front_face" not in alone
    assert alone["driveline.transfer.input_flange"].ahead() is None
    driven = chain.joints(built("transfer.mounting = remote; shafts.rear.drives = transfer"))
    (joint,) = (joint for joint in driven if str(joint) == "driveline.transfer.input_flange")
    assert chain.path_of(joint.ahead()) == "driveline.shafts.rear.output_flange"


def test_three_axles_have_their_places_though_none_states_a_rating() -> None:
    build = built("axles.rear.x = 2500 mm; axles.tag = {'driven': False, 'x': '3300 mm'}")
    assert [chain.name_of(axle) for axle in places.axles_at(build, "rear")] == ["rear", "tag"]
    assert [chain.name_of(axle) for axle in places.axles_at(build, "front")] == ["front"]
    assert places.count_at(build, "rear") == 2


def test_what_a_driven_rear_axle_gains_is_left_out_with_a_trailer() -> None:
    # 0.7 of the 1750 kg that it may carry over the 3600 of vehicle and trailer, less 0.05: 29.03 %, however high the
    # load stands
    axle = "{'ratio': 4.3, 'torque_share': '60 %', 'integral': False, "
    rear = f"axles = {{'a': {axle}'driven': False, 'x': '0 mm'}}, 'b': {axle}'driven': True, 'x': '2900 mm'}}}}"
    for height in ("None", "900 mm"):
        edits = edited(f"{rear}; shafts = {{}}; vehicle.mass.laden_height = {height}", D)
        assert value("gearing.trailer-grip", edits) == pytest.approx(29.03, abs=0.01)
    # alone it gains 900/2900 of the slope's pull: (0.7·1750/2800 - 0.05)/(1 - 0.7·0.31034) = 49.5 %
    climb = edited(f"{rear}; shafts = {{}}; vehicle.mass.laden_height = 900 mm", D)
    assert value("gearing.steepest-climb", climb) == pytest.approx(100 * 0.3875 / (1 - 0.7 * 0.9 / 2.9), abs=0.2)


@pytest.mark.parametrize(
    ("edits", "oiled"),
    [
        ("", ["front", "rear"]),
        # the engine can drive it: it has oil, though nobody says which
        ("axles.front.oil = None", ["front", "rear"]),
        # nothing drives it; where its oil is stated it has a final drive all the same
        ("axles.front.driven = False; shafts.front = {'fitted': False}; axles.front.oil = None", ["rear"]),
        ("axles.front.driven = False; shafts.front = {'fitted': False}", ["front", "rear"]),
    ],
)
def test_which_axles_have_oil(edits: str, oiled: list[str]) -> None:
    assert [chain.name_of(axle) for axle in chain.oiled_axles(built(edits))] == oiled


OTHERS = "front_tyres = {'designation': '205/70R15', 'overall_diameter': '668 mm'}"


def test_the_tyres_that_the_engine_drives() -> None:
    # all alike where nobody states others in front; else those of the end that is driven, front or rear
    alone = "axles.{0}.driven = False; shafts.{0} = {{'fitted': False}}"
    for edits, across in (
        ("", 0.806),
        (f"{OTHERS}; {alone.format('front')}", 0.806),
        (f"{OTHERS}; {alone.format('rear')}", 0.668),
        (f"{OTHERS}; {alone.format('front')}; {alone.format('rear')}", 0.806),
        (OTHERS, 0.806),  # both driven: by the rear, and by how much the front rolls otherwise gearing.axles-alike says
    ):
        assert fitted_tyres.driven_tyres(built(edits)).overall_diameter == pytest.approx(across), edits


NO_SHAFT = "shafts.front = {'fitted': False}"


@pytest.mark.parametrize(
    ("edits", "asks"),
    [
        ("", True),
        (NO_SHAFT, True),
        ("axles.front.driven = False", True),  # it has a shaft
        (f"axles.front.driven = False; {NO_SHAFT}", False),
        (f"axles.front.driven = None; {NO_SHAFT}", True),
        (f"axles.front.driven = False; axles.front.engaged = when-selected; {NO_SHAFT}", True),
        ("axles.front.integral = True", False),
    ],
)
def test_which_axles_ask_for_a_shaft(edits: str, asks: bool) -> None:
    build = built(edits)
    assert chain._asks_for_a_shaft(build, build.driveline.axles["front"]) is asks
